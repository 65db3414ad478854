"""A number on paper: rounding, signs, what stands where there is none, a figure's decimals."""

import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kinematics.figures.catalog import every
from kinematics.figures.kart import HANDWHEEL
from kinematics.figures.standing import CROSS_WEIGHT, LOAD, TWIST
from viz.browser import figures as page_figures
from viz.words.numbers import PAGE, TERMINAL, number, short, signed, told

FINITE = st.floats(-1e308, 1e308)


@pytest.mark.parametrize(
    ("value", "text"),
    [(-0.004, "0.00"), (0.0, "0.00"), (-0.006, "-0.01"), (12.345, "12.35"), (None, "-"), (-12.0, "-12.00")],
)
def test_a_number_never_reads_minus_zero(value, text):
    assert number(value, 2) == text


@pytest.mark.parametrize(
    ("figure", "value", "text"),
    [
        (HANDWHEEL, 0.04, "0.0°"),
        (HANDWHEEL, -0.04, "0.0°"),
        (HANDWHEEL, -1.26, "−1.3°"),
        (TWIST, 0.757, "+0.76°"),
        (CROSS_WEIGHT, 50.0, "+50.0 %"),
        (LOAD, -0.2, "0 N"),
    ],
)
def test_what_a_picture_says_has_a_sign_and_its_unit(figure, value, text):
    assert told(figure, value) == text
    assert told(figure, abs(value), sign=False) == text.lstrip("+−")


@given(FINITE, st.integers(0, 6))
def test_what_is_printed_is_the_value_as_nearly_as_its_digits_say(value, digits):
    text = number(value, digits)
    near = max(0.5 * 10.0**-digits, 5e-4 * abs(value) if abs(value) >= 1e7 else 0.0)
    assert float(text) == pytest.approx(value, rel=1e-12, abs=near * (1.0 + 1e-9))
    assert not text.startswith("-") or float(text) < 0.0
    assert len(text) <= 16
    assert number(value, digits, hand=PAGE).replace("−", "-") == text
    assert signed(value, digits).lstrip("+") == text
    assert signed(value, digits).startswith("+") == (float(text) > 0.0)


def test_what_stands_where_there_is_none():
    assert [number(None, 1), number(None, 1, "binds"), number(None, 1, hand=PAGE)] == ["-", "binds", "–"]
    assert signed(None, 2) == TERMINAL.missing


@pytest.mark.parametrize(
    ("value", "text"), [(1.5, "1.5"), (2.0, "2"), (-0.12345, "−0.1235"), (-0.0, "0"), (1045.0, "1045")]
)
def test_a_size_has_no_trailing_zeros(value, text):
    assert short(value, hand=PAGE) == text


def test_the_page_shows_every_figure_with_the_decimals_and_the_name_of_its_row():
    known = every()
    for shown in (*page_figures.HEADLINE, *page_figures.THROUGH):
        assert shown.decimals == known[shown.name].figure.digits, shown.name


HANDS = re.compile(r":[ +<>^]?[<>^]?[0-9]*,?\.\{?\w*\}?[fe]\}|\.[rl]just\(|\.center\(|:[<>^][{0-9]")
VIZ = Path(__file__).parents[3] / "viz"
PRINTERS = {"words/numbers.py", "tables/grid.py", "page/svg.py"}  # the last one writes places


def test_nothing_else_formats_a_number_or_pads_a_cell_by_hand():
    found = {str(p.relative_to(VIZ)): HANDS.findall(p.read_text()) for p in VIZ.rglob("*.py")}
    assert found.pop("tables/headline.py") == [":<7"]  # fitted_line: the side before what is fitted there
    assert not {path: hits for path, hits in found.items() if hits and path not in PRINTERS}
    assert all(found[path] for path in PRINTERS)
