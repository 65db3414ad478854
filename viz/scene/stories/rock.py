"""Why the inside rear wheel leaves the road: the kart from low behind it, with what happens in its order.

The inside front wheel is pushed down and the outside front one gives way, so that the kart rocks over the
line from the inside front to the outside rear wheel, and the inside rear one comes up. Everything stands
where the solver has it; what is drawn larger than it is has its true number beside it.
"""

from __future__ import annotations

from functools import lru_cache
from math import degrees

import numpy as np

from kinematics.frames import Array, Mask
from kinematics.lock import Sweep
from kinematics.parts import GRAVITY, Kart
from viz.scene import pose as scene_pose
from viz.scene.attitude import PartMatrices, standing_up
from viz.scene.camera import rocking
from viz.scene.data import Body, Label, Story
from viz.scene.ladder import head, shaft
from viz.scene.meshes import Mesh, bar, in_role, paint, rod
from viz.scene.stories.driver import driver
from viz.scene.stories.ground import LIFT, STRAIGHT, diagonal, shadows
from viz.scene.stories.wheels import InTurn
from viz.scene.words import heading
from viz.words.numbers import number

PUSH = 190.0
"""Length of the arrow at the wheel that is pushed down, mm."""


def rock(sweep: Sweep, drawn: PartMatrices, name: str, case_name: str) -> Story:
    """The story of a sweep's kart as it is drawn in a stance of its lock positions (N)."""
    wheels = InTurn(drawn)
    turned = np.abs(sweep.handwheel) > STRAIGHT
    stands = ~drawn.tips
    up: Mask = stands & (wheels.of(drawn.clearance, 2) > 0.0)
    drops = _drops(sweep, wheels)
    bodies = (
        *shadows(sweep.kart, drawn),
        diagonal(wheels, stands & turned),
        _rests_on(wheels, up),
        *_gap(sweep.kart, wheels, up),
        *_push(sweep.kart, wheels, stands & turned & (drops[0] > 0.0)),
        Body("driver", driver(sweep.kart), drawn.seat, "driver"),
    )
    return Story(
        cameras={"rock": rocking(sweep.kart, 1.0), "rock_right": rocking(sweep.kart, -1.0)},
        bodies=bodies,
        hides=("load", "air", "axis", "axis_point", "contact"),
        labels=_labels(wheels, drawn, drops, turned & stands, up),
        captions=_captions(sweep, drawn, wheels, up, name, case_name),
    )


def _drops(sweep: Sweep, wheels: InTurn) -> tuple[Array, Array]:
    """How far the inside front goes down in the frame, and the outside front up (N,), mm."""
    both = np.stack([sweep.left.wheel_drop, sweep.right.wheel_drop])
    return wheels.of(both, 0), -wheels.of(both, 1)


@lru_cache(maxsize=1)
def _corner() -> Mesh:
    """A triangle of unit sides along x and y."""
    from trimesh import Trimesh

    return paint(
        "diagonal",
        Trimesh([[0, 0, LIFT - 1.0], [1, 0, LIFT - 1.0], [0, 1, LIFT - 1.0]], [[0, 1, 2]], process=False),
    )


@lru_cache(maxsize=1)
def _tick() -> Mesh:
    return paint("air", bar((-70.0, 0.0, 0.0), (70.0, 0.0, 0.0), 8.0, 3.0, (0.0, 0.0, 1.0)))


@lru_cache(maxsize=1)
def _post() -> Mesh:
    return paint("air", rod((0.0, 0.0, 0.0), (0.0, 0.0, 1.0), 7.0))


def _rests_on(wheels: InTurn, seen: Mask) -> Body:
    """The triangle of the wheels that carry it where the inside rear does not."""
    first, second, third = (wheels.foot(place) for place in (0, 1, 3))
    up, left = np.broadcast_to([0.0, 0.0, 1.0], first.shape), wheels.drawn.inside_left[:, None]
    sides = second - first, third - first
    around = [np.where(left, *pair) for pair in (sides[::-1], sides)]  # so that it looks upward
    axes = np.stack([*around, up], axis=-1)
    return Body("rests_on", _corner(), scene_pose.matrices(axes, first), "diagonal", 0.3, seen)


