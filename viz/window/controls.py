"""The window's controls: which there are, what each does, and how each stands."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from typing import TYPE_CHECKING

from kinematics.figures.kart import HANDWHEEL
from viz.canvas.pane import Cell
from viz.window.bushes import CORNERS
from viz.window.keys import VIEWS, bind, calls_of
from viz.window.layout import ControlColumn, Row
from viz.window.lettering import wide
from viz.window.mouse import Mouse
from viz.window.panel import Item, value_at
from viz.words import numbers

if TYPE_CHECKING:
    from viz.window.window import Viewer

LARGEST_SIZE_DEG = 6.0
SLIDERS = (
    ("top_size", "top bush size", LARGEST_SIZE_DEG),
    ("top_clock", "top bush clock", 360.0),
    ("bottom_size", "bottom bush size", LARGEST_SIZE_DEG),
    ("bottom_clock", "bottom bush clock", 360.0),
)
SIGN = 1.9
"""Width of a button with one sign, in sizes of letters."""
FOOT = (Cell("play", fixed=4.2), Cell("-1", fixed=SIGN), Cell("lock"), Cell("+1", fixed=SIGN))
SAID = Cell("handwheel", fixed=13.5)
SWITCHES = (
    ("keep", "keep as B"),
    ("second", "show B"),
    ("swap", "swap A, B"),
    ("front_only", "front end"),
    ("ghost", "see-through"),
    ("words", "words"),
)
LAST = (("theme", "dark"), ("help", "keys, marks"))


def called(view: str, place: int) -> str:
    """What the button of a view says: the key that does the same, and its name."""
    return f"{(place + 1) % 10} {view.replace('_', ' ')}" if place < 10 else view.replace("_", " ")


def views_of(viewer: Viewer) -> tuple[str, ...]:
    """The views in the order of their buttons."""
    return (*VIEWS, *(view for view in viewer.scene.views if view not in VIEWS))


def column_of(views: Sequence[str], settings: bool, cases: bool) -> ControlColumn:
    """The column of controls for what there is to choose from."""
    stepped = [*(("A", "B") if settings else ()), *(("case", "drawn") if cases else ())]
    rows: list[Row] = [(Cell(f"{k}-", fixed=SIGN), Cell(k), Cell(f"{k}+", fixed=SIGN)) for k in stepped]
    rows += _threes([f"view {view}" for view in views])
    rows += _threes([key for key, _ in SWITCHES])
    rows += [tuple(Cell(key) for key, _ in LAST)]
    rows += [tuple(Cell(f"corners {which}") for which in CORNERS)]
    rows += [(Cell(key),) for key, _, _ in SLIDERS]
    labels = [*(called(view, i) for i, view in enumerate(views)), *(label for _, label in SWITCHES)]
    widest = max(labels, key=lambda label: wide(label, 13))
    return ControlColumn(rows, [key for key, _, _ in SLIDERS], widest, (*FOOT[:2], SAID, *FOOT[2:]))


def _threes(keys: Sequence[str]) -> list[Row]:
    return [tuple(Cell(key) for key in keys[i : i + 3]) for i in range(0, len(keys), 3)]


class Controls:
    """The items of a viewer's panel, and what they call."""

    def __init__(self, viewer: Viewer) -> None:
        self.viewer, self.panel = viewer, viewer.stage.panel
        self.calls: dict[str, Callable[[], object]] = {}
        for key, label, call in self._buttons():
            self.panel.put(key, Item("button", label))
            self.calls[key] = call
        for key in ("A", "B", "case", "drawn", "handwheel", "chart title"):
            self.panel.put(key, Item("words"))
        for key, _, most in SLIDERS:
            self.panel.put(key, Item("slider", key, span=(0.0, most)))
        angles = viewer.stage.handle.data.handwheel_deg
        self.panel.put("lock", Item("slider", span=(float(angles[0]), float(angles[-1]))))
        Mouse(viewer.stage, self.press)
        bind(viewer.plotter, calls_of(viewer))

    def _buttons(self) -> list[tuple[str, str, Callable[[], object]]]:
        v = self.viewer
        made: list[tuple[str, str, Callable[[], object]]] = [
            (f"view {view}", called(view, i), partial(v.look, view)) for i, view in enumerate(views_of(v))
        ]
        made += [(f"corners {one}", one, partial(v.fitting.set_corners, one)) for one in CORNERS]
        for sign, by in (("-", -1), ("+", 1)):
            made += [
                (f"{slot}{sign}", "<>"[by > 0], partial(v.next_setting, slot, by)) for slot in ("A", "B")
            ]
            made += [
                (f"case{sign}", "<>"[by > 0], partial(v.next_case, by)),
                (f"drawn{sign}", sign, partial(v.exaggerate, by)),
                (f"{sign}1", "<>"[by > 0], partial(v.step, by)),
            ]
        does = {"keep": v.keep, "second": v.toggle_second, "swap": v.swap, "front_only": v.toggle_front}
        does |= {"ghost": v.toggle_ghost, "words": v.toggle_words, "theme": v.toggle_theme}
        does |= {"help": v.toggle_help}
        made += [(key, label, does[key]) for key, label in (*SWITCHES, *LAST)]
        return [*made, ("play", "play", v.play)]

    def press(self, key: str, x: float) -> None:
        """Do what a button does, or put a slider where the mouse is (pixels from the window's left)."""
        item = self.panel.items[key]
        if item.kind == "button":
            self.calls[key]()
            return
        value = value_at(item, self.panel.boxes[key], x)
        if key == "lock":
            self.viewer.set_handwheel(value)
        else:
            self.viewer.fitting.set_bush(key, round(value, 1) if "size" in key else round(value))

    def show(self) -> None:
        """Say of everything how it stands."""
        v, panel = self.viewer, self.panel
        self.show_lock()
        for key, title, _ in SLIDERS:
            text = f"{title} {numbers.number(v.fitting.bushes[key], 1)}°"
            panel.change(key, text=text, value=v.fitting.bushes[key], marked=key == v.fitting.marked)
        second = v.state.second
        panel.change("A", text=f"A: {v.state.first.title}")
        panel.change("B", text=f"B: {second.title if second else 'none'}")
        panel.change("case", text=f"case: {v.state.case_name or 'held still'}")
        panel.change("drawn", text=f"drawn x{v.state.exaggeration:g}" if v.state.whole else "to scale")
        panel.change("chart title", text=v.chart.title)
        for key, on in self._standing().items():
            panel.change(key, on=on)

    def show_lock(self) -> None:
        """Say where the lock stands."""
        degrees = self.viewer.lock_deg
        self.panel.change("lock", value=degrees)
        self.panel.change("handwheel", text=f"handwheel {numbers.told(HANDWHEEL, degrees)} (+ left)")

    def _standing(self) -> dict[str, bool]:
        """Which buttons are down."""
        v = self.viewer
        down = {f"view {view}": view == v.view for view in views_of(v)}
        down |= {f"corners {one}": one == v.fitting.corners for one in CORNERS}
        down |= {"play": v.playing, "second": v.state.second is not None, "ghost": v.ghosted}
        down |= {"front_only": not v.state.whole, "words": v.worded, "theme": v.dark}
        return down | {"help": bool(v.stage.help)}
