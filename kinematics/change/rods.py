"""Tie rods and kingpin spacers that put a changed corner back: lengths, turns and moves.

A change of bushes upsets toe and, a little, ride height. The rods can be left alone (each keeps the length
it has in the base setting) or re-set to the toe of the base; spacers move the stub axle along the kingpin
until the wheel stands as low in the frame as it did. Per-side results are in the left-hand convention.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
import numpy.typing as npt

from kinematics.corner.pose import CornerSweep
from kinematics.figures.kart import wheel_heights
from kinematics.frames import Array, Mask
from kinematics.lock import Sweep, sweep
from kinematics.parts import CornerSetting, Kart, Setting

PITCHES_PER_TURN = 2.0  # a left-hand thread at one end and a right-hand one at the other both move
SPACER_STEPS = 6  # Newton steps; the first is within some hundredths of a millimetre already
SPACER_CLOSE = 1e-6  # mm
Rods = Literal["reset", "kept"]


def straight_ahead(kart: Kart, setting: Setting) -> Sweep:
    """The sweep of a setting at the one handwheel angle 0."""
    return sweep(kart, setting, 0.0)


def _corner_with(corner: CornerSetting, length: Array | None, toe: Array | None) -> CornerSetting:
    return replace(corner, rod_length=length, rod_toe=toe)


def with_rods_kept(base: Sweep, setting: Setting) -> Setting:
    """The setting with the tie rods of the base, length for length, whatever it says; base as swept at 0."""
    left, right = (corner.linkage.rod_length for corner in (base.left, base.right))
    return replace(
        setting,
        left=_corner_with(setting.left, left, None),
        right=_corner_with(setting.right, right, None),
    )


def with_rods_reset(base: Sweep, setting: Setting) -> Setting:
    """The setting with each tie rod re-set to a toe; base is the base's sweep at the one angle 0.

    That is its own toe where it names one, or the toe that its own rod length makes, else the base's.
    """
    own = None if _rods_of(setting) == (None, None) else straight_ahead(base.kart, setting)

    def reset(side: str) -> CornerSetting:
        corner: CornerSetting = getattr(setting, side)
        if corner.rod_toe is not None:
            return _corner_with(corner, None, np.asarray(corner.rod_toe, float))
        swept = base if own is None or corner.rod_length is None else own
        return _corner_with(corner, None, getattr(swept, side).ahead[..., 2])

    return replace(setting, left=reset("left"), right=reset("right"))


def _rods_of(setting: Setting) -> tuple[float | Array | None, float | Array | None]:
    return setting.left.rod_length, setting.right.rod_length


def with_own_rods(kart: Kart, setting: Setting, rods: Rods) -> Setting:
    """The setting with its tie rods written as the toe they make ('reset') or as their length ('kept')."""
    ahead = straight_ahead(kart, setting)
    return with_rods_reset(ahead, setting) if rods == "reset" else with_rods_kept(ahead, setting)


@dataclass(frozen=True)
class RodTurns:
    """What is done at one tie rod to put toe back: every array (...)."""

    turns: Array
    """Turns of the rod, + longer, - shorter; 0 where known is False."""
    lengthening: Array
    """mm, + longer."""
    known: Mask
    """False where no length of rod gives that toe, or the old rod cannot be fitted at all."""

    @property
    def direction(self) -> Array:
        """+1 lengthen, -1 shorten, 0 leave (within a hundredth of a turn)."""
        return np.where(np.abs(self.turns) < 0.005, 0.0, np.sign(self.turns))


def rod_turns(kept: CornerSweep, reset: CornerSweep, pitch: float) -> RodTurns:
    """Turns from the rod as it was to the rod as re-set; both corners swept straight ahead alone.

    pitch in mm is that of one thread: one turn of a left/right-hand rod moves two pitches (common
    practice, no source).
    """
    if not pitch > 0.0:
        raise ValueError(f"thread pitch must be above 0 mm, not {pitch:g}")
    known = reset.reach[..., 0]
    lengthening = np.where(known, reset.linkage.rod_length - kept.linkage.rod_length, 0.0)
    return RodTurns(lengthening / (PITCHES_PER_TURN * pitch), lengthening, known)


def with_spacers_moved(setting: Setting, left: npt.ArrayLike, right: npt.ArrayLike) -> Setting:
    """The setting with the stub axles moved along their kingpins by these (...) mm, + up."""

    def moved(corner: CornerSetting, by: npt.ArrayLike) -> CornerSetting:
        return replace(corner, spacer_shift=np.asarray(corner.spacer_shift, float) + np.asarray(by, float))

    return replace(setting, left=moved(setting.left, left), right=moved(setting.right, right))


@dataclass(frozen=True)
class SpacerMoves:
    """How far each stub axle must move along its kingpin, mm, + up, and where that restores the height."""

    left: Array
    right: Array
    known: Mask


def spacer_moves(base: Sweep, setting: Setting) -> SpacerMoves:
    """Spacer moves (...) after which both front wheels stand as high in the frame as in the base, swept at 0.

    The tie rods stay as the setting has them. The ride height at the front is then as it was.
    """
    wanted, left, right = wheel_heights(base), np.zeros(()), np.zeros(())
    for _ in range(SPACER_STEPS):
        ahead = straight_ahead(base.kart, with_spacers_moved(setting, left, right))
        miss = [now - before for now, before in zip(wheel_heights(ahead), wanted, strict=True)]
        left = left - miss[0] / ahead.left.seated.k[..., 2]
        right = right - miss[1] / ahead.right.seated.k[..., 2]
    known = ahead.reach[..., 0] & (np.maximum(np.abs(miss[0]), np.abs(miss[1])) < SPACER_CLOSE)
    return SpacerMoves(np.where(known, left, 0.0), np.where(known, right, 0.0), known)


def nearest_stack(move: float, spacers: Sequence[float]) -> tuple[float, tuple[float, ...]]:
    """The spacers to carry across the stub axle whose sum comes nearest to a move in mm: (shift, spacers).

    A move up carries them from above the stub to below it, a move down the other way; the shift has the
    sign of the move. None of them is a choice too. The fewest spacers win a tie.
    """
    stacks: dict[float, tuple[float, ...]] = {0.0: ()}
    for spacer in sorted(spacers):
        for total, chosen in list(stacks.items()):
            more = (*chosen, float(spacer))
            known = stacks.setdefault(round(total + spacer, 4), more)
            if len(more) < len(known):
                stacks[round(total + spacer, 4)] = more
    total, best = min(stacks.items(), key=lambda s: (round(abs(abs(move) - s[0]), 9), len(s[1])))
    return float(np.copysign(total, move)) if best else 0.0, best
