"""Draw a scene on a PyVista plotter, then move it: one actor per body, only matrices change through lock."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from viz.canvas import surfaces
from viz.canvas.pane import Pane
from viz.canvas.text import add_text, anchor, box_of, dress, tie
from viz.look.palette import LIGHT, Theme
from viz.scene.data import Body, Camera, Label, SceneData
from viz.scene.meshes import Mesh

LEADING = 6
"""Pixels between texts that stand on each other, and to the edge."""
LETTERS = 17
"""Size of a label's letters, pixels."""
FIXED = {"caption": 19, "legend": 15, "stated": 19}
"""Texts with a place on the screen, and the size of their letters where there is room, pixels."""


@dataclass(eq=False)
class Handle:
    """What add_to put on a plotter. It remembers where it stands; the caller renders."""

    plotter: Any
    data: SceneData
    theme: Theme
    index: int = 0
    worded: bool = True
    framed: bool = True
    """Whether caption, legend and what is stated stand in the picture; else somebody else says them."""
    quick: bool = False
    """Whether large bodies are drawn in fewer triangles, for a picture that moves under the hand."""
    followers: list[Callable[[int], None]] = field(default_factory=list)
    """Called with the lock position after every move."""
    _actors: dict[str, Any] = field(default_factory=dict)
    _meshes: dict[str, Mesh] = field(default_factory=dict)
    _seen: list[tuple[Any, list[bool]]] = field(default_factory=list)
    _moves: list[tuple[Any, list[list[float]]]] = field(default_factory=list)
    _words: list[tuple[Any, list[list[float]]]] = field(default_factory=list)
    _telling: list[tuple[Any, tuple[str, ...]]] = field(default_factory=list)
    _labels: list[tuple[Any, Label]] = field(default_factory=list)
    _letters: int = LETTERS
    _texts: dict[str, Any] = field(default_factory=dict)
    _shown: set[str] = field(default_factory=set)

    def set_position(self, index: int) -> None:
        """Move everything to a lock position (0 .. data.count - 1) by matrices alone; nothing is rendered."""
        if not 0 <= index < self.data.count:
            raise IndexError(f"lock position {index} is not in 0..{self.data.count - 1}")
        for matrix, rows in self._moves:
            matrix.DeepCopy(rows[index])
        for actor, seen in self._seen:
            actor.SetVisibility(seen[index])
        for coordinate, points in self._words:
            coordinate.SetValue(*points[index])
        for actor, texts in self._telling:
            actor.SetInput(texts[index])
            actor.SetVisibility(self.worded and bool(texts[index]))
        self._texts["caption"].SetInput(self.data.captions[index])
        self.index = index
        for follow in self.followers:
            follow(index)

    def set_data(self, data: SceneData) -> None:
        """Show another sweep of the same kart: new matrices; new meshes only where a part changed shape."""
        place = self.data.handwheel_deg[self.index]
        self.data = data
        self._load()
        self.set_position(data.nearest(float(place)))

    def set_theme(self, theme: Theme) -> None:
        """Change colours; geometry and place stay."""
        self.theme = theme
        self._meshes.clear()
        self.plotter.set_background(theme.paper)
        for name, actor in self._texts.items():
            dress(actor.GetTextProperty(), theme, "" if name in FIXED else name.split(" ")[-1])
        self._load()
        self.set_position(self.index)

    def set_words(self, visible: bool) -> None:
        """Show or hide labels, caption and legend; what the scene states of itself stays."""
        self.worded = visible
        self._show_words()
        self.set_position(self.index)

    def set_letters(self, size: int) -> None:
        """Give labels letters of another size, pixels."""
        self._letters = size
        for name, actor in self._texts.items():
            if name not in FIXED:
                actor.GetTextProperty().SetFontSize(size)

    def labels(self) -> list[tuple[Any, Label]]:
        """The labels that are to be seen at this lock position, each with the actor of its text."""
        at = self.index
        return [(a, one) for a, one in self._labels if self.worded and (not one.texts or one.texts[at])]

    def frame_boxes(self, renderer: Any) -> list[tuple[str, Pane]]:
        """Caption, legend and what is stated, as far as they are seen in the picture, and their boxes.

        They are made to fit first: small enough for the picture, what is stated on top of the legend.
        """
        texts = [(name, self._texts[name]) for name in FIXED] if self.framed else []
        seen = {name: text for name, text in texts if text.GetVisibility() and text.GetInput().strip()}
        wide, high = renderer.GetSize()
        for name, text in seen.items():
            size = FIXED[name]
            text.GetTextProperty().SetFontSize(size)
            room = (wide - 2 * LEADING) / max(box_of(text, renderer).width, 1.0)
            if room < 1.0:
                text.GetTextProperty().SetFontSize(int(room * size))
        if "stated" in seen:
            under = box_of(seen["legend"], renderer).high if "legend" in seen else 0.0
            place = seen["stated"].GetPositionCoordinate()
            place.SetValue(place.GetValue()[0], (under + LEADING) / high)
        return [(name, box_of(text, renderer)) for name, text in seen.items()]

    def _show_words(self) -> None:
        for name, actor in self._texts.items():
            wanted = name == "stated" or (self.worded and name in self._shown)
            actor.SetVisibility(wanted and (self.framed or name not in FIXED))

    def actor(self, name: str) -> Any:
        """The actor of a body."""
        return self._actors[name]

    def ghost(self, opacity: float) -> None:
        """Make the wheels see-through (0..1), to look at what they hide."""
        for body in self.data.bodies:
            if body.role in ("wheel", "tyre"):
                self._actors[body.name].GetProperty().SetOpacity(opacity)

    def _load(self) -> None:
        data = self.data
        self._moves = [(self._matrix(body), body.matrices.reshape(-1, 16).tolist()) for body in data.bodies]
        self._seen = [(self._actors[b.name], b.visible.tolist()) for b in data.bodies if not b.visible.all()]
        words = [(self._word(str(i), label), label) for i, label in enumerate(data.labels)]
        self._words = [(anchor(actor), label.points.tolist()) for actor, label in words]
        self._labels = words
        self._telling = [(actor, label.texts) for actor, label in words if label.texts]
        self._texts["legend"].SetInput(data.legend)
        self._texts["stated"].SetInput(data.stated)
        self._show_only({body.name for body in data.bodies}, words)
        for name in FIXED:  # drawn last, over every label
            self.plotter.renderer.RemoveViewProp(self._texts[name])
            self.plotter.renderer.AddViewProp(self._texts[name])

    def _show_only(self, bodies: set[str], words: list[tuple[Any, Label]]) -> None:
        """Hide what an earlier scene left behind."""
        for name, actor in self._actors.items():
            actor.SetVisibility(name in bodies)
        shown = {id(actor) for actor, _ in words}
        self._shown = {n for n, actor in self._texts.items() if n in FIXED or id(actor) in shown}
        self._show_words()

    def _matrix(self, body: Body) -> Any:
        """The body's matrix, its actor made or given its new mesh on the way."""
        if self._meshes.get(body.name) is not body.mesh:
            surface = surfaces.surface(body, self.theme, self.quick)
            if body.name in self._actors:
                self._actors[body.name].mapper.dataset = surface
            else:
                self._actors[body.name] = surfaces.actor(self.plotter, surface, body)
            self._meshes[body.name] = body.mesh
        return self._actors[body.name].GetUserMatrix()

    def _word(self, key: str, label: Label) -> Any:
        """The text of a label, its actor made on the way."""
        name = f"{key} {label.role}"
        if name not in self._texts:
            actor = add_text(self.plotter, self.theme, label.role, self._letters)
            actor.GetTextProperty().SetJustificationToCentered()
            actor.GetTextProperty().SetVerticalJustificationToCentered()
            tie(actor.GetPositionCoordinate())
            self._texts[name] = actor
        actor = self._texts[name]
        actor.SetInput(label.text)
        actor.GetPositionCoordinate().SetValue(*label.shift, 0.0)
        return actor


