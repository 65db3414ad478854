"""The stance of a swept kart: wheel loads, clearances and attitude at every lock position of a load case."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from kinematics.batches import at_every_lock
from kinematics.corner.contact import axis_road_point, contact_centre, support_point, trail_and_scrub
from kinematics.corner.pose import CornerSweep
from kinematics.corner.wheel import axis_angles, camber_angle, steer_angle
from kinematics.frames import Array, Mask, Road, mirrored_road
from kinematics.lock import Sweep
from kinematics.parts import GRAVITY, LoadCase
from kinematics.stance.equilibrium import RL, RR, Stance
from kinematics.standing.branch import Lateral, followed, on_the_road, placed


def stand(sweep: Sweep, case: LoadCase, way: float | Array | None = None) -> Stance:
    """How the kart stands at every lock position of a sweep, under one load case; every array is (..., N).

    way is which way it turns, as in `lateral_g`. Where sweep.reach is False the numbers mean nothing and must
    not be shown.
    """
    across = lateral_g(sweep, case, way)
    return stood(sweep, across, case.longitudinal_g, lambda swept, _, way: lateral_g(swept, case, way))


def stood(
    sweep: Sweep, lateral: npt.ArrayLike, longitudinal: npt.ArrayLike, on_the_way: Lateral | None = None
) -> Stance:
    """How the kart stands at every lock position under accelerations in g that broadcast with (..., N).

    Where it has two resting places it stands in the one that it comes to from straight ahead; on_the_way says
    the lateral acceleration at the positions between. Without it each position is looked at by itself.
    """
    standing = on_the_road(at_every_lock(sweep.kart), placed(sweep, lateral, longitudinal))
    return standing if on_the_way is None else followed(sweep, standing, on_the_way)


def lateral_g(sweep: Sweep, case: LoadCase, way: float | Array | None = None) -> Array:
    """Lateral acceleration (..., N) in g of a load case, + in a left turn, within its grip limit.

    That of the case holds through lock, into the turn that the lock makes or, on opposite lock, against it.
    With a speed and no radius it follows from the path at each lock position, speed² · curvature.
    way (..., N) is 1 to the left, -1 to the right, for a turn that starts straight ahead; left out, the
    handwheel says it, and straight ahead belongs to the turn to the left.
    """
    if case.asked_g is None:
        asked = (case.speed or 0.0) ** 2 * 1e3 * sweep.path_curvature / GRAVITY
    else:
        to = lock_way(sweep.handwheel) if way is None else way
        asked = np.broadcast_to(
            to * (-case.asked_g if case.opposite_lock else case.asked_g), sweep.path_curvature.shape
        )
    return np.clip(asked, -case.grip_limit_g, case.grip_limit_g)


def lock_way(handwheel: Array) -> Array:
    """Which way (..., N) the lock turns the kart: 1 to the left and straight ahead, -1 to the right."""
    return np.where(handwheel >= 0.0, 1.0, -1.0)


def inside_is_left(sweep: Sweep, standing: Stance) -> Mask:
    """Where the inside of the turn is the left (..., N).

    The lateral acceleration says so; without any, the handwheel; straight ahead at rest it is the left.
    """
    side = np.where(standing.lateral_g != 0.0, standing.lateral_g, sweep.handwheel)
    left: Mask = side >= 0.0
    return left


def inside_rear_load(sweep: Sweep, standing: Stance) -> Array:
    """Load on the inside rear wheel (..., N), N."""
    left = inside_is_left(sweep, standing)
    return np.where(left, standing.loads[..., RL], standing.loads[..., RR])


def inside_rear_clearance(sweep: Sweep, standing: Stance) -> Array:
    """Clearance of the inside rear wheel above the road (..., N), mm; 0 on the road."""
    left = inside_is_left(sweep, standing)
    return np.where(left, standing.clearance[..., RL], standing.clearance[..., RR])


@dataclass(frozen=True)
class StandingCorner:
    """A front corner relative to the road as the kart stands, left-hand convention; angles rad, lengths mm.

    Angles and lengths (..., N), points (..., N, 3) in the axes of the frame's front part. The definitions
    are those of CornerSweep, with the road of the stance.
    """

    road: Road
    support_point: Array
    steer: Array
    camber: Array
    caster: Array
    kingpin_inclination: Array
    trail: Array
    scrub: Array


def standing_corner(corner: CornerSweep, sweep: Sweep, road: Road) -> StandingCorner:
    """A corner on the road (..., N, 3), both in the corner's left-hand convention."""
    centre, spin, tyre = corner.wheel_centre, corner.spin, at_every_lock(sweep.kart.front_tyre)
    k, foot = corner.seated.k[..., None, :], corner.seated.foot[..., None, :]
    contact = contact_centre(centre, spin, tyre.radius, road)
    trail, scrub = trail_and_scrub(axis_road_point(k, foot, contact, road), contact, spin, road)
    return StandingCorner(
        road,
        support_point(centre, spin, tyre, road),
        steer_angle(spin, road),
        camber_angle(spin, road),
        *axis_angles(k, road),
        trail,
        scrub,
    )


def standing_corners(sweep: Sweep, standing: Stance) -> tuple[StandingCorner, StandingCorner]:
    """Left and right front corner on the road of a stance, each in its left-hand convention."""
    road = standing.road_front
    left = standing_corner(sweep.left, sweep, road)
    return left, standing_corner(sweep.right, sweep, mirrored_road(road))
