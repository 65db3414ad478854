"""Turns of many load cases scanned to the stop, and looked at more closely where it matters.

Between the positions of a scan a wheel may leave the road and come down again, and the last degrees before a
linkage binds change most. So each setting is swept again at positions of its own: where the inside rear
leaves the road or carries least, and ever closer to where its linkage binds.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields, replace
from typing import Any

import numpy as np

from kinematics.figures.turning import Pulse, Turn, at, leaves, silent, turn
from kinematics.frames import Array
from kinematics.lock import positions, sweep
from kinematics.parts import Kart, LoadCase, Setting
from kinematics.standing.stand import stand

SHORT_OF_BINDING = 1.0 - 1e-9
"""A linkage stands at this share of its binding angle, and no longer at all of it."""
CLOSER = {True: (31, 12), False: (4, 2)}
"""Finely, and else to rank by: positions between two of a scan where the wheel leaves the road, or about its
least load; and from a scan's last position to where the linkage binds."""


@dataclass(frozen=True)
class ScannedTurn:
    """A turn of a load case scanned from straight ahead to the stop, way = 1 to the left, -1 to the right."""

    case: LoadCase
    way: float
    turn: Turn
    binds: Array
    """Handwheel angle (...) in rad at which a tie rod binds on the way; infinite where none does."""


def closer(
    kart: Kart, setting: Setting, scans: Sequence[ScannedTurn], fine: bool, pulse: Pulse = silent
) -> list[ScannedTurn]:
    """The scans with positions of each setting's own put between theirs: one sweep for them all.

    Not fine is enough to rank candidates by. pulse is called after each.
    """
    if not scans:
        return []
    own = [_own_positions(scan, *CLOSER[fine]) for scan in scans]
    swept = sweep(kart, setting, np.concatenate(own, axis=-1))
    ends, made = np.cumsum([0, *(some.shape[-1] for some in own)]).tolist(), []
    for place, scan in enumerate(scans):
        part = positions(swept, slice(*ends[place : place + 2]))
        near = turn(part, stand(part, scan.case, scan.way), scan.way, scan.case.opposite_lock)
        made.append(replace(scan, turn=_merged(scan.turn, near)))
        pulse()
    return made


def _own_positions(scan: ScannedTurn, close: int, to_bind: int) -> Array:
    """Handwheel angles (..., n) in rad: close about lift-off or least load, and to_bind on to binding.

    Where no linkage of the batch binds short of the stop there is nothing to go on to.
    """
    out, last = np.abs(scan.turn.handwheel), scan.turn.handwheel.shape[-1] - 1
    lifts, first = leaves(scan.turn)
    least = np.argmin(np.where(scan.turn.known, scan.turn.load, np.inf), axis=-1)
    before = at(out, np.maximum(np.where(lifts, first, least) - 1, 0))
    after = at(out, np.where(lifts, first, np.minimum(least + 1, last)))
    furthest = at(out, np.maximum(np.count_nonzero(scan.turn.reach, axis=-1) - 1, 0))
    binds = np.abs(scan.binds) * SHORT_OF_BINDING
    end = np.where(binds < out[..., -1], binds, furthest)
    near: Array = np.linspace(before, after, close + 2, axis=-1)[..., 1:-1]
    near = np.minimum(near, end[..., None])
    if np.all(end == furthest):
        return scan.way * near
    shares = 1.0 - (1.0 - np.linspace(0.0, 1.0, to_bind + 1)[1:]) ** 2  # steer goes there with the root
    beyond = furthest[..., None] + (end - furthest)[..., None] * shares
    return scan.way * np.concatenate([near, beyond], axis=-1)


def _merged(scan: Turn, fine: Turn) -> Turn:
    """Both turns as one, from straight ahead outward."""
    shape = fine.known.shape[:-1]

    def both(name: str) -> Any:
        one, other = getattr(scan, name), getattr(fine, name)
        return np.concatenate([np.broadcast_to(one, (*shape, one.shape[-1])), other], axis=-1)

    order = np.argsort(np.abs(both("handwheel")), axis=-1, kind="stable")
    return Turn(*(np.take_along_axis(both(f.name), order, axis=-1) for f in fields(Turn)))
