"""A setting, or a batch of settings, with all that is read of it: each thing worked out once, when asked."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from kinematics.figures.figure import Given, Numbers, Of
from kinematics.figures.kart import NEAR_BOTH_WAYS, TWO
from kinematics.figures.read import GIVEN, columns, headline, in_case, jacking, of_turn, places
from kinematics.figures.standing import Standing
from kinematics.figures.turn import EVERY_PART, Part, Turns, handwheel_of
from kinematics.frames import Array
from kinematics.lock import Sweep, positions, sweep
from kinematics.parts import Kart, LoadCase, Setting

STANDING = LoadCase("standing")
Named = dict[str, Numbers]


@dataclass(frozen=True)
class Solved:
    """A kart with a setting, the lock positions (N,) to look at in rad, and the load cases to stand it in.

    One sweep serves columns, headline figures and turns. Figures at lock are read at each case's handwheel
    angle, straight ahead where it says none.
    """

    kart: Kart
    setting: Setting
    handwheel: Array
    cases: tuple[LoadCase, ...] = ()
    given: Given = GIVEN

    @cached_property
    def _whole(self) -> tuple[Sweep, list[slice]]:
        """All lock positions: those asked for, straight ahead, near it both ways, and the parts of turns."""
        turned = [handwheel_of(self.kart, part, self._locks) for part in _OF_TURNS]
        angles = [self.handwheel, np.zeros(1), NEAR_BOTH_WAYS, *turned]
        ends = np.cumsum([0, *(some.size for some in angles)]).tolist()
        slices = [slice(*ends[i : i + 2]) for i in range(len(angles))]
        return sweep(self.kart, self.setting, np.concatenate(angles)), slices

    @property
    def positions(self) -> int:
        """How many lock positions are solved, those of turns too."""
        _, slices = self._whole
        return int(slices[-1].stop)

    @cached_property
    def _locks(self) -> list[float]:
        """Where figures at lock are read in one case or another, each once."""
        return list(dict.fromkeys(case.handwheel or 0.0 for case in self.cases)) or [0.0]

    def _part(self, which: int) -> Sweep:
        whole, slices = self._whole
        return positions(whole, slices[which])

    @cached_property
    def sweep(self) -> Sweep:
        """The sweep at the lock positions asked for."""
        return self._part(0)

    @cached_property
    def ahead(self) -> Sweep:
        """The sweep at the one handwheel angle 0."""
        return self._part(1)

    @cached_property
    def columns(self) -> Named:
        """Every column through lock, (..., N)."""
        return columns(self.sweep, self.given)

    @cached_property
    def straight(self) -> Named:
        """Every headline figure straight ahead, (...)."""
        return headline(self.ahead, self.given)

    @cached_property
    def near(self) -> Named:
        """Every headline figure near straight ahead, (...)."""
        return jacking(self._part(2), self.given)

    @property
    def headline(self) -> Named:
        """Every headline figure, (...)."""
        return {**self.straight, **self.near}

    @cached_property
    def places(self) -> Named:
        """Where the front wheels stand straight ahead, (...)."""
        return places(self.ahead, self.given)

    @cached_property
    def standing(self) -> dict[LoadCase, Standing]:
        """The sweep stood in each load case."""
        return {case: Standing(self.sweep, case, self.given) for case in self.cases}

    @cached_property
    def case_columns(self) -> dict[str, Named]:
        """Every column of each load case, (..., N)."""
        return {case.name: in_case(standing) for case, standing in self.standing.items()}

    @cached_property
    def turns(self) -> Turns:
        """What the headline figures of the load cases are read off."""
        whole, slices = self._whole
        parts: dict[Part, slice] = dict(zip(_OF_TURNS, slices[3:], strict=True))
        near = slices[2].start
        for place, way in enumerate(("left", "right")):
            parts[Of.HELD, way] = slice(near + place * TWO.size, near + (place + 1) * TWO.size)
        own = {case: self._locks.index(case.handwheel or 0.0) for case in self.cases}
        return Turns(whole, parts, dict.fromkeys(self.cases, EVERY_PART), own_lock=own)

    @cached_property
    def case_figures(self) -> dict[str, Named]:
        """Every headline figure of each load case, (...)."""
        return {case.name: of_turn(self.turns, case, self.given) for case in self.cases}

    @cached_property
    def stood_ahead(self) -> Named:
        """Every column of the kart standing still, straight ahead, (...)."""
        still = in_case(Standing(self.ahead, STANDING, self.given))
        when = ", standing straight ahead"
        return {name: one.first(one.address.said(self.given, when)) for name, one in still.items()}


_OF_TURNS: tuple[Part, ...] = tuple(part for part in EVERY_PART if part[0] is not Of.HELD)
