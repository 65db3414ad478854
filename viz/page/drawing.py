"""A bush seen along the kingpin from above, as a list of strokes that SVG and PDF both draw.

Millimetres on paper, x to the right and y up the page, forward up the page. The left corner has outboard at
the left of the page and the right corner at the right, as the kart is seen from above.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import ceil, cos, degrees, floor, pi, radians, sin

from kinematics.corner.bush import SAME_OFFSET, same_clock, same_size
from kinematics.parts import CornerSetting

WIDTH, HEIGHT = 62.0, 60.0
SEAT, BUSH, HOLE = 15.2, 12.6, 4.2  # radii
NUMERALS, WORDS = SEAT + 4.0, SEAT + 7.3
MOST_OFFSET = 5.0  # the largest hole offset on paper
ENLARGEMENTS = (10.0, 8.0, 6.0, 5.0, 4.0, 3.0, 2.0, 1.0, 0.5, 0.25)
SHORT = radians(4.0)  # a turn smaller than this is too short for an arrow


@dataclass(frozen=True)
class Circle:
    """A circle; role names its look."""

    x: float
    y: float
    r: float
    role: str


@dataclass(frozen=True)
class Path:
    """Straight strokes from point to point, closed or not."""

    points: tuple[tuple[float, float], ...]
    role: str
    closed: bool = False


@dataclass(frozen=True)
class Text:
    """A short word at a point, its middle height at y; anchor is 'start', 'middle' or 'end'."""

    x: float
    y: float
    text: str
    anchor: str = "middle"
    role: str = "word"


Stroke = Circle | Path | Text


@dataclass(frozen=True)
class Drawing:
    """Strokes on a piece of paper, its size in mm and its origin in the middle; alt tells it in words."""

    strokes: tuple[Stroke, ...]
    alt: str
    width: float = WIDTH
    height: float = HEIGHT


@dataclass(frozen=True)
class Hole:
    """Where a bush's hole is: offset in mm and clock in rad; a concentric bush has no clock."""

    offset: float
    clock: float

    @property
    def centred(self) -> bool:
        """Whether the bush is concentric."""
        return self.offset < SAME_OFFSET


@dataclass(frozen=True)
class Names:
    """What the two states of a bush are called on a drawing, and whether the first one is drawn solid."""

    first: str = "before"
    second: str = "after"
    same: str = "stays"
    both: str = "both"
    """Where both marks stand at nearly the same clock."""
    first_solid: bool = False


BENCH = Names()


def where(hole: Hole) -> str:
    """Where a hole is, in words for who cannot see the drawing."""
    return "in the middle" if hole.centred else f"off centre towards clock {degrees(hole.clock) % 360.0:.4g}"


def hole_of(corner: CornerSetting, place: str) -> Hole:
    """The hole of a corner's 'top' or 'bottom' bush."""
    return Hole(float(getattr(corner, f"{place}_offset")), float(getattr(corner, f"{place}_clock")))


def enlargement_for(largest_offset: float) -> float:
    """How many times full size offsets are drawn, the same for every bush of a sheet."""
    return next((e for e in ENLARGEMENTS if e * largest_offset <= MOST_OFFSET), ENLARGEMENTS[-1])


def on_page(side: str, clock: float, radius: float) -> tuple[float, float]:
    """A point at a clock angle (rad) and radius (mm) on the page, for a 'left' or 'right' corner."""
    outboard = -1.0 if side == "left" else 1.0
    return outboard * radius * sin(clock), radius * cos(clock)


def shorter_turn(before: float, after: float) -> float:
    """The turn in rad from one clock to the other the shorter way, + the way clocks count (to outboard)."""
    return (after - before + pi) % (2.0 * pi) - pi


def bush_drawing(
    side: str, before: Hole, after: Hole, enlargement: float, alt: str, names: Names = BENCH
) -> Drawing:
    """Both states of one bush: one dashed and one solid, each with its mark and named in words."""
    strokes: list[Stroke] = [*_seat(side), *_scale_bar(enlargement), *_compass(side)]
    same_place = after.centred or same_clock(before.clock, after.clock)
    same = bool(same_size(before.offset, after.offset) and same_place)
    if not same:
        strokes += _hole(side, before, enlargement, "solid" if names.first_solid else "dashed")
        strokes += _turn_arrow(side, before, after)
    strokes += _hole(side, after, enlargement, "dashed" if names.first_solid and not same else "solid")
    words = (word for word in _words(side, before, after, same, names) if word.text)
    return Drawing((*strokes, *words), alt)


def _seat(side: str) -> list[Stroke]:
    ring: list[Stroke] = [Circle(0.0, 0.0, SEAT, "seat"), Circle(0.0, 0.0, BUSH, "bush")]
    ring += [Path(((-2.0, 0.0), (2.0, 0.0)), "centre"), Path(((0.0, -2.0), (0.0, 2.0)), "centre")]
    for clock in range(0, 360, 15):
        length = 2.0 if clock % 45 == 0 else 1.1
        inner, outer = (on_page(side, radians(clock), r) for r in (SEAT, SEAT + length))
        ring.append(Path((inner, outer), "tick"))
    for clock in range(0, 360, 90):
        ring.append(
            Text(
                *on_page(side, radians(clock), NUMERALS + (1.2 if clock % 180 else 0.0)),
                f"{clock}",
                role="clock",
            )
        )
    return ring


