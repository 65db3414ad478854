"""What one usual step of every adjustment is worth on this kart, and how much of one stands for another.

A usual step is about what a mechanic takes at a time, and its minutes what it may take him with the toe set
again: choices of this program, no source.
"""

from __future__ import annotations

from cmath import phase, rect
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from math import pi, radians
from typing import NamedTuple

import numpy as np

from kinematics.change.rods import straight_ahead, with_rods_reset
from kinematics.corner.bush import bush_offset
from kinematics.figures.turning import Pulse, silent
from kinematics.parts import GRAVITY, CornerSetting, Masses, Setting, Yoke
from scenarios import Scenario
from scenarios.ask.answer import FEW, TORQUE, FirstAnswer, answer
from scenarios.build import seat_mass_kg
from scenarios.errors import Refusal, suggestion
from scenarios.likely.bands import Banded
from scenarios.schema.changes import BY_KEY

CornerChange = Callable[[CornerSetting, Yoke], CornerSetting]
WORTH = ("load", "lifts", "camber", TORQUE)
"""What is told of each step, by short names."""
RANKING = ("load", "lifts")
"""By what steps are ranked; the second counts for those whose first cannot be told."""


class UsualStep(NamedTuple):
    """One adjustment by its usual step."""

    name: str
    amount: float
    unit: str
    minutes: int
    change: Callable[[Setting, Scenario], Setting]
    key: str = ""
    """Of a setting or of its corners, what is another number; '' where a bush is another."""
    back: str = ""
    """The name of a step back; '' where its sign says so."""

    @property
    def words(self) -> str:
        """The step in words."""
        return f"{self.name} {self.amount:+g} {self.unit}"

    def towards(self, amount: float) -> str:
        """The name of so much of it."""
        return self.back if self.back and amount < 0.0 else self.name


def _step(key: str, amount: float, minutes: int, change: Callable[[Setting, Scenario], Setting]) -> UsualStep:
    """A step of what the catalogue calls by a name."""
    of = BY_KEY[key]
    return UsualStep(of.more, amount, of.unit, minutes, change, key, of.less)


def _corners(change: CornerChange) -> Callable[[Setting, Scenario], Setting]:
    def both(setting: Setting, scenario: Scenario) -> Setting:
        kart = scenario.kart
        left, right = change(setting.left, kart.left.yoke), change(setting.right, kart.right.yoke)
        return replace(setting, left=left, right=right)

    return both


def _tilted(deg: float, clock: float) -> CornerChange:
    """The top hole moved on towards a clock (rad) by what a bush of this size moves it."""

    def change(corner: CornerSetting, yoke: Yoke) -> CornerSetting:
        more = float(bush_offset(radians(deg), yoke.span))
        hole = rect(float(corner.top_offset), float(corner.top_clock)) + rect(more, clock)
        return replace(corner, top_offset=abs(hole), top_clock=phase(hole) % (2.0 * pi))

    return change


def _more(name: str, by: float) -> CornerChange:
    return lambda corner, _: replace(corner, **{name: getattr(corner, name) + by})


def _chassis(name: str, by: float) -> Callable[[Setting, Scenario], Setting]:
    def change(setting: Setting, _: Scenario) -> Setting:
        return _with(setting, **{name: getattr(setting.chassis, name) + by})

    return change


def _with(setting: Setting, **changes: float | Masses) -> Setting:
    return replace(setting, chassis=replace(setting.chassis, **changes))  # type: ignore[arg-type]


def _seat(way: str, by: float) -> Callable[[Setting, Scenario], Setting]:
    def change(setting: Setting, scenario: Scenario) -> Setting:
        masses = setting.chassis.masses
        moment = seat_mass_kg(scenario.resolved) * GRAVITY * by
        return _with(setting, masses=replace(masses, **{way: getattr(masses, way) + moment}))

    return change


def ballast_place(scenario: Scenario) -> tuple[float, float, float]:
    """Where ballast is put, mm: on the seat, as is usual, well behind the middle."""
    kart = scenario.kart
    return 0.3 * float(kart.wheelbase), 0.0, 2.0 * float(kart.rear_tyre.radius)


def _ballast(kg: float) -> Callable[[Setting, Scenario], Setting]:
    def change(setting: Setting, scenario: Scenario) -> Setting:
        masses, weight, at = setting.chassis.masses, kg * GRAVITY, ballast_place(scenario)
        was = (masses.forward, masses.left, masses.up)
        put = Masses(masses.weight + weight, *(m + weight * x for m, x in zip(was, at, strict=True)))
        return _with(setting, masses=put)

    return change


