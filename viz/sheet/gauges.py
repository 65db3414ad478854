"""Where each instrument goes: a small drawing a kind of reading, one wheel of two.

Seen from above, forward is up the page; seen from the side, forward is left; seen from the front it is a
right wheel, whose outboard is then left.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from viz.page.drawing import Circle, Drawing, Stroke, Text
from viz.page.strokes import Point, arc, arrow, box, head, line, turned

WIDE, HIGH = 48.0, 34.0
FLOOR = -11.5
LEFT_EDGE, RIGHT_EDGE = -23.5, 23.5


def gauge_drawing(kind: str) -> Drawing:
    """The drawing of a kind of reading, by its name."""
    strokes, alt = DRAWINGS[kind]
    return Drawing(tuple(strokes()), alt, WIDE, HIGH)


def _floor() -> Iterator[Stroke]:
    yield line((-22.0, FLOOR), (22.0, FLOOR), "floor")


def _wheel(x: float, y: float, radius: float = 8.5) -> Iterator[Stroke]:
    """A wheel from the side."""
    yield Circle(x, y, radius, "tyre")
    yield Circle(x, y, 0.5 * radius, "part")
    yield Circle(x, y, 0.8, "put")


def _left(text: str, y: float) -> Text:
    return Text(LEFT_EDGE, y, text, "start")


def _right(text: str, y: float) -> Text:
    return Text(RIGHT_EDGE, y, text, "end")


def _scale() -> Iterator[Stroke]:
    yield from _floor()
    yield box((-2.0, FLOOR + 1.5), (24.0, 3.0), "gauge")
    yield from _wheel(-2.0, FLOOR + 11.5)
    yield line((-22.0, FLOOR + 3.0), (22.0, FLOOR + 3.0), "aim")
    yield _right("scale", FLOOR + 5.6)
    yield Text(0.0, FLOOR - 3.0, "tops of all four level")
    yield _right("driver", 9.0)
    yield _right("seated", 6.0)


def _camber() -> Iterator[Stroke]:
    x, lean = -1.0, 8.0
    foot = (x, FLOOR)
    yield from _floor()
    yield line(foot, (x, 14.0), "aim")
    yield box((x, FLOOR + 9.5), (8.0, 19.0), "read", lean, foot)
    yield box((x - 5.0, FLOOR + 9.5), (1.4, 17.0), "part", lean, foot)
    yield box((x - 7.7, FLOOR + 9.5), (4.0, 6.0), "gauge", lean, foot)
    yield arc(foot, 23.5, 90.0, 90.0 + lean, "gauge_line")
    yield head(turned((x, FLOOR + 23.5), lean, foot), (-0.99, -0.12))
    yield _right("top outward +", 12.5)
    yield _left("angle", 0.5)
    yield _left("gauge", -2.5)
    yield _right("straight edge", 3.0)
    yield _right("upright at", 0.0)
    yield _right("the rim", -3.0)
    yield _left("outboard", FLOOR - 3.0)
    yield _right("level floor", FLOOR - 3.0)


def _toe() -> Iterator[Stroke]:
    middle, toe = (-9.0, 0.0), -8.0
    front, rear = (turned((-9.0, y), toe, middle) for y in (9.5, -9.5))
    yield box(middle, (7.0, 21.0), "read", toe)
    yield line((11.0, -15.5), (11.0, 15.5), "aim")
    for at, name in ((front, "a"), (rear, "b")):
        yield Circle(*at, 0.8, "put")
        yield from arrow((at[0] + 1.5, at[1]), (11.0, at[1]), both=True)
        yield Text(5.5, at[1] + 2.2, name, role="state")
    yield _right("chalk", 4.5)
    yield _right("line", 1.5)
    yield Text(-3.0, 0.0, "D apart", "start")
    yield _left("forward", 13.5)
    yield from arrow((-19.5, 5.0), (-19.5, 11.0))
    yield _left("toe-in: b > a", -15.0)


def _toe_both() -> Iterator[Stroke]:
    marks: list[list[Point]] = []
    for x, toe in ((-15.5, -7.0), (15.5, 7.0)):
        yield box((x, 0.0), (6.5, 20.0), "read", toe)
        marks.append([turned((x, y), toe, (x, 0.0)) for y in (9.0, -9.0)])
    for left, right, name in zip(*marks, ("A in front", "B behind"), strict=True):
        yield from (Circle(x, y, 0.8, "put") for x, y in (left, right))
        yield from arrow((left[0] + 1.2, left[1]), (right[0] - 1.2, right[1]), both=True)
        yield Text(0.0, left[1] + 2.3, name, role="state")
    yield Text(0.0, 0.5, "toe = B − A")
    yield _left("forward", 14.5)
    yield Text(0.0, -14.5, "toe-in: B > A")


def _steer() -> Iterator[Stroke]:
    middle = (-5.0, -1.0)
    yield Circle(*middle, 12.5, "gauge")
    for angle in range(0, 360, 15):
        inner, outer = (turned((middle[0], middle[1] + r), angle, middle) for r in (11.2, 12.5))
        yield line(inner, outer, "tick")
    yield box(middle, (6.0, 19.0), "read", 20.0)
    yield line((middle[0], -12.0), (middle[0], 15.0), "aim")
    yield arc(middle, 14.2, 90.0, 110.0, "gauge_line")
    yield head(turned((middle[0], middle[1] + 14.2), 20.0, middle), (-0.94, -0.34))
    yield _left("left +", 13.5)
    yield Text(-4.0, 15.0, "0: straight ahead", "start")
    yield _right("turn plate,", 2.0)
    yield _right("pin pulled", -1.0)


def _caster() -> Iterator[Stroke]:
    middle, lean = (-2.5, FLOOR + 11.0), -18.0
    yield from _floor()
    yield Circle(*middle, 10.9, "faint")
    yield line((middle[0], FLOOR), (middle[0], 14.0), "aim")
    yield from _bar(middle, lean)
    yield Text(12.0, 12.0, "top rearward +", "middle")
    yield _left("front", FLOOR - 3.0)
    yield _right("rear", FLOOR - 3.0)
    yield Text(0.0, FLOOR - 3.0, "seen from the side")
    yield _right("gauge on", 4.0)
    yield _right("the bar", 1.0)


def _inclination() -> Iterator[Stroke]:
    middle, lean = (0.0, FLOOR + 11.0), -15.0
    yield from _floor()
    yield box((-11.0, middle[1]), (8.0, 21.5), "faint")
    yield line((0.0, FLOOR), (0.0, 14.0), "aim")
    yield from _bar(middle, lean)
    yield Text(12.0, 12.0, "top inboard +", "middle")
    yield _left("outboard", FLOOR - 3.0)
    yield _right("seen from the front", FLOOR - 3.0)
    yield _right("gauge on", 3.0)
    yield _right("the bar", 0.0)


def _bar(middle: tuple[float, float], lean: float) -> Iterator[Stroke]:
    """A bar through both bushes of a yoke, its gauge on it, leaning to the right at the top."""
    x, y = middle
    for place in (-5.0, 5.0):
        yield box((x, y + place), (7.0, 2.6), "part", lean, middle)
    yield box(middle, (1.8, 21.0), "read", lean, middle)
    yield box((x + 3.4, y + 0.3), (4.0, 5.6), "gauge", lean, middle)


def _height() -> Iterator[Stroke]:
    yield from _floor()
    yield from _wheel(-8.0, FLOOR + 8.5)
    yield box((5.0, FLOOR + 1.0), (12.0, 2.0), "gauge")
    yield box((5.0, FLOOR + 10.0), (2.4, 18.0), "gauge")
    yield line((-8.0, FLOOR + 8.5), (10.5, FLOOR + 8.5), "aim")
    yield from arrow((13.5, FLOOR), (13.5, FLOOR + 8.5), both=True)
    yield _right("height", FLOOR + 11.0)
    yield Text(8.0, 10.0, "square", "start")
    yield _left("middle of", 13.0)
    yield _left("the wheel", 10.0)
    yield Text(0.0, FLOOR - 3.0, "driver seated")


def _gap() -> Iterator[Stroke]:
    yield from _floor()
    yield from _wheel(-6.0, FLOOR + 13.5)
    yield from arrow((-6.0, FLOOR), (-6.0, FLOOR + 5.0), both=True)
    yield line((-11.0, FLOOR + 5.0), (15.0, FLOOR + 5.0), "aim")
    yield box((8.0, FLOOR + 7.0), (2.4, 14.0), "gauge")
    yield Text(11.0, FLOOR + 12.5, "tape", "start")
    yield Text(11.0, FLOOR + 2.5, "gap", "start")
    yield _left("lowest point", FLOOR - 3.0)
    yield _right("0 while it touches", FLOOR - 3.0)


def _torsion() -> Iterator[Stroke]:
    """Both cross members from behind, left at the left of the page."""
    for y, lean, name, under in ((6.0, -9.0, "front stubs", 5.8), (-8.0, 0.0, "rear bearings", 3.0)):
        middle = (-4.0, y)
        yield box(middle, (30.0, 1.6), "part", lean)
        yield box((-4.0, y + 2.6), (6.0, 3.2), "gauge", lean, middle)
        yield line((-20.0, y), (12.0, y), "aim")
        yield _right(name, y - under)
    yield from arrow((-21.0, 6.0), (-21.0, 11.0))
    yield _left("left up +", 14.0)
    yield _left("seen from behind", -14.5)
    yield _right("front − rear", 14.0)


def _pull() -> Iterator[Stroke]:
    hub = FLOOR + 9.0
    yield from _floor()
    yield from _wheel(-4.0, hub)
    yield line((-4.0, hub), (-4.0, 8.5), "gauge_line")
    yield box((-4.0, 9.0), (5.0, 6.5), "gauge")
    yield from arrow((-4.0, 12.3), (-4.0, 16.5))
    yield Text(1.0, 12.5, "pull straight up", "start")
    yield Text(1.0, 9.0, "hanging scale", "start")
    yield Text(6.0, hub, "at the hub", "start")
    yield line((-9.0, FLOOR + 0.35), (13.0, FLOOR + 0.35), "gauge_line")
    yield _right("paper comes free", FLOOR - 3.0)


DRAWINGS: dict[str, tuple[Callable[[], Iterator[Stroke]], str]] = {
    "scale_kg": (_scale, "From the side: the wheel on its scale, tops of all four scales level."),
    "camber_deg": (
        _camber,
        "Right wheel from the front: straight edge upright at the rim, angle gauge on it, top outward +.",
    ),
    "toe_deg": (
        _toe,
        "Left wheel from above: a from the front mark to a chalk line inboard, b from the rear mark.",
    ),
    "toe_mm": (
        _toe_both,
        "Both front wheels from above: A between the front marks, B between the rear ones.",
    ),
    "steer_deg": (_steer, "Left wheel from above on its turn plate: 0 straight ahead, turned left +."),
    "caster_deg": (_caster, "Left kingpin from the side: gauge on a bar through both bushes, rearward +."),
    "inclination_deg": (
        _inclination,
        "Right kingpin from the front: gauge on a bar through both bushes, top inboard +.",
    ),
    "height_mm": (
        _height,
        "From the side: square on the floor beside the wheel, read at the wheel's middle.",
    ),
    "gap_mm": (_gap, "From the side: tape from the floor to the lowest point of a wheel in the air."),
    "torsion_deg": (
        _torsion,
        "The frame from behind: gauge across at the front stubs, less the same across the rear bearings.",
    ),
    "pull_kg": (_pull, "From the side: hanging scale straight up at the hub, paper under the tyre."),
}
"""Strokes and words for who cannot see them, by kind of reading."""
