"""Tie rods and kingpin spacers that put a changed corner back: lengths, turns and moves.

A change of bushes upsets toe and, a little, ride height. The rods can be left alone (each keeps the length
it has in the base setting) or re-set to the toe of the base; spacers move the stub axle along the kingpin
until the wheel stands as low in the frame as it did. Per-side results are in the left-hand convention.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from kinematics.frames import Array, dot
from kinematics.lock import CornerSweep, Mask, Sweep, mirrored_road, sweep
from kinematics.parts import CornerSetting, Kart, Setting

PITCHES_PER_TURN = 2.0  # a left-hand thread at one end and a right-hand one at the other both move
SPACER_STEPS = 6  # Newton steps; the first is within some hundredths of a millimetre already
SPACER_CLOSE = 1e-6  # mm


def straight_ahead(kart: Kart, setting: Setting) -> Sweep:
    """The sweep of a setting at the one handwheel angle 0."""
    return sweep(kart, setting, 0.0)


def _corner_with(corner: CornerSetting, length: Array | None, toe: Array | None) -> CornerSetting:
    return replace(corner, rod_length=length, rod_toe=toe)


def with_rods_kept(kart: Kart, base: Setting, setting: Setting) -> Setting:
    """The setting with the tie rods of the base, length for length, whatever the setting says of them."""
    ahead = straight_ahead(kart, base)
    left = _corner_with(setting.left, ahead.left.linkage.rod_length, None)
    return replace(
        setting, left=left, right=_corner_with(setting.right, ahead.right.linkage.rod_length, None)
    )


def with_rods_reset(kart: Kart, base: Setting, setting: Setting) -> Setting:
    """The setting with each tie rod re-set to a toe.

    That is its own toe where it names one, or the toe that its own rod length makes, else the base's.
    """
    before, now = straight_ahead(kart, base), straight_ahead(kart, setting)

    def reset(was: CornerSweep, own: CornerSweep) -> CornerSetting:
        corner, kept = own.setting, own.setting.rod_length is None
        toe = (was if kept else own).ahead[..., 2]
        return _corner_with(
            corner, None, toe if corner.rod_toe is None else np.asarray(corner.rod_toe, float)
        )

    return replace(setting, left=reset(before.left, now.left), right=reset(before.right, now.right))


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


def turned_rods(
    kart: Kart, setting: Setting, left_turns: npt.ArrayLike, right_turns: npt.ArrayLike, pitch: float
) -> Setting:
    """The setting with its tie rods turned by so many turns (...), + longer, from the length they have."""
    ahead = straight_ahead(kart, setting)

    def after(corner: CornerSweep, turns: npt.ArrayLike) -> CornerSetting:
        longer = PITCHES_PER_TURN * pitch * np.asarray(turns, float)
        return _corner_with(corner.setting, corner.linkage.rod_length + longer, None)

    return replace(setting, left=after(ahead.left, left_turns), right=after(ahead.right, right_turns))


def standing(ahead: Sweep) -> tuple[Array, Array]:
    """How high the left and the right front wheel stand in the frame straight ahead, mm, + up, each (...).

    Measured from the frame's own floor at the front axle to the support point, square to the road: the
    frame stands as much lower at that corner as the wheel stands higher. ahead is a sweep at angle 0.
    """
    axle = ahead.kart.wheelbase * ahead.road.normal[..., 0]

    def height(corner: CornerSweep, normal: Array) -> Array:
        high: Array = dot(corner.support_point, normal[..., None, :])[..., 0] - axle
        return high

    return height(ahead.left, ahead.road.normal), height(ahead.right, mirrored_road(ahead.road).normal)


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


def spacer_moves(kart: Kart, base: Setting, setting: Setting) -> SpacerMoves:
    """Spacer moves (...) after which both front wheels stand as high in the frame as in the base.

    The tie rods stay as the setting has them. The ride height at the front is then as it was.
    """
    wanted = standing(straight_ahead(kart, base))
    left = right = np.zeros(())
    for _ in range(SPACER_STEPS):
        ahead = straight_ahead(kart, with_spacers_moved(setting, left, right))
        miss = [now - before for now, before in zip(standing(ahead), wanted, strict=True)]
        left = left - miss[0] / dot(ahead.left.seated.k, ahead.road.normal)
        right = right - miss[1] / dot(ahead.right.seated.k, mirrored_road(ahead.road).normal)
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
