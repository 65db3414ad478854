"""Karts that stand in a load case, and where the solver has their wheels: for scenes and pictures of them."""

from __future__ import annotations

import numpy as np

import scenarios
from kinematics.corner.contact import support_point
from kinematics.frames import Y_LEFT, dot, mirror
from kinematics.lock import rear_wheel_centres, sweep
from kinematics.parts import LoadCase
from kinematics.stance.equilibrium import road_of
from kinematics.standing.stand import stand, standing_corners

NAMES = ("training-kart", "bent-right-stub", "published-kart")
LOCK = np.radians(np.linspace(-60.0, 60.0, 9))
STOOD = [(name, case) for name in NAMES for case in (0, 2, 3)] + [("published-kart", 5)]


def solve(name="training-kart", case=2, lock=LOCK, setting=None):
    book = scenarios.load(name)
    case = case if isinstance(case, LoadCase) else book.load_cases[case]
    solved = sweep(book.kart, setting or book.settings[list(book.settings)[-1]], lock)
    return solved, stand(solved, case)


def points(body, vertices=None):
    """Vertices of a body on the road at every lock position (N, V, 3)."""
    vertices = body.mesh.vertices if vertices is None else vertices
    return np.einsum("nij,vj->nvi", body.matrices[:, :3, :3], vertices) + body.matrices[:, None, :3, 3]


def above_road(standing, road, place):
    """Height (N,) of points (N, 3) of a part above the road, by the road as that part sees it."""
    axis = np.array([0.0, 0.0, standing.kart.frame.axis_height])
    return standing.height + dot(road.normal, place - axis)


def axes(road):
    """The road's heading and left (N, 3) as a part sees them."""
    return road.heading, road.left


def solver_wheels(solved, standing):
    """Of four wheels the solver's centre, support point and the road that their axle sees."""
    front, tyre = standing.road_front, solved.kart.rear_tyre
    rear = road_of(standing.pitch, standing.roll + standing.twist_rear)
    left, right = standing_corners(solved, standing)
    made = [
        (solved.left.wheel_centre, left.support_point, front),
        (mirror(solved.right.wheel_centre), mirror(right.support_point), front),
    ]
    for centre, side in zip(rear_wheel_centres(solved.kart, solved.setting), (1.0, -1.0), strict=True):
        centre = np.broadcast_to(centre, (len(LOCK), 3))
        made.append((centre, support_point(centre, side * Y_LEFT, tyre, rear), rear))
    return made
