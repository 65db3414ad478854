"""Buttons, sliders and words as they are drawn, each in a box of pixels of its own."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any, Literal

import numpy as np

from viz.canvas.pane import Pane
from viz.canvas.text import text_over, unit_rgb
from viz.look.palette import Theme, rgb
from viz.window.lettering import fitted

Kind = Literal["button", "slider", "words"]
KNOB, TUBE = 9, 4
"""Pixels of a slider's knob across and of its track up."""
PAD = 4
SINK = 0.09
"""How far below the middle of its box a text is put, in letters, so that it looks to be in the middle."""


@dataclass(frozen=True)
class Item:
    """A button, a slider or words: what it says, and how it stands."""

    kind: Kind
    text: str = ""
    on: bool = False
    value: float = 0.0
    span: tuple[float, float] = (0.0, 1.0)
    marked: bool = False
    """Whether keys turn this slider."""
    left: bool = False
    """Whether its text begins at the left; else it stands in the middle."""
    top: bool = False
    """Whether its text begins at the top; else it stands in the middle."""
    larger: int = 0
    """By how many pixels its letters are larger than the panel's."""
    urgent: bool = False


def track(item: Item, box: Pane) -> Pane:
    """Where the knob of a slider may be: under its text, or the whole box where it has none."""
    high = box.low + 0.4 * box.height if item.text else box.high
    return Pane(box.left + KNOB, box.low, box.right - KNOB, high)


def knob(item: Item, box: Pane) -> Pane:
    """The knob of a slider, where its value is."""
    along, (low, high) = track(item, box), item.span
    share = (item.value - low) / (high - low) if high > low else 0.5
    x = along.left + min(max(share, 0.0), 1.0) * along.width
    return Pane(x - 0.5 * KNOB, along.low, x + 0.5 * KNOB, along.high)


def value_at(item: Item, box: Pane, x: float) -> float:
    """The value of a slider for a place of the mouse."""
    along, (low, high) = track(item, box), item.span
    share = (x - along.left) / along.width if along.width > 0.0 else 0.5
    return low + min(max(share, 0.0), 1.0) * (high - low)


class ControlPanel:
    """Items on a renderer that covers the whole window; what is not in a layout's boxes is not shown."""

    def __init__(self, renderer: Any, theme: Theme) -> None:
        self.renderer, self.theme = renderer, theme
        self.items: dict[str, Item] = {}
        self.boxes: dict[str, Pane] = {}
        self.letters = 13
        self._texts: dict[str, Any] = {}
        self._fill, self._edge = _painted(), _painted()
        for actor in (self._fill, self._edge):
            renderer.AddViewProp(actor)
        self._stale = True

    def put(self, key: str, item: Item) -> None:
        """Show an item, or show it as it now stands."""
        if self.items.get(key) != item:
            self.items[key], self._stale = item, True
            if key not in self._texts:
                self._texts[key] = text_over(self.theme, "", self.letters)
                self.renderer.AddViewProp(self._texts[key])
            self._write(key)

    def change(self, key: str, **changes: Any) -> None:
        """Change what an item says or how it stands."""
        self.put(key, replace(self.items[key], **changes))

    def arrange(self, boxes: Mapping[str, Pane], letters: int) -> None:
        """Stand everything in its box."""
        self.boxes, self.letters, self._stale = dict(boxes), letters, True
        for key in self.items:
            self._write(key)

    def set_theme(self, theme: Theme) -> None:
        """Give everything the theme's colours."""
        self.theme, self._stale = theme, True
        self.renderer.SetBackground(*unit_rgb(theme.paper))
        for key in self.items:
            self._write(key)

    def at(self, x: float, y: float) -> str:
        """The button or slider at a pixel, '' where there is none."""
        held = (k for k, b in self.boxes.items() if k in self.items and b.holds(x, y))
        return next((key for key in held if self.items[key].kind != "words"), "")

    def shown(self) -> list[str]:
        """The keys of all that has a box."""
        return [k for k in self.items if k in self.boxes and self.boxes[k].height > 0.0]

    def measured(self) -> dict[str, Pane]:
        """Where the texts are drawn, by key, as the renderer measures them."""
        found = {}
        for key in self.shown():
            if self.items[key].text:
                box = [0.0] * 4
                self._texts[key].GetBoundingBox(self.renderer, box)
                x, y = self._texts[key].GetPosition()
                found[key] = Pane(x + box[0], y + box[2], x + box[1] + 1, y + box[3] + 1)
        return found

    def refresh(self) -> None:
        """Draw grounds and edges anew where something has changed."""
        if not self._stale:
            return
        self._stale = False
        fills: Painted = []
        edges: Painted = []
        for key in self.shown():
            _draw(self.items[key], self.boxes[key], self.theme, fills, edges)
        _paint(self._fill, fills, True)
        _paint(self._edge, edges, False)

    def _write(self, key: str) -> None:
        item, actor, box = self.items[key], self._texts[key], self.boxes.get(key)
        actor.SetVisibility(bool(box is not None and box.height > 0.0 and item.text))
        if box is None:
            return
        place = Pane(box.left, track(item, box).high, box.right, box.high) if item.kind == "slider" else box
        letters = self.letters + item.larger
        room = place.width - (2 * PAD if item.kind == "button" or item.left else 0)
        actor.SetInput("\n".join(fitted(line, letters, room) for line in item.text.split("\n")))
        _dress(actor.GetTextProperty(), item, letters, _ink(item, self.theme))
        x, y = place.middle
        y = place.high - PAD if item.top else y - SINK * letters
        actor.SetPosition(round(place.left + PAD if item.left else x), round(y))


