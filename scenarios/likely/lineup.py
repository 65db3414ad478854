"""Settings side by side on the kart as written and on all likely karts, solved together as a batch.

Their tie rods are written as lengths first, so that settings of any kind make one batch, and no sweep has to
find again where a rod that is set to a toe ends up.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Literal, NamedTuple

import numpy as np

from kinematics.batches import batch_shape, one_of, stacked
from kinematics.change.rods import straight_ahead, with_rods_kept, with_rods_reset
from kinematics.figures import read as figures
from kinematics.figures.figure import Address, Given
from kinematics.figures.read import Values
from kinematics.figures.turning import Pulse, silent
from kinematics.lock import Sweep
from kinematics.parts import CornerSetting, Kart, Setting
from scenarios.kit import SIDES
from scenarios.likely.sampled import Fitted, Sampled, fitted
from scenarios.records import Scenario

Way = Literal["as set", "kept", "reset"]
"""How a setting's tie rods are left: as it says itself, or as the first setting's, in length or in toe."""
_RODS = {"kept": with_rods_kept, "reset": with_rods_reset}
TOGETHER = 8
"""Settings solved at a time, at most."""
STANDING = 6000
"""Settings, karts and load cases that stand at a time, at most: each takes some 100 kB."""
NO_ROD = 1e6
"""mm: a length that joins nothing, where no length gives the toe that is asked for."""


class Standpoint(NamedTuple):
    """The kart as written, or all likely karts, and the settings on it."""

    kart: Kart
    given: Given
    settings: Mapping[str, Setting]
    coarse: bool
    """Whether turns are scanned coarsely."""


@dataclass(frozen=True)
class Lineup:
    """Settings of a scenario, the first of which is the base, each on the same karts."""

    karts: Sampled
    settings: Mapping[str, Setting]
    """Of the kart as written, each of one number."""
    way: Way = "as set"
    beside: Lineup | None = None
    """Settings of another kart, told after these: a number that is the same in both, and known alike, is
    drawn once for number n of either, so that it cancels in a difference."""
    pulse: Pulse = silent
    """Called while figures are worked out."""

    @property
    def names(self) -> list[str]:
        """The settings, those of the other kart last."""
        return [*self.settings, *(() if self.beside is None else self.beside.names)]

    @property
    def scenarios(self) -> list[Scenario]:
        """The karts as written, the other one last."""
        return [self.karts.scenario, *([] if self.beside is None else self.beside.scenarios)]

    def holding(self, name: str) -> Lineup:
        """The lineup of the kart that has a setting: this one, or the one beside it."""
        return self if self.beside is None or name in self.settings else self.beside.holding(name)

    @property
    def base(self) -> str:
        """The setting against which differences are taken."""
        return next(iter(self.settings))

    @cached_property
    def fitted(self) -> dict[str, Fitted]:
        """Each setting as it may come to be fitted."""
        kit, count, turned = self.karts.scenario.kit, self.karts.count, self.karts.turned
        return {name: fitted(setting, kit, count, turned) for name, setting in self.settings.items()}

    @cached_property
    def written(self) -> Standpoint:
        """The kart as written."""
        scenario = self.karts.scenario
        return Standpoint(scenario.kart, scenario.given, self._left(scenario.kart, self.settings), False)

    @cached_property
    def likely(self) -> Standpoint:
        """All likely karts."""
        settings = {name: one.setting for name, one in self.fitted.items()}
        return Standpoint(self.karts.kart, self.karts.given, self._left(self.karts.kart, settings), True)

    def _left(self, kart: Kart, settings: Mapping[str, Setting]) -> dict[str, Setting]:
        """The settings with their tie rods as they are left, as lengths where there are several."""
        if len(settings) == 1:
            return dict(settings)
        others = dict(settings)
        base = {self.base: others.pop(self.base)}
        if self.way != "as set":
            ahead = straight_ahead(kart, base[self.base])
            others = {name: _RODS[self.way](ahead, one) for name, one in others.items()}
        return _as_lengths(kart, base) | _as_lengths(kart, others)

    @cached_property
    def _found(self) -> dict[tuple[bool, str], dict[Address, Values]]:
        """What has been read, by standpoint and setting."""
        return {(coarse, name): {} for coarse in (False, True) for name in self.settings}

    def read(self, name: str, addresses: Sequence[Address], coarse: bool) -> list[Values]:
        """Figures of a setting on all likely karts (n,), or on the kart as written ()."""
        if name not in self.settings:
            return self.holding(name).read(name, addresses, coarse)
        there = self._found[coarse, name]
        missing = [one for one in addresses if one not in there]
        if missing:
            self._solve(name, missing, coarse)
        return [there[one] for one in addresses]

    def figure(self, name: str, address: Address, among: Sequence[Address], coarse: bool) -> Values:
        """One figure as `read` gives it, which reads those that it is among at once."""
        lineup = self.holding(name)
        if address not in lineup._found[coarse, name]:
            lineup.read(name, among, coarse)
        return lineup._found[coarse, name][address]

    def _solve(self, name: str, addresses: Sequence[Address], coarse: bool) -> None:
        """Read figures of a setting, and of those that come with it."""
        at = self.likely if coarse else self.written
        names, cases = list(self.settings), {case.name: case for case in self.karts.scenario.load_cases}
        each = max(1, len(cases)) * (self.karts.count if coarse else 1)
        together = min(TOGETHER, max(1, STANDING // each))
        start = names.index(name) // together * together
        some = names[start : start + together]
        batch = stacked([at.settings[one] for one in some], len(batch_shape(at.kart)))
        read = figures.read(at.kart, batch, addresses, cases, at.given, at.coarse, self.pulse)
        shape = (len(some), self.karts.count) if coarse else (len(some),)
        for address, (numbers, known) in zip(addresses, read, strict=True):
            whole, there = np.broadcast_to(numbers, shape), np.broadcast_to(known, shape)
            for row, one in enumerate(some):
                # Copies: a view would keep every position of the batch it was read from.
                self._found[coarse, one][address] = whole[row].copy(), there[row].copy()


def _as_lengths(kart: Kart, settings: Mapping[str, Setting]) -> dict[str, Setting]:
    """The settings with their tie rods written as lengths."""
    found: dict[str, Setting] = {}
    for some in _written_alike(settings):
        ahead = straight_ahead(kart, stacked([settings[name] for name in some], len(batch_shape(kart))))
        for row, name in enumerate(some):
            one = settings[name]
            left, right = (_with_length(getattr(one, side), ahead, side, row) for side in SIDES)
            found[name] = replace(one, left=left, right=right)
    return found


def _written_alike(settings: Mapping[str, Setting]) -> list[list[str]]:
    """The names of settings whose tie rods are written in the same way, together."""
    groups: dict[tuple[bool, ...], list[str]] = {}
    for name, setting in settings.items():
        corners = setting.left, setting.right
        way = tuple(rod is None for c in corners for rod in (c.rod_length, c.rod_toe))
        groups.setdefault(way, []).append(name)
    return list(groups.values())


def _with_length(corner: CornerSetting, ahead: Sweep, side: str, row: int) -> CornerSetting:
    swept = getattr(ahead, side)
    length = np.where(swept.reach[..., 0], swept.linkage.rod_length, NO_ROD)
    return replace(corner, rod_length=one_of(length, row), rod_toe=None)
