"""Where the road pushes against the steering: the left front corner from above, its wheel taken off.

On the road: the point that the kingpin axis meets, from there trail back along the wheel's trace and scrub
out to the middle of the contact, and the path on which that goes round through lock.
"""

from __future__ import annotations

from functools import lru_cache
from math import degrees

import numpy as np

from kinematics.corner.pose import CornerSweep
from kinematics.frames import Array
from kinematics.lock import Sweep, sweep
from kinematics.parts import Tyre
from viz.scene.camera import above
from viz.scene.data import PALE, Body, Label, Story
from viz.scene.meshes import Mesh, ball, bar, paint, tubes
from viz.scene.pose import at_points, contact_moves, still
from viz.scene.stories.ground import LIFT, laid, line, square_of
from viz.scene.words import heading
from viz.words.numbers import number

LONG = 0.75
"""Length of the drawn contact, in shares of the tyre's radius."""
RAISED = np.array([0.0, 0.0, LIFT])
WAY = np.radians(np.linspace(-60.0, 60.0, 25))
"""Handwheel angles of the path drawn, as far as the linkage reaches."""


def floor(swept: Sweep, name: str) -> Story:
    """The story of a sweep's left corner at its lock positions (N), its frame held still."""
    corner, normal = swept.left, swept.road.normal
    start, turn, end = corner.axis_road_point, square_of(corner, normal), corner.contact_centre
    labels = _labels(corner, start, turn, end)
    return Story(
        cameras={"floor": above(swept.kart)},
        bodies=(
            Body("trail_line", line("axis_point"), laid(start, turn, normal), "clock"),
            Body("scrub_line", line("contact"), laid(turn, end, normal), "clock"),
            Body("print", _print(swept.kart.front_tyre), contact_moves(corner, swept.road), "clock", PALE),
            Body("path", _path(swept), still(len(end)), "clock"),
            Body("pushes", _dot(), at_points(end), "clock"),
        ),
        labels=labels,
        captions=_captions(swept, name),
        hides=("wheel", "column", "contact", "axis"),
        pales=("yoke", "bushes", "kingpin", "stub"),
        over=("axis_point_left", "trail_line", "scrub_line", "pushes"),
        said_over=labels,
    )


@lru_cache(maxsize=4)
def _print(tyre: Tyre) -> Mesh:
    half = 0.5 * LONG * tyre.radius
    return paint(
        "tyre", bar((-half, 0.0, LIFT - 2.0), (half, 0.0, LIFT - 2.0), tyre.tread_width, 2.0, (0.0, 0.0, 1.0))
    )


@lru_cache(maxsize=1)
def _dot() -> Mesh:
    return paint("contact", ball((0.0, 0.0, 0.0), 8.0))


def _path(swept: Sweep) -> Mesh:
    """The way of the contact centre through lock."""
    through = sweep(swept.kart, swept.setting, WAY).left
    points = through.contact_centre[through.reach]
    return paint("contact", *tubes(list(points + RAISED), 1.2))


def _labels(corner: CornerSweep, start: Array, turn: Array, end: Array) -> tuple[Label, ...]:
    def through(what: str, values: Array, points: Array, role: str, shift: tuple[int, int]) -> Label:
        texts = tuple(f"{what} {number(value, 0)} mm" for value in values)
        return Label(texts[0], points, role, shift, texts)

    return (
        through("trail", corner.trail, 0.5 * (start + turn), "axis_point", (-76, 10)),
        through("scrub", corner.scrub, 0.5 * (turn + end), "contact", (0, -34)),
    )


def _captions(swept: Sweep, name: str) -> tuple[str, ...]:
    rows = zip(swept.handwheel, swept.left.trail, swept.left.scrub, strict=True)
    return tuple(
        f"the road pushes {_where(trail, scrub)} of the kingpin axis\n{heading(name, degrees(angle))}"
        for angle, trail, scrub in rows
    )


def _where(trail: float, scrub: float) -> str:
    along = "behind" if trail >= 0.0 else "ahead"
    across = "outside" if scrub >= 0.0 else "inside"
    return f"{number(abs(trail), 0)} mm {along} and {number(abs(scrub), 0)} mm {across}"