def _dress(prop: Any, item: Item, letters: int, ink: str) -> None:
    prop.SetFontSize(letters)
    prop.SetBackgroundOpacity(0.0)
    prop.SetColor(*unit_rgb(ink))
    prop.SetLineSpacing(1.1)
    (prop.SetVerticalJustificationToTop if item.top else prop.SetVerticalJustificationToCentered)()
    (prop.SetJustificationToLeft if item.left else prop.SetJustificationToCentered)()


def _ink(item: Item, theme: Theme) -> str:
    if item.urgent:
        return theme.warn
    return theme.on_strong if item.kind == "button" and item.on else theme.ink


Painted = list[tuple[Pane, str]]


def _draw(item: Item, box: Pane, theme: Theme, fills: Painted, edges: Painted) -> None:
    if item.kind == "button":
        fills.append((box, theme.strong if item.on else theme.plate))
        edges.append((box, theme.rule))
    elif item.kind == "slider":
        along = track(item, box)
        _, y = along.middle
        tube = Pane(box.left, y - 0.5 * TUBE, box.right, y + 0.5 * TUBE)
        fills += [(tube, theme.rule), (knob(item, box), theme.strong)]
        if item.marked:
            edges.append((box, theme.strong))
    elif item.urgent:
        fills.append((box, theme.warn_plate))


def _painted() -> Any:
    from vtkmodules.vtkRenderingCore import vtkActor2D, vtkPolyDataMapper2D

    actor = vtkActor2D()
    actor.SetMapper(vtkPolyDataMapper2D())
    return actor


def _paint(actor: Any, boxes: Painted, filled: bool) -> None:
    import pyvista as pv

    count = len(boxes)
    actor.SetVisibility(count > 0)
    if not count:
        return
    ends = np.array([(b.left, b.low, b.right, b.high) for b, _ in boxes])
    points = np.zeros((count, 4, 3))
    points[..., 0], points[..., 1] = ends[:, [0, 2, 2, 0]], ends[:, [1, 1, 3, 3]]
    corners = np.arange(4 * count).reshape(count, 4)
    loop = corners if filled else corners[:, [0, 1, 2, 3, 0]]
    cells = np.column_stack([np.full(count, loop.shape[1]), loop]).ravel()
    shape = pv.PolyData(points.reshape(-1, 3), **{"faces" if filled else "lines": cells})
    shape.cell_data["colour"] = np.array([rgb(colour) for _, colour in boxes], dtype=np.uint8)
    shape.set_active_scalars("colour", "cell")
    actor.GetMapper().SetInputData(shape)
