"""One corner through lock: the readable pipeline from bush pair and handwheel angle to pose and angles.

Leading axes are settings, the last axis is the lock position (then xyz).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from kinematics.batches import at_every_lock
from kinematics.corner.contact import axis_road_point, contact_centre, support_point, trail_and_scrub
from kinematics.corner.joints import inner_joint
from kinematics.corner.linkage import Closure, Linkage, close_linkage, closure, spade_joint
from kinematics.corner.stub import SeatedStub, seat_stub, turned
from kinematics.corner.wheel import axis_angles, camber_angle, steer_angle
from kinematics.frames import Array, Mask, Road, dot, turn
from kinematics.parts import Column, Corner, CornerSetting, Tyre


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


def _every_lock(road: Road) -> Road:
    return Road(road.normal[..., None, :], road.heading[..., None, :])


class Assembled(NamedTuple):
    """What lock does not change of a corner (...): its stub axle on its kingpin, and the linkage."""

    seated: SeatedStub
    linkage: Linkage


def assembled(
    corner: Corner, setting: CornerSetting, column: Column, road: Road, seated: SeatedStub | None = None
) -> Assembled:
    """A corner put together on a road (..., 3); seated is its stub axle where that is seated already."""
    seated = seat_stub(corner, setting) if seated is None else seated
    seated = SeatedStub(*np.broadcast_arrays(*vars(seated).values(), road.normal)[:6])
    return Assembled(seated, close_linkage(corner, setting, seated, column, road))


def sweep_corner(
    corner: Corner,
    setting: CornerSetting,
    column: Column,
    tyre: Tyre,
    road: Road,
    handwheel: Array,
    put_together: Assembled | None = None,
) -> CornerSweep:
    """One corner at handwheel angles (N,) in rad of its own left-hand convention, on a road (..., 3).

    put_together is what `assembled` makes of it, where that is made already.
    """
    seated, linkage = put_together or assembled(corner, setting, column, road)
    along, road_n = seated.at_every_lock(), _every_lock(road)
    tyre, column_n = at_every_lock(tyre), at_every_lock(column)
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
        inner_joint=spade_joint(column_n, inner_joint(corner, setting, column)[..., None, :], handwheel),
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
