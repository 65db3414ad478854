"""Texts that lie over the picture: at a place on the screen, or tied to a point of the scene."""

from __future__ import annotations

from typing import Any

from viz.canvas.pane import Pane
from viz.look.palette import Theme, rgb
from viz.look.rule import label_colours


def text_over(theme: Theme, role: str, size: int) -> Any:
    """A text that lies over the picture, in VTK's own font, which needs no font on the machine."""
    from vtkmodules.vtkRenderingCore import vtkTextActor

    actor = vtkTextActor()
    actor.GetTextProperty().SetFontSize(size)
    dress(actor.GetTextProperty(), theme, role)
    return actor


def add_text(plotter: Any, theme: Theme, role: str, size: int) -> Any:
    """A text over the picture, put on a plotter."""
    actor = text_over(theme, role, size)
    plotter.add_actor(actor, reset_camera=False, render=False)
    return actor


def anchor(actor: Any) -> Any:
    """The point of the world that a text is tied to."""
    return actor.GetPositionCoordinate().GetReferenceCoordinate()


def box_of(actor: Any, renderer: Any) -> Pane:
    """What a text with a place on the screen takes of a picture."""
    box = [0.0] * 4
    actor.GetBoundingBox(renderer, box)
    x, y = actor.GetActualPositionCoordinate().GetComputedViewportValue(renderer)
    return Pane(x + box[0], y + box[2], x + box[1] + 1, y + box[3] + 1)


def tie(coordinate: Any) -> None:
    """Tie a text's coordinate to a point of the world, some pixels away from it."""
    from vtkmodules.vtkRenderingCore import vtkCoordinate

    place = vtkCoordinate()
    place.SetCoordinateSystemToWorld()
    coordinate.SetCoordinateSystemToViewport()
    coordinate.SetReferenceCoordinate(place)


def dress(prop: Any, theme: Theme, role: str) -> None:
    """Ink and ground of a text: bold for a role, plain ink for an empty one."""
    ink, ground = label_colours(theme, role)
    prop.SetFontFamilyToArial()
    prop.SetBold(bool(role))
    prop.SetColor(*unit_rgb(ink))
    prop.SetBackgroundColor(*unit_rgb(ground))
    prop.SetBackgroundOpacity(0.92)


def unit_rgb(colour: str) -> tuple[float, float, float]:
    """A colour #rrggbb as VTK takes it, 0..1."""
    red, green, blue = rgb(colour)
    return red / 255.0, green / 255.0, blue / 255.0
