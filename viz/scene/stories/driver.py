"""A plain seated driver, so that the weight on the wheels has a place: nobody's likeness."""

from __future__ import annotations

from functools import lru_cache
from typing import Any

import numpy as np

from kinematics.corner.joints import column_axis
from kinematics.frames import Array
from kinematics.parts import Kart
from viz.scene.kart import SHAFT_LENGTH
from viz.scene.meshes import Mesh, Solid, axes_along, ball, paint, placed

BACK = 0.30
"""Where he sits, in shares of the wheelbase ahead of the rear axle."""
GRIP = 120.0
"""Of a hand from the middle of the handwheel, mm."""


@lru_cache(maxsize=8)
def driver(kart: Kart) -> Mesh:
    """Trunk, head, arms at the handwheel and legs to the pedals, in frame axes, mm."""
    hip = np.array([BACK * kart.wheelbase, 0.0, 170.0])
    neck, head = (hip + np.array([back, 0.0, up]) for back, up in ((-160.0, 400.0), (-165.0, 560.0)))
    grip = np.asarray(kart.column.foot, float) + SHAFT_LENGTH * column_axis(kart.column)
    solids: list[Any] = [_trunk(hip, neck), ball(head, 112.0, 3)]
    up = np.array([0.0, 0.0, 1.0])
    for side in (1.0, -1.0):
        y = np.array([0.0, side, 0.0])
        shoulder, hand = neck + 150.0 * y - 70.0 * up, grip + GRIP * y
        elbow = 0.5 * (shoulder + hand) + 90.0 * y - 110.0 * up
        knee = np.array([0.62 * kart.wheelbase, 0.0, 270.0]) + 150.0 * y
        foot = np.array([0.92 * kart.wheelbase, 0.0, 110.0]) + 110.0 * y
        leg = (hip + 100.0 * y - 40.0 * up, knee, foot)
        solids += [_limb(shoulder, elbow, 50.0), _limb(elbow, hand, 40.0)]
        solids += [_limb(*leg[:2], 72.0), _limb(*leg[1:], 52.0)]
    return paint("driver", *solids)


def _trunk(hip: Array, neck: Array) -> Solid:
    """An egg, wider than deep, from the hips to the neck."""
    along = neck - hip
    size = np.diag([120.0, 185.0, 0.62 * float(np.linalg.norm(along))])
    egg = ball((0.0, 0.0, 0.0), 1.0, 4)
    return placed(egg, hip + 0.45 * along, axes_along(along, (1.0, 0.0, 0.0)) @ size)


def _limb(start: Array, end: Array, radius: float) -> Solid:
    """A bar with round ends."""
    from trimesh import creation

    along = np.asarray(end, float) - start
    length = float(np.linalg.norm(along))
    return placed(creation.capsule(height=length, radius=radius, count=[18, 14]), start, axes_along(along))
