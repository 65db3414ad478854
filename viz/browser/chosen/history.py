"""What a visitor has changed of A, of B and of the readings, so that it can be taken back and made again."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from viz.browser.chosen.choices import ChoiceError, Choices

MOST = 200
"""Changes remembered."""


@dataclass(frozen=True)
class Remembered:
    """One change, told in a few words, and the choices on its other side."""

    told: str
    choices: Choices


@dataclass(frozen=True)
class History:
    """The choices that hold, what led to them, and what was taken back, the nearest last."""

    now: Choices
    done: tuple[Remembered, ...] = ()
    undone: tuple[Remembered, ...] = ()

    def made(self, told: str, new: Choices) -> History:
        """After a change: what was taken back is gone. What changes neither A, B nor readings is no step."""
        if _steps(new) == _steps(self.now):
            return replace(self, now=new)
        return History(new, (*self.done, Remembered(told, self.now))[-MOST:])

    def undo(self) -> History:
        """A, B and the readings as they were before the last change; ChoiceError where there is none."""
        if not self.done:
            raise ChoiceError("there is nothing to undo")
        last = self.done[-1]
        back = Remembered(last.told, self.now)
        return History(self._as_in(last), self.done[:-1], (*self.undone, back))

    def redo(self) -> History:
        """A, B and the readings as they were before the last undo; ChoiceError where there was none."""
        if not self.undone:
            raise ChoiceError("there is nothing to redo")
        last = self.undone[-1]
        back = Remembered(last.told, self.now)
        return History(self._as_in(last), (*self.done, back), self.undone[:-1])

    def _as_in(self, step: Remembered) -> Choices:
        return replace(self.now, a=step.choices.a, b=step.choices.b, readings=step.choices.readings)

    def told(self) -> Mapping[str, Any]:
        """What can be undone and redone, in words; None where nothing can."""
        last = {"undo": self.done[-1:], "redo": self.undone[-1:]}
        return {way: steps[0].told if steps else None for way, steps in last.items()}


def _steps(one: Choices) -> tuple[object, ...]:
    return one.a, one.b, one.readings


WAYS = {"undo": History.undo, "redo": History.redo}
"""What the page may ask of a history."""
