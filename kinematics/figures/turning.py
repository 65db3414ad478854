"""A turn one way, from straight ahead to the stop: how the inside rear unloads, where it leaves the road.

Everything works on one setting or on a batch of them: leading axes are settings, the last is lock.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields, replace

import numpy as np
import numpy.typing as npt

from kinematics.corner.wheel import camber_angle, steer_angle
from kinematics.frames import Array, Mask, mirrored_road
from kinematics.lock import Sweep, sweep
from kinematics.parts import CornerSetting, Kart, LoadCase, Setting
from kinematics.stance.equilibrium import RL, RR, Stance
from kinematics.standing.stand import lateral_g, stood

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


def turn(swept: Sweep, standing: Stance, way: float | Array, own: bool | Mask = True) -> Turn:
    """Read a stance as a turn, way = 1 to the left, -1 to the right; own: whether its case turns this way.

    way and own are numbers, or (..., 1) for settings that turn each its own way.
    """
    road, to_left = standing.road_front, np.asarray(way) > 0.0
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
        swept.reach & ~standing.tips & own,
    )


def turns_this_way(case: LoadCase, way: float) -> bool:
    """Whether a case's lateral acceleration belongs to a turn this way.

    One that is given may belong to the other turn. One that follows from a speed never does: an uneven kart
    that straight ahead runs a little to the other side is still turned this way.
    """
    return case.speed is not None or way * case.lateral_g >= 0.0


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


@dataclass(frozen=True)
class ScannedTurn:
    """A turn of a load case scanned from straight ahead to the stop, way = 1 to the left, -1 to the right."""

    case: LoadCase
    way: float
    turn: Turn


def lift_offs(
    kart: Kart, setting: Setting, scans: Sequence[ScannedTurn], steps: int = REFINE_STEPS
) -> list[LiftOff]:
    """Where the inside rear leaves the road in each scan of the setting, or of a batch of settings.

    Between the two positions of a scan where it leaves, the kart is stood again at so many finer ones, each
    setting at its own: one sweep for them all.
    """
    firsts = [_up(scan.turn) for scan in scans]
    late = [np.flatnonzero(lifts & (first > 0)) for lifts, first in firsts]
    handwheels = [np.zeros(lifts.shape) for lifts, _ in firsts]
    steers = [
        np.where(lifts, scan.turn.steer[..., 0], 0.0) for scan, (lifts, _) in zip(scans, firsts, strict=True)
    ]
    if any(which.size for which in late):
        ends = np.concatenate(
            [
                _ends(scan.turn, first.ravel()[w])
                for scan, (_, first), w in zip(scans, firsts, late, strict=True)
            ]
        )
        fine = sweep(
            kart,
            _some(setting, firsts[0][0].shape, np.concatenate(late)),
            np.linspace(ends[:, 0], ends[:, 1], steps, axis=-1),
        )
        found = _where_load_ends(_stood(fine, scans, [which.size for which in late]))
        splits = np.cumsum([which.size for which in late])[:-1]
        for kept, numbers in zip((handwheels, steers), found, strict=True):
            for values, which, some in zip(kept, late, np.split(numbers, splits), strict=True):
                values.flat[which] = some
    return [
        LiftOff(handwheel, steer, lifts, _stays(scan.turn, lifts))
        for scan, handwheel, steer, (lifts, _) in zip(scans, handwheels, steers, firsts, strict=True)
    ]


def _ends(scan: Turn, after: npt.NDArray[np.intp]) -> Array:
    """Handwheel angles (n, 2), rad, of the position (n,) and of the one before it."""
    return np.stack([scan.handwheel[after - 1], scan.handwheel[after]], axis=-1)


def _stood(fine: Sweep, scans: Sequence[ScannedTurn], counts: Sequence[int]) -> Turn:
    """Settings (n,) swept each at its own positions, stood in the case of their scan and read as its turn."""
    of_scan = np.repeat(np.arange(len(scans)), counts)
    lateral = np.stack([lateral_g(fine, scan.case) for scan in scans])[of_scan, np.arange(of_scan.size)]
    along = np.array([scan.case.longitudinal_g for scan in scans])[of_scan, None]
    way = np.array([scan.way for scan in scans])[of_scan, None]
    own = np.array([turns_this_way(scan.case, scan.way) for scan in scans])[of_scan, None]
    return turn(fine, stood(fine, lateral, along), way, own)


def _stays(scan: Turn, lifts: Mask) -> Mask:
    stays: Mask = ~lifts & scan.known[..., 0] & (scan.known | ~scan.reach).all(axis=-1)
    return stays


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
