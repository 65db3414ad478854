"""The first answer: what a setting does to the inside rear wheel, or a change does, and how sure that is.

Only what is told first is solved: the kart straight ahead, standing with the wheel turned, and each corner of
the scenario at the lock at which it is driven.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import radians
from typing import NamedTuple

import numpy as np

from kinematics.change.change import BothRods
from kinematics.change.rods import rod_turns, straight_ahead
from kinematics.figures import standing, turn, wheel
from kinematics.figures.figure import FRONT, Address, Figure
from kinematics.figures.read import Values
from kinematics.figures.turning import Pulse, silent
from kinematics.figures.verdict import words
from kinematics.lock import sweep
from kinematics.parts import LoadCase, Setting
from kinematics.standing.stand import stand
from kinematics.tolerance.band import band, differences
from scenarios import Scenario
from scenarios.likely.bands import Banded, Bands
from scenarios.likely.lineup import Lineup, Way
from scenarios.likely.sampled import Sampled, leaning, sampled

STILL = LoadCase("(standing still)")
"""No case of a file can have this name: one starts with a letter or a digit."""
FEW = 256
"""Karts drawn for a first answer, which is to come at once."""
WEIGHED_DEG = 30.0
"""Handwheel angle at which a standing kart is weighed a second time, less where the stop comes earlier."""
OF_CORNER = {
    "load": turn.LOAD_AT_LOCK,
    "air": turn.CLEARANCE_AT_LOCK,
    "lifts": turn.LIFT_OFF,
    "camber": turn.CAMBER_AT_LOCK,
}
STRAIGHT = {"caster": wheel.CASTER, "camber": wheel.CAMBER, "trail": wheel.CASTER_TRAIL, "toe": wheel.TOE}
TORQUE = "torque"


@dataclass(frozen=True)
class DrivenCorner:
    """A corner of the scenario turned one way, and the handwheel angle, rad, without sign, of its figures."""

    case: LoadCase
    way: str
    at: float

    @property
    def addresses(self) -> dict[str, Address]:
        """What is told of it, by a short name."""
        name, sign = self.case.name, turn.WAYS[self.way]
        whole = (turn.LIFT_OFF,)
        found = {
            short: figure.at(self.way, None if figure in whole else self.at, name)
            for short, figure in OF_CORNER.items()
        }
        return found | {TORQUE: standing.HANDWHEEL_TORQUE.at("", sign * self.at, name)}


class OnOther(NamedTuple):
    """Settings of another kart, by names of their own."""

    scenario: Scenario
    settings: Mapping[str, Setting]


@dataclass(frozen=True)
class FirstAnswer:
    """What is told first of settings, the first of which is the base where they are compared."""

    scenario: Scenario
    found: Bands
    corners: Sequence[DrivenCorner]
    """Of each load case the turn that is told alone where the kart is even; else the other one as well."""
    weighed: float
    """Handwheel angle, rad, + left, at which the standing kart is weighed."""
    even: bool
    """Whether every setting does the same to the left and to the right, to what is worth telling."""

    def work_out(self) -> None:
        """Solve all that is told, else solved when it is first read."""
        self.found.work_out()

    def straight(self, short: str, side: str) -> Address:
        """A figure straight ahead."""
        return _straight(STRAIGHT[short], side)

    @property
    def two_karts(self) -> bool:
        """Whether the settings are of two karts."""
        return len(self.found.lineup.scenarios) > 1

    @property
    def first(self) -> str:
        """The side, and the turn, that is told where one alone is: of the mirrored kart it is the other."""
        return FRONT[0] if self.weighed > 0.0 else FRONT[1]

    @property
    def sides(self) -> Sequence[str]:
        """Those of which is told, the first one leading: a mirror image is told of in the same order."""
        return (self.first,) if self.even else tuple(sorted(FRONT, key=lambda side: side != self.first))

    @property
    def ahead(self) -> Address:
        """Load on the inside rear wheel of that way of the kart standing still, straight ahead."""
        return _weighing(self.weighed)[0]

    @property
    def turned(self) -> Address:
        """The same with the handwheel turned to where it is weighed."""
        return _weighing(self.weighed)[1]

    def relief(self, name: str) -> Banded:
        """What steering takes off the inside rear of the standing kart, N, as a loss of load below 0."""
        ahead, turned = (self.found.of(name, one) for one in (self.ahead, self.turned))
        change = differences(ahead.values, turned.values)
        both = ahead.value is not None and turned.value is not None
        value = turned.value - ahead.value if both else None  # type: ignore[operator]
        return Banded(self.turned, value, band(*change), change)

    def stands(self, name: str, corner: DrivenCorner) -> str:
        """How the kart as written stands in a corner, in a word of `kinematics.figures.verdict`."""
        lineup, way = self.found.lineup.holding(name), turn.WAYS[corner.way]
        at, [case] = lineup.written, lineup.karts.scenario.cases([corner.case.name])
        swept = sweep(at.kart, at.settings[name], [way * corner.at])
        return words(swept.reach, stand(swept, case, way))[0]

    def rods(self, name: str) -> BothRods:
        """What is done at the tie rods of a setting to give them the base's toe again."""
        kart, settings = self.scenario.kart, self.found.lineup.written.settings
        was, now = (straight_ahead(kart, settings[one]) for one in (self.found.base, name))
        left, right = (
            rod_turns(getattr(was, side), getattr(now, side), self.scenario.thread_pitch_mm) for side in FRONT
        )
        return BothRods(left, right)


