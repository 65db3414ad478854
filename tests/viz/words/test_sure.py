"""A number with how sure it is: rounded to what its band allows, without its sign, never a nonsense end."""

from __future__ import annotations

import re
from math import inf

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from kinematics.figures.turn import LIFT_OFF
from kinematics.parts import GRAVITY
from kinematics.tolerance.band import Band
from scenarios.likely.bands import Banded
from viz.words.sure import ALIKE, decimals, gain, kg, magnitude, shift

ADDRESS = LIFT_OFF.at("left", None, "corner")


def figure(value, low, high) -> Banded:
    band = Band(np.array(low), np.array(high), np.array(1.0), np.array(0.0))
    return Banded(ADDRESS, value, band, (np.zeros(1), np.ones(1, dtype=bool)))


@pytest.mark.parametrize(
    ("value", "low", "high", "said"),
    [
        (25.3, 21.4, 29.2, "25 ± 4 kg"),
        (-2.07, -2.6, -1.54, "2.1 ± 0.5 kg"),
        (0.316, 0.17, 0.46, "0.32 ± 0.15 kg"),
        (2.4, 0.0, 8.0, "2 kg (0 to 8)"),
        (0.3, 0.0, 13.0, "0.3 kg (0.0 to 13.0)"),
        (58.0, 28.4, inf, "58 kg (28 or more, or never)"),
        (-13.2, -inf, -7.2, "13 kg (7 or more, or never)"),
        (250.0, 250.0, 250.0, "250.00 ± 0.00 kg"),
    ],
)
def test_by_hand(value, low, high, said):
    assert magnitude(figure(value, low, high), "kg") == said


@pytest.mark.parametrize(
    ("value", "low", "high", "said", "short"),
    [
        (-0.472, -0.66, -0.32, "−0.47 ± 0.17", "−0.47"),
        (25.3, 21.4, 29.2, "+25 ± 4", "+25"),
        (-4.1, -10.4, -1.2, "−4 (−10 to −1)", "−4"),
        (2.1, 0.3, 4.4, "+2.1 (0.3 to 4.4)", "+2"),
        (58.0, 28.4, inf, "+58 (28 or more, or never)", "+58"),
        (2.4, 0.0, 8.0, ALIKE, ALIKE),
        (0.02, 0.001, 0.05, ALIKE, ALIKE),
        (inf, 1.0, inf, ALIKE, ALIKE),
        (None, 1.0, 2.0, ALIKE, ALIKE),
    ],
)
def test_a_difference_in_a_table_by_hand(value, low, high, said, short):
    assert gain(figure(value, low, high), band=True) == said
    assert gain(figure(value, low, high)) == short


def test_a_degree_stands_at_its_number_and_scales_show_kilograms():
    assert magnitude(figure(9.0, 7.0, 11.0), "°") == "9 ± 2°"
    assert magnitude(figure(-20.0 * GRAVITY, -25.0 * GRAVITY, -15.0 * GRAVITY), "kg", kg) == "20 ± 5 kg"
    assert magnitude(figure(20.0, 15.0, 25.0), "N", sure=False) == "20.0 N"
    assert shift(12.0, 15.06, 1, "°") == "+3.1° (12.0 → 15.1)"
    assert shift(27.4, 20.0, 0, "mm") == "−7 mm (27 → 20)"


@pytest.mark.parametrize(("half", "places"), [(30.0, 0), (2.0, 0), (1.9, 1), (0.2, 1), (0.19, 2), (0.0, 2)])
def test_decimals_are_those_that_the_band_leaves_sure(half, places):
    assert decimals(half) == places


@given(st.floats(-1e4, 1e4), st.floats(0, 1e3), st.floats(0, 1e3))
def test_any_band_reads_as_numbers_in_their_order(value, below, above):
    said = magnitude(figure(value, value - below, value + above), "kg")
    assert "nan" not in said
    assert "inf" not in said
    ends = re.search(r"\((−?[\d.]+) to (−?[\d.]+)\)", said)
    if ends:
        low, high = (float(end.replace("−", "-")) for end in ends.groups())
        assert low <= high
