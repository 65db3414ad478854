"""What `sweep` and `view` ask for alike: a scenario, which settings of it, and which lock positions."""

from __future__ import annotations

import argparse
import json
from pathlib import Path
from typing import TYPE_CHECKING, Any

from viz.cli_parser import finite, suggestion, whole
from viz.cli_setting import AS_GIVEN, SYNTAX, corner_text, typed_setting
from viz.terminal import Refusal, one_line

if TYPE_CHECKING:
    from scenarios import Scenario


def add_run_arguments(parser: argparse.ArgumentParser) -> None:
    """Add the scenario, setting and lock arguments."""
    parser.add_argument(
        "scenario",
        metavar="SCENARIO",
        nargs="?",
        help="a scenario file, the JSON of an earlier run, or a built-in name; left out: the training kart",
    )
    setting = parser.add_argument_group("setting")
    setting.add_argument(
        "--setting",
        metavar="NAME",
        action="append",
        default=[],
        help="a setting of the scenario; may be repeated",
    )
    for side, text in (("both", "both corners"), ("left", "the left corner"), ("right", "the right corner")):
        setting.add_argument(
            f"--{side}", metavar="PARTS", type=corner_text, help=f"fit {text} with parts typed like {SYNTAX}"
        )
    setting.add_argument(
        "--based-on",
        metavar="NAME",
        help="what is not typed stays as in this setting, not concentric and kept",
    )
    lock = parser.add_argument_group("lock")
    lock.add_argument(
        "--lock", metavar=("FROM", "TO"), nargs=2, type=finite, help="handwheel angles, deg, + turns left"
    )
    lock.add_argument("--positions", metavar="N", type=whole(2, 20001), help="lock positions, ends included")


def chosen(arguments: argparse.Namespace) -> tuple[Scenario, list[str]]:
    """The scenario as it is to be run, typed setting and lock in it, and the names of its settings to run."""
    import scenarios

    scenario, names = _read(arguments.scenario)
    inputs = dict(scenario.resolved)
    if arguments.setting or _typed(arguments):
        names = list(dict.fromkeys(arguments.setting))
    for name in (*names, *([arguments.based_on] if arguments.based_on else [])):
        if name not in inputs["setting"]:
            raise Refusal(
                f"{scenario.source}: setting '{name}' is unknown{suggestion(name, inputs['setting'])}"
            )
    if _typed(arguments):
        base = inputs["setting"][arguments.based_on] if arguments.based_on else None
        typed = typed_setting(base, arguments.both, arguments.left, arguments.right)
        inputs["setting"] = {**inputs["setting"], AS_GIVEN: typed}
        names = [*(n for n in names if n != AS_GIVEN), AS_GIVEN]
    elif arguments.based_on:
        raise Refusal("--based-on needs --both, --left or --right beside it")
    inputs["sweep"] = _lock(arguments, inputs["sweep"])
    if inputs == scenario.resolved:
        return scenario, names
    return scenarios.from_mapping(inputs, scenario.source, scenario.name), names


def _typed(arguments: argparse.Namespace) -> bool:
    return any(getattr(arguments, side) is not None for side in ("both", "left", "right"))


def _lock(arguments: argparse.Namespace, table: dict[str, Any]) -> dict[str, Any]:
    lock = dict(table)
    if arguments.lock is not None:
        lock["handwheel_from_deg"], lock["handwheel_to_deg"] = arguments.lock
    if arguments.positions is not None:
        lock["positions"] = arguments.positions
    return lock


def _read(source: str | None) -> tuple[Scenario, list[str]]:
    """The scenario of a source with the settings to run by default; an earlier run brings its own."""
    import scenarios

    if source is not None and Path(source).suffix.lower() == ".json":
        document = _earlier_run(source)
        if document is not None:
            scenario = scenarios.from_mapping(document["inputs"], source, document["scenario"]["name"])
            return scenario, [setting["name"] for setting in document["settings"]]
    scenario = scenarios.load(source)
    return scenario, [scenario.default_setting]


def _earlier_run(path: str) -> dict[str, Any] | None:
    """The document of an earlier run, None when the file is something else: then a scenario."""
    try:
        document = json.loads(Path(path).read_bytes())
    except (OSError, ValueError, RecursionError):
        return None
    if not isinstance(document, dict) or "inputs" not in document:
        return None
    try:
        well_made = isinstance(document["inputs"], dict) and all(
            isinstance(name, str)
            for name in (document["scenario"]["name"], *(s["name"] for s in document["settings"]))
        )
    except (KeyError, TypeError):
        well_made = False
    if not well_made or not document["settings"]:
        raise Refusal(f"{one_line(path)}: is not the JSON of a run that 'lockarc sweep --json' wrote")
    return document


def concerning(warnings: tuple[str, ...], names: list[str]) -> list[str]:
    """The warnings that concern the kart as a whole or one of the settings named."""
    return [
        w
        for w in warnings
        if not w.startswith("setting.") or any(w.startswith(f"setting.{n}:") for n in names)
    ]
