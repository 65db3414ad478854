"""What a usual step of every adjustment is worth, as data."""

from __future__ import annotations

from math import degrees
from typing import Any

from scenarios.ask.steps import Stepped
from scenarios.documents.answer import banded
from scenarios.documents.head import head


def document(found: Stepped) -> dict[str, Any]:
    """The JSON document: each step's differences from the base with their bands of 95 %."""
    corner, scenario = found.answer.corners[0], found.answer.scenario
    return {
        **head(scenario),
        "base": found.base,
        "corner": {"load_case": corner.case.name, "turn": corner.way, "handwheel_deg": degrees(corner.at)},
        "steps": [_step(found, name) for name in found.steps],
        "warnings": list(scenario.warnings),
        "inputs": scenario.resolved,
    }


def _step(found: Stepped, name: str) -> dict[str, Any]:
    step = found.steps[name]
    return {
        "step": step.name,
        "amount": step.amount,
        "unit": step.unit,
        "minutes": step.minutes,
        "changes": {one.address.name: banded(one) for one in found.worth(name).values()},
        "instead_of_the_first": found.instead(name, "1"),
    }
