"""A window on the scene: lock, play, bushes of a linked pair, load case, a second setting, views, keys.

Everything the mouse or a key does is a method of Viewer, so that a test can do it without a screen.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from kinematics.lock import Sweep
from kinematics.parts import LoadCase, Setting
from viz.canvas import draw as scene_draw
from viz.canvas import gl
from viz.canvas.inset import add_insets
from viz.look.palette import DARK, LIGHT, Theme
from viz.scene.data import Camera
from viz.window.bushes import fitted, linked_bushes
from viz.window.chart import LoadChart
from viz.window.controls import add_controls
from viz.window.state import USUAL, OnScreen, WindowState
from viz.words.numbers import number

Resweep = Callable[[Setting], Sweep]
TICK_MS = 50
GHOST = 0.25
ROOM, ROOMY = 1.4, ("front", "side", "rear")
"""How much wider these views are in the window than in a picture."""


@dataclass(frozen=True)
class Options:
    """With what a window starts: load cases, the one shown, B, exaggeration, view, handwheel angle in deg."""

    cases: Sequence[LoadCase] = ()
    case: int = 0
    second: OnScreen | None = None
    exaggeration: float = USUAL
    front_only: bool = False
    view: str = "overview"
    at_deg: float = 0.0

    def state(self, first: OnScreen) -> WindowState:
        """The state to start from."""
        front_only = self.front_only or not self.cases
        plain = WindowState(first, self.second, self.cases, self.case, self.exaggeration, front_only)
        return plain.seen_from(self.view)


PLAIN = Options()


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
        import pyvista as pv

        self.resweep = resweep
        self.state = options.state(OnScreen(sweep, name))
        self.message = ""
        self.playing, self.ghosted, self.worded = False, False, True
        self._step, self._kept = 1, self.state.second
        self.bushes = linked_bushes(sweep)
        self.plotter = pv.Plotter(off_screen=off_screen, window_size=list(size), title="lockarc")
        self.plotter.render_window.SetMultiSamples(0)
        self.scene = self.state.data()
        self.handle = scene_draw.add_to(self.plotter, self.scene.seen_from(self.view), theme)
        self.insets = add_insets(self.handle)
        self.chart = LoadChart(self.plotter, theme)
        self.controls = add_controls(self)
        self._draw_chart()
        self.set_handwheel(options.at_deg)
        self.look(self.view)

    @property
    def view(self) -> str:
        """The name of the view."""
        return self.state.view

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
        self.handle.set_position(index)
        if self.handle.data.cameras[self.view].rides:
            scene_draw.look(self.plotter, self._camera())
        self.controls.show_lock(self.lock_deg)
        self.chart.move(self.lock_deg)
        self.plotter.render()

    def play(self) -> None:
        """Start or stop running through the lock."""
        self.playing = not self.playing
        self.controls.show_playing(self.playing)

    def tick(self) -> None:
        """One step of the play, back at either end; does nothing when it is stopped."""
        if not self.playing or self.handle.data.count < 2:
            return
        if not 0 <= self.index + self._step < self.handle.data.count:
            self._step = -self._step
        self._go(self.index + self._step)

    def set_bush(self, which: str, degrees: float) -> None:
        """Fit a bush on both corners: which is one of BUSHES, its rated size or its clock in degrees.

        A setting the linkage cannot be assembled with is told on screen and the old scene stays.
        """
        if abs(self.bushes[which] - degrees) < 1e-9:
            return
        wanted = {**self.bushes, which: degrees}
        try:
            sweep = self.resweep(fitted(self.sweep, wanted))
        except ValueError as error:
            self._tell(str(error))
            return
        if self._change(replace(self.state, first=OnScreen(sweep, self._title(wanted)))):
            self.bushes = wanted
            self._tell("")

    def _change(self, state: WindowState) -> bool:
        """Show another state; one that cannot be drawn is told on screen and the old scene stays."""
        try:
            data, curves = state.data(), state.curves()
        except ValueError as error:
            self._tell(str(error))
            return False
        self.state, self.scene = state, data
        self._draw_scene()
        self.chart.set_curves(curves, self.lock_deg)
        self._tell("")
        return True

    def _draw_scene(self) -> None:
        """The scene as the view shows it."""
        self.handle.set_data(self.scene.seen_from(self.view))
        self.handle.ghost(GHOST if self.ghosted else 1.0)

    def next_case(self) -> None:
        """Go to the next load case."""
        self._change(self.state.next_case())

    def exaggerate(self, by: int) -> None:
        """Draw twist and the air under a wheel larger (1) or smaller (-1)."""
        self._change(self.state.exaggerated(by))

    def toggle_front(self) -> None:
        """Show the front end alone with the frame held still, or the whole kart again."""
        if self.state.cases and self._change(self.state.in_whole(not self.state.whole)):
            self.look(self.view)

    def keep(self) -> None:
        """Keep the setting shown as B, to set others against it."""
        if self._change(replace(self.state, second=self.state.first)):
            self._kept = self.state.second

    def toggle_second(self) -> None:
        """Hide B, or show it again."""
        self._change(replace(self.state, second=None if self.state.second else self._kept))

    def _draw_chart(self) -> None:
        self.chart.set_curves(self.state.curves(), self.lock_deg)

    def _title(self, bushes: dict[str, float]) -> str:
        top, bottom = (
            f"{number(bushes[f'{b}_size'], 1)}° at {number(bushes[f'{b}_clock'], 0)}°"
            for b in ("top", "bottom")
        )
        return f"both corners: top {top}, bottom {bottom}"

    def _tell(self, message: str) -> None:
        self.message = message
        self.controls.show_message(message)
        self.controls.show_bushes(self.bushes)
        self.controls.show_lock(self.lock_deg)
        self.plotter.render()

    def look(self, view: str) -> None:
        """Go to a named view, where the scene has it."""
        state = self.state.seen_from(view)
        if state.whole == self.state.whole and view in self.scene.views:
            self.state = state
            if self.handle.data is not self.scene.seen_from(view):
                self._draw_scene()
        elif not self._change(state):
            return
        scene_draw.look(self.plotter, self._camera())
        for inset in self.insets:
            inset.renderer.SetDraw(view == "overview")
        self.plotter.render()

    def _camera(self) -> Camera:
        """The camera of the view, from further off where controls would stand before the kart."""
        camera = self.handle.data.camera(self.view, self.index)
        return replace(camera, parallel=ROOM * camera.parallel) if self.view in ROOMY else camera

    def toggle_ghost(self) -> None:
        """Make the wheels see-through, or solid again."""
        self.ghosted = not self.ghosted
        self.handle.ghost(GHOST if self.ghosted else 1.0)
        self.plotter.render()

    def toggle_words(self) -> None:
        """Hide labels, caption and legend, or show them again."""
        self.worded = not self.worded
        self.handle.set_words(self.worded)
        self.plotter.render()

    def toggle_theme(self) -> None:
        """Change between light and dark."""
        self.handle.set_theme(DARK if self.handle.theme is LIGHT else LIGHT)
        self.controls.set_theme(self.handle.theme)
        for inset in self.insets:
            inset.set_theme(self.handle.theme)
        self.chart.set_theme(self.handle.theme)
        self._draw_chart()
        self.plotter.render()

    def show(self) -> None:
        """Open the window and stay until it is closed."""
        interactor = self.plotter.iren
        interactor.initialize()
        interactor.add_observer("TimerEvent", lambda *_: self.tick())
        interactor.create_timer(TICK_MS, repeating=True)
        self.plotter.show()

    def close(self) -> None:
        """Close the plotter; the viewer is of no use afterwards."""
        self.plotter.close()


def show(
    sweep: Sweep, resweep: Resweep, name: str = "", theme: Theme = LIGHT, options: Options = PLAIN
) -> None:
    """Open the window on a sweep and stay until it is closed. Raises gl.NoDisplay or gl.NoGraphics."""
    gl.require(window=True)
    Viewer(sweep, resweep, name, theme, options=options).show()
