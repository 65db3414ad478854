"""Words at points of the scene, moved apart on the screen: none over another one or over the edge."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import lru_cache
from math import cos, hypot, pi, sin
from typing import Any

import numpy as np

from kinematics.frames import Array
from viz.canvas.draw import Handle
from viz.canvas.pane import Pane
from viz.canvas.text import unit_rgb
from viz.look.rule import label_colours
from viz.scene.data import KEPT_CLEAR, Body
from viz.scene.meshes import corners

APART = 3.0
"""Pixels between labels, and to the edge."""
RINGS, SPOKES, WIDER = 16, 16, 1.6
"""How many places around its own are tried for a label, and how much further they lie sideways."""
NEAR, FAR = 8.0, 40.0
"""How far they lie at most, in half its heights: for one that hides nothing, and for any."""
LINED = 6.0
"""Pixels from its point from which on a moved label has a line to it."""


def apart(
    wanted: Sequence[Pane], room: Pane, hides: Sequence[Pane] = (), over: Sequence[Pane] = ()
) -> list[Pane]:
    """The boxes moved as little as may be, so that none lies over another, over these, or out of the room.

    Near by a place is looked for that hides nothing either. The first keep their places first. One for which
    there is no place is made empty.
    """
    placed = list(over)
    for box in wanted:
        placed.append(_free(box, placed, hides, room.shrunk(APART)))
    return placed[len(over) :]


def _free(box: Pane, placed: Sequence[Pane], hides: Sequence[Pane], room: Pane) -> Pane:
    if box.width > room.width or box.height > room.height:
        return Pane(0, 0, 0, 0)
    near = box.kept_in(room)
    for far, taken in ((NEAR, [*placed, *hides]), (FAR, placed)):
        for tried in _around(near, far, room):
            if not any(tried.over(other, APART) for other in taken):
                return tried
    return Pane(0, 0, 0, 0)


def _around(box: Pane, far: float, room: Pane) -> Iterator[Pane]:
    """The box in its own place, then further and further round about it."""
    step = 0.5 * box.height + APART
    for x, y in _offsets():
        if hypot(x, y) > far:
            return
        yield box.moved(step * x, step * y).kept_in(room)


@lru_cache(maxsize=1)
def _offsets() -> tuple[tuple[float, float], ...]:
    """Places round about a box in half its heights, the nearest first; wide as it is, further sideways."""
    turns = [2.0 * pi * spoke / SPOKES + 0.5 * pi for spoke in range(SPOKES)]
    round_about = [(WIDER * ring * cos(t), ring * sin(t)) for ring in range(1, RINGS) for t in turns]
    return ((0.0, 0.0), *sorted(round_about, key=lambda place: round(hypot(*place), 6)))


class Labels:
    """The labels of a handle, placed before every picture for the camera as it then is."""

    def __init__(self, handle: Handle) -> None:
        self.handle, self.room = handle, Pane(0, 0, 1, 1)
        self.taken: list[Pane] = []
        """What else lies over the picture."""
        self.placed: list[tuple[str, Pane]] = []
        """What is said and where, in pixels of the picture; an empty box where there was no room."""
        self.lines = _segments()
        handle.plotter.renderer.AddViewProp(self.lines)
        self._lifted: set[int] = set()

    def set_room(self, room: Pane, letters: int) -> None:
        """Say how large the picture is and its letters are."""
        self.room = room
        self.handle.set_letters(letters)

    def _lift(self, renderer: Any, actor: Any) -> None:
        """Have a label drawn over the lines, which do not go through words then."""
        if id(actor) not in self._lifted:
            renderer.RemoveViewProp(actor)
            renderer.AddViewProp(actor)
            self._lifted.add(id(actor))

    def _free(self, renderer: Any) -> Pane:
        """The room that caption, legend and what is stated leave."""
        room = self.room
        for name, box in self.handle.frame_boxes(renderer):
            if name == "caption":
                room = replace(room, high=min(room.high, box.low))
            else:
                room = replace(room, low=max(room.low, box.high))
        return room

    def place(self, renderer: Any) -> None:
        """Move labels apart; one whose point is out of the picture is not shown."""
        shown, points, wanted, at = [], [], [], self.handle.index
        lens, room = _Lens(renderer, self.room), self._free(renderer)
        for actor, label in self.handle.labels():
            where = lens.seen(label.points[at])
            actor.SetVisibility(where is not None)
            self._lift(renderer, actor)
            if where is not None:
                shown.append((actor, label))
                points.append(where)
                wanted.append(_box(renderer, actor, where, label.shift))
        bodies = [b for b in self.handle.data.bodies if b.role in KEPT_CLEAR and b.visible[at]]
        boxes = apart(wanted, room, [lens.box(body, at) for body in bodies], self.taken)
        lines, colours = [], []
        for (actor, label), point, old, new in zip(shown, points, wanted, boxes, strict=True):
            actor.SetVisibility(new.width > 0.0)
            by = np.subtract(new.middle, old.middle)
            actor.GetPositionCoordinate().SetValue(label.shift[0] + by[0], label.shift[1] + by[1], 0.0)
            end = _nearest(new, point)
            if new.width and hypot(*by) > LINED and hypot(end[0] - point[0], end[1] - point[1]) > LINED:
                lines.append((point, end))
                colours.append(label_colours(self.handle.theme, label.role)[0])
        self.placed = [(a.GetInput(), b) for (a, _), b in zip(shown, boxes, strict=True)]
        _draw(self.lines, lines, colours)


class _Lens:
    """Where points of the world are in a picture, in its pixels."""

    def __init__(self, renderer: Any, room: Pane) -> None:
        matrix = renderer.GetActiveCamera().GetCompositeProjectionTransformMatrix(
            renderer.GetTiledAspectRatio(), -1.0, 1.0
        )
        self._matrix = np.array([[matrix.GetElement(i, j) for j in range(4)] for i in range(4)])
        self.room = room

    def pixels(self, points: Array) -> Array:
        """Pixels and depth, -1..1 where it is before the eye (n, 3), of points (n, 3)."""
        seen = np.column_stack([points, np.ones(len(points))]) @ self._matrix.T
        scale = np.array([0.5 * self.room.width, 0.5 * self.room.height, 1.0])
        found: Array = (seen[:, :3] / seen[:, 3:] + [1.0, 1.0, 0.0]) * scale
        return found

    def seen(self, point: Array) -> tuple[float, float] | None:
        """Where a point (3,) is; None where it is out of the picture."""
        x, y, depth = self.pixels(np.asarray(point)[None])[0]
        return (float(x), float(y)) if self.room.holds(x, y) and abs(depth) < 1.0 else None

    def box(self, body: Body, index: int) -> Pane:
        """What a body takes of the picture, as a box."""
        turned = body.matrices[index]
        places = self.pixels(corners(body.mesh) @ turned[:3, :3].T + turned[:3, 3])
        return Pane(*places[:, :2].min(axis=0), *places[:, :2].max(axis=0))


def _box(renderer: Any, actor: Any, at: tuple[float, float], shift: tuple[int, int]) -> Pane:
    """Where a label would stand by itself: its letters' box about its place."""
    box = [0.0] * 4
    actor.GetBoundingBox(renderer, box)
    x, y = at[0] + shift[0], at[1] + shift[1]
    return Pane(x + box[0], y + box[2], x + box[1] + 1, y + box[3] + 1)


def _nearest(box: Pane, point: tuple[float, float]) -> tuple[float, float]:
    return min(max(point[0], box.left), box.right), min(max(point[1], box.low), box.high)


def _segments() -> Any:
    from vtkmodules.vtkRenderingCore import vtkActor2D, vtkPolyDataMapper2D

    actor = vtkActor2D()
    actor.SetMapper(vtkPolyDataMapper2D())
    actor.GetProperty().SetLineWidth(1.5)
    return actor


def _draw(actor: Any, lines: Sequence[Any], colours: Sequence[str]) -> None:
    import pyvista as pv

    actor.SetVisibility(bool(lines))
    if not lines:
        return
    points = np.zeros((2 * len(lines), 3))
    points[:, :2] = np.reshape(lines, (-1, 2))
    ends = np.arange(2 * len(lines)).reshape(-1, 2)
    shape = pv.PolyData(points, lines=np.column_stack([np.full(len(lines), 2), ends]).ravel())
    inks = [[round(255 * part) for part in unit_rgb(colour)] for colour in colours]
    shape.cell_data["colour"] = np.array(inks, dtype=np.uint8)
    shape.set_active_scalars("colour", "cell")
    actor.GetMapper().SetInputData(shape)
