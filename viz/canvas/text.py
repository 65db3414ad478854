"""Texts that lie over the picture: at a place on the screen, or tied to a point of the scene."""

from __future__ import annotations

from typing import Any

from viz.look.palette import Theme


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


def tie(coordinate: Any) -> None:
    """Tie a text's coordinate to a point of the world, some pixels away from it."""
    from vtkmodules.vtkRenderingCore import vtkCoordinate

    place = vtkCoordinate()
    place.SetCoordinateSystemToWorld()
    coordinate.SetCoordinateSystemToViewport()
    coordinate.SetReferenceCoordinate(place)


def dress(prop: Any, theme: Theme, role: str) -> None:
    """Ink and ground of a text: bold in the colour of a role, or plain ink for an empty one."""
    colour = theme.roles[role] if role else theme.ink
    prop.SetFontFamilyToArial()
    prop.SetBold(bool(role))
    prop.SetColor(*unit_rgb(colour))
    prop.SetBackgroundColor(*unit_rgb(theme.plate))
    prop.SetBackgroundOpacity(0.92)


def unit_rgb(colour: str) -> tuple[float, float, float]:
    """A colour #rrggbb as VTK takes it, 0..1."""
    red, green, blue = (int(colour[i : i + 2], 16) / 255.0 for i in (1, 3, 5))
    return red, green, blue
