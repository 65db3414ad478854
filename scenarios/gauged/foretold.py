"""What instruments should read of many karts at once, for any readings of a scenario's settings."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from copy import deepcopy
from dataclasses import dataclass
from functools import cached_property
from math import radians
from typing import NamedTuple

import numpy as np

from kinematics.figures.figure import Given
from kinematics.frames import Array, Mask
from kinematics.lock import Sweep, positions, sweep
from kinematics.parts import GRAVITY, Kart, Setting
from kinematics.standing.arranged import pull_to_lift, shown_of, turned_to
from scenarios import build
from scenarios.errors import refusing
from scenarios.gauged.kinds import PULL, SIDES, ReadOff
from scenarios.gauged.record import Reading
from scenarios.likely.sampled import fitted_off, given_of, put
from scenarios.records import Scenario
from scenarios.sure.stated import Input


class Karts(NamedTuple):
    """Many karts at once."""

    kart: Kart
    setting: Callable[[str], Setting]
    """What of the scenario's settings stands on them, by name."""
    given: Given


@dataclass(frozen=True)
class Foreteller:
    """Readings of a scenario's settings, to be foretold of karts with other numbers than the file's."""

    scenario: Scenario
    inputs: tuple[Input, ...]
    """The uncertain numbers, in the order of the values."""
    readings: Sequence[Reading]

    @cached_property
    def bushes(self) -> tuple[str, ...]:
        """What may be off in the bushes of the settings that were read, by name: sizes and clocks."""
        names: dict[str, None] = {}

        def noted(name: str) -> Array:
            names.setdefault(name)
            return np.zeros(1)

        for setting in self._settings:
            fitted_off(self.scenario.settings[setting], self.scenario.kit, noted)
        return tuple(names)

    def of(self, readings: Sequence[Reading]) -> Foreteller:
        """The same for other readings of the same settings: what is off in the bushes is called the same."""
        other = Foreteller(self.scenario, self.inputs, readings)
        vars(other)["bushes"] = self.bushes
        return other

    @property
    def _settings(self) -> list[str]:
        named = self.scenario.resolved.get(build.MEASURED)
        used = [one.setting for one in self.readings if not one.of_number]
        return list(dict.fromkeys([*used, *([named] if named else [])]))

    def karts(self, values: Array, off: Array) -> Karts:
        """Karts with these numbers (n, d), and their settings with bushes off by these scores (n, b)."""
        tables = deepcopy(self.scenario.resolved)
        for one, column in zip(self.inputs, values.T, strict=True):
            for place in one.places:
                put(tables, place, column)
        scores = dict(zip(self.bushes, off.T, strict=True))

        def setting(name: str) -> Setting:
            return fitted_off(self.scenario.settings[name], self.scenario.kit, scores.__getitem__)

        with refusing(f"{self.scenario.source}: readings ask for a kart that there cannot be"):
            kart = build.kart(tables)
            if name := tables.get(build.MEASURED):
                kart = build.reckoned(kart, setting(name))
        return Karts(kart, setting, given_of(self.scenario, tables))

    def foretold(self, values: Array, off: Array) -> tuple[Array, Mask]:
        """What every reading should be (n, m), in its own unit, and whether it can be read at all."""
        karts, names = self.karts(values, off), [one.name for one in self.inputs]
        shape = len(values), len(self.readings)
        found, known = np.zeros(shape), np.ones(shape, dtype=bool)
        for name, groups in self._groups.items():
            kart, setting = karts.kart, karts.setting(name)
            angles, there = self._handwheel(kart, setting, groups)
            swept = sweep(kart, setting, angles)
            ends = np.cumsum([0, *(len(group) for group in groups)])
            for group, start, stop in zip(groups, ends[:-1], ends[1:], strict=True):
                part = positions(swept, slice(int(start), int(stop)))
                told, can = self._told(kart, setting, group, part)
                found[:, group] = told
                known[:, group] = can & there[..., start:stop]
        for place, one in enumerate(self.readings):
            if one.of_number:
                found[:, place] = values[:, names.index(one.where)]
        return found, known

    def _told(self, kart: Kart, setting: Setting, group: Sequence[int], swept: Sweep) -> tuple[Array, Mask]:
        """Readings (n, k) of one setup, swept to the handwheel angle of each."""
        some, shape = [self.readings[place] for place in group], (*swept.reach.shape[:-1], len(group))
        seen, values, known = (
            shown_of(swept, some[0].arrangement),
            np.zeros(shape),
            np.ones(shape, dtype=bool),
        )
        for at, one in enumerate(some):
            where = one.kind.places.index(one.where)
            if one.what == PULL:
                angle = swept.handwheel[..., at : at + 1]
                load, can = pull_to_lift(kart, setting, where, angle, one.arrangement)
                values[..., at], known[..., at] = load[..., 0] / GRAVITY, can[..., 0]
            else:
                told = one.kind.read(ReadOff(seen, where, self.scenario.toe_diameter_mm))
                values[..., at] = np.broadcast_to(told, shape)[..., at]
                known[..., at] = np.broadcast_to(seen.known, shape)[..., at]
        return values, known

    @cached_property
    def _groups(self) -> dict[str, list[list[int]]]:
        """The readings, by place, of each setting, those together that are taken of the kart in one setup."""
        groups: dict[str, dict[object, list[int]]] = {}
        for place, one in enumerate(self.readings):
            if not one.of_number:
                groups.setdefault(one.setting, {}).setdefault(one.setup, []).append(place)
        return {name: list(setups.values()) for name, setups in groups.items()}

    def _handwheel(self, kart: Kart, setting: Setting, groups: Sequence[Sequence[int]]) -> tuple[Array, Mask]:
        """Handwheel angles (N,) or (n, N), rad, of a setting's readings, and whether they are there."""
        each = [[self.readings[place] for place in group] for group in groups]
        if not any(one.plate for some in each for one in some):
            angles = np.array([radians(one.handwheel_deg) for some in each for one in some])
            return angles, np.ones(angles.shape, dtype=bool)
        parts = [_turned(kart, setting, some) for some in each]
        lead = np.broadcast_shapes(*(angles.shape[:-1] for angles, _ in parts))
        whole = [
            np.concatenate([np.broadcast_to(part[k], (*lead, part[k].shape[-1])) for part in parts], axis=-1)
            for k in (0, 1)
        ]
        return whole[0], np.asarray(whole[1], dtype=bool)


def _turned(kart: Kart, setting: Setting, some: Sequence[Reading]) -> tuple[Array, Mask]:
    """The same of one setup: where a turn plate says it, the angle is looked for."""
    angles = np.array([radians(one.handwheel_deg) for one in some])
    there = np.ones(len(some), dtype=bool)
    for side, name in enumerate(SIDES):
        plates = {at: one.plate[1] for at, one in enumerate(some) if one.plate and one.plate[0] == name}
        if not plates:
            continue
        wanted = np.radians(list(plates.values()))
        theta, can = turned_to(kart, setting, side, wanted, some[0].arrangement)
        lead = np.broadcast_shapes(theta.shape[:-1], angles.shape[:-1])
        angles = np.broadcast_to(angles, (*lead, len(some))).copy()
        there = np.broadcast_to(there, (*lead, len(some))).copy()
        angles[..., list(plates)], there[..., list(plates)] = theta, can
    return angles, there
