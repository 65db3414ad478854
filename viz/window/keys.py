"""The window's keys, and what is said of them when somebody asks."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import partial
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from viz.window.window import Viewer

VIEWS = (
    "overview",
    "front",
    "side",
    "top",
    "kingpin",
    "contact",
    "rear",
    "rock",
    "rock_right",
    "clock",
    "floor",
    "bushes",
    "bushes_left",
    "bushes_right",
)
"""The views in the order of their buttons; the first ten have a key, 1 to 9 and 0."""
KEYS = (
    ("space", "play, pause"),
    ("left, right", "one lock step"),
    ("1 to 9, 0", "views"),
    ("c", "next load case"),
    ("minus, plus", "draw leaning and air smaller, larger"),
    ("a, n", "next setting in A, in B"),
    ("b", "keep A as B"),
    ("v", "show B, or hide it"),
    ("x", "swap A and B"),
    ("tab", "next bush slider"),
    ("up, down", "turn that slider"),
    ("s", "bushes on both corners, left, right"),
    ("f", "front end alone, whole kart"),
    ("g", "see-through wheels"),
    ("h", "words, or none"),
    ("t", "light, dark"),
    ("k", "keys and marks, or none"),
    ("q", "close"),
)
CLOSING = ("q", "e")
"""Keys that VTK itself answers by closing."""


def told(keys: Sequence[tuple[str, str]]) -> str:
    """Keys and what they do, one a line."""
    return "\n".join(f"{key}: {does}" for key, does in keys)


def bind(plotter: Any, calls: Mapping[str, Callable[[], object]]) -> None:
    """Have every key do what it is there for, by VTK's symbols, and q close; VTK's own are still."""
    plotter.iren.clear_key_event_callbacks()
    still_vtk_keys(plotter.iren.interactor)
    for key, call in {"q": plotter._prep_for_close, **calls}.items():
        plotter.add_key_event(key, call)


def calls_of(viewer: Viewer) -> dict[str, Callable[[], object]]:
    """What the keys of the viewer call."""
    fitting, calls = viewer.fitting, dict[str, Callable[[], object]]()
    for place, view in enumerate(VIEWS[:10]):
        calls[str((place + 1) % 10)] = partial(viewer.look, view)
    for key, by in (("Left", -1), ("Right", 1)):
        calls[key] = partial(viewer.step, by)
    for key, by in (("plus", 1), ("equal", 1), ("minus", -1)):
        calls[key] = partial(viewer.exaggerate, by)
    for key, by in (("Up", 1), ("Down", -1)):
        calls[key] = partial(fitting.turn, by)
    for key, slot in (("a", "A"), ("n", "B")):
        calls[key] = partial(viewer.next_setting, slot, 1)
    calls |= {"space": viewer.play, "c": viewer.next_case, "f": viewer.toggle_front, "b": viewer.keep}
    calls |= {"v": viewer.toggle_second, "x": viewer.swap, "g": viewer.toggle_ghost, "Tab": fitting.mark}
    calls |= {"h": viewer.toggle_words, "t": viewer.toggle_theme, "k": viewer.toggle_help}
    return calls | {"s": fitting.next_corners}


def still_vtk_keys(interactor: Any) -> None:
    """Keep VTK's own keys (3 is red-green stereo, w wires, f a flight) from a window that has other uses."""

    def judge(caller: Any, _: str) -> None:
        if caller.GetKeyCode() not in CLOSING:
            caller.GetCommand(tag).AbortFlagOn()

    tag = interactor.AddObserver("CharEvent", judge, 10.0)
