"""Figures of the whole kart that lock alone decides: toe of both wheels, path, rigid rear, binding."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Any

import numpy as np

from kinematics.figures.figure import DEG, FRONT, MM, MM_PER_DEG, PERCENT, Figure, M, Of
from kinematics.figures.wheel import ThroughLock
from kinematics.fitted import rear_axle_height
from kinematics.frames import Array, Mask, Road, mirrored_road
from kinematics.lock import Sweep

STRAIGHT = 1e-9  # 1/mm; a path flatter than this (a radius of 1000 km) is straight and has no radius
NEAR = np.radians(0.1)
"""Jacking rates are read between this handwheel angle and twice it."""
TWO = np.array([1.0, 2.0])
NEAR_BOTH_WAYS = NEAR * np.concatenate([TWO, -TWO])


def _toe(source: ThroughLock) -> tuple[Array, Array]:
    return -source.sweep.left.steer, -source.sweep.right.steer


def _toe_mm(source: ThroughLock, _: str) -> Array:
    left, right = _toe(source)
    across: Array = source.given.toe_diameter * (np.sin(left) + np.sin(right))
    return across


def _bent(source: ThroughLock, _: str = "") -> Mask:
    return np.asarray(np.abs(source.sweep.path_curvature) > STRAIGHT)


def _radius(source: ThroughLock, _: str) -> Array:
    radius: Array = 1e-3 / np.where(_bent(source), source.sweep.path_curvature, 1.0)
    return radius


def _known_everywhere(source: ThroughLock, _: str) -> Mask:
    return np.ones(source.sweep.handwheel.shape, dtype=bool)


def _of(read: Callable[[ThroughLock], Any]) -> Callable[[ThroughLock, str], Any]:
    return lambda source, _: read(source)


own = partial(Figure, its_own=True)
_angle = _of(lambda s: np.degrees(s.sweep.handwheel))
HANDWHEEL = own("handwheel", DEG, "handwheel angle", "+ left", "handwheel", 1, 0.1, _angle, _known_everywhere)
BOTH = "toe of both wheels together"
_toe_deg = _of(lambda s: np.degrees(sum(_toe(s))))
TOE_TOTAL = Figure("toe_total", DEG, BOTH, "+ toe-in", "toe total", 2, 0.05, _toe_deg)
ACROSS = "total toe measured across {diameter:g} mm diameter"
TOE_TOTAL_MM = Figure("toe_total", MM, ACROSS, "+ toe-in", "toe total", 1, 0.5, _toe_mm)
FULL = "100 is full Ackermann geometry, 0 parallel steer; none within 1 deg of straight"
_share = _of(lambda s: 100.0 * s.sweep.ackermann)
_turned = _of(lambda s: s.sweep.ackermann_known)
ACKERMANN = Figure("ackermann", PERCENT, FULL, "", "Ackermann", 0, 2.0, _share, _turned)
PATH = "path radius at the middle of the rear axle without slip, + left; none when straight"
PATH_RADIUS = Figure("path_radius", M, PATH, "", "radius", 1, 0.1, _radius, _bent)
RIGID = "inside rear above the plane of the other three support points, rigid kart"
_lift = _of(lambda s: s.sweep.rigid_inside_rear_lift)
RIGID_LIFT = Figure("rigid_inside_rear_lift", MM, RIGID, "+ in the air", "rigid lift", 2, 0.5, _lift)
THROUGH_LOCK = (TOE_TOTAL, TOE_TOTAL_MM, ACKERMANN, PATH_RADIUS, RIGID_LIFT)


def binds(swept: Sweep, way: str) -> Array:
    """Handwheel angle (...) in rad at which a tie rod binds on the way to this side; inf where none does."""
    left, right = swept.left.linkage.bind, swept.right.linkage.bind
    if way == "left":
        return np.minimum(left[..., 1], -right[..., 0])
    return np.maximum(left[..., 0], -right[..., 1])


def _binds_deg(source: ThroughLock, way: str) -> Array:
    angle = binds(source.sweep, way)
    return np.degrees(np.where(np.isfinite(angle), angle, 0.0))


def _binds_somewhere(source: ThroughLock, way: str) -> Mask:
    return np.isfinite(binds(source.sweep, way))


own_ahead = partial(own, of=Of.AHEAD, sides=FRONT)
BINDS = "handwheel angle at which a tie rod binds on the way to the {side}; none: never"
BINDS_AT = own_ahead("binds_at_{side}_lock", DEG, BINDS, "", "binds at", 1, 1.0, _binds_deg, _binds_somewhere)


def slope(steer: Array, values: Array) -> Array:
    """Change of values (..., 2) per degree of steer (..., 2) in deg; 0 where it does not steer."""
    step = steer[..., 1] - steer[..., 0]
    per_deg: Array = (values[..., 1] - values[..., 0]) / np.where(step == 0.0, np.inf, step)
    return per_deg


def _near(way: str) -> tuple[slice, float]:
    return (slice(0, 2), 1.0) if way == "left" else (slice(2, 4), -1.0)


def _rises(source: ThroughLock, way: str) -> Array:
    """From a sweep at NEAR_BOTH_WAYS."""
    swept, (part, sign) = source.sweep, _near(way)
    steer = np.degrees(0.5 * (swept.left.steer - swept.right.steer))
    return slope(sign * steer[..., part], swept.rigid_inside_rear_lift[..., part])


def _stands_near(source: ThroughLock, way: str) -> Mask:
    return np.asarray(source.sweep.reach[..., _near(way)[0]].all(axis=-1))


RISE = "rise of a rigid kart's inside rear per degree of road steer near straight, to the {side}"
own_near = partial(own, of=Of.NEAR, sides=FRONT)
JACKING_RIGID = own_near(
    "jacking_rate_{side}", MM_PER_DEG, RISE, "", "rigid jacking", 2, 0.02, _rises, _stands_near
)


def wheel_heights(at: Sweep) -> tuple[Array, Array]:
    """How high the left and the right front wheel stand in the frame at the first lock, mm, + up, each (...).

    From the frame's own floor, square to it, to the support point: the frame stands as much lower at that
    corner as the wheel stands higher.
    """
    return at.left.support_point[..., 0, 2], at.right.support_point[..., 0, 2]


def _road(source: ThroughLock, side: str) -> Road:
    return source.sweep.road if side == "left" else mirrored_road(source.sweep.road)


def _centre(source: ThroughLock, side: str) -> Array:
    centre: Array = source.corner(side).wheel_centre[..., 0, :]
    return centre


def _wheelbase(source: ThroughLock, side: str) -> Array:
    road, sweep = _road(source, side), source.sweep
    rear = rear_axle_height(sweep.kart, sweep.setting.rear_axle_shift)
    centre, heading = _centre(source, side), road.heading
    along: Array = centre[..., 0] * heading[..., 0] + (centre[..., 2] - rear) * heading[..., 2]
    return along


def _half_track(source: ThroughLock, side: str) -> Array:
    return _centre(source, side)[..., 1]


def _height(source: ThroughLock, side: str) -> Array:
    return wheel_heights(source.sweep)[FRONT.index(side)]


def _track(source: ThroughLock, _: str) -> Array:
    return _half_track(source, "left") + _half_track(source, "right")


place = partial(Figure, of=Of.AHEAD)
corner = partial(place, sides=FRONT)
ALONG = "rear axle to {side} front wheel centre, along the road"
WHEELBASE = corner("wheelbase_{side}", MM, ALONG, "", "wheelbase", 1, 0.5, _wheelbase)
HALF = "mid-plane to {side} front wheel centre"
HALF_TRACK = corner("half_track_{side}", MM, HALF, "", "half track", 1, 0.5, _half_track)
HIGH = "{side} front support point above the frame's floor, + the frame stands lower there"
WHEEL_HEIGHT = corner("wheel_height_{side}", MM, HIGH, "", "wheel height", 1, 0.5, _height)
BETWEEN = "between the front wheel centres, straight ahead"
FRONT_TRACK = place("front_track", MM, BETWEEN, "", "front track", 1, 0.5, _track)
PLACES = ((WHEELBASE, HALF_TRACK, WHEEL_HEIGHT), FRONT_TRACK)