def outward(torque: Banded, corner: DrivenCorner) -> Banded:
    """A difference of what the driver holds in a corner, + into its turn."""
    if corner.way == FRONT[0] or torque.value is None:
        return torque
    values = -torque.values[0], torque.values[1]
    return Banded(torque.address, -torque.value, band(*values), values)


def _straight(figure: Figure, side: str) -> Address:
    return figure.at(side) if figure is wheel.CASTER else figure.at(side, 0.0)


def _weighing(weighed: float) -> list[Address]:
    """Load on the rear wheel inside of a handwheel angle, the kart standing: straight ahead, and there."""
    wheel_of = f"rear_{FRONT[0] if weighed > 0.0 else FRONT[1]}"
    return [standing.LOAD.at(wheel_of, lock, STILL.name) for lock in (0.0, weighed)]


def _asked(corners: Sequence[DrivenCorner], sides: Sequence[str]) -> dict[str, list[Address]]:
    """What is read of each side and of the corners turned that way."""
    found = {side: [_straight(figure, side) for figure in STRAIGHT.values()] for side in sides}
    for corner in corners:
        found[corner.way] += corner.addresses.values()
    return found


def _alike(lineup: Lineup, name: str, asked: Mapping[str, Sequence[Address]]) -> bool:
    """Whether a setting does the same to the left and to the right, to what is worth telling."""
    left, right = (lineup.read(name, asked[side], coarse=False) for side in FRONT)
    return all(_near(*both) for both in zip(asked[FRONT[0]], left, right, strict=True))


def _near(address: Address, left: Values, right: Values) -> bool:
    """Whether a figure of the two sides differs by less than is worth the work; signs of a side aside."""
    (one, known), (other, there) = ((float(np.ravel(v)[0]), bool(np.ravel(k)[0])) for v, k in (left, right))
    if not (known and there):
        return known == there
    if address.figure is standing.HANDWHEEL_TORQUE:
        one, other = abs(one), abs(other)
    return abs(one - other) < address.figure.worth


def answer(
    scenario: Scenario,
    settings: Sequence[str] | Mapping[str, Setting],
    cases: Sequence[str],
    at_deg: float | None = None,
    count: int = FEW,
    way: Way = "as set",
    other: OnOther | None = None,
    pulse: Pulse = silent,
) -> FirstAnswer:
    """The first answer of settings, by name or as they are, in the load cases named.

    at_deg is the handwheel angle of corners that do not name their own; left out, that of the weighing. way
    says how the tie rods of settings but the first are left. other are settings of another kart, called by
    names of their own, in its load cases of the same names and at the same handwheel angles. pulse is called
    while they are worked out.
    """
    lineup = _lineup(scenario, settings, count, way, other, pulse)
    weighed = min(radians(WEIGHED_DEG), *(one.kart.column.stop for one in lineup.scenarios))
    first, other_way = FRONT[::-1] if lineup.karts.turned else FRONT
    corners = _corners(scenario, cases, at_deg, weighed, (first, other_way))
    weighed *= turn.WAYS[first]
    weighing = _weighing(weighed)
    both = _asked(corners, FRONT)
    lineup.read(lineup.base, [*weighing, *both["left"], *both["right"]], coarse=False)
    even = all(_alike(lineup, name, both) for name in lineup.names)
    told = [corner for corner in corners if corner.way == first or not even]
    asked = _asked(told, [first] if even else FRONT)
    addresses = [*weighing, *(one for some in asked.values() for one in some)]
    return FirstAnswer(scenario, Bands(lineup, addresses), told, weighed, even)


def _lineup(
    scenario: Scenario,
    settings: Sequence[str] | Mapping[str, Setting],
    count: int,
    way: Way,
    other: OnOther | None,
    pulse: Pulse,
) -> Lineup:
    """The settings on the kart and so many likely ones, with those of another kart beside them.

    Both are drawn the same way round: what leans first decides.
    """
    if not isinstance(settings, Mapping):
        settings = {name: scenario.settings[name] for name in settings}
    both = [OnOther(scenario, settings), *([] if other is None else [other])]
    leans = (leaning(kart, fitted.values()) for kart, fitted in both)
    turned = next((one < 0 for one in leans if one), False)

    def karts(kart: Scenario, other: Sampled | None = None) -> Sampled:
        return sampled(replace(kart, load_cases=(*kart.load_cases, STILL)), count, turned, other)

    own = karts(scenario)
    beside = None if other is None else Lineup(karts(other.scenario, own), other.settings, pulse=pulse)
    return Lineup(own, settings, way, beside, pulse)


def _corners(
    scenario: Scenario, cases: Sequence[str], at_deg: float | None, weighed: float, ways: Sequence[str]
) -> list[DrivenCorner]:
    """Those of the load cases that are no standing still, turned either way."""
    usual = weighed if at_deg is None else radians(at_deg)
    chosen = [case for case in scenario.load_cases if case.name in cases and not _still(case)]
    return [
        DrivenCorner(case, way, usual if at_deg is not None or case.handwheel is None else case.handwheel)
        for case in chosen
        for way in ways
    ]


def _still(case: LoadCase) -> bool:
    return case.asked_g == 0.0 and case.longitudinal_g == 0.0
