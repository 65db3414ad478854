"""The kart whole and standing on a level road in a load case, as plain data like every scene.

The frame twists as a ladder, four wheels stand on the road or hang above it, an arrow at each shows its
load. Through lock only matrices change: the tyres take the height of their compression by a stretch, rails
and arms bend by a shear between ends that stay where they belong.
"""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from math import isfinite

import numpy as np

from kinematics.corner.stub import spin_axis
from kinematics.frames import Array, cross, mirror, unit
from kinematics.lock import Sweep, rear_wheel_centres
from kinematics.parts import Kart
from kinematics.stance.equilibrium import Stance
from viz.scene import attitude as pose
from viz.scene import bodies
from viz.scene import kart as bodies_kart
from viz.scene import ladder as meshes
from viz.scene import loads as words
from viz.scene import parts as scene_parts
from viz.scene import pose as scene_pose
from viz.scene.arrows import arrows, feet, lengths
from viz.scene.attitude import WHEELS, PartMatrices
from viz.scene.camera import standing_presets
from viz.scene.data import PARTS, Body, Label, SceneData, Story
from viz.scene.meshes import Mesh, axes_along, in_role, mirrored
from viz.scene.stories.rear import rear
from viz.scene.stories.rock import rock

MOST = 20.0
"""Largest exaggeration."""
FAINT = 0.3
"""Opacity of the second setting."""


def build(
    sweep: Sweep, standing: Stance, name: str = "", case_name: str = "", exaggeration: float = 1.0
) -> SceneData:
    """The scene of a sweep in a stance of it; scene.build says what is refused."""
    if not (isfinite(exaggeration) and 1.0 <= exaggeration <= MOST):
        raise ValueError(f"exaggeration must lie in 1..{MOST:g}, not {exaggeration:g}")
    if standing.height.shape != sweep.reach.shape:
        raise ValueError(f"a stance of {standing.height.shape} states for a sweep of {sweep.reach.shape}")
    solved = scene_parts.reachable(sweep)
    standing = pose.at_positions(standing, sweep.reach)
    drawn = pose.poses(solved, standing, exaggeration)
    low, high = road_extent(solved.kart)
    still = scene_pose.still(len(solved.handwheel))
    said = words.notes(standing, drawn)
    parts = [*_corners(solved, drawn), *_frame(solved, drawn), *_tyres(solved, drawn), *_marks(solved, drawn)]
    return SceneData(
        name=name,
        handwheel_deg=np.degrees(solved.handwheel),
        bodies=(*parts, *arrows(solved.kart, drawn), *scene_parts.road_bodies(low, high, still)),
        labels=_labels(solved, drawn, low, high),
        captions=words.captions(solved, standing, name, case_name, said),
        legend=words.legend(),
        cameras=standing_presets(solved),
        stated=words.stated(exaggeration),
        notes=said,
        stories=tuple(tell(solved, drawn, name, case_name) for tell in (rear, rock)),
    )


def road_extent(kart: Kart) -> tuple[tuple[float, float], tuple[float, float]]:
    """Corners (x, y) of the road tile, mm: low and high; the arrows stand on it."""
    half = 0.5 * max(kart.front_track, kart.rear_track) + 290.0
    return (-300.0, -half), (kart.wheelbase + 400.0, half)


def _corners(sweep: Sweep, drawn: PartMatrices) -> list[Body]:
    """Both corners as the front part carries them; each tie rod reaches to the spade."""
    made = []
    for (side, corner), carrier in zip(scene_parts.sides(sweep), drawn.corners, strict=True):
        place = np.asarray if side == "left" else mirror
        inner, outer = place(corner.inner_joint), place(corner.arm_end)
        for body in scene_parts.corner_bodies(side, corner, sweep.kart, bare=True):
            moves = carrier
            if body.role == "rod":
                moves = pose.bridged(carrier, outer, inner, pose.moved(drawn.front, inner))
            made.append(replace(body, matrices=moves @ body.matrices))
    return made


def _frame(sweep: Sweep, drawn: PartMatrices) -> list[Body]:
    """Ladder, column and rear axle."""
    kart, held = sweep.kart, scene_parts.holds(sweep)
    height = float(rear_wheel_centres(kart, sweep.setting)[0][2])
    key = tuple(tuple(point.tolist()) for point in held)
    parts, column = meshes.ladder(kart, key, height), scene_parts.column_body(sweep)
    made = [
        Body("frame", parts.front, drawn.front, "frame"),
        Body("frame_seat", parts.seat, drawn.seat, "frame"),
        Body("frame_rear", parts.rear, drawn.rear, "frame"),
        Body("rear", meshes.rear_axle(kart, height), drawn.rear, "axle"),
        replace(column, matrices=drawn.front @ column.matrices),
    ]
    for name, (mesh, start, end) in parts.pieces.items():
        back, ahead = (drawn.rear, drawn.seat) if "rear" in name else (drawn.seat, drawn.front)
        moves = pose.bridged(back, start, end, pose.moved(ahead, end))
        made.append(Body(name, mesh, moves, "frame"))
    for (side, (mesh, start, end)), carrier in zip(parts.arms.items(), drawn.corners, strict=True):
        moves = pose.bridged(drawn.front, start, end, pose.moved(carrier, end))
        made.append(Body(f"arm_{side}", mesh, moves, "frame"))
    return made