def _hole(side: str, hole: Hole, enlargement: float, role: str) -> list[Stroke]:
    x, y = on_page(side, hole.clock, enlargement * hole.offset)
    strokes: list[Stroke] = [Circle(x, y, HOLE, f"{role}_hole")]
    if not hole.centred:
        tip = on_page(side, hole.clock, BUSH - 0.3)
        feet = (on_page(side, hole.clock + way * radians(9.0), BUSH - 3.6) for way in (-1.0, 1.0))
        strokes.append(Path((tip, *feet), f"{role}_mark", closed=True))
    return strokes


def _turn_arrow(side: str, before: Hole, after: Hole) -> list[Stroke]:
    """An arc in the ring round the bush from the old clock to the new one, when the same bush is turned."""
    turn = shorter_turn(before.clock, after.clock)
    if before.centred or not same_size(before.offset, after.offset) or abs(turn) < SHORT:
        return []
    steps = max(2, ceil(degrees(abs(turn)) / 5.0))
    radius, way = 0.5 * (SEAT + BUSH), 1.0 if turn > 0.0 else -1.0
    arc = tuple(on_page(side, before.clock + turn * i / steps, radius) for i in range(steps + 1))
    back = after.clock - way * min(radians(7.0), 0.8 * abs(turn))
    barbs = (on_page(side, back, radius + 1.1), on_page(side, back, radius - 1.1))
    return [Path(arc, "turn"), Path((arc[-1], *barbs), "turn_head", closed=True)]


def _words(side: str, before: Hole, after: Hole, same: bool, names: Names) -> Sequence[Text]:
    if same:
        return [_word(side, after, after, names.same)]
    if not (before.centred or after.centred) and abs(shorter_turn(before.clock, after.clock)) < SHORT:
        return [_word(side, after, after, names.both)]
    return _apart(_word(side, before, after, names.first), _word(side, after, before, names.second))


def _word(side: str, hole: Hole, other: Hole, text: str) -> Text:
    """The word outside the ring at its mark; under or over the hole, away from the other's, without one."""
    if hole.centred:
        above = not other.centred and on_page(side, other.clock, 1.0)[1] < -1e-9
        return Text(0.0, (1.0 if above else -1.0) * (HOLE + 2.4), text, role="state")
    x, y = on_page(side, hole.clock, WORDS)
    if abs(y) < 3.4:  # beside a numeral: above or below it, away from the other word
        below = not other.centred and on_page(side, other.clock, WORDS)[1] > y
        return Text(
            30.5 if x > 0.0 else -30.5, -3.4 if below else 3.4, text, "end" if x > 0.0 else "start", "state"
        )
    anchor = "middle" if abs(x) < 6.0 else ("start" if x > 0.0 else "end")
    return Text(x - (1.5 if x > 6.0 else -1.5 if x < -6.0 else 0.0), y, text, anchor, "state")


def _apart(one: Text, other: Text) -> tuple[Text, Text]:
    """Two words written away from each other where they would run together."""
    if abs(one.y - other.y) > 3.2 or abs(one.x - other.x) > 10.0:
        return one, other
    left_first = one.x <= other.x
    anchors = ("end", "start") if left_first else ("start", "end")
    gap = 0.8 if left_first else -0.8
    return replace(one, x=one.x - gap, anchor=anchors[0]), replace(other, x=other.x + gap, anchor=anchors[1])


def _compass(side: str) -> list[Stroke]:
    """Forward and outboard, in the upper corner that lies inboard."""
    outboard = -1.0 if side == "left" else 1.0
    x, y = -outboard * 28.5, 25.0
    tip, base = (x + outboard * 6.5, y), (x + outboard * 4.1, y)
    near = "start" if outboard > 0.0 else "end"
    return [
        Path(((x, y), (x, y + 2.6)), "compass"),
        Path(((x, y), base), "compass"),
        Path(((x, y + 4.8), (x - 1.2, y + 2.4), (x + 1.2, y + 2.4)), "compass_head", closed=True),
        Path((tip, (base[0], y - 1.2), (base[0], y + 1.2)), "compass_head", closed=True),
        Text(x + outboard * 2.2, y + 3.2, "forward", near),
        Text(x - outboard * 2.0, y - 2.6, "outboard", near),
    ]


def _scale_bar(enlargement: float) -> list[Stroke]:
    """A bar as long as one millimetre (or ten) of hole offset, in the lower left."""
    shown = 1.0 if enlargement >= 1.0 else 10.0
    x, y = -29.0, -27.8
    end = x + shown * enlargement
    ends = [Path(((at, y - 0.8), (at, y + 0.8)), "scale") for at in (x, end)]
    word = Text(end + 1.0, y, f"{floor(shown)} mm of offset", "start")
    return [Path(((x, y), (end, y)), "scale"), *ends, word]
