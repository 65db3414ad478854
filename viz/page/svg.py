"""A few SVG elements as text, and drawings made of them. Colours come from the page's classes."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape

from viz.page.drawing import Circle, Drawing, Path, Stroke


def tag(name: str, content: str, /, **attributes: object) -> str:
    """An element; an underscore in an attribute's name is a hyphen, a trailing one is dropped (class_)."""
    said = "".join(f' {k.rstrip("_").replace("_", "-")}="{escape(str(v))}"' for k, v in attributes.items())
    return f"<{name}{said}>{content}</{name}>"


def words(text: str, x: float, y: float, **attributes: object) -> str:
    """Text at a point."""
    return tag("text", escape(text), x=f"{x:.1f}", y=f"{y:.1f}", **attributes)


def line(x1: float, y1: float, x2: float, y2: float, **attributes: object) -> str:
    """A straight line."""
    return tag("line", "", x1=f"{x1:.1f}", y1=f"{y1:.1f}", x2=f"{x2:.1f}", y2=f"{y2:.1f}", **attributes)


def polylines(points: Iterable[tuple[float, float] | None], **attributes: object) -> str:
    """A curve through points; None breaks it."""
    path, pen = [], "M"
    for point in points:
        if point is None:
            pen = "M"
            continue
        path.append(f"{pen}{point[0]:.1f} {point[1]:.1f}")
        pen = "L"
    return tag("path", "", d="".join(path), fill="none", **attributes)


def areas(bounds: Iterable[tuple[float, float, float] | None], **attributes: object) -> str:
    """What lies between a lower and an upper curve, given as (x, y, y); None breaks it."""
    pieces: list[list[tuple[float, float, float]]] = [[]]
    for bound in bounds:
        if bound is not None:
            pieces[-1].append(bound)
        elif pieces[-1]:
            pieces.append([])
    path = []
    for piece in filter(None, pieces):
        round_it = [(x, low) for x, low, _ in piece] + [(x, high) for x, _, high in reversed(piece)]
        path.append("M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in round_it) + "Z")
    return tag("path", "", d="".join(path), **attributes)


def drawn(drawing: Drawing) -> str:
    """A drawing with its words for those who cannot see it."""
    wide, high = drawing.width, drawing.height
    box = f"{-wide / 2:g} {-high / 2:g} {wide:g} {high:g}"
    inside = "".join(_stroke(s) for s in drawing.strokes)
    return tag("svg", inside, viewBox=box, role="img", aria_label=drawing.alt, class_="bushes")


def _stroke(stroke: Stroke) -> str:
    """A stroke of a drawing, whose y runs up the page."""
    if isinstance(stroke, Circle):
        place = {"cx": f"{stroke.x:.3f}", "cy": f"{-stroke.y:.3f}", "r": f"{stroke.r:.3f}"}
        return tag("circle", "", class_=stroke.role, **place)
    if isinstance(stroke, Path):
        points = " ".join(f"{x:.3f},{-y:.3f}" for x, y in stroke.points)
        return tag("polygon" if stroke.closed else "polyline", "", class_=stroke.role, points=points)
    place = {"x": f"{stroke.x:.3f}", "y": f"{-stroke.y:.3f}", "dy": "0.35em"}
    return tag("text", escape(stroke.text), class_=stroke.role, **place, text_anchor=stroke.anchor)
