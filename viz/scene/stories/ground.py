"""What lies on the road and tells something: shadows, the line a kart rocks over, lines of a length."""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from kinematics.corner.pose import CornerSweep
from kinematics.frames import Array, Mask, cross, dot, unit
from kinematics.parts import Kart
from viz.scene import pose as scene_pose
from viz.scene.attitude import PartMatrices
from viz.scene.data import Body
from viz.scene.meshes import Mesh, bar, paint, rod
from viz.scene.stories.wheels import INSIDE_FRONT, OUTSIDE_REAR, InTurn

STRAIGHT = np.radians(0.5)
"""Of handwheel: less than this is straight ahead, where there is nothing to tell."""
LIFT = 5.0
"""mm above the road of what lies on it, so that neither hides the other."""
SPREAD = 1.5
"""By how much more than its gap the shadow of a wheel widens."""
TOUCHES = 0.5
"""mm; a wheel higher than this has the wider, fainter shadow."""


@lru_cache(maxsize=1)
def _disc() -> Mesh:
    return paint("shadow", rod((0.0, 0.0, LIFT - 2.0), (0.0, 0.0, LIFT - 1.5), 1.0, 40))


@lru_cache(maxsize=8)
def line(role: str, width: float = 9.0, thickness: float = 4.0) -> Mesh:
    """A flat line on the road from the origin to x = 1."""
    return paint(role, bar((0.0, 0.0, LIFT), (1.0, 0.0, LIFT), width, thickness, (0.0, 0.0, 1.0)))


def laid(start: Array, end: Array, normal: Array) -> Array:
    """Matrices (N, 4, 4) that lay a line from start to end (N, 3) on a road with that normal."""
    return scene_pose.between(start, end, np.broadcast_to(normal, start.shape))


def square_of(corner: CornerSweep, normal: Array) -> Array:
    """Where a corner's trail ends and its scrub begins on the road (N, 3), left-hand convention.

    Trail leads there from the kingpin axis along the wheel's trace, scrub goes on square to it to the contact
    centre.
    """
    ahead = unit(cross(corner.spin, np.broadcast_to(normal, corner.spin.shape)))
    to = corner.contact_centre - corner.axis_road_point
    place: Array = corner.axis_road_point + dot(to, ahead)[:, None] * ahead
    return place


def diagonal(wheels: InTurn, seen: Mask) -> Body:
    """The line from the inside front to the outside rear wheel, over which a kart rocks."""
    moves = laid(wheels.foot(INSIDE_FRONT), wheels.foot(OUTSIDE_REAR), np.array([0.0, 0.0, 1.0]))
    return Body("rocks_over", line("diagonal", 16.0, 2.0), moves, "diagonal", visible=seen)


def shadows(kart: Kart, drawn: PartMatrices) -> list[Body]:
    """A shadow under each wheel, wider and fainter where it is off the road."""
    made = []
    for i, tyre in enumerate((kart.front_tyre, kart.front_tyre, kart.rear_tyre, kart.rear_tyre)):
        high = drawn.supports[i][:, 2]
        size = np.array([0.62 * tyre.radius, 0.5 * tyre.tread_width + 22.0]) + SPREAD * high[:, None]
        axes = np.zeros((high.size, 3, 3))
        axes[:, 0, 0], axes[:, 1, 1], axes[:, 2, 2] = size[:, 0], size[:, 1], 1.0
        moves = scene_pose.matrices(axes, drawn.supports[i] * [1.0, 1.0, 0.0])
        for kind, strength, seen in (("on", 0.45, high <= TOUCHES), ("off", 0.22, high > TOUCHES)):
            if seen.any():
                made.append(Body(f"shadow_{kind}_{i}", _disc(), moves, "shadow", strength, seen))
    return made
