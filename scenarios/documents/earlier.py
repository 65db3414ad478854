"""An earlier run read back: the JSON that a run wrote is a scenario with a choice of settings of its own."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import scenarios
from scenarios.ask.asked import Asked, check_named, usual
from scenarios.errors import Refusal
from scenarios.loading import document
from scenarios.ranges import HANDWHEEL
from scenarios.reading import is_json


def start(source: str | None) -> Asked:
    """The scenario of a source and what is run of it where nothing is asked; None is the default scenario."""
    if source is None or not is_json(Path(source)):
        return usual(scenarios.load(source))
    found = document(Path(source))
    if "inputs" in found:
        return _asked(found, source)
    return usual(scenarios.from_mapping(found, source, Path(source).stem))


def _asked(run: dict[str, Any], source: str) -> Asked:
    try:
        name, inputs = run["scenario"]["name"], run["inputs"]
        settings = [setting["name"] for setting in run["settings"]]
        cases = [case["name"] for case in run["settings"][0]["cases"]]
        at_deg = None if run["figures_at_lock_deg"] is None else float(run["figures_at_lock_deg"])
    except (LookupError, TypeError, ValueError, OverflowError):
        settings = []
    if (
        not settings
        or not (at_deg is None or HANDWHEEL.holds(at_deg))
        or not all(isinstance(n, str) for n in (name, *settings, *cases))
    ):
        raise Refusal(f"{source}: is not the JSON of a run that 'lockarc sweep --json' wrote")
    scenario = scenarios.from_mapping(inputs, source, name)
    for one in settings:
        check_named(scenario, one)
    for case in cases:
        check_named(scenario, case, "load case", [known.name for known in scenario.load_cases])
    return Asked(scenario, tuple(settings), tuple(cases), at_deg)
