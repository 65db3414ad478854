"""What `sweep` and `view` ask for alike: a scenario, which settings of it, and which lock positions."""

from __future__ import annotations

import argparse
import json
from collections.abc import Iterable
from dataclasses import dataclass
from math import isfinite
from pathlib import Path
from typing import TYPE_CHECKING, Any

from scenarios.ask.typed import AS_GIVEN, SYNTAX, corner_text, typed_setting
from scenarios.errors import Refusal, suggestion
from viz.cli.parser import finite, typed, whole

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
            f"--{side}",
            metavar="PARTS",
            type=typed(corner_text),
            help=f"fit {text} with parts typed like {SYNTAX}",
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


def add_case_argument(parser: argparse.ArgumentParser) -> None:
    """Add the choice of load cases."""
    parser.add_argument(
        "--case",
        metavar="NAME",
        action="append",
        default=[],
        help="a load case to compute and show; may be repeated; left out: all, the first one shown",
    )


@dataclass(frozen=True)
class Choice:
    """The scenario as it is to be run, typed setting and lock in it, and which settings and cases of it."""

    scenario: Scenario
    settings: list[str]
    cases: list[str]
    at_deg: float | None = None
    """Where an earlier run read its figures at lock, deg; None: not said."""


def chosen(arguments: argparse.Namespace) -> Choice:
    """What the arguments choose; refused, one line, where the scenario does not have it."""
    import scenarios

    start = _read(arguments.scenario)
    scenario, inputs, names = start.scenario, dict(start.scenario.resolved), start.settings
    if arguments.setting or _typed(arguments):
        names = list(dict.fromkeys(arguments.setting))
    for name in (*names, *([arguments.based_on] if arguments.based_on else [])):
        _must_know(scenario, "setting", name, inputs["setting"])
    cases = list(dict.fromkeys(getattr(arguments, "case", []))) or start.cases
    for case in cases:
        _must_know(scenario, "load case", case, [c["name"] for c in inputs["load_case"]])
    if _typed(arguments):
        base = inputs["setting"][arguments.based_on] if arguments.based_on else None
        typed = typed_setting(base, arguments.both, arguments.left, arguments.right)
        inputs["setting"] = {**inputs["setting"], AS_GIVEN: typed}
        names = [*(n for n in names if n != AS_GIVEN), AS_GIVEN]
    elif arguments.based_on:
        raise Refusal("--based-on needs --both, --left or --right beside it")
    inputs["sweep"] = _lock(arguments, inputs["sweep"])
    if inputs != scenario.resolved:
        scenario = scenarios.from_mapping(inputs, scenario.source, scenario.name)
    return Choice(scenario, names, cases, start.at_deg)


def _must_know(scenario: Scenario, kind: str, name: str, known: Iterable[str]) -> None:
    if name not in known:
        raise Refusal(f"{scenario.source}: {kind} '{name}' is unknown{suggestion(name, known)}")


def _typed(arguments: argparse.Namespace) -> bool:
    return any(getattr(arguments, side) is not None for side in ("both", "left", "right"))


def _lock(arguments: argparse.Namespace, table: dict[str, Any]) -> dict[str, Any]:
    lock = dict(table)
    if arguments.lock is not None:
        lock["handwheel_from_deg"], lock["handwheel_to_deg"] = arguments.lock
    if arguments.positions is not None:
        lock["positions"] = arguments.positions
    return lock


def _read(source: str | None) -> Choice:
    """The scenario of a source and what is run of it by default; an earlier run brings its own choice."""
    import scenarios

    if source is not None and Path(source).suffix.lower() == ".json":
        document = _earlier_run(source)
        if document is not None:
            return _choice_of(document, source)
    scenario = scenarios.load(source)
    return Choice(scenario, [scenario.default_setting], [case.name for case in scenario.load_cases])


def _earlier_run(path: str) -> dict[str, Any] | None:
    """The document of an earlier run, None when the file is something else: then a scenario."""
    try:
        document = json.loads(Path(path).read_bytes())
    except (OSError, ValueError, RecursionError):
        return None
    return document if isinstance(document, dict) and "inputs" in document else None


def _choice_of(document: dict[str, Any], source: str) -> Choice:
    import scenarios

    try:
        name, inputs = document["scenario"]["name"], document["inputs"]
        settings = [setting["name"] for setting in document["settings"]]
        cases = [case["name"] for case in document["settings"][0]["cases"]]
        at_deg = float(document["figures_at_lock_deg"])
    except (LookupError, TypeError, ValueError):
        settings = []
    if not settings or not isfinite(at_deg) or not all(isinstance(n, str) for n in (name, *settings, *cases)):
        raise Refusal(f"{source}: is not the JSON of a run that 'lockarc sweep --json' wrote")
    scenario = scenarios.from_mapping(inputs, source, name)
    return Choice(scenario, settings, cases, at_deg)


def concerning(warnings: tuple[str, ...], names: list[str]) -> list[str]:
    """The warnings that concern the kart as a whole or one of the settings named."""
    return [
        w
        for w in warnings
        if not w.startswith("setting.") or any(w.startswith(f"setting.{n}:") for n in names)
    ]
