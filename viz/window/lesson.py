"""A lesson in the window: a step at a time, its lock turned in the picture, its words beside it as text."""

from __future__ import annotations

from collections.abc import Callable

from scenarios.lessons.lesson import Lesson
from viz.canvas import gl
from viz.canvas.pane import Cell
from viz.lesson.scenes import asked, caption, drawn
from viz.look.palette import DARK, LIGHT, Theme
from viz.scene.data import SceneData
from viz.window.keys import bind, told
from viz.window.layout import ControlColumn
from viz.window.mouse import Mouse
from viz.window.panel import Item, value_at
from viz.window.stage import TICK_MS, Stage

POSITIONS = 25
"""Lock positions on the way of a step."""
TURNING = 0.5
"""Share of a step's seconds for which it turns."""
KEYS = (
    ("right, page down", "next step"),
    ("left, page up", "one step back"),
    ("space", "turn the lock of this step, or stop it"),
    ("home", "the first step"),
    ("t", "light, dark"),
    ("k", "keys and marks, or none"),
    ("q", "close"),
)
BUTTONS = (("back", "< back"), ("on", "next >"), ("play", "turn"), ("theme", "dark"), ("help", "keys"))
FOOT = (
    *(Cell(key, fixed=4.4) for key, _ in BUTTONS[:3]),
    Cell("lock"),
    *(Cell(key, fixed=3.6) for key, _ in BUTTONS[3:]),
)
COLUMN = ControlColumn((), (), "", FOOT, rest="aside", share=0.34)


class LessonWindow:
    """A lesson on one plotter; said is called with the words of every step that is shown.

    Raises a Refusal for a step that cannot be drawn.
    """

    def __init__(
        self,
        lesson: Lesson,
        theme: Theme = LIGHT,
        size: tuple[int, int] = (1280, 720),
        off_screen: bool = False,
        said: Callable[[str], None] = lambda words: None,
    ) -> None:
        self.lesson, self.said = lesson, said
        self.place, self.playing, self._waited = 0, False, 0
        self._scenes = [_scene(lesson, place) for place in range(len(lesson.steps))]
        self.stage = Stage(self._scenes[0], theme, size, off_screen, COLUMN, insets=False)
        self.plotter, self.handle, self.panel = self.stage.plotter, self.stage.handle, self.stage.panel
        self.calls: dict[str, Callable[[], object]] = {"back": self.back, "on": self.on, "play": self.play}
        self.calls |= {"theme": self.toggle_theme, "help": self.toggle_help}
        for key, label in BUTTONS:
            self.panel.put(key, Item("button", label))
        self.panel.put("lock", Item("slider"))
        Mouse(self.stage, self.press)
        same = {"Right": self.on, "Next": self.on, "Left": self.back, "Prior": self.back, "Home": self.first}
        bind(self.plotter, {**same, "space": self.play, "t": self.toggle_theme, "k": self.toggle_help})
        self.stage.set_theme(theme)
        self.go(0)

    @property
    def count(self) -> int:
        """Steps, and where there is a question it and its answer."""
        return len(self.lesson.steps) + (2 if self.lesson.question else 0)

    @property
    def words(self) -> str:
        """What is said now."""
        steps = self.lesson.steps
        if self.place < len(steps):
            step = steps[self.place]
            return f"{self.place + 1} of {len(steps)}: {step.title}\n \n{caption(step)}"
        assert self.lesson.question is not None
        return asked(self.lesson.question)[self.place - len(steps)].replace("\n", "\n \n")

    def go(self, place: int) -> None:
        """Show a step, or what is asked behind the last one; as far as there is one."""
        self.place = min(max(place, 0), self.count - 1)
        at = self._step
        data = self._scenes[at]
        if data is not self.handle.data:
            self.handle.set_data(data)
        self.handle.set_position(0 if self.place == at else data.count - 1)
        self.stage.view, self.stage.aside = self.lesson.steps[at].view, self.words
        self.playing, self._waited = self.place == at and data.count > 1, 0
        self.stage.arrange()
        self._show()
        self.said(self.words)

    def on(self) -> None:
        """Go on by a step."""
        self.go(self.place + 1)

    def back(self) -> None:
        """Go back by a step."""
        self.go(self.place - 1)

    def first(self) -> None:
        """Go to the first step."""
        self.go(0)

    def play(self) -> None:
        """Turn the lock of this step, from its start when it is at its end, or stop it."""
        self.playing = not self.playing and self.handle.data.count > 1
        if self.playing and self.handle.index == self.handle.data.count - 1:
            self.stage.go(0)
        self._show()

    def tick(self) -> None:
        """Turn the lock on where it is time to, until the end of this step's way."""
        if not self.playing:
            return
        self._waited += TICK_MS
        if self._waited < 1000.0 * TURNING * self.lesson.steps[self._step].seconds / POSITIONS:
            return
        self._waited = 0
        self.stage.go(self.handle.index + 1)
        self.playing = self.handle.index + 1 < self.handle.data.count
        self._show()

    def press(self, key: str, x: float) -> None:
        """Do what a button does, or turn the lock to where the mouse is (pixels from the window's left)."""
        if key != "lock":
            self.calls[key]()
            return
        degrees = value_at(self.panel.items[key], self.panel.boxes[key], x)
        self.playing = False
        self.stage.go(self.handle.data.nearest(degrees))
        self._show()

    def toggle_theme(self) -> None:
        """Change between light and dark."""
        self.stage.set_theme(LIGHT if self.stage.theme is DARK else DARK)
        self._show()

    def toggle_help(self) -> None:
        """Say which keys there are in the picture's place, or show that again."""
        legend = self.handle.data.legend
        self.stage.help = "" if self.stage.help else f"{told(KEYS)}\n\n{legend}".strip()
        self.stage.arrange()
        self._show()

    def _show(self) -> None:
        angles = self.handle.data.handwheel_deg
        span = float(angles.min()), float(angles.max())
        self.panel.change("lock", span=span, value=float(angles[self.handle.index]))
        self.panel.change("play", on=self.playing)
        self.panel.change("theme", on=self.stage.theme is DARK)
        self.panel.change("help", on=bool(self.stage.help))
        self.stage.render()

    @property
    def _step(self) -> int:
        """The step whose picture is shown."""
        return min(self.place, len(self.lesson.steps) - 1)

    def show(self) -> None:
        """Open the window and stay until it is closed."""
        self.stage.run(self.tick)

    def close(self) -> None:
        """Close the plotter; the window is of no use afterwards."""
        self.plotter.close()


def _scene(lesson: Lesson, place: int) -> SceneData:
    first, last = lesson.steps[place].lock_deg
    return drawn(lesson, place, POSITIONS if first != last else 1)


def show(lesson: Lesson, theme: Theme, said: Callable[[str], None]) -> None:
    """Play a lesson in a window until it is closed. Raises gl.NoDisplay or gl.NoGraphics."""
    gl.require(window=True)
    LessonWindow(lesson, theme, said=said).show()
