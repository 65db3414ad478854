"""The lock sweep: one readable pipeline from bush pair and handwheel angle to wheel pose and angles.

Leading axes are settings, the last axis is the lock position (then xyz). The road is the plane of the
reference stance, turned by the rake that a shifted rear axle gives the frame.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from kinematics.corner.contact import axis_road_point, contact_centre, support_point, trail_and_scrub
from kinematics.corner.linkage import Closure, Linkage, close_linkage, closure, spade_joint
from kinematics.corner.stub import SeatedStub, seat_stub, turned
from kinematics.corner.wheel import axis_angles, camber_angle, steer_angle
from kinematics.frames import Y_LEFT, Array, Road, cross, dot, mirror, road_from_normal, turn, unit
from kinematics.parts import Column, Corner, CornerSetting, Kart, Setting, Tyre

Mask = npt.NDArray[np.bool_]


@dataclass(frozen=True)
class CornerSweep:
    """One corner through lock, in the left-hand convention (mirror the right one's points to draw it).

    Angles in rad and lengths in mm are (..., N), points and directions (..., N, 3). Where reach is False
    the linkage cannot stand there and the numbers must not be shown. handwheel is that of the left-hand
    convention: for the right corner the opposite of the kart's.
    """

    corner: Corner
    setting: CornerSetting
    seated: SeatedStub
    linkage: Linkage
    handwheel: Array
    reach: Mask
    delta: Array
    """Turn of the stub about the kingpin; its zero is a convention."""
    delta_rate: Array
    """d(delta)/d(handwheel)."""
    wheel_centre: Array
    spin: Array
    """Unit spin axis, outboard."""
    arm_end: Array
    inner_joint: Array
    contact_centre: Array
    support_point: Array
    axis_road_point: Array
    steer: Array
    """+ to the left in the left-hand convention: for the right corner + is a turn to the right."""
    camber: Array
    camber_gain: Array
    """Camber less camber straight ahead."""
    wheel_drop: Array
    """How far the support point has gone down since straight ahead, mm, + down."""
    trail: Array
    scrub: Array
    caster: Array
    """(...): of the axis to the road; it does not change through lock while the road does not."""
    kingpin_inclination: Array
    ahead: Array
    """Steer, camber and toe straight ahead (..., 3), rad; toe + in."""


@dataclass(frozen=True)
class Sweep:
    """A kart, a setting (or a batch of them) and what lock does to it."""

    kart: Kart
    setting: Setting
    handwheel: Array
    """(N,) rad, + left; or (..., N), each setting its own."""
    road: Road
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
    def reach(self) -> Mask:
        """Where both linkages can stand (..., N)."""
        both: Mask = self.left.reach & self.right.reach
        return both


ACKERMANN_FROM = np.radians(1.0)
"""Below this steer of either wheel static toe rules the difference and Ackermann says nothing."""


def reference_road(kart: Kart, setting: Setting) -> Road:
    """The floor seen from the frame (..., 3): level, or raked when the rear axle moves in the frame.

    With the axle shifted up the frame's tail comes down, which adds caster to the road.
    """
    shift = np.asarray(setting.rear_axle_shift, float)
    return road_from_normal(np.stack([shift / kart.wheelbase, 0.0 * shift, 1.0 + 0.0 * shift], axis=-1))


def mirrored_road(road: Road) -> Road:
    """The road as the right corner sees it in the left-hand convention."""
    return Road(mirror(road.normal), mirror(road.heading))


def _every_lock(road: Road) -> Road:
    return Road(road.normal[..., None, :], road.heading[..., None, :])


def sweep_corner(
    corner: Corner, setting: CornerSetting, column: Column, tyre: Tyre, road: Road, handwheel: Array
) -> CornerSweep:
    """One corner at handwheel angles (N,) in rad of its own left-hand convention, on a road (..., 3)."""
    seated = seat_stub(corner, setting)
    seated = SeatedStub(*np.broadcast_arrays(*vars(seated).values(), road.normal)[:6])
    linkage = close_linkage(corner, setting, seated, column, road)
    along, road_n = seated.at_every_lock(), _every_lock(road)
    caster, inclination = axis_angles(seated.k, road)

    def place(closed: Closure) -> tuple[Array, Array, Array]:
        centre = turned(along, along.wheel_centre, closed.delta)
        spin = turn(along.spin, along.k, closed.delta)
        return centre, spin, support_point(centre, spin, tyre, road_n)

    now, ahead = closure(linkage, handwheel), closure(linkage, np.zeros(1))
    centre, spin, support = place(now)
    _, spin_ahead, support_ahead = place(ahead)
    contact = contact_centre(centre, spin, tyre.radius, road_n)
    axis_point = axis_road_point(along.k, along.foot, contact, road_n)
    trail, scrub = trail_and_scrub(axis_point, contact, spin, road_n)
    camber, camber_ahead = camber_angle(spin, road_n), camber_angle(spin_ahead, road_n)
    steer_ahead = steer_angle(spin_ahead, road_n)
    return CornerSweep(
        corner=corner,
        setting=setting,
        seated=seated,
        linkage=linkage,
        handwheel=handwheel,
        reach=now.reach,
        delta=now.delta,
        delta_rate=now.rate,
        wheel_centre=centre,
        spin=spin,
        arm_end=turned(along, along.arm_end, now.delta),
        inner_joint=spade_joint(column, corner.inner_joint, handwheel),
        contact_centre=contact,
        support_point=support,
        axis_road_point=axis_point,
        steer=steer_angle(spin, road_n),
        camber=camber,
        camber_gain=camber - camber_ahead,
        wheel_drop=dot(support_ahead - support, road_n.normal),
        trail=trail,
        scrub=scrub,
        caster=caster,
        kingpin_inclination=inclination,
        ahead=np.concatenate([steer_ahead, camber_ahead, -steer_ahead], axis=-1),
    )


def sweep(kart: Kart, setting: Setting, handwheel: npt.ArrayLike) -> Sweep:
    """Sweep lock for a setting, or a batch of them, at handwheel angles (N,) in rad, + left.

    Angles (..., N) give each setting of the batch its own.
    """
    theta = np.atleast_1d(np.asarray(handwheel, float))
    road = reference_road(kart, setting)
    tyre, column = kart.front_tyre, kart.column
    left = sweep_corner(kart.left, setting.left, column, tyre, road, theta)
    right = sweep_corner(kart.right, setting.right, column, tyre, mirrored_road(road), -theta)
    ackermann, known = ackermann_share(kart.wheelbase, left, right, theta)
    return Sweep(
        kart,
        setting,
        theta,
        road,
        left,
        right,
        inside_rear_lift(kart, setting, road, left, right, theta),
        path_curvature(left, right),
        ackermann,
        known,
    )


def rear_wheel_centres(kart: Kart, setting: Setting) -> tuple[Array, Array]:
    """Rear wheel centres left and right in frame axes, mm, each (..., 3)."""
    height = kart.rear_tyre.radius + np.asarray(setting.rear_axle_shift, float)
    left = np.stack([0.0 * height, 0.0 * height + 0.5 * kart.rear_track, height], axis=-1)
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
    wheelbase: float, left: CornerSweep, right: CornerSweep, handwheel: Array
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