def _toe(deg: float) -> Callable[[Setting, Scenario], Setting]:
    def change(setting: Setting, scenario: Scenario) -> Setting:
        again = with_rods_reset(straight_ahead(scenario.kart, setting), setting)
        toes = [(np.zeros(1) if one.rod_toe is None else one.rod_toe) for one in (again.left, again.right)]
        left, right = (
            replace(one, rod_toe=float(np.ravel(toe)[0]) + radians(deg))
            for one, toe in zip((again.left, again.right), toes, strict=True)
        )
        return replace(again, left=left, right=right)

    return change


def _axle(by: float) -> Callable[[Setting, Scenario], Setting]:
    return lambda setting, _: replace(setting, rear_axle_shift=setting.rear_axle_shift + by)


STEPS = (
    UsualStep("top bush rearward", 1.0, "deg", 25, _corners(_tilted(1.0, pi)), back="top bush forward"),
    UsualStep("top bush inboard", 1.0, "deg", 25, _corners(_tilted(1.0, 1.5 * pi)), back="top bush outboard"),
    _step("hub_spacer_mm", 5.0, 10, _corners(_more("hub_spacer", 5.0))),
    _step("spacer_shift_mm", 5.0, 20, _corners(_more("spacer_shift", 5.0))),
    _step("tie_rod_toe_deg", 0.1, 5, _toe(0.1)),
    _step("arm_hole_mm", 5.0, 10, _corners(_more("arm_hole", 5.0))),
    _step("spade_hole_mm", 5.0, 10, _corners(_more("spade_hole", 5.0))),
    _step("rear_track_change_mm", 10.0, 10, _chassis("rear_track", 10.0)),
    _step("rear_axle_shift_mm", 5.0, 30, _axle(5.0)),
    _step("front_stiffness_change_percent", 10.0, 2, _chassis("front_stiffness", 0.1)),
    _step("rear_stiffness_change_percent", 10.0, 2, _chassis("rear_stiffness", 0.1)),
    _step("frame_stiffness_change_percent", 10.0, 5, _chassis("frame_stiffness", 0.1)),
    _step("seat_forward_mm", 10.0, 40, _seat("forward", 10.0)),
    _step("seat_up_mm", 10.0, 40, _seat("up", 10.0)),
    _step("ballast", 5.0, 10, _ballast(5.0)),
)


@dataclass(frozen=True)
class Stepped:
    """What every step is worth at one corner of the scenario."""

    base: str
    answer: FirstAnswer
    steps: Mapping[str, UsualStep]
    """By the name of the setting that it makes."""

    def worth(self, setting: str) -> dict[str, Banded]:
        """What a step does, by short names; less the base."""
        addresses = self.answer.corners[0].addresses
        return {short: self.answer.found.change(setting, addresses[short]) for short in WORTH}

    def work_out(self) -> None:
        """Solve every step, else solved when the first is read."""
        self.answer.work_out()

    @property
    def ranked(self) -> list[str]:
        """Settings by what they do to the inside rear, the largest first, last what cannot be told."""

        def rank(setting: str) -> list[float]:
            inside_rear = [self.worth(setting)[short] for short in RANKING]
            sizes = [abs(by.value or 0.0) for by in inside_rear]
            told = [size * by.told_apart for size, by in zip(sizes, inside_rear, strict=True)]
            return [-size for size in (*told, *sizes)]

        return sorted(self.steps, key=rank)

    def instead(self, setting: str, of: str, short: str = "load") -> float | None:
        """How many steps of a setting do to a figure what one step of another does; None where it cannot."""
        this, other = (self.worth(one)[short] for one in (setting, of))
        if not (this.told_apart and other.told_apart) or not this.value or other.value is None:
            return None
        return other.value / this.value


def stepped(
    scenario: Scenario,
    base: str,
    case: str | None = None,
    at_deg: float | None = None,
    count: int = FEW,
    steps: Sequence[UsualStep] = STEPS,
    pulse: Pulse = silent,
) -> Stepped:
    """Take every step from a setting, toe set back, and read each in one corner; left out, in the first."""
    corners = [one.name for one in scenario.load_cases if one.asked_g != 0.0]
    if not corners:
        raise Refusal(f"{scenario.source}: a step is read in a corner, and no load case is one")
    if case is not None and case not in corners:
        known = f"is no corner to read a step in{suggestion(case, corners)}"
        raise Refusal(f"{scenario.source}: load case '{case}' {known}")
    was = scenario.settings[base]
    names = {f"{number}": step for number, step in enumerate(steps, 1)}
    settings = {base: was, **{name: step.change(was, scenario) for name, step in names.items()}}
    told = answer(scenario, settings, [case or corners[0]], at_deg, count, "reset", pulse=pulse)
    return Stepped(base, told, names)
