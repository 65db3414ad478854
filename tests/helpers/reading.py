"""Figures by name for the tests: of a sweep, a load case or a turn, and any by its name, lock and case."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import replace

from kinematics.drive.rear_axle import AxleGrip
from kinematics.figures import catalog, read, standing
from kinematics.figures.figure import Address, Given, Group, Numbers, each
from kinematics.figures.kart import NEAR_BOTH_WAYS
from kinematics.figures.standing import Standing
from kinematics.figures.turn import EVERY_PART, Turns, turns
from kinematics.lock import Sweep, sweep
from kinematics.parts import Kart, LoadCase, Setting


def names(group: Group) -> tuple[str, ...]:
    """The names of a group of figures, in order."""
    return tuple(one.name for one in each(group))


WHOLE_TURN = tuple(one.name for one in each(catalog.OF_TURN) if one.figure.of.whole_turn)
"""Figures of a load case that belong to no lock position."""
AT_LOCK = tuple(one.name for one in each(catalog.OF_TURN) if not one.figure.of.whole_turn)
"""Figures of a load case read at the lock asked for."""
LIFT_OFF = tuple(one.name for one in each(catalog.OF_TURN) if one.figure.may_lack)
JACKING = names(catalog.NEAR)
"""Figures that a rigid kart has in no load case."""
FOUR_WHEELS = names(standing.FOUR_WHEELS)
"""Columns of a load case that the stance alone gives."""


def named(name: str, lock: float | None = None, case: str | None = None) -> Address:
    """The address of a figure by its name, lock in rad."""
    return replace(catalog.find(name), lock=lock, case=case)


def columns(swept: Sweep, diameter: float = 280.0) -> dict[str, Numbers]:
    """Columns through lock, toe in mm across this diameter in mm."""
    return read.columns(swept, Given(diameter))


def headline(ahead: Sweep, diameter: float = 280.0) -> dict[str, Numbers]:
    """Figures straight ahead of a sweep whose first position is handwheel angle 0."""
    return read.headline(ahead, Given(diameter))


def case_columns(
    swept: Sweep, case: LoadCase, pneumatic_trail: float = 0.0, grip: AxleGrip | None = None
) -> dict[str, Numbers]:
    """Columns of a load case; pneumatic_trail in mm."""
    given = Given(pneumatic_trail=pneumatic_trail, grip=grip or AxleGrip())
    return read.in_case(Standing(swept, case, given))


def jacking_figures(kart: Kart, setting: Setting) -> dict[str, Numbers]:
    """Figures near straight ahead of the rigid kart."""
    return read.jacking(sweep(kart, setting, NEAR_BOTH_WAYS))


def whole_turns(kart: Kart, setting: Setting, cases: Iterable[LoadCase], at_lock: float) -> Turns:
    """All that the headline figures of these load cases are read off; at_lock (rad) is the lock asked for."""
    return turns(kart, setting, dict.fromkeys(cases, EVERY_PART), at_lock)


def case_figures(kart: Kart, setting: Setting, case: LoadCase, at_lock: float) -> dict[str, Numbers]:
    """Headline figures of a load case, those at lock read at at_lock (rad)."""
    return read.of_turn(whole_turns(kart, setting, [case], at_lock), case)


def some_figures(
    kart: Kart,
    setting: Setting,
    case: LoadCase,
    asked: Collection[str],
    at_lock: float = 0.0,
    coarse: bool = False,
) -> dict[str, Numbers]:
    """Headline figures of a load case by name, no more worked out than they need."""
    some = [named(name, at_lock if name in AT_LOCK else None, case.name) for name in asked]
    found = read.read(kart, setting, some, {case.name: case}, coarse=coarse)
    return {
        one.name: Numbers(one, "", values, known) for one, (values, known) in zip(some, found, strict=True)
    }
