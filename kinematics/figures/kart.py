"""Figures of the whole kart that lock alone decides: toe of both wheels, path, rigid rear, binding."""

from __future__ import annotations

from functools import partial

import numpy as np

from kinematics.corner.pose import CornerSweep
from kinematics.figures.figure import DEG, FRONT, MM, MM_PER_DEG, PERCENT, Figure, M, Of
from kinematics.figures.wheel import ThroughLock
from kinematics.frames import Array, Mask, Road, dot, mirrored_road
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


HANDWHEEL = Figure(
    "handwheel",
    DEG,
    "handwheel angle",
    lambda s, _: np.degrees(s.sweep.handwheel),
    "handwheel",
    1,
    0.1,
    way="+ left",
    where=lambda s, _: np.ones(s.sweep.handwheel.shape, dtype=bool),
    its_own=True,
)
TOE_TOTAL = Figure(
    "toe_total",
    DEG,
    "toe of both wheels together",
    lambda s, _: np.degrees(sum(_toe(s))),
    "toe total",
    2,
    0.05,
    way="+ toe-in",
)
TOE_TOTAL_MM = Figure(
    "toe_total",
    MM,
    "total toe measured across {diameter:g} mm diameter",
    _toe_mm,
    "toe total",
    1,
    0.5,
    way="+ toe-in",
)
ACKERMANN = Figure(
    "ackermann",
    PERCENT,
    "100 is full Ackermann geometry, 0 parallel steer; none within 1 deg of straight",
    lambda s, _: 100.0 * s.sweep.ackermann,
    "Ackermann",
    0,
    2.0,
    where=lambda s, _: s.sweep.ackermann_known,
)
PATH_RADIUS = Figure(
    "path_radius",
    M,
    "path radius at the middle of the rear axle without slip, + left; none when straight",
    _radius,
    "radius",
    1,
    0.1,
    where=_bent,
)
RIGID_LIFT = Figure(
    "rigid_inside_rear_lift",
    MM,
    "inside rear above the plane of the other three support points, rigid kart",
    lambda s, _: s.sweep.rigid_inside_rear_lift,
    "rigid lift",
    1,
    0.5,
    way="+ in the air",
)
THROUGH_LOCK = (TOE_TOTAL, TOE_TOTAL_MM, ACKERMANN, PATH_RADIUS, RIGID_LIFT)


def _binds(source: ThroughLock, way: str) -> Array:
    """Handwheel angle (...) in rad at which a tie rod binds on the way to this side; inf where none does."""
    left, right = source.sweep.left.linkage.bind, source.sweep.right.linkage.bind
    if way == "left":
        return np.minimum(left[..., 1], -right[..., 0])
    return np.maximum(left[..., 0], -right[..., 1])


def _binds_deg(source: ThroughLock, way: str) -> Array:
    angle = _binds(source, way)
    return np.degrees(np.where(np.isfinite(angle), angle, 0.0))


BINDS_AT = Figure(
    "binds_at_{side}_lock",
    DEG,
    "handwheel angle at which a tie rod binds on the way to the {side}; none: never",
    _binds_deg,
    "binds at",
    1,
    1.0,
    of=Of.AHEAD,
    sides=FRONT,
    where=lambda s, way: np.isfinite(_binds(s, way)),
    its_own=True,
)


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


JACKING_RIGID = Figure(
    "jacking_rate_{side}",
    MM_PER_DEG,
    "rise of a rigid kart's inside rear per degree of road steer near straight, to the {side}",
    _rises,
    "rigid jacking",
    2,
    0.02,
    of=Of.NEAR,
    sides=FRONT,
    where=lambda s, way: s.sweep.reach[..., _near(way)[0]].all(axis=-1),
    its_own=True,
)


def wheel_heights(at: Sweep) -> tuple[Array, Array]:
    """How high the left and the right front wheel stand in the frame at the first lock, mm, + up, each (...).

    Measured from the frame's own floor at the front axle to the support point, square to the road: the
    frame stands as much lower at that corner as the wheel stands higher.
    """
    axle = at.kart.wheelbase * at.road.normal[..., 0]

    def height(corner: CornerSweep, normal: Array) -> Array:
        high: Array = dot(corner.support_point, normal[..., None, :])[..., 0] - axle
        return high

    return height(at.left, at.road.normal), height(at.right, mirrored_road(at.road).normal)


def _road(source: ThroughLock, side: str) -> Road:
    return source.sweep.road if side == "left" else mirrored_road(source.sweep.road)


def _centre(source: ThroughLock, side: str) -> Array:
    centre: Array = source.corner(side).wheel_centre[..., 0, :]
    return centre


def _wheelbase(source: ThroughLock, side: str) -> Array:
    road, sweep = _road(source, side), source.sweep
    rear = sweep.kart.rear_tyre.radius + np.asarray(sweep.setting.rear_axle_shift, float)
    along: Array = dot(_centre(source, side), road.heading) - rear * road.heading[..., 2]
    return along


def _half_track(source: ThroughLock, side: str) -> Array:
    return dot(_centre(source, side), _road(source, side).left)


place = partial(Figure, of=Of.AHEAD)
WHEELBASE = place(
    "wheelbase_{side}",
    MM,
    "rear axle to {side} front wheel centre, along the road",
    _wheelbase,
    "wheelbase",
    1,
    0.5,
    sides=FRONT,
)
HALF_TRACK = place(
    "half_track_{side}",
    MM,
    "mid-plane to {side} front wheel centre",
    _half_track,
    "half track",
    1,
    0.5,
    sides=FRONT,
)
WHEEL_HEIGHT = place(
    "wheel_height_{side}",
    MM,
    "{side} front support point above the frame's floor, + the frame stands lower there",
    lambda s, side: wheel_heights(s.sweep)[FRONT.index(side)],
    "wheel height",
    1,
    0.5,
    sides=FRONT,
)
FRONT_TRACK = place(
    "front_track",
    MM,
    "between the front wheel centres, straight ahead",
    lambda s, _: _half_track(s, "left") + _half_track(s, "right"),
    "front track",
    1,
    0.5,
)
PLACES = ((WHEELBASE, HALF_TRACK, WHEEL_HEIGHT), FRONT_TRACK)
