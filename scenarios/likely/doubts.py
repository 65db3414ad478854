"""What a scenario takes on trust, and what that costs: its headline figures' bands, and what they hang on."""

from __future__ import annotations

from dataclasses import dataclass
from math import radians

from kinematics.figures import read as figures
from kinematics.figures.figure import FRONT, Address
from kinematics.figures.turn import JACKING, LIFT_OFF, LOAD_AT_LOCK
from kinematics.parts import LoadCase
from scenarios.likely.bands import Banded, Cause, bands
from scenarios.likely.sampled import SAMPLES, leaning
from scenarios.records import Scenario
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
    """Load of the inside rear at its lock and jacking in the first load case that is a corner, and lift-off.

    Lift-off is told in the first case in which the kart as written has it, all turned to the side to which
    the kart leans.
    """
    way = FRONT[leaning(scenario, [scenario.settings[scenario.default_setting]]) < 0]
    corners = [case for case in scenario.load_cases if case.asked_g != 0.0 and not case.opposite_lock]
    first, *_ = corners or scenario.load_cases
    lifts = next((case for case in corners if _lifts(scenario, case, way)), first)
    lock = min(radians(LOCK_DEG), scenario.kart.column.stop)
    return (
        LOAD_AT_LOCK.at(way, lock if first.handwheel is None else first.handwheel, first.name),
        JACKING.at(way, None, first.name),
        LIFT_OFF.at(way, None, lifts.name),
    )


def _lifts(scenario: Scenario, case: LoadCase, way: str) -> bool:
    setting, asked = scenario.settings[scenario.default_setting], LIFT_OFF.at(way, None, case.name)
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
