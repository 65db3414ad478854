"""Drawings of gauges and of how the kart stands: within their paper, no word on another, sides right."""

from __future__ import annotations

from dataclasses import replace

import pytest
from reportlab.pdfbase import pdfmetrics

import scenarios
from scenarios.gauged.kinds import KINDS, WHEELS
from scenarios.gauged.record import Hung, Reading
from tests.helpers.sheet.cases import all_readings
from viz.page.drawing import Circle, Path, Text
from viz.page.looks import LOOKS, TEXT_SIZE
from viz.sheet.gauges import DRAWINGS, gauge_drawing
from viz.sheet.numbered import BOLD, FONT, fonts
from viz.sheet.stances import READY, heading, ready, stance_drawing, wheels_of

KART = scenarios.load().kart
PLAIN_SCALE = Reading("scale_kg", "front_left", "as-delivered")
KNOWN = {*LOOKS, "word", "state", "plain", "tick"}


def stances():
    """A drawing for every way in which the kart is stood."""
    scenario, readings = all_readings()
    groups: dict[object, list[Reading]] = {}
    for one in (reading for reading in readings if not reading.of_number):
        groups.setdefault(one.setup, []).append(one)
    far = replace(PLAIN_SCALE, hung=Hung(5.0, (2500.0, -1400.0, 100.0)), held=True)
    packed = replace(PLAIN_SCALE, under_mm=(3.25, 300.0, 100.0, 12.5))
    whole = [*groups.values(), [far], [packed]]
    return {
        heading(group[0]) + f" {n}": stance_drawing(scenario.kart, group) for n, group in enumerate(whole)
    }


EVERY = {**{kind: gauge_drawing(kind) for kind in DRAWINGS}, **stances()}


def extent(text: Text) -> tuple[float, float, float, float]:
    """Left, low, right and high of a word, mm of paper."""
    fonts()
    wide = pdfmetrics.stringWidth(text.text, BOLD if text.role == "state" else FONT, TEXT_SIZE)
    left = text.x - {"start": 0.0, "middle": 0.5, "end": 1.0}[text.anchor] * wide
    return left, text.y - 0.45 * TEXT_SIZE, left + wide, text.y + 0.45 * TEXT_SIZE


def reach(stroke) -> tuple[float, float, float, float]:
    if isinstance(stroke, Text):
        return extent(stroke)
    if isinstance(stroke, Circle):
        return stroke.x - stroke.r, stroke.y - stroke.r, stroke.x + stroke.r, stroke.y + stroke.r
    across, along = zip(*stroke.points, strict=True)
    return min(across), min(along), max(across), max(along)


@pytest.mark.parametrize("name", EVERY)
def test_all_is_within_the_paper_and_no_word_lies_on_another(name):
    drawing = EVERY[name]
    for stroke in drawing.strokes:
        left, low, right, high = reach(stroke)
        assert -0.5 * drawing.width <= left <= right <= 0.5 * drawing.width, stroke
        assert -0.5 * drawing.height <= low <= high <= 0.5 * drawing.height, stroke
        assert stroke.role in KNOWN
    words = [(one.text, extent(one)) for one in drawing.strokes if isinstance(one, Text)]
    for n, (one, (a, b, c, d)) in enumerate(words):
        for other, (e, f, g, h) in words[:n]:
            assert min(c, g) <= max(a, e) or min(d, h) <= max(b, f), (one, other)
    assert drawing.alt


def test_each_kind_of_reading_has_a_drawing_and_what_it_needs_is_known():
    assert set(DRAWINGS) == set(KINDS)
    assert set(READY) <= set(KINDS)


def test_left_is_left_front_is_up_and_the_shim_lies_under_the_wheel_named():
    for n, wheel in enumerate(WHEELS):
        under = tuple(10.0 if at == n else 0.0 for at in range(4))
        drawing = stance_drawing(KART, [replace(PLAIN_SCALE, where=wheel, under_mm=under)])
        shim = next(s for s in drawing.strokes if isinstance(s, Path) and s.role == "put")
        left, low, right, high = reach(shim)
        assert (left + right < 0.0) == wheel.endswith("left")
        assert (low + high > 0.0) == wheel.startswith("front")
        read = [s for s in drawing.strokes if isinstance(s, Text) and s.text.isdigit()]
        assert [(s.text, s.x < 0.0) for s in read] == [(f"{n + 1}", wheel.endswith("left"))]
        assert left < read[0].x < right
        assert low < read[0].y < high


def test_a_weight_is_drawn_and_told_at_its_place():
    hung = replace(PLAIN_SCALE, hung=Hung(20.0, (-150.0, 300.0, 80.0)))
    drawing = stance_drawing(KART, [hung])
    weight = next(s for s in drawing.strokes if isinstance(s, Path) and s.role == "put")
    left, low, right, high = reach(weight)
    axle = next(s for s in drawing.strokes if isinstance(s, Path) and s.role == "floor").points[0][1]
    assert left + right < 0.0
    assert 0.5 * (low + high) < axle  # behind the rear axle
    lines = ["".join(getattr(piece, "text", piece) for piece in line) for line in ready("a", [hung])]
    assert lines[-3:] == [
        "150 mm behind the middle of the rear axle,",
        "300 mm to the left of the kart's middle,",
        "80 mm over the floor.",
    ]


def test_how_the_kart_stands_is_told_in_a_few_words():
    def of(**how):
        return heading(replace(PLAIN_SCALE, **how))

    assert of() == "On its own wheels"
    assert of(under_mm=(300.0, 300.0, 0.0, 0.0)) == "Front 300 mm up"
    assert of(under_mm=(0.0, 100.0, 0.0, 100.0)) == "Right side 100 mm up"
    assert of(under_mm=(0.0, 0.0, 2.5, 0.0)) == "2.5 mm under rear left"
    assert of(under_mm=(3.0, 4.0, 0.0, 0.0)) == "3 mm under front left, 4 mm under front right"
    assert of(lateral_g=0.5, longitudinal_g=-0.25) == "Driven at 0.5 g, −0.25 g ahead"
    assert of(hung=Hung(20.0, (0.0, 0.0, 0.0)), held=True) == "20 kg put on, frame held level"


def test_a_place_is_its_wheels():
    assert wheels_of("left") == (0,)
    assert wheels_of("both") == (0, 1)
    assert wheels_of("frame") == ()
    assert [wheels_of(wheel) for wheel in WHEELS] == [(0,), (1,), (2,), (3,)]
