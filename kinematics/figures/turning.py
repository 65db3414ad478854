"""A turn one way, from straight ahead to the stop: how the inside rear unloads, where it leaves the road.

Everything works on one setting or on a batch of them: leading axes are settings, the last is lock.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, fields

import numpy as np
import numpy.typing as npt

from kinematics.corner.wheel import camber_angle, steer_angle
from kinematics.frames import Array, Mask, mirrored_road
from kinematics.lock import Sweep
from kinematics.stance.equilibrium import RL, RR, Stance

SCAN_STEPS = 38
Pulse = Callable[[], None]
"""Called after each load case that has been stood: long work lives."""
COARSE_SCAN = 8
"""Positions of a turn that only ranks candidates."""


def silent() -> None:
    """Tell nobody."""


@dataclass(frozen=True)
class Turn:
    """One way of turning, handwheel angles from straight ahead outward, and how the kart stands there.

    handwheel (N,) or (..., N) rad, + left; the rest is (..., N): steer the mean road steer, rad, + that way;
    load N and clearance mm of the inside rear; camber rad of the outside front to the road; reach where the
    linkages can stand, known where the kart does on its wheels.
    """

    handwheel: Array
    steer: Array
    load: Array
    clearance: Array
    camber: Array
    reach: Mask
    known: Mask

    def part(self, which: slice) -> Turn:
        """Some of the lock positions."""
        return Turn(*(getattr(self, f.name)[..., which] for f in fields(Turn)))


def turn(swept: Sweep, standing: Stance, way: float | Array, opposite: bool | Mask = False) -> Turn:
    """Read a stance as the lock's way, 1 to the left, -1 to the right; on opposite lock the other is inside.

    way and opposite are single, or (..., 1) for settings that turn each its own way, or (N,) for positions.
    """
    road, to_left = standing.road_front, (np.asarray(way) > 0.0) ^ opposite
    facing = (swept.left.spin, road), (swept.right.spin, mirrored_road(road))
    (steer_left, camber_left), (steer_right, camber_right) = (
        (steer_angle(*corner), camber_angle(*corner)) for corner in facing
    )
    return Turn(
        swept.handwheel,
        way * (0.5 * (steer_left - steer_right)),
        np.where(to_left, standing.loads[..., RL], standing.loads[..., RR]),
        np.where(to_left, standing.clearance[..., RL], standing.clearance[..., RR]),
        np.where(to_left, camber_right, camber_left),
        swept.reach,
        swept.reach & ~standing.tips,
    )


def at(values: Array, place: npt.NDArray[np.intp]) -> Array:
    """The value (...) of each setting at its own lock position; values are (..., N) or (N,) for all."""
    whole = np.broadcast_to(values, (*place.shape, values.shape[-1]))
    chosen: Array = np.take_along_axis(whole, place[..., None], axis=-1)[..., 0]
    return chosen


def leaves(scan: Turn) -> tuple[Mask, npt.NDArray[np.intp]]:
    """Whether (...) the wheel leaves the road as far as the kart stands without a gap, and where first."""
    up = np.logical_and.accumulate(scan.known, axis=-1) & (scan.clearance > 0.0)
    return np.asarray(up.any(axis=-1)), np.asarray(up.argmax(axis=-1))
