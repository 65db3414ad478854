"""What a scenario takes on trust, and what that costs: its headline figures' bands, and what they hang on."""

from __future__ import annotations

from dataclasses import dataclass
from math import degrees, radians

from kinematics.figures import read as figures
from kinematics.figures.figure import Address
from kinematics.figures.turn import JACKING, LIFT_OFF, LOAD_AT_LOCK
from kinematics.parts import LoadCase
from scenarios import Scenario
from scenarios.ask.bands import Banded, Cause, bands
from scenarios.ask.sampled import SAMPLES
from scenarios.sure.stated import Input, inputs
from scenarios.sure.ways import ASSUMED

LOCK_DEG = 30.0
WORTH, LEAST_SHARE = 3, 0.01


@dataclass(frozen=True)
class Doubt:
    """An assumed number, and its shares of the headline figures' variance, 0..1."""

    input: Input
    shares: tuple[float, ...]

    @property
    def cost(self) -> float:
        """The largest share."""
        return max(self.shares)


@dataclass(frozen=True)
class Doubts:
    """How sure the headline figures of a scenario's default setting are, and why."""

    figures: tuple[Banded, ...]
    assumed: tuple[Doubt, ...]
    """What is assumed, the costliest first."""
    worth: tuple[Cause, ...]
    """The few numbers, assumed or not, that are most worth measuring better, with their largest shares."""


def headline(scenario: Scenario) -> tuple[Address, ...]:
    """Load of the inside rear at a lock and jacking, in the first load case that is a corner, and lift-off.

    Lift-off is told in the first case in which the kart as written has it.
    """
    cases = [case for case in scenario.load_cases if case.speed is not None or case.lateral_g]
    first, *_ = cases or scenario.load_cases
    lock = radians(min(LOCK_DEG, degrees(scenario.kart.column.stop)))
    lifts = next((case for case in cases if _lifts(scenario, case)), first)
    return (
        LOAD_AT_LOCK.at(_way(first), lock, first.name),
        JACKING.at(_way(first), None, first.name),
        LIFT_OFF.at(_way(lifts), None, lifts.name),
    )


def _way(case: LoadCase) -> str:
    return "right" if case.speed is None and case.lateral_g < 0.0 else "left"


def _lifts(scenario: Scenario, case: LoadCase) -> bool:
    setting, asked = scenario.settings[scenario.default_setting], LIFT_OFF.at(_way(case), None, case.name)
    [(_, known)] = figures.read(scenario.kart, setting, [asked], {case.name: case}, scenario.given)
    return bool(known)


def doubts(scenario: Scenario, count: int = SAMPLES) -> Doubts:
    """What a scenario takes on trust and what it costs, from so many karts drawn."""
    asked, name = headline(scenario), scenario.default_setting
    found = bands(scenario, [name], asked, count)
    told = tuple(found.of(name, address) for address in asked)
    causes = [{cause.name: cause for cause in found.causes(name, one)} for one in told]
    assumed = [
        Doubt(one, tuple(of[one.name].share for of in causes))
        for one in inputs(scenario.resolved)
        if one.how == ASSUMED
    ]
    most = [max((of[key] for of in causes), key=lambda cause: cause.share) for key in causes[0]]
    worth = sorted((cause for cause in most if cause.share > LEAST_SHARE), key=lambda c: -c.share)[:WORTH]
    return Doubts(told, tuple(sorted(assumed, key=lambda one: -one.cost)), tuple(worth))
