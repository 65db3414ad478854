"""A fit with all that is told of it: what it does to the answers, what does not fit, whether the kart is
bent."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from kinematics.figures.figure import Address
from kinematics.figures.turning import Pulse, silent
from scenarios.gauged.bent import SideDifference, differences
from scenarios.gauged.fit import Fit, fit
from scenarios.gauged.record import Reading
from scenarios.gauged.suspects import Suspect, Upside, suspects, upside_down
from scenarios.gauged.written import refitted
from scenarios.likely.bands import Banded, bands
from scenarios.likely.doubts import headline
from scenarios.records import Scenario

UNLIKELY = 0.01
"""A chi-square that chance exceeds no more often is looked into."""
KARTS = 256


@dataclass(frozen=True)
class FitTold:
    """What is told of a fit."""

    fit: Fit
    left_out: int
    """Readings without a value."""
    before: Sequence[Banded]
    """Headline figures of the default setting, with what was known before."""
    after: Sequence[Banded]
    suspects: Sequence[Suspect]
    upside_down: Sequence[Upside]
    sides: Sequence[SideDifference]
    """Left less right, where the sides were fitted apart."""


def told_of(
    scenario: Scenario,
    readings: Sequence[Reading],
    chosen: Sequence[str],
    options: Mapping[str, bool],
    pulse: Pulse = silent,
) -> FitTold:
    """Fit, and look into what does not fit; pulse is called meanwhile. Raises Refusal, one line."""
    found = fit(scenario, readings, chosen, **options, pulse=pulse)
    wrong: list[Suspect] = []
    turned: list[Upside] = []
    forgiving = found
    if found.chance < UNLIKELY and not options.get("forgiving"):
        forgiving = fit(scenario, readings, chosen, **{**options, "forgiving": True}, pulse=pulse)
    if found.chance < UNLIKELY or options.get("forgiving"):
        wrong, turned = suspects(forgiving), upside_down(forgiving)
    asked = headline(scenario)[:1]
    before, after = (_banded(one, asked, pulse) for one in (scenario, refitted(found)))
    sides = differences(found) if options.get("apart") else []
    return FitTold(found, len(readings) - len(found.readings), before, after, wrong, turned, sides)


def _banded(scenario: Scenario, asked: Sequence[Address], pulse: Pulse) -> list[Banded]:
    name = scenario.default_setting
    found = bands(scenario, [name], asked, KARTS)
    pulse()
    return [found.of(name, one) for one in asked]
