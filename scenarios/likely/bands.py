"""How sure a scenario's figures are: of each setting, and of the difference between two, with its band.

All settings are fitted to the same karts, so that what they have in common cancels in a difference.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from kinematics.figures.figure import Address, Numbers
from kinematics.figures.read import Values
from kinematics.figures.solved import Solved
from kinematics.frames import Array
from kinematics.parts import LoadCase, Setting
from kinematics.tolerance.band import Band, band, differences
from kinematics.tolerance.shares import SQUARES, Shares, shares
from scenarios.likely.lineup import Lineup, Way
from scenarios.likely.sampled import SAMPLES, Sampled, columns_of, leaning, sampled
from scenarios.records import Scenario

MOST_PLACES = 181
"""Positions through lock at which every likely kart is solved; a shade shows no finer ones."""


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

    lineup: Lineup
    addresses: Sequence[Address]

    @property
    def base(self) -> str:
        """The setting against which differences are taken."""
        return self.lineup.base

    @property
    def karts(self) -> Sampled:
        """The likely karts."""
        return self.lineup.karts

    def work_out(self) -> None:
        """Solve what is asked of every setting, else solved when it is first read."""
        for name in self.lineup.names:
            for coarse in (False, True):
                self.lineup.read(name, self.addresses, coarse)

    def _found(self, name: str, address: Address) -> tuple[Values, Values]:
        """A figure of a setting: of the kart as written, and of all karts (n,), there scanned coarsely."""
        one, many = (self.lineup.figure(name, address, self.addresses, coarse) for coarse in (False, True))
        return one, many

    def of(self, name: str, address: Address) -> Banded:
        """A figure of a setting."""
        return self._banded(address, *self._found(name, address))

    def change(self, name: str, address: Address) -> Banded:
        """The difference of a figure, of a setting less that of the base, kart by kart."""
        (was_one, was), (now_one, now) = (self._found(one, address) for one in (self.base, name))
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
        lineups = {one: self.lineup.holding(one) for one in (self.base, name)}
        errors = [lineup.fitted[one].errors for one, lineup in lineups.items()]
        names, columns = columns_of([lineup.karts for lineup in lineups.values()], errors)
        found = shares_of(told.values, columns)
        order = np.argsort(-found.own, kind="stable")
        return [Cause(names[at], float(found.own[at]), float(found.error[at])) for at in order]

    def columns(
        self, name: str, case: LoadCase | None, names: Sequence[str], less_base: bool = False
    ) -> dict[str, Band]:
        """Bands (N,) of columns by name through lock, also of a load case's, or of their change.

        Where there are very many positions they are worked out at fewer and read between them.
        """
        cases = () if case is None else (case,)
        now, *base = (
            _columns(self.through_lock(one, cases), case) for one in (name, self.base)[: 1 + less_base]
        )

        def banded(column: str) -> Band:
            its = now[column].values, now[column].known
            of_base = [(one[column].values, one[column].known) for one in base]
            found = band(*(differences(of_base[0], its) if of_base else its))
            return found if len(places) == len(self.positions) else found.between(places, self.positions)

        places = self._places
        return {column: banded(column) for column in names}

    @property
    def positions(self) -> Array:
        """The scenario's lock positions, handwheel angles in degrees (N,)."""
        return np.linspace(*self.karts.scenario.handwheel_deg)

    @property
    def _places(self) -> Array:
        """Where the likely karts are solved, handwheel angles in degrees (n,)."""
        first, last, count = self.karts.scenario.handwheel_deg
        return np.linspace(first, last, min(count, MOST_PLACES))

    def through_lock(self, name: str, cases: Sequence[LoadCase] = ()) -> Solved:
        """A setting on all karts through lock, at most at MOST_PLACES: every column is (n, N) or (N,)."""
        at = self.lineup.holding(name).likely
        return Solved(at.kart, at.settings[name], np.radians(self._places), tuple(cases), at.given)


def _columns(solved: Solved, case: LoadCase | None) -> Mapping[str, Numbers]:
    return {**solved.columns, **({} if case is None else solved.case_columns[case.name])}


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
    karts = sampled(scenario, count, leaning(scenario, settings.values()) < 0)
    return Bands(Lineup(karts, settings, way), tuple(addresses))


def shares_of(values: Values, columns: Array) -> Shares:
    """Shares of the variance of samples (n,) by columns (n, d); one without end counts as the last with."""
    numbers, known = values
    finite, there = np.isfinite(numbers) & known, np.asarray(known | np.isinf(numbers))
    if not finite.any() or np.count_nonzero(there) <= SQUARES * columns.shape[1] + 1:
        none = np.zeros(columns.shape[1])  # too few to tell
        return Shares(none, none, 0.0)
    ends = float(numbers[finite].min()), float(numbers[finite].max())
    return shares(np.clip(numbers, *ends), there, columns)
