"""A window on the scene: lock, play, bushes, load case, a second setting, views, keys.

Everything the mouse or a key does is a method of Viewer, so that a test can do it without a screen.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np

from kinematics.lock import Sweep
from kinematics.parts import Setting
from viz.canvas import gl
from viz.look.palette import DARK, LIGHT, Theme
from viz.window import keys
from viz.window.bushes import Fitting
from viz.window.chart import Curve, LoadChart
from viz.window.controls import Controls, column_of, views_of
from viz.window.stage import Stage
from viz.window.state import PLAIN, OnScreen, Options, WindowState

Resweep = Callable[[Setting], Sweep]
GHOST = 0.25


class Viewer:
    """The scene with its controls on one plotter; resweep solves a new setting at the same lock positions.

    With load cases the kart is shown whole, standing in one of them; state says what else is chosen.
    """

    def __init__(
        self,
        sweep: Sweep,
        resweep: Resweep,
        name: str = "",
        theme: Theme = LIGHT,
        size: tuple[int, int] = (1280, 720),
        off_screen: bool = False,
        options: Options = PLAIN,
    ) -> None:
        self.resweep, self.settings = resweep, options.settings
        self.state = options.state(OnScreen(sweep, name))
        self.playing, self.ghosted, self.worded = False, False, True
        self._step, self._kept = 1, self.state.second
        self.fitting = Fitting(self)
        self.scene = self.state.data()
        column = column_of(views_of(self), bool(self.settings), bool(self.state.cases))
        self.stage = Stage(self.scene.seen_from(self.view), theme, size, off_screen, column)
        self.plotter, self.handle, self.insets = self.stage.plotter, self.stage.handle, self.stage.insets
        self.chart = LoadChart(self.stage.chart_renderer, theme)
        self.controls = Controls(self)
        self.stage.set_theme(theme)
        self.handle.set_position(self.handle.data.nearest(options.at_deg))
        self._draw()

    @property
    def view(self) -> str:
        """The name of the view."""
        return self.state.view

    @property
    def message(self) -> str:
        """What is said of something that could not be done."""
        return self.stage.message

    @property
    def dark(self) -> bool:
        """Whether the ground is dark."""
        return self.stage.theme is DARK

    @property
    def sweep(self) -> Sweep:
        """The sweep of the setting shown."""
        return self.state.first.sweep

    @property
    def lock_deg(self) -> float:
        """The handwheel angle shown, degrees, + left."""
        return float(self.handle.data.handwheel_deg[self.index])

    @property
    def index(self) -> int:
        """The lock position shown."""
        return self.handle.index

    def set_handwheel(self, degrees: float) -> None:
        """Go to the lock position nearest to a handwheel angle in degrees, + left."""
        self._go(self.handle.data.nearest(degrees))

    def step(self, by: int) -> None:
        """Go on by so many lock positions, as far as the sweep reaches."""
        self._go(int(np.clip(self.index + by, 0, self.handle.data.count - 1)))

    def _go(self, index: int) -> None:
        self.stage.go(index)
        self.controls.show_lock()
        self.chart.move(self.lock_deg)
        self.stage.render()

    def play(self) -> None:
        """Start or stop running through the lock."""
        self.playing = not self.playing
        self.say()

    def tick(self) -> None:
        """One step of the play, back at either end; does nothing when it is stopped."""
        if not self.playing or self.handle.data.count < 2:
            return
        if not 0 <= self.index + self._step < self.handle.data.count:
            self._step = -self._step
        self._go(self.index + self._step)

    def fit(self, setting: Setting, title: str) -> None:
        """Fit another setting in A; where the linkage cannot be assembled that is told, the old one stays."""
        try:
            sweep = self.resweep(setting)
        except ValueError as error:
            self.say(str(error))
            return
        if self._change(replace(self.state, first=OnScreen(sweep, title))):
            self.fitting.read()

    def _change(self, state: WindowState) -> bool:
        """Show another state; one that cannot be drawn is told on screen and the old scene stays."""
        try:
            data, curves = state.data(), state.curves()
        except ValueError as error:
            self.say(str(error))
            return False
        self.state, self.scene = state, data
        self._draw(curves)
        return True

    def _draw(self, curves: dict[str, Curve] | None = None) -> None:
        """The scene as the view shows it, with its chart and its words."""
        curves = self.state.curves() if curves is None else curves
        self.stage.close_ups, self.stage.charted = self.view == "overview", bool(curves)
        self.handle.set_data(self.scene.seen_from(self.view))
        self.handle.ghost(GHOST if self.ghosted else 1.0)
        self.stage.view = self.view
        self.stage.arrange()
        self.chart.set_curves(curves, self.lock_deg)
        self.say()

    def say(self, message: str = "") -> None:
        """Show how everything stands, and a message in the caption's place until something else is done."""
        self.stage.tell(message)
        self.controls.show()
        self.stage.render()

    def next_case(self, by: int = 1) -> None:
        """Go to the next load case, or back to the one before."""
        self._change(self.state.next_case(by))

    def exaggerate(self, by: int) -> None:
        """Draw twist and the air under a wheel larger (1) or smaller (-1)."""
        self._change(self.state.exaggerated(by))

    def toggle_front(self) -> None:
        """Show the front end alone with the frame held still, or the whole kart again."""
        if self.state.cases:
            self._change(self.state.in_whole(not self.state.whole))

    def next_setting(self, slot: str, by: int) -> None:
        """Put the scenario's next setting, or the one before, in A or B; after the last one B has none."""
        names = list(self.settings)
        shown = self.state.first if slot == "A" else self.state.second
        order = [*names, *([""] if slot == "B" else [])]
        title = shown.title if shown else ""
        at = order.index(title) + by if title in order else 0
        name = order[at % len(order)] if order else ""
        if slot == "A" and name:
            self.fit(self.settings[name], name)
        elif slot == "B":
            self._put_second(OnScreen(self.resweep(self.settings[name]), name) if name else None)

    def _put_second(self, second: OnScreen | None) -> None:
        if self._change(replace(self.state, second=second)):
            self._kept = second

    def keep(self) -> None:
        """Keep the setting shown as B, to set others against it."""
        self._put_second(self.state.first)

    def swap(self) -> None:
        """Put A in B's place and B in A's."""
        second = self.state.second
        if second is None:
            self.say("there is no B to swap with: keep A as B, or choose one")
        elif self._change(replace(self.state, first=second, second=self.state.first)):
            self._kept = self.state.second
            self.fitting.read()

    def toggle_second(self) -> None:
        """Hide B, or show it again."""
        self._change(replace(self.state, second=None if self.state.second else self._kept))

    def look(self, view: str) -> None:
        """Go to a named view, where the scene has it."""
        state = self.state.seen_from(view)
        if state.whole != self.state.whole or view not in self.scene.views:
            self._change(state)
            return
        self.state = state
        self._draw()

    def toggle_ghost(self) -> None:
        """Make the wheels see-through, or solid again."""
        self.ghosted = not self.ghosted
        self.handle.ghost(GHOST if self.ghosted else 1.0)
        self.say()

    def toggle_words(self) -> None:
        """Hide labels, caption and legend, or show them again."""
        self.worded = not self.worded
        self.handle.set_words(self.worded)
        self.stage.arrange()
        self.say()

    def toggle_theme(self) -> None:
        """Change between light and dark."""
        self.stage.set_theme(LIGHT if self.dark else DARK)
        self.chart.set_theme(self.stage.theme)
        self._draw()

    def toggle_help(self) -> None:
        """Say which keys there are and what the marks mean in the picture's place, or show that again."""
        self.stage.help = "" if self.stage.help else f"{keys.told(keys.KEYS)}\n\n{self.handle.data.legend}"
        self.stage.arrange()
        self.say()

    def show(self) -> None:
        """Open the window and stay until it is closed."""
        self.stage.run(self.tick)

    def close(self) -> None:
        """Close the plotter; the viewer is of no use afterwards."""
        self.plotter.close()


def show(
    sweep: Sweep, resweep: Resweep, name: str = "", theme: Theme = LIGHT, options: Options = PLAIN
) -> None:
    """Open the window on a sweep and stay until it is closed. Raises gl.NoDisplay or gl.NoGraphics."""
    gl.require(window=True)
    Viewer(sweep, resweep, name, theme, options=options).show()
