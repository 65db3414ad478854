"""Shapes that drawings are put together from: boxes that lean, arrows, wheels from above."""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, hypot, radians, sin

from viz.page.drawing import Path, Stroke

Point = tuple[float, float]
BARB = 1.9
"""Length of an arrow's head, mm of paper."""


def turned(point: Point, degrees: float, about: Point = (0.0, 0.0)) -> Point:
    """A point turned anticlockwise on the page."""
    x, y, a = point[0] - about[0], point[1] - about[1], radians(degrees)
    return about[0] + x * cos(a) - y * sin(a), about[1] + x * sin(a) + y * cos(a)


def box(middle: Point, size: Point, role: str, degrees: float = 0.0, about: Point | None = None) -> Path:
    """A rectangle of a width and a height, turned anticlockwise about its middle or another point."""
    (x, y), (wide, high) = middle, (0.5 * size[0], 0.5 * size[1])
    corners = ((x - wide, y - high), (x + wide, y - high), (x + wide, y + high), (x - wide, y + high))
    return Path(tuple(turned(one, degrees, about or middle) for one in corners), role, closed=True)


def line(start: Point, end: Point, role: str) -> Path:
    """A straight stroke."""
    return Path((start, end), role)


def arrow(start: Point, end: Point, both: bool = False) -> Iterator[Stroke]:
    """A straight arrow to its end, or with a head at both."""
    length = hypot(end[0] - start[0], end[1] - start[1])
    way = ((end[0] - start[0]) / length, (end[1] - start[1]) / length)
    neck = (end[0] - BARB * way[0], end[1] - BARB * way[1])
    yield line(start, neck, "gauge_line")
    yield head(end, way)
    if both:
        yield head(start, (-way[0], -way[1]))


def head(tip: Point, way: Point) -> Path:
    """An arrow's head at its tip, pointing along a unit vector."""
    (x, y), (a, b) = (tip[0] - BARB * way[0], tip[1] - BARB * way[1]), way
    wing = 0.45 * BARB
    return Path((tip, (x - wing * b, y + wing * a), (x + wing * b, y - wing * a)), "gauge_head", closed=True)


def arc(middle: Point, radius: float, start: float, end: float, role: str) -> Path:
    """A part of a circle between two angles in degrees, anticlockwise from the right of the page."""
    steps = max(2, round(abs(end - start) / 5.0))
    angles = (radians(start + (end - start) * n / steps) for n in range(steps + 1))
    return Path(tuple((middle[0] + radius * cos(a), middle[1] + radius * sin(a)) for a in angles), role)
