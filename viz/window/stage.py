"""The window itself: the picture in a viewport of its own, controls beside it, laid out at every size."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from typing import Any

from viz.canvas import draw as scene_draw
from viz.canvas.inset import Inset, add_insets
from viz.canvas.labels import Labels
from viz.canvas.pane import Pane
from viz.canvas.text import unit_rgb
from viz.look.palette import Theme
from viz.scene.data import Camera, SceneData
from viz.window.layout import ControlColumn, WindowContent, laid_out
from viz.window.panel import ControlPanel, Item

WIDE = 16.0 / 9.0
"""Width of a picture in heights for which the views are made; a narrower one is seen from further off."""
NEARER = 0.85
"""A picture in a file has its words in it, this one beside it."""
TICK_MS = 50
SAID = ("caption", "stated", "legend")
SCENE = 2
"""Place of the picture's renderer: behind those of the panel and of the chart, which draw before it."""


class Stage:
    """A scene with its words and a panel of controls on one plotter."""

    def __init__(
        self,
        data: SceneData,
        theme: Theme,
        size: tuple[int, int],
        off_screen: bool,
        column: ControlColumn,
        insets: bool = True,
    ) -> None:
        import pyvista as pv

        self.plotter = pv.Plotter(
            shape=(1, 3), border=False, off_screen=off_screen, window_size=list(size), title="lockarc"
        )
        self.plotter.render_window.SetMultiSamples(0)
        self.plotter.subplot(0, SCENE)
        self.column, self.view = column, ""
        self.close_ups, self.charted = False, False
        self.message, self.help, self.aside = "", "", ""
        ground, self.chart_renderer, self.scene_renderer = self.plotter.renderers
        for renderer in (ground, self.chart_renderer):
            renderer.InteractiveOff()
        # What is see-through lies apart or has one colour, so plain blending will do.
        self.scene_renderer.SetUseOIT(False)
        ground.viewport = (0.0, 0.0, 1.0, 1.0)
        self.panel = ControlPanel(ground, theme)
        self.handle = scene_draw.add_to(self.plotter, data, theme, framed=False, quick=True)
        self.insets: list[Inset] = add_insets(self.handle) if insets else []
        self.labels = Labels(self.handle)
        self.layout = laid_out(size, WindowContent(), column)
        for key in SAID:
            self.panel.put(key, Item("words"))
        self.panel.put("told", Item("words", left=True))
        self.panel.put("aside", Item("words", left=True))
        self.plotter.render_window.AddObserver("StartEvent", lambda *_: self.prepare())

    @property
    def theme(self) -> Theme:
        """Its colours."""
        theme: Theme = self.handle.theme
        return theme

    def arrange(self) -> None:
        """Lay everything out for the window's present size and what is shown."""
        data, words = self.handle.data, self.handle.worded
        width, height = self.plotter.render_window.GetSize()
        captions = [self.message] if self.message else data.captions if words else ()
        content = WindowContent(captions, data.stated, data.legend if words else "", self.close_ups)
        self.layout = laid_out((width, height), content, self.column)
        self._stand()
        self.say()

    def tell(self, message: str = "") -> None:
        """Say what is to be said, and a message in the caption's place; an empty one takes it back."""
        if message != self.message:
            self.message = message
            self.arrange()
        self.say()

    def _stand(self) -> None:
        """Give every renderer and item the box that the layout has for it."""
        layout = self.layout
        boxes = dict(layout.boxes)
        scene = boxes["scene"]
        boxes["told"] = scene if self.help else Pane(0, 0, 0, 0)
        self.panel.arrange(boxes, layout.letters)
        self._show(self.scene_renderer, scene, not self.help)
        self._show(self.chart_renderer, boxes.get("chart"), self.charted)
        for inset in self.insets:
            self._show(inset.renderer, boxes.get(f"close_up_{inset.side}"), self.close_ups)
            inset.set_letters(layout.letters)
        self.labels.set_room(Pane(0, 0, scene.width, scene.height), layout.letters + 1)
        if self.view:
            self.look(self.view)

    def _show(self, renderer: Any, box: Pane | None, wanted: bool) -> None:
        there = wanted and box is not None and box.width > 1.0 and box.height > 1.0
        renderer.SetDraw(there)
        if there and box is not None:
            renderer.SetViewport(*box.viewport(self.layout.size))

    def say(self) -> None:
        """Write caption, message and the rest as they now are."""
        layout, data = self.layout, self.handle.data
        said = self.message or (data.captions[self.handle.index] if self.handle.worded else "")
        self.panel.put("caption", Item("words", layout.caption(said), urgent=bool(self.message)))
        for key in ("stated", "legend"):
            self.panel.put(key, Item("words", layout.texts[key]))
        self.panel.put("told", Item("words", self.help, left=True))
        if "aside" in layout.boxes:
            text, larger = layout.aside(self.aside)
            self.panel.put("aside", Item("words", text, left=True, top=True, larger=larger))

    def look(self, view: str) -> None:
        """Look from a view of the scene, from far enough off that as much is seen as in a wide picture."""
        self.view = view
        camera = self.handle.data.camera(view, self.handle.index)
        scene = self.layout.boxes["scene"]
        further = NEARER * max(1.0, WIDE * scene.height / max(scene.width, 1.0))
        scene_draw.look(self.plotter, replace(camera, parallel=further * camera.parallel))
        if not camera.parallel:
            eye = self.scene_renderer.GetActiveCamera()
            half = math.tan(math.radians(0.5 * eye.GetViewAngle()))
            eye.SetViewAngle(2.0 * math.degrees(math.atan(further * half)))

    def rides(self) -> bool:
        """Whether the view is carried along by a part."""
        camera: Camera = self.handle.data.camera(self.view, self.handle.index)
        return bool(camera.rides)

    def go(self, index: int) -> None:
        """Show a lock position."""
        self.handle.set_position(index)
        if self.rides():
            self.look(self.view)
        self.tell()

    def set_theme(self, theme: Theme) -> None:
        """Give everything the theme's colours."""
        self.handle.set_theme(theme)
        self.panel.set_theme(theme)
        self.chart_renderer.SetBackground(*unit_rgb(theme.plate))
        for inset in self.insets:
            inset.set_theme(theme)

    def run(self, tick: Callable[[], None]) -> None:
        """Open the window and stay until it is closed; tick is called every TICK_MS."""
        interactor = self.plotter.iren
        interactor.initialize()
        interactor.add_observer("TimerEvent", lambda *_: tick())
        interactor.create_timer(TICK_MS, repeating=True)
        self.plotter.show()

    def render(self) -> None:
        """Draw the window."""
        self.plotter.render()

    def prepare(self) -> None:
        """Make right what has to be before every picture: the layout for the size, and where labels stand."""
        size = tuple(self.plotter.render_window.GetSize())
        if size != self.layout.size and min(size) > 0:
            self.arrange()
        self.panel.refresh()
        if self.scene_renderer.GetDraw():
            self.labels.place(self.scene_renderer)
