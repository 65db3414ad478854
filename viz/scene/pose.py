"""From the solver's poses to matrices (N, 4, 4): all lock positions at once, nothing recomputed.

Matrices of a corner come out in kart axes: the right corner's are mirrored (y -> -y) here.
"""

from __future__ import annotations

import numpy as np

from kinematics.corner.contact import support_point
from kinematics.corner.joints import column_axis
from kinematics.corner.pose import CornerSweep
from kinematics.corner.stub import stub_matrix
from kinematics.frames import Y_LEFT, Array, Road, cross, dot, mirror, tilt, turn, unit
from kinematics.lock import Sweep, rear_wheel_centres
from kinematics.parts import Column
from viz.scene.meshes import axes_along

MIRROR = np.diag([1.0, -1.0, 1.0, 1.0])


def matrices(rotation: Array, translation: Array) -> Array:
    """Homogeneous matrices (N, 4, 4) from rotations (..., 3, 3) and translations (N, 3)."""
    out = np.zeros((len(translation), 4, 4))
    out[:, :3, :3], out[:, :3, 3], out[:, 3, 3] = rotation, translation, 1.0
    return out


def still(count: int) -> Array:
    """The identity, count times (N, 4, 4)."""
    return np.broadcast_to(np.eye(4), (count, 4, 4))


def at_points(points: Array) -> Array:
    """Translations that carry the origin to each point (N, 3)."""
    return matrices(np.eye(3), points)


def between(start: Array, end: Array, up: Array) -> Array:
    """Matrices (N, 4, 4) that lay a body from the origin to x = 1 between points (N, 3), z along up."""
    along = end - start
    across = unit(cross(up, along))
    return matrices(np.stack([along, across, up], axis=-1), start)


def mirrored(moves: Array) -> Array:
    """The same motions (N, 4, 4) seen in the mirror: still rigid, still proper rotations."""
    return MIRROR @ moves @ MIRROR


def stub_moves(corner: CornerSweep) -> Array:
    """What is fixed to the stub axle inboard of the hub spacer."""
    return stub_matrix(corner.corner, corner.setting, corner.delta)


def wheel_moves(corner: CornerSweep) -> Array:
    """The wheel: turned like the stub axle, its centre where the solver has it (hub spacer included)."""
    rotation = stub_moves(corner)[:, :3, :3]
    return matrices(
        rotation, corner.wheel_centre - rotation @ np.asarray(corner.corner.stub.wheel_centre, float)
    )


def rod_ends(corner: CornerSweep) -> tuple[Array, Array]:
    """Outer and inner joint (3,) of the tie rod in its neutral place, at the length of this setting."""
    outer = np.asarray(corner.corner.stub.arm_end, float)
    along = unit(np.asarray(corner.corner.inner_joint, float) - outer)
    return outer, outer + float(corner.linkage.rod_length) * along


def rod_moves(corner: CornerSweep) -> Array:
    """The tie rod from joint to joint, turned by the smallest rotation (its roll is free)."""
    outer, inner = rod_ends(corner)
    along = unit(corner.inner_joint - corner.arm_end)
    images = tilt(np.eye(3), unit(inner - outer), along[:, None, :])
    rotation = np.swapaxes(images, -1, -2)
    return matrices(rotation, corner.arm_end - rotation @ outer)


def column_moves(column: Column, handwheel: Array) -> Array:
    """Column, spade and handwheel at handwheel angles (N,) in rad."""
    foot = np.asarray(column.foot, float)
    rotation = np.swapaxes(turn(np.eye(3), column_axis(column), handwheel[:, None]), -1, -2)
    return matrices(rotation, foot - rotation @ foot)


def axis_moves(corner: CornerSweep) -> Array:
    """A line up z from the origin laid along the steering axis, its foot on the axis–road point."""
    return matrices(axes_along(corner.seated.k), corner.axis_road_point)


def contact_moves(corner: CornerSweep, road: Road) -> Array:
    """A mark at the contact centre: x along the wheel's trace in the road, z along the road's normal."""
    heading = unit(cross(corner.spin, road.normal))
    axes = [heading, cross(road.normal, heading), np.broadcast_to(road.normal, heading.shape)]
    return matrices(np.stack(axes, axis=-1), corner.contact_centre)


def road_moves(sweep: Sweep, whole: bool = False) -> Array:
    """The road under both front tyres: through their support points, along the vehicle's heading.

    With whole it also carries a rear tyre, the one that leaves the other on the road or above it: how a
    rigid kart stands. The tile's own origin is the point of the plane nearest to that of the frame axes.
    """
    left, right = sweep.left.support_point, mirror(sweep.right.support_point)
    x = np.broadcast_to(sweep.road.heading, left.shape)
    across = left - right
    if whole:
        normal = _three_wheel_normal(sweep, left, right)
        x = unit(x - dot(x, normal)[:, None] * normal)
        y = cross(normal, x)
    else:
        y = unit(across - dot(across, x)[:, None] * x)
    z = cross(x, y)
    origin = dot(0.5 * (left + right), z)[:, None] * z
    return matrices(np.stack([x, y, z], axis=-1), origin)


def _three_wheel_normal(sweep: Sweep, left: Array, right: Array) -> Array:
    """Up-normal (N, 3) of the plane through both front support points on which a rear tyre stands too."""
    centres, tyre = rear_wheel_centres(sweep.kart, sweep.setting), sweep.kart.rear_tyre
    rear = [support_point(c, s * Y_LEFT, tyre, sweep.road) for c, s in zip(centres, (1.0, -1.0), strict=True)]
    on_left, on_right = (unit(cross(left - right, point - right)) for point in rear)
    clear = dot(rear[1] - right, on_left) >= 0.0
    return np.where(clear[:, None], on_left, on_right)
