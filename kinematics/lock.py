"""The whole kart through lock: both corners, and what they make of the rear, the path and Ackermann.

Leading axes are settings, the last axis is the lock position (then xyz). The road is the one on which each
setting stands at rest straight ahead, as the frame's front part sees it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from kinematics.batches import at_every_lock, once_beside
from kinematics.corner.contact import support_point
from kinematics.corner.pose import Assembled, CornerSweep, assembled, sweep_corner
from kinematics.fitted import fitted, rear_axle_height
from kinematics.frames import (
    Y_LEFT,
    Array,
    Mask,
    Number,
    Road,
    cross,
    dot,
    mirror,
    mirrored_road,
    unit,
)
from kinematics.parts import Kart, Setting
from kinematics.rest import Rest, rest


@dataclass(frozen=True)
class Sweep:
    """A kart, a setting (or a batch of them) and what lock does to it."""

    kart: Kart
    setting: Setting
    handwheel: Array
    """(N,) rad, + left; or (..., N), each setting its own."""
    rest: Rest
    left: CornerSweep
    right: CornerSweep
    rigid_inside_rear_lift: Array
    """(..., N) mm, clearance of the inside rear wheel above the plane of the other three, + in the air."""
    path_curvature: Array
    """(..., N) 1/mm at the middle of the rear axle, + left; 0 is straight."""
    ackermann: Array
    """(..., N), 1 is full Ackermann, 0 parallel; meaningful where ackermann_known."""
    ackermann_known: Mask

    @property
    def road(self) -> Road:
        """The road (..., 3) to which angles, lengths and the rigid lift are taken."""
        return self.rest.road

    @property
    def reach(self) -> Mask:
        """Where both linkages can stand (..., N)."""
        both: Mask = self.left.reach & self.right.reach
        return both


ACKERMANN_FROM = np.radians(1.0)
"""Below this steer of either wheel static toe rules the difference and Ackermann says nothing."""


def sweep(kart: Kart, setting: Setting, handwheel: npt.ArrayLike) -> Sweep:
    """Sweep lock for a setting, or a batch of them, at handwheel angles (N,) in rad, + left.

    Angles (..., N) give each setting of the batch its own.
    """
    theta = np.atleast_1d(np.asarray(handwheel, float))
    kart = fitted(kart, setting.chassis)
    standing, (left_as, right_as) = rest(kart, setting), _assembled(kart.as_measured, setting)
    road, tyre, column = standing.road, kart.front_tyre, kart.column
    left = sweep_corner(kart.left, setting.left, column, tyre, road, theta, left_as)
    right = sweep_corner(kart.right, setting.right, column, tyre, mirrored_road(road), -theta, right_as)
    ackermann, known = ackermann_share(at_every_lock(kart).wheelbase, left, right, theta)
    return Sweep(
        kart,
        setting,
        theta,
        standing,
        left,
        right,
        inside_rear_lift(kart, setting, road, left, right, theta),
        path_curvature(left, right),
        ackermann,
        known,
    )


@once_beside
def _assembled(kart: Kart, setting: Setting) -> tuple[Assembled, Assembled]:
    """Both corners put together on the road on which the setting rests: the chassis has no part in it."""
    standing = rest(kart, setting)
    left, right = standing.seated
    return (
        assembled(kart.left, setting.left, kart.column, standing.road, left),
        assembled(kart.right, setting.right, kart.column, mirrored_road(standing.road), right),
    )


_ANGLES = ("delta", "delta_rate", "steer", "camber", "camber_gain", "wheel_drop", "trail", "scrub")
_POINTS = (
    *("wheel_centre", "spin", "arm_end", "inner_joint"),
    *("contact_centre", "support_point", "axis_road_point"),
)


def positions(swept: Sweep, part: slice | npt.NDArray[np.intp]) -> Sweep:
    """Some of the lock positions of a sweep."""

    def corner(whole: CornerSweep) -> CornerSweep:
        numbers = {name: getattr(whole, name)[..., part] for name in ("handwheel", "reach", *_ANGLES)}
        return replace(whole, **numbers, **{name: getattr(whole, name)[..., part, :] for name in _POINTS})

    of_kart = ("handwheel", "rigid_inside_rear_lift", "path_curvature", "ackermann", "ackermann_known")
    numbers = {name: getattr(swept, name)[..., part] for name in of_kart}
    return replace(swept, left=corner(swept.left), right=corner(swept.right), **numbers)


def rear_wheel_centres(kart: Kart, setting: Setting) -> tuple[Array, Array]:
    """Rear wheel centres left and right in frame axes, mm, each (..., 3)."""
    height = rear_axle_height(kart, setting.rear_axle_shift)
    out = np.multiply(0.5, kart.rear_track)
    left = np.stack(np.broadcast_arrays(0.0, out, height), axis=-1)
    return left, mirror(left)


def inside_rear_lift(
    kart: Kart, setting: Setting, road: Road, left: CornerSweep, right: CornerSweep, handwheel: Array
) -> Array:
    """Clearance (..., N) in mm of the inside rear support point above the plane of the other three.

    Pure geometry of a rigid kart. Inside is left for a positive handwheel angle and straight ahead.
    """
    centres, tyre = rear_wheel_centres(kart, setting), kart.rear_tyre
    rear_left = support_point(centres[0], Y_LEFT, tyre, road)[..., None, :]
    rear_right = support_point(centres[1], -Y_LEFT, tyre, road)[..., None, :]
    to_left = (handwheel >= 0.0)[..., None]
    inside, outside = np.where(to_left, rear_left, rear_right), np.where(to_left, rear_right, rear_left)
    front_left, front_right = left.support_point, mirror(right.support_point)
    normal = unit(cross(front_left - front_right, outside - front_right))
    lift: Array = dot(inside - front_right, normal)
    return lift


def path_curvature(left: CornerSweep, right: CornerSweep) -> Array:
    """Curvature (..., N) of the path of the rear axle's middle, 1/mm, + left, without slip.

    Each front wheel's normal meets the rear axle's line at its own centre of turn; the mean of the two
    curvatures is taken, which stays finite straight ahead.
    """

    def curvature(contact: Array, steer: Array) -> Array:
        tan = np.tan(steer)
        own: Array = tan / (contact[..., 1] * tan + contact[..., 0])
        return own

    to_left = curvature(left.contact_centre, left.steer)
    to_right = curvature(right.contact_centre, right.steer)
    mean: Array = 0.5 * (to_left - to_right)
    return mean


def ackermann_share(
    wheelbase: Number, left: CornerSweep, right: CornerSweep, handwheel: Array
) -> tuple[Array, Mask]:
    """Share (..., N) of Ackermann geometry: 1 when cot(outside) - cot(inside) = j / wheelbase.

    j is the distance between the two axis–road points (ISO 8855:2011 7.1.9; Reimpell, Stoll, Betzler,
    The Automotive Chassis, 2nd ed. 2001, 3.7, from memory). The mask says where it means something: both
    wheels turned the same way by more than a degree.
    """
    sign = np.where(handwheel >= 0.0, 1.0, -1.0)
    steer_left, steer_right = sign * left.steer, -sign * right.steer
    known: Mask = np.minimum(steer_left, steer_right) > ACKERMANN_FROM
    safe_left, safe_right = np.where(known, steer_left, 1.0), np.where(known, steer_right, 1.0)
    difference = sign * (1.0 / np.tan(safe_right) - 1.0 / np.tan(safe_left))
    apart = left.axis_road_point - mirror(right.axis_road_point)
    j = np.sqrt(dot(apart, apart))
    return np.where(known, difference * wheelbase / j, 0.0), known


def with_rod(setting: Setting, left_toe: npt.ArrayLike, right_toe: npt.ArrayLike) -> Setting:
    """The setting with both tie rods re-set to these toe angles (...) in rad, + toe-in."""
    return replace(
        setting,
        left=replace(setting.left, rod_length=None, rod_toe=np.asarray(left_toe, float)),
        right=replace(setting.right, rod_length=None, rod_toe=np.asarray(right_toe, float)),
    )