def _tyres(sweep: Sweep, drawn: PartMatrices) -> list[Body]:
    """Four tyres, each with a second one of another colour that takes its place in the air."""
    carried = []
    for side, corner in scene_parts.sides(sweep):
        moves = scene_pose.wheel_moves(corner)
        carried.append(moves if side == "left" else scene_pose.mirrored(moves))
    carried = [c @ m for c, m in zip(drawn.corners, carried, strict=True)] + [drawn.rear, drawn.rear]
    height = float(rear_wheel_centres(sweep.kart, sweep.setting)[0][2])
    made = []
    for i, mesh in enumerate(_tyre_meshes(sweep.kart, height)):
        name = WHEELS[i].replace(" ", "_")
        moves, off = pose.flattened(carried[i], drawn.centres[i], drawn.squash[i]), drawn.in_the_air[i]
        made.append(Body(f"tyre_{name}", mesh, moves, "tyre", visible=~off))
        if off.any():
            made.append(Body(f"air_{name}", in_role(mesh, "air"), moves, "tyre", visible=off))
    return made


@lru_cache(maxsize=8)
def _tyre_meshes(kart: Kart, height: float) -> tuple[Mesh, ...]:
    """Tyres in the order of WHEELS, in neutral frame axes."""
    made = []
    for corner in (kart.left, kart.right):
        centre = np.asarray(corner.stub.wheel_centre, float)
        made.append(bodies.tyre(kart.front_tyre, centre, spin_axis(corner.stub)))
    centre = np.array([0.0, 0.5 * kart.rear_track, height])
    rear = bodies.tyre(kart.rear_tyre, centre, np.array([0.0, 1.0, 0.0]))
    return (made[0], mirrored(made[1]), rear, mirrored(rear))


def _marks(sweep: Sweep, drawn: PartMatrices) -> list[Body]:
    """Kingpin axis, where it meets the road, and contact centre, of each corner that touches the road."""
    made, up = [], np.array([0.0, 0.0, 1.0])
    for i, (side, corner) in enumerate(scene_parts.sides(sweep)):
        carrier, place = drawn.corners[i], np.asarray if side == "left" else mirror
        axes = carrier[:, :3, :3] @ axes_along(place(corner.seated.k))
        meets = _down_to_road(pose.moved(carrier, place(corner.seated.foot)), axes[:, :, 2])
        spin = np.einsum("nij,nj->ni", carrier[:, :3, :3], place(corner.spin))
        heading = unit(cross(spin, up))
        touch = _down_to_road(drawn.centres[i], cross(heading, spin))
        flat = np.stack([heading, cross(up, heading), np.broadcast_to(up, heading.shape)], axis=-1)
        line = bodies_kart.axis_line(scene_parts.axis_length(corner))
        stands, touches = ~drawn.tips, ~drawn.tips & ~drawn.in_the_air[i]
        shapes = [
            ("axis", line, scene_pose.matrices(axes, meets), stands),
            ("contact", bodies_kart.contact_mark(), scene_pose.matrices(flat, touch), touches),
            ("axis_point", bodies_kart.axis_point_mark(), scene_pose.at_points(meets), stands),
        ]
        made += [
            Body(f"{role}_{side}", mesh, moves, role, visible=visible)
            for role, mesh, moves, visible in shapes
        ]
    return made


def _down_to_road(point: Array, along: Array) -> Array:
    """Where a line through points (N, 3) meets the road (N, 3)."""
    met: Array = point - along * (point[:, 2] / along[:, 2])[:, None]
    return met


def _labels(
    sweep: Sweep, drawn: PartMatrices, low: tuple[float, float], high: tuple[float, float]
) -> tuple[Label, ...]:
    tips = feet(sweep.kart, drawn)
    tips[..., 2] = np.maximum(lengths(drawn), 60.0)
    beside = tips.copy()  # of a wheel off the road, at the height of its middle
    beside[..., 2] = drawn.centres[..., 2]
    tips = np.where((drawn.in_the_air | drawn.tips)[..., None], beside, tips)
    count = len(sweep.handwheel)
    scale = bodies_kart.scale_start(low, high) - np.array([0.0, 100.0, 0.0])
    front = np.array([high[0] - 130.0, 110.0, 0.0])
    return (
        *words.wheel_labels(drawn, tips),
        *words.tipping_labels(drawn),
        Label("200 mm", np.broadcast_to(scale, (count, 3)), "scale", (0, 20)),
        Label("FRONT", np.broadcast_to(front, (count, 3)), "scale", (0, -20)),
    )


def against(first: SceneData, second: SceneData) -> SceneData:
    """The first scene with the second one's kart drawn over it, see-through and in one colour.

    The second is shown where it has the same lock positions; where it has not, the caption says so.
    """
    index = np.array([second.nearest(angle) for angle in first.handwheel_deg])
    there = np.abs(second.handwheel_deg[index] - first.handwheel_deg) < 1e-6
    pale = [
        Body(
            f"B {body.name}",
            in_role(body.mesh, "second"),
            body.matrices[index],
            "second",
            FAINT,
            body.visible[index] & there,
        )
        for body in second.bodies
        if body.role in PARTS
    ]
    told = [second.notes[i] if t else "a tie rod binds here" for i, t in zip(index, there, strict=True)]
    captions = [
        f"{a}\nB, see-through: {second.name}   {b}" for a, b in zip(first.captions, told, strict=True)
    ]
    stories = [_over(*pair, second.name, index) for pair in zip(first.stories, second.stories, strict=True)]
    return replace(first, bodies=(*first.bodies, *pale), captions=tuple(captions), stories=tuple(stories))


def _over(one: Story, other: Story, name: str, index: Array) -> Story:
    """A story of the first with what the second one's says first in its captions."""
    said = [other.captions[i].split("\n")[0] for i in index]
    captions = [f"{a}\nB, see-through: {name}   {b}" for a, b in zip(one.captions, said, strict=True)]
    return replace(one, captions=tuple(captions))