def add_to(
    plotter: Any, data: SceneData, theme: Theme = LIGHT, framed: bool = True, quick: bool = False
) -> Handle:
    """Put a scene on a plotter and stand it straight ahead. Call gl.require before the first render.

    framed=False leaves caption, legend and what is stated to somebody else; quick draws large bodies in
    fewer triangles.
    """
    handle = Handle(plotter, data, theme, framed=framed, quick=quick)
    plotter.set_background(theme.paper)
    _light(plotter)
    for name, text, place in (
        ("caption", data.captions[0], (0.5, 0.985)),
        ("legend", data.legend, (0.5, 0.012)),
        ("stated", data.stated, (0.5, 0.09)),
    ):
        actor = add_text(plotter, theme, "", FIXED[name])
        actor.SetInput(text)
        actor.GetPositionCoordinate().SetCoordinateSystemToNormalizedViewport()
        actor.GetPositionCoordinate().SetValue(*place)
        actor.GetTextProperty().SetJustificationToCentered()
        if name == "caption":
            actor.GetTextProperty().SetVerticalJustificationToTop()
        handle._texts[name] = actor
    handle._load()
    handle.set_position(data.straight)
    look(plotter, next(iter(data.cameras.values())))
    return handle


def _light(plotter: Any) -> None:
    """A lamp over the left shoulder of the kart, a weaker one above, one at the eye: cheaper than a kit."""
    import pyvista as pv

    plotter.remove_all_lights()
    plotter.add_light(pv.Light(position=(3000.0, 1800.0, 4000.0), light_type="scene light", intensity=0.62))
    plotter.add_light(pv.Light(position=(-2000.0, -600.0, 5000.0), light_type="scene light", intensity=0.3))
    plotter.add_light(pv.Light(light_type="headlight", intensity=0.36))


def look(plotter: Any, camera: Camera) -> None:
    """Put the plotter's camera where a preset says."""
    plotter.camera_set = True  # before the camera is asked for: PyVista would choose a place of its own
    plotter.camera.parallel_projection = camera.parallel > 0.0  # PyVista keeps its own note of it
    aim(plotter.renderer, camera)


def aim(renderer: Any, camera: Camera) -> None:
    """Point a VTK renderer's camera as a preset says."""
    from viz.scene.camera import VIEW_ANGLE

    eye = renderer.GetActiveCamera()
    eye.SetPosition(*camera.position)
    eye.SetFocalPoint(*camera.focus)
    eye.SetViewUp(*camera.up)
    eye.SetViewAngle(VIEW_ANGLE)
    eye.SetParallelProjection(camera.parallel > 0.0)
    if camera.parallel > 0.0:
        eye.SetParallelScale(camera.parallel)
    renderer.ResetCameraClippingRange()
