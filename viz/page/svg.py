"""A few SVG elements as text: all that the charts of the page need. Colours come from the page's classes."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape


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
