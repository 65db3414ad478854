"""What the mouse does: it presses buttons, drags sliders, and turns the picture in its own box."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from viz.window.stage import Stage

OTHERS = (
    "MiddleButtonPressEvent",
    "RightButtonPressEvent",
    "MouseWheelForwardEvent",
    "MouseWheelBackwardEvent",
)
"""What is for the picture alone."""
FIRST = 10.0
"""Priority of an observer that is asked before VTK's own."""


class Mouse:
    """Calls back with the button pressed or the slider dragged, and the x of the mouse in pixels."""

    def __init__(self, stage: Stage, pressed: Callable[[str, float], None]) -> None:
        self.stage, self.pressed, self._held = stage, pressed, ""
        self._interactor = stage.plotter.iren.interactor
        self._tags: dict[str, int] = {}
        self._watch("LeftButtonPressEvent", self._down)
        self._watch("MouseMoveEvent", self._moved)
        self._watch("LeftButtonReleaseEvent", self._up)
        for name in OTHERS:
            self._watch(name, self._outside)

    def _watch(self, name: str, call: Callable[[float, float], bool]) -> None:
        """Ask call with the place of the mouse whether an event is to be kept from VTK."""

        def judge(caller: Any, _: str) -> None:
            if call(*caller.GetEventPosition()):
                caller.GetCommand(self._tags[name]).AbortFlagOn()

        self._tags[name] = self._interactor.AddObserver(name, judge, FIRST)

    def _outside(self, x: float, y: float) -> bool:
        return not self.stage.layout.boxes["scene"].holds(x, y)

    def _down(self, x: float, y: float) -> bool:
        self._held = self.stage.panel.at(x, y)
        if self._held:
            self.pressed(self._held, x)
        return self._outside(x, y)

    def _moved(self, x: float, _: float) -> bool:
        if self._held and self.stage.panel.items[self._held].kind == "slider":
            self.pressed(self._held, x)
        return bool(self._held)

    def _up(self, *_: float) -> bool:
        self._held = ""
        return False
