"""A window on the scene: lock slider, play, bush sizes and clocks of a linked pair, views, keys.

Everything the mouse or a key does is a method of Viewer, so that a test can do it without a screen.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np

from kinematics.bush import bush_offset, rated_size
from kinematics.parts import Corner, CornerSetting, Setting
from kinematics.sweep import Sweep
from viz import gl, scene, scene_draw
from viz.scene_inset import add_insets
from viz.scene_theme import DARK, LIGHT, Theme
from viz.window_controls import add_controls

Resweep = Callable[[Setting], Sweep]
BUSHES = ("top_size", "top_clock", "bottom_size", "bottom_clock")
TICK_MS = 50
GHOST = 0.25


class Viewer:
    """The scene with its controls on one plotter; resweep solves a new setting at the same lock positions."""

    def __init__(
        self,
        sweep: Sweep,
        resweep: Resweep,
        name: str = "",
        theme: Theme = LIGHT,
        size: tuple[int, int] = (1280, 720),
        off_screen: bool = False,
    ) -> None:
        import pyvista as pv

        self.resweep, self.name, self.view = resweep, name, "overview"
        self.sweep = sweep
        self.message = ""
        self.playing, self.ghosted, self.worded = False, False, True
        self._step = 1
        self.bushes = linked_bushes(sweep)
        self.plotter = pv.Plotter(off_screen=off_screen, window_size=list(size), title="lockarc")
        self.plotter.render_window.SetMultiSamples(0)
        self.handle = scene.add_to(self.plotter, scene.build(sweep, name), theme)
        self.insets = add_insets(self.handle)
        self.controls = add_controls(self)

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
        self.controls.show_lock(float(self.handle.data.handwheel_deg[index]))
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
            data = scene.build(sweep, self._title(wanted))
        except ValueError as error:
            self._tell(str(error))
            return
        self.bushes, self.sweep = wanted, sweep
        self.handle.set_data(data)
        self._tell("")

    def _title(self, bushes: dict[str, float]) -> str:
        top, bottom = (
            f"{bushes[f'{b}_size']:.1f}° at {bushes[f'{b}_clock']:.0f}°" for b in ("top", "bottom")
        )
        return f"both corners: top {top}, bottom {bottom}"

    def _tell(self, message: str) -> None:
        self.message = message
        self.controls.show_message(message)
        self.controls.show_bushes(self.bushes)
        self.controls.show_lock(float(self.handle.data.handwheel_deg[self.index]))
        self.plotter.render()

    def look(self, view: str) -> None:
        """Go to a named view."""
        self.view = view
        scene_draw.look(self.plotter, self.handle.data.cameras[view])
        self.plotter.render()

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


def show(sweep: Sweep, resweep: Resweep, name: str = "", theme: Theme = LIGHT) -> None:
    """Open the window on a sweep and stay until it is closed. Raises gl.NoDisplay or gl.NoGraphics."""
    gl.require(window=True)
    Viewer(sweep, resweep, name, theme).show()


def linked_bushes(sweep: Sweep) -> dict[str, float]:
    """Rated sizes and clocks in degrees, by BUSHES, of the left corner, with which the sliders start."""
    fit, span = sweep.left.setting, sweep.kart.left.yoke.span
    sizes = [float(np.degrees(rated_size(o, span))) for o in (fit.top_offset, fit.bottom_offset)]
    clocks = [float(np.degrees(c)) % 360.0 for c in (fit.top_clock, fit.bottom_clock)]
    return dict(zip(BUSHES, (sizes[0], clocks[0], sizes[1], clocks[1]), strict=True))


def fitted(sweep: Sweep, bushes: dict[str, float]) -> Setting:
    """The sweep's setting with these bushes (degrees, by BUSHES) on both corners; all else stays fitted."""

    def corner(part: Corner, fit: CornerSetting) -> CornerSetting:
        angles = {key: np.radians(bushes[key]) for key in BUSHES}
        return replace(
            fit,
            top_offset=float(bush_offset(angles["top_size"], part.yoke.span)),
            top_clock=float(angles["top_clock"]),
            bottom_offset=float(bush_offset(angles["bottom_size"], part.yoke.span)),
            bottom_clock=float(angles["bottom_clock"]),
        )

    kart, setting = sweep.kart, sweep.setting
    return replace(setting, left=corner(kart.left, setting.left), right=corner(kart.right, setting.right))
