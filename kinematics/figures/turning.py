"""A turn one way, from straight ahead to the stop: how the inside rear unloads, where it leaves the road.

Everything works on one setting or on a batch of them: leading axes are settings, the last is lock.
"""

from __future__ import annotations

from dataclasses import dataclass, fields, replace

import numpy as np
import numpy.typing as npt

from kinematics.corner.wheel import camber_angle, steer_angle
from kinematics.frames import Array
from kinematics.lock import CornerSweep, Mask, Sweep, mirrored_road, sweep
from kinematics.parts import CornerSetting, Kart, LoadCase, Setting
from kinematics.stance.equilibrium import RL, RR, Stance
from kinematics.stance.standing import stance

SCAN_STEPS = 38
REFINE_STEPS = 33
COARSE_SCAN, COARSE_REFINE = 8, 6
"""Positions of a turn that only ranks candidates, and between two of them where the wheel leaves."""


@dataclass(frozen=True)
class Turn:
    """One way of turning, handwheel angles from straight ahead outward, and how the kart stands there.

    handwheel (N,) or (..., N) rad, + left; the rest is (..., N): steer the mean road steer, rad, + in the
    turn; load N and clearance mm of the inside rear; camber rad of the outside front to the road; reach
    where the linkages can stand, known where the kart does on its wheels, and its case turns this way.
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


def turn(swept: Sweep, case: LoadCase, standing: Stance, way: float) -> Turn:
    """Read a stance as a turn, way = 1 to the left, -1 to the right.

    A lateral acceleration that is given may belong to the other turn. One that follows from a speed never
    does: an uneven kart that straight ahead runs a little to the other side is still turned this way.
    """
    road = standing.road_front
    facing = (swept.left.spin, road), (swept.right.spin, mirrored_road(road))
    left, right = (steer_angle(*corner) for corner in facing)
    inside, outside = (RL, facing[1]) if way > 0.0 else (RR, facing[0])
    return Turn(
        swept.handwheel,
        way * 0.5 * (left - right),
        standing.loads[..., inside],
        standing.clearance[..., inside],
        camber_angle(*outside),
        swept.reach,
        swept.reach & ~standing.tips & (case.speed is not None or way * case.lateral_g >= 0.0),
    )


_ANGLES = ("delta", "delta_rate", "steer", "camber", "camber_gain", "wheel_drop", "trail", "scrub")
_POINTS = (
    *("wheel_centre", "spin", "arm_end", "inner_joint"),
    *("contact_centre", "support_point", "axis_road_point"),
)


def positions(swept: Sweep, part: slice) -> Sweep:
    """Some of the lock positions of a sweep."""

    def corner(whole: CornerSweep) -> CornerSweep:
        numbers = {name: getattr(whole, name)[..., part] for name in ("handwheel", "reach", *_ANGLES)}
        return replace(whole, **numbers, **{name: getattr(whole, name)[..., part, :] for name in _POINTS})

    of_kart = ("handwheel", "rigid_inside_rear_lift", "path_curvature", "ackermann", "ackermann_known")
    numbers = {name: getattr(swept, name)[..., part] for name in of_kart}
    return replace(swept, left=corner(swept.left), right=corner(swept.right), **numbers)


@dataclass(frozen=True)
class LiftOff:
    """Where the inside rear leaves the road, each (...): rad, steer + in the turn; 0 where it does not."""

    handwheel: Array
    steer: Array
    lifts: Mask
    stays: Mask
    """Where it is sure to stay down: as far as the linkages go the kart stands, and that wheel with it."""


def _up(scan: Turn) -> tuple[Mask, npt.NDArray[np.intp]]:
    """Whether (...) the wheel leaves the road as far as the kart stands without a gap, and where first."""
    up = np.logical_and.accumulate(scan.known, axis=-1) & (scan.clearance > 0.0)
    return np.asarray(up.any(axis=-1)), np.asarray(up.argmax(axis=-1))


def lift_off(
    kart: Kart, setting: Setting, case: LoadCase, scan: Turn, way: float, steps: int = REFINE_STEPS
) -> LiftOff:
    """Where the inside rear leaves the road; scan is the setting's turn from straight ahead to the stop.

    Between the two positions of the scan where it leaves, the kart is stood again at so many finer ones,
    each setting at its own.
    """
    lifts, first = _up(scan)
    handwheel, steer = np.zeros(lifts.shape), np.where(lifts, scan.steer[..., 0], 0.0)
    which = np.flatnonzero(lifts & (first > 0))
    if which.size:
        after = first.ravel()[which]
        ends = scan.handwheel[after - 1], scan.handwheel[after]
        fine = sweep(kart, _some(setting, lifts.shape, which), np.linspace(*ends, steps, axis=-1))
        found = _where_load_ends(turn(fine, case, stance(fine, case), way))
        handwheel.flat[which], steer.flat[which] = found
    stays = ~lifts & scan.known[..., 0] & (scan.known | ~scan.reach).all(axis=-1)
    return LiftOff(handwheel, steer, lifts, stays)


def _some(setting: Setting, shape: tuple[int, ...], which: npt.NDArray[np.intp]) -> Setting:
    """Settings (n,) out of a batch of this shape, by their places in it."""

    def chosen(number: float | Array) -> float | Array:
        return np.broadcast_to(number, shape).ravel()[which] if np.ndim(number) else number

    def corner(whole: CornerSetting) -> CornerSetting:
        given = {f.name: getattr(whole, f.name) for f in fields(whole)}
        return replace(whole, **{name: chosen(n) for name, n in given.items() if n is not None})

    return Setting(corner(setting.left), corner(setting.right), chosen(setting.rear_axle_shift))


def _where_load_ends(fine: Turn) -> tuple[Array, Array]:
    """Handwheel and road steer (n,) rad where the load, carried on in a straight line, comes to zero."""
    up = np.maximum(np.argmax(fine.clearance > 0.0, axis=-1), 2)
    before, last = at(fine.load, up - 2), at(fine.load, up - 1)
    fall = before - last
    share = np.where(fall > 0.0, np.clip(last / np.where(fall > 0.0, fall, 1.0), 0.0, 1.0), 0.0)
    return _between(fine.handwheel, up, share), _between(fine.steer, up, share)


def _between(values: Array, up: npt.NDArray[np.intp], share: Array) -> Array:
    before = at(values, up - 1)
    there: Array = before + share * (at(values, up) - before)
    return there


def at(values: Array, place: npt.NDArray[np.intp]) -> Array:
    """The value (...) of each setting at its own lock position; values are (..., N) or (N,) for all."""
    whole = np.broadcast_to(values, (*place.shape, values.shape[-1]))
    chosen: Array = np.take_along_axis(whole, place[..., None], axis=-1)[..., 0]
    return chosen
