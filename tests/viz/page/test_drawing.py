"""The bush drawings: true direction, mirrored sides, the stated enlargement, words that keep apart."""

from __future__ import annotations

from itertools import product
from math import hypot, pi, radians

import pytest
from hypothesis import given
from hypothesis import strategies as st

from viz.page.drawing import (
    BUSH,
    HEIGHT,
    MOST_OFFSET,
    SEAT,
    WIDTH,
    Circle,
    Hole,
    Path,
    Text,
    bush_drawing,
    enlargement_for,
    on_page,
    shorter_turn,
)
from viz.page.svg import drawn

SIDES = ("left", "right")
CLOCKS = range(0, 360, 15)


def strokes(side, before, after, times=2.0):
    return bush_drawing(side, before, after, times, "").strokes


def hole(found, role):
    return next(s for s in found if isinstance(s, Circle) and s.role == role)


@pytest.mark.parametrize(
    ("side", "clock_deg", "x", "y"),
    [("left", 0, 0, 1), ("left", 90, -1, 0), ("left", 180, 0, -1), ("left", 270, 1, 0), ("right", 90, 1, 0)],
)
def test_hole_lies_where_the_clock_points(side, clock_deg, x, y):
    """By hand: forward is up the page; outboard is the page's left on the left corner, right on the right."""
    drawn = hole(strokes(side, Hole(0.0, 0.0), Hole(1.5, radians(clock_deg))), "solid_hole")
    assert (drawn.x, drawn.y) == pytest.approx((3.0 * x, 3.0 * y), abs=1e-12)


@given(st.floats(0.0, 7.0), st.floats(0.0, 6.28), st.floats(0.0, 7.0), st.floats(0.0, 6.28))
def test_right_is_left_in_a_mirror(one, clock, other, other_clock):
    left, right = (strokes(s, Hole(one, clock), Hole(other, other_clock)) for s in SIDES)
    pairs = [(a, b) for a, b in zip(left, right, strict=True) if not isinstance(a, Text)]
    for a, b in pairs:
        if isinstance(a, Circle):
            assert (a.x, a.y, a.role) == pytest.approx((-b.x, b.y, b.role), abs=1e-9)
        elif a.role != "scale":
            mirrored = sorted((-x + 0.0, y) for x, y in b.points)
            assert sum(map(sum, sorted(a.points))) == pytest.approx(sum(map(sum, mirrored)), abs=1e-9)


@given(st.floats(0.01, 16.0))
def test_enlargement_keeps_the_hole_in_its_bush(offset):
    times = enlargement_for(offset)
    drawn = hole(strokes("left", Hole(0.0, 0.0), Hole(offset, 1.0), times), "solid_hole")
    assert hypot(drawn.x, drawn.y) == pytest.approx(times * offset)
    assert hypot(drawn.x, drawn.y) <= MOST_OFFSET < BUSH - drawn.r
    bar = [s for s in strokes("left", Hole(0.0, 0.0), Hole(offset, 1.0), times) if s.role == "scale"]
    (x0, _), (x1, _) = next(s.points for s in bar if isinstance(s, Path) and len(set(s.points)) == 2)
    assert x1 - x0 == pytest.approx(times * (1.0 if times >= 1.0 else 10.0))


def test_turn_arrow_goes_the_shorter_way_and_ends_at_the_new_clock():
    drawn = strokes("left", Hole(2.0, radians(330)), Hole(2.0, radians(30)))
    arc = next(s for s in drawn if s.role == "turn")
    middle = arc.points[len(arc.points) // 2]
    assert arc.points[0] == pytest.approx(on_page("left", radians(330), 0.5 * (SEAT + BUSH)))
    assert arc.points[-1] == pytest.approx(on_page("left", radians(30), 0.5 * (SEAT + BUSH)))
    assert middle[1] > BUSH  # over the front, not round the back
    assert shorter_turn(radians(330), radians(30)) == pytest.approx(radians(60))


def test_a_swapped_bush_has_no_turn_arrow_and_a_kept_one_stays():
    assert not [s for s in strokes("left", Hole(1.0, 0.0), Hole(2.0, pi)) if s.role == "turn"]
    kept = strokes("left", Hole(1.0, 0.5), Hole(1.0, 0.5))
    assert [s.text for s in kept if s.role == "state"] == ["stays"]
    assert not [s for s in kept if s.role == "dashed_hole"]


def box(text, wide=1.62, high=2.5):
    """A generous box round a word at 2.7 mm type."""
    width = wide * len(text.text) * (1.08 if text.role == "state" else 1.0)
    left = text.x - {"start": 0.0, "middle": 0.5, "end": 1.0}[text.anchor] * width
    return left, text.y - 0.5 * high, left + width, text.y + 0.5 * high


def test_words_keep_apart_and_on_the_paper_at_every_clock():
    for side, one, other, sizes in product(SIDES, CLOCKS, CLOCKS, ((2, 2), (1, 2), (0, 2), (2, 0))):
        drawn = strokes(side, Hole(sizes[0], radians(one)), Hole(sizes[1], radians(other)))
        boxes = [(s.text, box(s)) for s in drawn if isinstance(s, Text)]
        for i, (text, a) in enumerate(boxes):
            where = (side, one, other, sizes, text)
            assert a[0] > -0.5 * WIDTH - 0.6, where
            assert a[2] < 0.5 * WIDTH + 0.6, where
            assert abs(a[1]) < 0.5 * HEIGHT, where
            for neighbour, b in boxes[:i]:
                apart = max(a[0] - b[2], b[0] - a[2], a[1] - b[3], b[1] - a[3])
                assert apart > -0.3, (*where, neighbour)


def test_words_are_escaped_in_svg():
    assert 'aria-label="&lt;a&gt;"' in drawn(bush_drawing("left", Hole(0, 0), Hole(1, 0), 1.0, "<a>"))
