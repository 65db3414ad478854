"""Why a leaning kingpin lifts and lowers its wheel: the left stub axle as the hand of a clock that is tilted.

The frame is held still and the wheel taken off. Beside the level clock stands the one in which the stub
axle's end goes round; where it comes to at either lock it says how far the wheel has gone down or up. On the
road trail and scrub lead from the kingpin axis to the contact centre.
"""

from __future__ import annotations

from functools import lru_cache
from math import degrees

import numpy as np

from kinematics.frames import Array, dot
from kinematics.lock import Sweep, sweep
from viz.scene.camera import beside
from viz.scene.data import Body, Label, Story
from viz.scene.meshes import Mesh, axes_along, ball, paint, pipe, rod
from viz.scene.stories.ground import laid, line, square_of
from viz.scene.words import heading
from viz.words.numbers import number

SHOWN_DEG = (45.0, 30.0, 15.0)
"""Handwheel angles at which the stub's end is marked: the first that the linkage reaches both ways."""
OTHER = tuple(f"{part}_right" for part in ("yoke", "bushes", "kingpin", "stub", "rod", "axis", "axis_point"))
"""Parts of the corner that the story is not about."""
UP = np.array([0.0, 0.0, 1.0])


def clock(swept: Sweep, name: str) -> Story:
    """The story of a sweep's left corner at its lock positions (N), its frame held still."""
    corner, count = swept.left, len(swept.handwheel)
    k, ends = corner.seated.k, _ends(swept)
    straight = ends.left.wheel_centre[1]
    foot = corner.seated.foot + dot(straight - corner.seated.foot, k) * k
    size = float(np.linalg.norm(straight - foot))

    def round_about(axis: Array) -> Array:
        return np.broadcast_to(_placed(axes_along(axis) * [size, size, 1.0], foot), (count, 4, 4))

    normal = swept.road.normal
    first, second = square_of(corner, normal), corner.contact_centre
    bodies = [
        *_face("level", "steel", round_about(UP)),
        *_face("tilted", "pushed", round_about(k)),
        Body("trail_line", line("axis_point"), laid(corner.axis_road_point, first, normal), "clock"),
        Body("scrub_line", line("contact"), laid(first, second, normal), "clock"),
    ]
    for i, mark in ((0, "outside_end"), (2, "inside_end")):
        place = np.broadcast_to(_placed(np.eye(3), ends.left.wheel_centre[i]), (count, 4, 4))
        bodies.append(Body(mark, _mark(), place, "clock"))
    labels = _labels(swept, ends, first, second)
    return Story(
        cameras={"clock": beside(swept)},
        bodies=tuple(bodies),
        labels=labels,
        captions=_captions(swept, ends, name),
        over=("axis_left", "tilted_rim", "inside_end", "outside_end"),
        said_over=tuple(_second(label, by) for label, by in zip(labels[:2], (26, -26), strict=True)),
        hides=("wheel", "contact", "frame", "column", "axle", *OTHER),
    )


def _second(label: Label, by: int) -> Label:
    """A label as it is said of a second setting, some pixels higher."""
    return Label(label.text, label.points, label.role, (label.shift[0], label.shift[1] + by))


def _ends(swept: Sweep) -> Sweep:
    """The same kart at right lock, straight ahead and at left lock."""
    for angle in SHOWN_DEG:
        found = sweep(swept.kart, swept.setting, np.radians([-angle, 0.0, angle]))
        if found.left.reach.all():
            break
    return found


def _placed(axes: Array, origin: Array) -> Array:
    matrix = np.eye(4)
    matrix[:3, :3], matrix[:3, 3] = axes, origin
    return matrix


def _face(name: str, role: str, moves: Array) -> list[Body]:
    """A clock's face and its rim, of radius 1."""
    return [
        Body(f"{name}_rim", _rim(role), moves, "clock"),
        Body(f"{name}_face", _disc(role), moves, "clock", 0.25),
    ]


@lru_cache(maxsize=4)
def _rim(role: str) -> Mesh:
    return paint(role, pipe((0.0, 0.0, -1.5), (0.0, 0.0, 1.5), 1.012, 0.985, 96))


@lru_cache(maxsize=4)
def _disc(role: str) -> Mesh:
    return paint(role, rod((0.0, 0.0, -0.4), (0.0, 0.0, 0.4), 0.985, 64))


@lru_cache(maxsize=1)
def _mark() -> Mesh:
    return paint("pushed", ball((0.0, 0.0, 0.0), 9.0))


def _labels(swept: Sweep, ends: Sweep, first: Array, second: Array) -> tuple[Label, ...]:
    corner, count = swept.left, len(swept.handwheel)
    lock = number(degrees(ends.handwheel[2]), 0)

    def fixed(text: str, place: Array, role: str, shift: tuple[int, int]) -> Label:
        return Label(text, np.broadcast_to(place, (count, 3)), role, shift)

    def through(what: str, values: Array, place: Array, role: str, shift: tuple[int, int]) -> Label:
        texts = tuple(f"{what} {number(value, 0)} mm" for value in values)
        return Label(texts[0], place, role, shift, texts)

    lean = degrees(float(corner.caster))
    top = corner.seated.foot + 105.0 * corner.seated.k
    return (
        fixed(f"kingpin axis leans back {number(lean, 1)}°", top, "axis", (130, 0)),
        fixed(f"{lock}° left, inside: {_goes(ends, 2)}", ends.left.wheel_centre[2], "pushed", (170, -6)),
        fixed(f"{lock}° right, outside: {_goes(ends, 0)}", ends.left.wheel_centre[0], "pushed", (-190, 12)),
        through("trail", corner.trail, 0.5 * (corner.axis_road_point + first), "axis_point", (-62, -4)),
        through("scrub", corner.scrub, 0.5 * (first + second), "contact", (66, 0)),
    )


def _goes(ends: Sweep, at: int) -> str:
    """Where the stub's end has gone since straight ahead, and how far the wheel down or up."""
    drop, along = (
        float(ends.left.wheel_drop[at]),
        float(ends.left.wheel_centre[at, 0] - ends.left.wheel_centre[1, 0]),
    )
    way = "forward" if along > 0.0 else "back"
    return f"{way} and {number(abs(drop), 0)} mm {'down' if drop > 0.0 else 'up'}"


def _captions(swept: Sweep, ends: Sweep, name: str) -> tuple[str, ...]:
    said = "the stub axle is the hand of a tilted clock"
    return tuple(f"{said}\n{heading(name, degrees(angle))}" for angle in swept.handwheel)
