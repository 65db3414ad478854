"""The first answer as data: its figures, or what a change does to them, each with its band."""

from __future__ import annotations

from collections.abc import Callable
from math import degrees, isfinite
from typing import Any

from kinematics.tolerance.band import COVERAGE
from scenarios.ask.answer import FirstAnswer
from scenarios.likely.bands import Banded


def document(
    told: FirstAnswer, changes: bool = False, progress: Callable[[int, int], None] = lambda done, of: None
) -> dict[str, Any]:
    """Figures of every setting, or with changes every other setting's less the base's, toe set back.

    progress is told how many settings are done, and of how many.
    """
    lineup = told.found.lineup
    names = [name for name in lineup.names if not (changes and name == lineup.base)]
    settings = []
    for done, name in enumerate(names, 1):
        settings.append(_setting(told, name, changes))
        progress(done, len(names))
    return {
        "likely_karts": lineup.karts.count,
        "coverage": COVERAGE,
        "weighed_at_handwheel_deg": round(degrees(told.weighed), 9),
        "corners": [
            {"load_case": one.case.name, "turn": one.way, "handwheel_deg": round(degrees(one.at), 9)}
            for one in told.corners
        ],
        "settings": settings,
    }


def _setting(told: FirstAnswer, name: str, changes: bool) -> dict[str, Any]:
    found = told.found
    asked = {one: found.change(name, one) if changes else found.of(name, one) for one in found.addresses}
    return {
        "name": name,
        "changes" if changes else "figures": {
            str(one): {**banded(of), "unsure_of": _causes(told, name, of)} for one, of in asked.items()
        },
    }


def _causes(told: FirstAnswer, name: str, of: Banded) -> dict[str, float]:
    """The three largest shares of the variance, by input."""
    causes = told.found.causes(name, of)[:3]
    return {one.name: one.share for one in causes if one.share > 0.0}


def banded(one: Banded) -> dict[str, Any]:
    """A figure or a difference with its band; an end or a value that is never is null."""
    there = float(one.band.known) > 0.0
    ends = [float(e) if there and isfinite(float(e)) else None for e in (one.band.low, one.band.high)]
    value = one.value if one.value is not None and isfinite(one.value) else None
    return {"value": value, "low": ends[0], "high": ends[1], "told_apart": one.told_apart}
