"""Build the scene of a sweep: every part where the solver has it, at every lock position.

build makes plain data, add_to draws it on a plotter that the caller owns; between lock positions only
matrices change.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from kinematics.bush import seat_axes
from kinematics.frames import Array, mirror
from kinematics.linkage import column_axis
from kinematics.parts import Corner, Kart, Tyre
from kinematics.stub import spin_axis
from kinematics.sweep import CornerSweep, Sweep, mirrored_road, rear_wheel_centres
from viz import bodies, bodies_kart, scene_pose
from viz.meshes import Mesh, mirrored
from viz.scene_camera import presets
from viz.scene_data import Body, Camera, Label, SceneData
from viz.scene_draw import Handle, add_to
from viz.scene_words import captions, labels, legend

__all__ = ["Body", "Camera", "Handle", "Label", "SceneData", "add_to", "build", "reachable"]

FRONT_END = 560.0
"""How far the ladder runs behind the front axle when only the front end is drawn, mm."""


def build(sweep: Sweep, name: str = "", whole: bool = False) -> SceneData:
    """The scene of one setting's sweep; whole adds the rear axle and lengthens the frame to it.

    Lock positions that the linkage cannot reach are left out. Raises ValueError for a batch of settings,
    or when no position can be reached.
    """
    sweep = reachable(sweep)
    sides = (("left", sweep.left), ("right", sweep.right))
    parts = [body for side, corner in sides for body in _corner_bodies(side, corner, sweep.kart)]
    scene = (*parts, *_kart_bodies(sweep, whole), *_marks(sweep, sides))
    low, high = road_extent(sweep.kart, whole)
    road = scene_pose.road_moves(sweep)
    return SceneData(
        name=name,
        handwheel_deg=np.degrees(sweep.handwheel),
        bodies=(*scene, *_road_bodies(low, high, road)),
        labels=labels(sweep, road, bodies_kart.scale_start(low, high), high),
        captions=captions(sweep, name),
        legend=legend(),
        cameras=presets(sweep, whole),
    )


def reachable(sweep: Sweep) -> Sweep:
    """The sweep at the lock positions that both linkages reach."""
    if sweep.left.delta.ndim != 1:
        raise ValueError(f"a scene shows one setting, not a batch of shape {sweep.left.delta.shape[:-1]}")
    if not sweep.reach.any():
        raise ValueError("nothing to draw: the tie rods reach no lock position of this sweep")
    if sweep.reach.all():
        return sweep
    from kinematics.sweep import sweep as solve

    return solve(sweep.kart, sweep.setting, sweep.handwheel[sweep.reach])


def road_extent(kart: Kart, whole: bool) -> tuple[tuple[float, float], tuple[float, float]]:
    """Corners (x, y) of the road tile, mm: low and high."""
    half = 0.5 * max(kart.front_track, kart.rear_track if whole else 0.0) + 170.0
    rear = -250.0 if whole else kart.wheelbase - FRONT_END - 40.0
    return (rear, -half), (kart.wheelbase + 400.0, half)


def _corner_bodies(side: str, corner: CornerSweep, kart: Kart) -> list[Body]:
    """The bodies of one corner, the right one's mirrored into kart axes."""
    part, setting, seated = corner.corner, corner.setting, corner.seated
    radius = bodies.bush_radius(part, setting)
    yoke, stub, wheel = _corner_meshes(part, kart.front_tyre, radius, side)
    outer, inner = scene_pose.rod_ends(corner)
    rod = bodies.tie_rod(outer, inner, (seat_axes(part.yoke)[0], column_axis(kart.column)), side)
    fixed = scene_pose.still(len(corner.delta))
    made = [
        ("yoke", yoke, fixed, "frame"),
        ("bushes", bodies.bushes(part, setting, seated, radius), fixed, "frame"),
        ("kingpin", bodies.kingpin(part, setting, seated), fixed, "frame"),
        ("stub", stub, scene_pose.stub_moves(corner), f"stub_{side}"),
        ("wheel", wheel, scene_pose.wheel_moves(corner), f"stub_{side}"),
        ("rod", rod, scene_pose.rod_moves(corner), f"rod_{side}"),
    ]
    return [_sided(side, Body(f"{name}_{side}", mesh, moves, group)) for name, mesh, moves, group in made]


@lru_cache(maxsize=16)
def _corner_meshes(part: Corner, tyre: Tyre, radius: float, side: str) -> tuple[Mesh, Mesh, Mesh]:
    """Yoke, stub axle and wheel of a corner: they do not depend on the setting."""
    centre = np.asarray(part.stub.wheel_centre, float)
    wheel = bodies.wheel(tyre, centre, spin_axis(part.stub), side)
    return bodies.yoke(part, radius)[0], bodies.stub(part, side), wheel


def _sided(side: str, body: Body) -> Body:
    if side == "left":
        return body
    return Body(
        body.name, mirrored(body.mesh), scene_pose.mirrored(body.matrices), body.moves_with, body.opacity
    )


def _kart_bodies(sweep: Sweep, whole: bool) -> list[Body]:
    kart, fixed = sweep.kart, scene_pose.still(len(sweep.handwheel))
    left, right = (bodies.bush_radius(c.corner, c.setting) for c in (sweep.left, sweep.right))
    frame, column = _kart_meshes(kart, left, right, whole)
    made = [
        Body("frame", frame, fixed, "frame"),
        Body("column", column, scene_pose.column_moves(kart.column, sweep.handwheel), "column"),
    ]
    if whole:
        centres = rear_wheel_centres(kart, sweep.setting)
        rear = bodies_kart.rear_end(kart, centres, _holds(kart, left, right), _behind(kart, whole))
        made.append(Body("rear", rear, fixed, "frame"))
    return made


@lru_cache(maxsize=8)
def _kart_meshes(kart: Kart, radius_left: float, radius_right: float, whole: bool) -> tuple[Mesh, Mesh]:
    frame = bodies_kart.frame(kart, _holds(kart, radius_left, radius_right), _behind(kart, whole))
    return frame, bodies_kart.column(kart)


def _holds(kart: Kart, radius_left: float, radius_right: float) -> tuple[Array, Array]:
    """Where the frame holds the left and the right yoke (3,)."""
    return bodies.yoke(kart.left, radius_left)[1], mirror(bodies.yoke(kart.right, radius_right)[1])


def _behind(kart: Kart, whole: bool) -> float:
    return kart.wheelbase + 60.0 if whole else FRONT_END


def _marks(sweep: Sweep, sides: tuple[tuple[str, CornerSweep], ...]) -> list[Body]:
    """Kingpin axis down to the road, contact centre and axis–road point of each corner."""
    made = []
    for side, corner in sides:
        road = sweep.road if side == "left" else mirrored_road(sweep.road)
        length = (
            16.0 * float(np.ceil(np.linalg.norm(corner.seated.top - corner.axis_road_point[0]) / 16.0)) + 90.0
        )
        shapes = [
            ("axis", bodies_kart.axis_line(length), scene_pose.axis_moves(corner)),
            ("contact", bodies_kart.contact_mark(), scene_pose.contact_moves(corner, road)),
            ("axis_point", bodies_kart.axis_point_mark(), scene_pose.at_points(corner.axis_road_point)),
        ]
        made += [_sided(side, Body(f"{name}_{side}", mesh, moves, "mark")) for name, mesh, moves in shapes]
    return made


def _road_bodies(low: tuple[float, float], high: tuple[float, float], road: Array) -> list[Body]:
    return [
        Body("road", bodies_kart.road_tile(low, high), road, "road"),
        Body("grid", bodies_kart.road_grid(low, high), road, "road"),
    ]
