"""An arrow beside each wheel, as long as its load, and a post in the air under a wheel off the road."""

from __future__ import annotations

import numpy as np

from kinematics.frames import Array, Mask
from kinematics.parts import Kart
from viz.scene import attitude as pose
from viz.scene import ladder as meshes
from viz.scene import pose as scene_pose
from viz.scene.attitude import WHEELS, PartMatrices
from viz.scene.data import Body
from viz.scene.loads import MM_PER_N

BESIDE = 75.0
"""How far outboard of the tread a load arrow stands, mm."""


def arrows(kart: Kart, drawn: PartMatrices) -> list[Body]:
    """At each support point a foot on the road, an arrow as long as the load, a post in the air below."""
    made = []
    stand, tall = feet(kart, drawn), lengths(drawn)
    for i, wheel in enumerate(WHEELS):
        name, ground = wheel.replace(" ", "_"), drawn.supports[i] * [1.0, 1.0, 0.0]
        head, air = np.minimum(tall[i], meshes.HEAD), drawn.in_the_air[i]
        up = stand[i] + np.stack([0.0 * head, 0.0 * head, tall[i] - head], axis=-1)
        reach = float(stand[i][0, 1] - ground[0, 1])
        shapes = [
            ("foot", "load", meshes.foot(reach), scene_pose.at_points(ground), tall[i] > 0.0),
            ("shaft", "load", meshes.shaft(), *_stretched(stand[i], tall[i] - head)),
            ("head", "load", meshes.head(), *_stretched(up, head)),
            ("gap", "air", meshes.gap(), *_stretched(ground, np.where(air, drawn.supports[i][:, 2], 0.0))),
        ]
        made += [
            Body(f"{kind}_{name}", mesh, moves, role, visible=visible)
            for kind, role, mesh, moves, visible in shapes
            if visible.any()
        ]
    return made


def _stretched(points: Array, height: Array) -> tuple[Array, Mask]:
    """A body of unit height stood on points (N, 3) and stretched to a height (N,), mm; seen where above 0."""
    visible: Mask = height > 0.0
    return pose.standing_up(points, np.where(visible, height, 1.0)), visible


def feet(kart: Kart, drawn: PartMatrices) -> Array:
    """Where the arrows stand (4, N, 3): on the road outboard of each support point."""
    reach = np.array([0.5 * t.tread_width + BESIDE for t in (kart.front_tyre, kart.rear_tyre)])
    offset = np.zeros((4, 1, 3))
    offset[:, 0, 1] = reach[[0, 0, 1, 1]] * [1.0, -1.0, 1.0, -1.0]
    stand: Array = drawn.supports * [1.0, 1.0, 0.0] + offset
    return stand


def lengths(drawn: PartMatrices) -> Array:
    """Length of each arrow (4, N), mm; 0 where there is none."""
    return np.where(drawn.tips, 0.0, MM_PER_N * drawn.loads)