def _gap(kart: Kart, wheels: InTurn, seen: Mask) -> list[Body]:
    """A bracket as high as the air under the inside rear is drawn."""
    if not seen.any():
        return []
    high = np.where(seen, wheels.of(wheels.drawn.supports, 2)[:, 2], 1.0)
    foot = beside(kart, wheels)
    ends = [("gap_low", foot), ("gap_high", foot + np.stack([0.0 * high, 0.0 * high, high], axis=-1))]
    made = [Body(name, _tick(), scene_pose.at_points(place), "air", visible=seen) for name, place in ends]
    return [*made, Body("gap_post", _post(), standing_up(foot, high), "air", visible=seen)]


def beside(kart: Kart, wheels: InTurn) -> Array:
    """Where the bracket stands (N, 3): on the road outboard of the inside rear wheel."""
    out = (0.5 * kart.rear_tyre.tread_width + 40.0) * wheels.outward(2)
    return wheels.foot(2) + np.stack([0.0 * out, out, 0.0 * out], axis=-1)


def _push(kart: Kart, wheels: InTurn, seen: Mask) -> list[Body]:
    """An arrow down beside the inside front wheel."""
    if not seen.any():
        return []
    out = (0.5 * kart.front_tyre.tread_width + 45.0) * wheels.outward(0)
    top, neck = (
        wheels.foot(0) + np.stack([0.0 * out, out, np.full(out.size, 15.0 + high)], axis=-1)
        for high in (PUSH, 0.3 * PUSH)
    )
    shapes = ("push_shaft", shaft(), top, 0.7 * PUSH), ("push_head", head(), neck, 0.3 * PUSH)
    return [
        Body(name, in_role(mesh, "pushed"), _hung(place, size), "pushed", visible=seen)
        for name, mesh, place, size in shapes
    ]


def _hung(points: Array, height: float) -> Array:
    """A body of unit height hung below points (N, 3): turned over, so that its faces still look outward."""
    return scene_pose.matrices(np.broadcast_to(np.diag([1.3, -1.3, -height]), (len(points), 3, 3)), points)


def _labels(
    wheels: InTurn, drawn: PartMatrices, drops: tuple[Array, Array], turned: Mask, up: Mask
) -> tuple[Label, ...]:
    """The three captions in the order of cause, and the name of the line."""
    high = np.array([0.0, 0.0, 1.0])
    centres = [wheels.of(drawn.centres, place) for place in range(3)]
    clear, loads = (wheels.of(one, 2) for one in (drawn.clearance, drawn.loads))
    said = [
        [_moves("1  inside front", by, "pushed down", "drawn up") for by in drops[0]],
        [_moves("2  outside front", by, "gives way", "pushed down too,") for by in drops[1]],
        [
            f"3  inside rear lifted: {number(by, 1)} mm of air" if off else ""
            for by, off in zip(clear, up, strict=True)
        ],
        [
            "" if off else f"3  inside rear still carries {number(load / GRAVITY, 1)} kg"
            for load, off in zip(loads, up, strict=True)
        ],
    ]
    foot = wheels.foot(2)
    points = [centres[0] + 230.0 * high, centres[1] + 420.0 * high, foot, foot]
    roles = ("pushed", "contact", "air", "load")  # yellow is for what is in the air
    shifts = ((0, 0), (0, 0), (0, -46), (0, -46))
    line = 0.2 * wheels.foot(0) + 0.8 * wheels.foot(3)
    named = [
        Label(texts[0], place, role, shift, _where(texts, turned))
        for texts, place, role, shift in zip(said, points, roles, shifts, strict=True)
    ]
    words = ["it rocks over this line"] * turned.size
    return (*named, Label(words[0], line, "diagonal", (0, -26), _where(words, turned)))


def _where(texts: list[str], seen: Mask) -> tuple[str, ...]:
    return tuple(text if there else "" for text, there in zip(texts, seen, strict=True))


def _moves(which: str, by: float, down: str, otherwise: str) -> str:
    return f"{which} {down if by >= 0.0 else otherwise} {number(abs(by), 0)} mm"


def _captions(
    sweep: Sweep, drawn: PartMatrices, wheels: InTurn, up: Mask, name: str, case_name: str
) -> tuple[str, ...]:
    clear, loads = (wheels.of(one, 2) for one in (drawn.clearance, drawn.loads))
    made = []
    for angle, tips, off, air, load in zip(sweep.handwheel, drawn.tips, up, clear, loads, strict=True):
        rear = f"the inside rear {number(air, 1)} mm in the air"
        if not off:
            rear = f"the inside rear carries {number(load / GRAVITY, 1)} kg"
        rear = "it does not stand on its wheels" if tips else rear
        made.append(f"{rear}\n{heading(name, degrees(angle))}   {case_name}")
    return tuple(made)
