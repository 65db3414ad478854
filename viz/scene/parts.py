"""The bodies that every scene is made of: both corners, the column, and the marks on the road."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

import numpy as np

from kinematics.corner.bush import seat_axes
from kinematics.corner.joints import column_axis, in_their_holes
from kinematics.corner.pose import CornerSweep
from kinematics.corner.stub import spin_axis
from kinematics.frames import Array, mirror, mirrored_road
from kinematics.lock import Sweep
from kinematics.parts import Corner, Kart, Tyre
from viz.scene import bodies
from viz.scene import kart as bodies_kart
from viz.scene import pose as scene_pose
from viz.scene.data import Body
from viz.scene.meshes import Mesh, mirrored

Sides = tuple[tuple[str, CornerSweep], ...]


def reachable(sweep: Sweep) -> Sweep:
    """The sweep at the lock positions that both linkages reach.

    Raises ValueError for a batch of settings, or when no position can be reached.
    """
    if sweep.left.delta.ndim != 1:
        raise ValueError(f"a scene shows one setting, not a batch of shape {sweep.left.delta.shape[:-1]}")
    if not sweep.reach.any():
        raise ValueError("nothing to draw: the tie rods reach no lock position of this sweep")
    if not sweep.reach.all():
        from kinematics.lock import sweep as solve

        sweep = solve(sweep.kart, sweep.setting, sweep.handwheel[sweep.reach])
    return _joined(sweep)


def _joined(sweep: Sweep) -> Sweep:
    """The sweep of a kart whose arms and spade end where the tie rods are fitted."""
    left, right = (
        replace(one, corner=in_their_holes(one.corner, one.setting, sweep.kart.column))
        for one in (sweep.left, sweep.right)
    )
    kart = replace(sweep.kart, left=left.corner, right=right.corner)
    return replace(sweep, kart=kart, left=left, right=right)


def sides(sweep: Sweep) -> Sides:
    """Name and sweep of the left and of the right corner."""
    return (("left", sweep.left), ("right", sweep.right))


def corner_bodies(side: str, corner: CornerSweep, kart: Kart, bare: bool = False) -> list[Body]:
    """The bodies of one corner, the right one's mirrored into kart axes; bare leaves the tyre off."""
    part, setting, seated = corner.corner, corner.setting, corner.seated
    radius = bodies.bush_radius(part, setting)
    yoke, stub, wheel = _corner_meshes(part, kart.front_tyre, radius, side, bare)
    outer, inner = scene_pose.rod_ends(corner)
    rod = bodies.tie_rod(outer, inner, (seat_axes(part.yoke)[0], column_axis(kart.column)), side)
    fixed = scene_pose.still(len(corner.delta))
    made = [
        ("yoke", yoke, fixed),
        ("bushes", bodies.bushes(part, setting, seated, radius), fixed),
        ("kingpin", bodies.kingpin(part, setting, seated), fixed),
        ("stub", stub, scene_pose.stub_moves(corner)),
        ("wheel", wheel, scene_pose.wheel_moves(corner)),
        ("rod", rod, scene_pose.rod_moves(corner)),
    ]
    return [sided(side, Body(f"{role}_{side}", mesh, moves, role)) for role, mesh, moves in made]


@lru_cache(maxsize=16)
def _corner_meshes(part: Corner, tyre: Tyre, radius: float, side: str, bare: bool) -> tuple[Mesh, Mesh, Mesh]:
    """Yoke, stub axle and wheel of a corner: they do not depend on the setting."""
    centre, spin = np.asarray(part.stub.wheel_centre, float), spin_axis(part.stub)
    wheel = (bodies.rim if bare else bodies.wheel)(tyre, centre, spin, side)
    return bodies.yoke(part, radius)[0], bodies.stub(part, side), wheel


def sided(side: str, body: Body) -> Body:
    """The body as it is, or for the right side its mirror image in kart axes."""
    if side == "left":
        return body
    return replace(body, mesh=mirrored(body.mesh), matrices=scene_pose.mirrored(body.matrices))


def column_body(sweep: Sweep) -> Body:
    """Column, spade and handwheel."""
    moves = scene_pose.column_moves(sweep.kart.column, sweep.handwheel)
    return Body("column", _column_mesh(sweep.kart), moves, "column")


@lru_cache(maxsize=8)
def _column_mesh(kart: Kart) -> Mesh:
    return bodies_kart.column(kart)


def holds(sweep: Sweep) -> tuple[Array, Array]:
    """Where the frame holds the left and the right yoke (3,)."""
    kart = sweep.kart
    left, right = (bodies.bush_radius(c.corner, c.setting) for c in (sweep.left, sweep.right))
    return bodies.yoke(kart.left, left)[1], mirror(bodies.yoke(kart.right, right)[1])


def axis_length(corner: CornerSweep) -> float:
    """Length of the line drawn for a steering axis, mm: from the road to well above the yoke."""
    down = float(np.linalg.norm(corner.seated.top - corner.axis_road_point[0]))
    return 16.0 * float(np.ceil(down / 16.0)) + 90.0


def marks(sweep: Sweep) -> list[Body]:
    """Kingpin axis down to the road, contact centre and axis–road point of each corner."""
    made = []
    for side, corner in sides(sweep):
        road = sweep.road if side == "left" else mirrored_road(sweep.road)
        line = bodies_kart.axis_line(axis_length(corner))
        shapes = [
            ("axis", line, scene_pose.axis_moves(corner)),
            ("contact", bodies_kart.contact_mark(), scene_pose.contact_moves(corner, road)),
            ("axis_point", bodies_kart.axis_point_mark(), scene_pose.at_points(corner.axis_road_point)),
        ]
        made += [sided(side, Body(f"{role}_{side}", mesh, moves, role)) for role, mesh, moves in shapes]
    return made


def road_bodies(low: tuple[float, float], high: tuple[float, float], road: Array) -> list[Body]:
    """The road's tile and grid, moved by matrices (N, 4, 4)."""
    return [
        Body("road", bodies_kart.road_tile(low, high), road, "road"),
        Body("grid", bodies_kart.road_grid(low, high), road, "road"),
    ]
