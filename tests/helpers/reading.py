"""Figures by name for the tests: of a sweep, of a load case, of a turn, and any by its name, lock and case."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import replace

import numpy as np

from kinematics.drive.rear_axle import AxleGrip
from kinematics.figures import catalog, read
from kinematics.figures.figure import Address, Given, Numbers
from kinematics.figures.kart import NEAR_BOTH_WAYS
from kinematics.figures.standing import Standing
from kinematics.figures.turn import Turns
from kinematics.frames import Array
from kinematics.lock import Sweep, sweep
from kinematics.parts import Kart, LoadCase, Setting


def named(name: str, lock: float | None = None, case: str | None = None) -> Address:
    """The address of a figure by its name, lock in rad."""
    return replace(catalog.find(name), lock=lock, case=case)


def columns(swept: Sweep, diameter: float = 280.0) -> dict[str, Numbers]:
    return read.columns(swept, Given(diameter))


def headline(full: Sweep, ahead: Sweep, diameter: float = 280.0) -> dict[str, Numbers]:
    return read.headline(ahead, Given(diameter))


def case_columns(
    swept: Sweep, case: LoadCase, pneumatic_trail: float = 0.0, grip: AxleGrip | None = None
) -> dict[str, Numbers]:
    given = Given(280.0, pneumatic_trail, grip or AxleGrip())
    return read.in_case(Standing(swept, case, given))


def jacking_figures(kart: Kart, setting: Setting) -> dict[str, Numbers]:
    return read.jacking(sweep(kart, setting, NEAR_BOTH_WAYS))


class turning:
    """A kart and a setting whose turns are read, at lock at_lock (rad)."""

    def __init__(self, kart: Kart, setting: Setting, at_lock: float) -> None:
        self.kart, self.setting, self.at_lock = kart, setting, at_lock

    def turns(self, case: LoadCase) -> Turns:
        return read.whole_turns(self.kart, self.setting, [case], self.at_lock)


def case_figures(turned: turning, case: LoadCase) -> dict[str, Numbers]:
    return read.of_turn(turned.turns(case), case)


def some_figures(
    kart: Kart,
    setting: Setting,
    case: LoadCase,
    names: Collection[str],
    at_lock: float | None = None,
    coarse: bool = False,
) -> Mapping[str, tuple[Array, Array]]:
    """Values and where known of figures of a turn, no more worked out than they need."""
    asked = [
        named(name, None if catalog.find(name).figure.of.whole_turn else at_lock, case.name) for name in names
    ]
    found = read.read(kart, setting, asked, {case.name: case}, coarse=coarse)
    return {name: (np.asarray(v), np.asarray(k)) for name, (v, k) in zip(names, found, strict=True)}
