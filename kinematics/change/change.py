"""What a change of setting does, against a base with everything else left alone.

Three ways of leaving the kart are worked out side by side: the tie rods left alone, the tie rods re-set to
the toe of the base, and put right altogether (spacers moved so that the front stands as high as before,
then toe re-set).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

import numpy as np

from kinematics.change.rods import (
    RodTurns,
    SpacerMoves,
    rod_turns,
    spacer_moves,
    with_rods_kept,
    with_rods_reset,
    with_spacers_moved,
)
from kinematics.figures.figure import Addressed, Numbers
from kinematics.figures.solved import Solved
from kinematics.frames import Array, Mask
from kinematics.parts import Setting


@dataclass(frozen=True)
class Difference(Addressed):
    """A figure (...) or a column (..., N) in the base and now; change is now less base.

    Where known is False one of the two has no value, and nothing may be shown.
    """

    base: Array
    now: Array
    known: Mask

    @property
    def change(self) -> Array:
        """Now less base; 0 where unknown."""
        return np.where(self.known, self.now - self.base, 0.0)


Differences = Mapping[str, Difference]


Row = tuple[int, int]
"""Which setting of a batch of how many."""


def difference(before: Numbers, now: Numbers, row: Row | None = None) -> Difference:
    """A figure now against before; row takes one setting of a batch."""
    value, known = now.values, now.known
    if row is not None:
        which, count = row
        value, known = (np.broadcast_to(a, (count, *before.values.shape))[which] for a in (value, known))
    was, value, known = np.broadcast_arrays(before.values, value, before.known & known)
    return Difference(now.address, now.meaning, was, value, known)


@dataclass(frozen=True, eq=False)
class _EachDifference(Differences):
    """Figures by name, now against before: a difference is made when it is asked for.

    A hundred settings in fifty load cases are a million of them.
    """

    before: Mapping[str, Numbers]
    now: Mapping[str, Numbers]
    row: Row | None

    def __getitem__(self, name: str) -> Difference:
        return difference(self.before[name], self.now[name], self.row)

    def __iter__(self) -> Iterator[str]:
        return iter(self.now)

    def __len__(self) -> int:
        return len(self.now)


def differences(
    before: Mapping[str, Numbers], now: Mapping[str, Numbers], row: Row | None = None
) -> Differences:
    """Figures by name, now against before."""
    return _EachDifference(before, now, row)


@dataclass(frozen=True)
class BothRods:
    """What is done at the left and the right tie rod."""

    left: RodTurns
    right: RodTurns


@dataclass(frozen=True)
class Work:
    """What is done to put a changed kart right, for a setting or a batch."""

    rods: BothRods
    """Turns that put toe back, from the rods as they were, with the spacers where they are."""
    rods_after_spacers: BothRods
    """Turns that put toe back once the spacers have been moved."""
    spacers: SpacerMoves
    """Moves that put the height of the front back."""


@dataclass(frozen=True)
class Change(Work):
    """A setting, or a batch, against a base: tie rods `kept`, `reset`, and put `right` with spacers too."""

    base: Solved
    kept: Solved
    reset: Solved
    right: Solved


def changed(base: Solved, setting: Setting, pitch: float) -> Change:
    """What fitting a setting (of any batch shape) instead of the base (one setting) does to the kart.

    Everything is read at the lock positions and in the load cases of the base. pitch in mm is that of the
    tie rods' threads. The tie rods of the base are the start of all turns; a toe that the setting names is
    the one they are re-set to, otherwise the base's own toe is.
    """
    return put_right(base, with_rods_kept(base.ahead, setting), with_rods_reset(base.ahead, setting), pitch)


def put_right(base: Solved, kept: Setting, reset: Setting, pitch: float) -> Change:
    """The change to a setting whose tie rods are written both ways: as lengths kept, and as toes re-set."""
    spacers = spacer_moves(base.ahead, reset)
    moved = with_spacers_moved(reset, spacers.left, spacers.right)
    alone, again, right = (replace(base, setting=setting) for setting in (kept, reset, moved))
    rods, after = _rods(alone, again, pitch), _rods(alone, right, pitch)
    return Change(rods, after, spacers, base, alone, again, right)


def _rods(was: Solved, now: Solved, pitch: float) -> BothRods:
    return BothRods(
        rod_turns(was.ahead.left, now.ahead.left, pitch), rod_turns(was.ahead.right, now.ahead.right, pitch)
    )
