"""How sure a scenario's figures are: of each setting, and of the difference between two, with its band.

All settings are fitted to the same karts, so that what they have in common cancels in a difference.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

import numpy as np

from kinematics.change.rods import straight_ahead, with_rods_kept, with_rods_reset
from kinematics.figures import read as figures
from kinematics.figures.figure import Address
from kinematics.figures.read import Values
from kinematics.figures.solved import Solved
from kinematics.frames import Array
from kinematics.parts import LoadCase, Setting
from kinematics.tolerance.band import Band, band, differences
from kinematics.tolerance.shares import SQUARES, Shares, shares
from scenarios import Scenario
from scenarios.ask.run import read_at
from scenarios.ask.sampled import SAMPLES, Fitted, Sampled, columns_of, fitted, sampled

Way = Literal["as set", "kept", "reset"]
"""How a setting's tie rods are left: as it says itself, or as the first setting's, in length or in toe."""
_RODS = {"kept": with_rods_kept, "reset": with_rods_reset}


@dataclass(frozen=True)
class Banded:
    """A figure, or the difference of one, of the kart as it is written, and the band in which it lies."""

    address: Address
    value: float | None
    """inf where the kart as written is sure not to have it; None where it has no value."""
    band: Band
    """Of numbers alone, ()."""
    values: Values
    """The samples (n,), and where there are any."""

    @property
    def told_apart(self) -> bool:
        """Whether the band of a difference leaves 0 out."""
        return bool(self.band.told_apart)


@dataclass(frozen=True)
class Cause:
    """An uncertain number and its share of a figure's variance, 0..1, with the share's standard error."""

    name: str
    share: float
    error: float


@dataclass(frozen=True)
class Bands:
    """Figures of settings of a scenario, the first of which is the base."""

    karts: Sampled
    settings: Mapping[str, Setting]
    """Of the kart as written."""
    addresses: Sequence[Address]
    way: Way = "as set"

    @property
    def base(self) -> str:
        """The setting against which differences are taken."""
        return next(iter(self.settings))

    @cached_property
    def _fitted(self) -> dict[str, Fitted]:
        kit, count = self.karts.scenario.kit, self.karts.count
        return {name: fitted(setting, kit, count) for name, setting in self.settings.items()}

    @cached_property
    def _set(self) -> dict[str, tuple[Setting, Setting]]:
        """Each setting on the kart as written and on all karts, its tie rods as they are left."""
        whole = self.karts.scenario.kart, self.karts.kart
        made = {name: (one, self._fitted[name].setting) for name, one in self.settings.items()}
        if self.way == "as set":
            return made
        ahead = [straight_ahead(kart, setting) for kart, setting in zip(whole, made[self.base], strict=True)]
        rods = _RODS[self.way]
        return {
            name: (rods(ahead[0], one), rods(ahead[1], many)) if name != self.base else (one, many)
            for name, (one, many) in made.items()
        }

    @cached_property
    def _kept(self) -> dict[str, list[tuple[Values, Values]]]:
        """What has been worked out, by setting."""
        return {}

    def _found(self, name: str) -> list[tuple[Values, Values]]:
        """Each figure of a setting: of the kart as written, and of all karts (n,), those scanned coarsely."""
        if name not in self._kept:
            scenario, many = self.karts.scenario, self.karts
            asked = self.addresses, {case.name: case for case in scenario.load_cases}
            one, all_ = self._set[name]
            written = figures.read(scenario.kart, one, *asked, scenario.given)
            found = figures.read(many.kart, all_, *asked, many.given, coarse=True)
            self._kept[name] = list(zip(written, found, strict=True))
        return self._kept[name]

    def of(self, name: str, address: Address) -> Banded:
        """A figure of a setting."""
        one, many = self._found(name)[self.addresses.index(address)]
        return self._banded(address, one, many)

    def change(self, name: str, address: Address) -> Banded:
        """The difference of a figure, of a setting less that of the base, kart by kart."""
        place = self.addresses.index(address)
        (was_one, was), (now_one, now) = self._found(self.base)[place], self._found(name)[place]
        return self._banded(address, differences(was_one, now_one), differences(was, now))

    def _banded(self, address: Address, one: Values, many: Values) -> Banded:
        value, known = (np.ravel(part)[0] for part in one)
        numbers = np.array(np.broadcast_to(many[0], self.karts.count), dtype=float)
        there = np.array(np.broadcast_to(many[1], self.karts.count), dtype=bool)
        told = float(value) if known or np.isinf(value) else None
        return Banded(address, told, band(numbers, there), (numbers, there))

    def causes(self, name: str, told: Banded) -> list[Cause]:
        """What a figure of a setting, or its difference from the base, is unsure of: largest share first.

        A sample without end counts as the largest, or least, that has one.
        """
        errors = [self._fitted[one].errors for one in dict.fromkeys((self.base, name))]
        names, columns = columns_of(self.karts, errors)
        found = shares_of(told.values, columns)
        order = np.argsort(-found.own, kind="stable")
        return [Cause(names[at], float(found.own[at]), float(found.error[at])) for at in order]

    def through_lock(self, name: str, cases: Sequence[LoadCase] = ()) -> Solved:
        """A setting on all karts at the scenario's lock positions: every column of it is (n, N) or (N,)."""
        scenario = self.karts.scenario
        lock = np.radians(np.linspace(*scenario.handwheel_deg))
        some = tuple(read_at(scenario, case, None) for case in cases)
        return Solved(self.karts.kart, self._set[name][1], lock, some, self.karts.given)


def bands(
    scenario: Scenario,
    settings: Sequence[str] | Mapping[str, Setting],
    addresses: Sequence[Address],
    count: int = SAMPLES,
    way: Way = "as set",
) -> Bands:
    """Figures of settings, by name or as they are, on so many karts; the first setting is the base.

    way says how the tie rods of the others are left. Nothing is solved before it is asked for.
    """
    if not isinstance(settings, Mapping):
        settings = {name: scenario.settings[name] for name in settings}
    return Bands(sampled(scenario, count), settings, tuple(addresses), way)


def shares_of(values: Values, columns: Array) -> Shares:
    """Shares of the variance of samples (n,) by columns (n, d); one without end counts as the last with."""
    numbers, known = values
    finite, there = np.isfinite(numbers) & known, np.asarray(known | np.isinf(numbers))
    if not finite.any() or np.count_nonzero(there) <= SQUARES * columns.shape[1] + 1:
        none = np.zeros(columns.shape[1])  # too few to tell
        return Shares(none, none, 0.0)
    ends = float(numbers[finite].min()), float(numbers[finite].max())
    return shares(np.clip(numbers, *ends), there, columns)
