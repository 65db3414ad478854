"""Close-ups in the corners of a picture: the top bushes from above, so that the holes are seen."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from viz.canvas.draw import Handle, aim
from viz.canvas.pane import Pane
from viz.canvas.text import dress, text_over, unit_rgb
from viz.look.palette import Theme

CORNERS = (("left", (0.79, 0.6, 0.992, 0.885)), ("right", (0.008, 0.6, 0.21, 0.885)))
"""Which corner's close-up stands where in the window: low x, low y, high x, high y, 0..1."""


SHOWN = ("yoke", "bushes", "kingpin", "stub", "rod", "frame")
"""What a close-up shows; wheels and marks would only be in the way."""


@dataclass(frozen=True, eq=False)
class Inset:
    """One close-up: its VTK renderer and its title."""

    side: str
    renderer: Any
    title: Any

    def set_letters(self, size: int) -> None:
        """Give the title letters of another size, pixels."""
        self.title.GetTextProperty().SetFontSize(size)

    def set_theme(self, theme: Theme) -> None:
        """Give paper and title the theme's colours."""
        self.renderer.SetBackground(*unit_rgb(theme.plate))
        dress(self.title.GetTextProperty(), theme, self.side)


def boxes(size: tuple[int, int]) -> list[Pane]:
    """What the close-ups take of a picture of this size."""
    wide, high = size
    return [Pane(x * wide, y * high, far * wide, top * high) for _, (x, y, far, top) in CORNERS]


def add_insets(handle: Handle) -> list[Inset]:
    """Add both close-ups to the plotter's window; they show the same actors, so they move with the scene.

    The left corner stands on the right of the picture, as it does when the kart is seen from ahead.
    """
    return [_inset(handle, side, place) for side, place in CORNERS]


def _inset(handle: Handle, side: str, place: tuple[float, float, float, float]) -> Inset:
    from vtkmodules.vtkRenderingCore import vtkRenderer

    inset = vtkRenderer()
    inset.SetViewport(*place)
    inset.InteractiveOff()
    for light in handle.plotter.renderer.GetLights():
        inset.AddLight(light)
    for body in handle.data.bodies:
        if body.role in SHOWN:
            inset.AddActor(handle.actor(body.name))
    title = text_over(handle.theme, side, 13)
    title.SetInput(f"{side} top bush from above\nforward is up")
    title.GetPositionCoordinate().SetCoordinateSystemToNormalizedViewport()
    title.GetPositionCoordinate().SetValue(0.03, 0.04)
    inset.AddViewProp(title)
    handle.plotter.render_window.AddRenderer(inset)

    def follow(index: int) -> None:
        if handle.data.has(f"yoke_{side}"):
            aim(inset, handle.data.camera(f"bushes_{side}", index))

    handle.followers.append(follow)
    follow(handle.index)
    made = Inset(side, inset, title)
    made.set_theme(handle.theme)
    return made
