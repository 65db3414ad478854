"""Bands against a standard's, against closed forms, and where figures are infinite or missing."""

from math import inf

import numpy as np
import pytest
from scipy import stats

from kinematics.tolerance.band import band, differences
from kinematics.tolerance.points import MOST, points
from kinematics.tolerance.uncertain import Uncertain, drawn
from tests.authorities.estimation import jcgm_101

ALL = np.ones(MOST, dtype=bool)
RECTANGULAR = np.sqrt(3.0) * (2.0 * points(MOST)[:, :4] - 1.0)


@pytest.mark.parametrize(("tenth", "half"), [(1.0, jcgm_101.EVEN_95), (10.0, jcgm_101.ONE_TEN_TIMES_95)])
def test_sums_of_rectangular_inputs_have_the_standards_band(tenth, half):
    found = band(RECTANGULAR @ [1.0, 1.0, 1.0, tenth], ALL)
    assert -found.low == pytest.approx(half, abs=0.02 * tenth)
    assert found.high == pytest.approx(half, abs=0.02 * tenth)


def test_a_first_order_band_would_be_the_standards_too_wide_one():
    first_order = 1.959964 * np.sqrt(3.0 + 100.0)
    assert first_order == pytest.approx(jcgm_101.ONE_TEN_TIMES_FIRST_ORDER_95, abs=0.05)


@pytest.mark.parametrize("count", [256, 512, 4096])
def test_a_linear_figure_has_the_band_of_the_closed_form(count):
    weights, spreads = np.array([2.0, -1.0, 0.5, 3.0]), np.array([1.0, 4.0, 2.0, 0.5])
    inputs = [drawn(Uncertain(10.0, u), points(count)[:, n]) for n, u in enumerate(spreads)]
    found = band(weights @ inputs, np.ones(count, bool))
    half, middle = 1.959964 * np.sqrt(np.sum((weights * spreads) ** 2)), 10.0 * weights.sum()
    assert found.low == pytest.approx(middle - half, rel=0.0, abs=half * 1.6 / np.sqrt(count))
    assert found.high == pytest.approx(middle + half, rel=0.0, abs=half * 1.6 / np.sqrt(count))


def test_what_two_share_cancels_in_their_difference():
    shared, own = (drawn(Uncertain(0.0, u), points(4096)[:, n]) for n, u in enumerate((50.0, 2.0)))
    known = np.ones(4096, bool)
    change = band(*differences((shared, known), (shared - 27.0 + own, known)))
    assert (change.low, change.high) == pytest.approx((-27.0 - 3.92, -27.0 + 3.92), abs=0.1)
    assert change.told_apart
    assert change.half == pytest.approx(3.92, abs=0.1)
    small = band(*differences((shared, known), (shared - 3.0 + own, known)))
    assert not small.told_apart


def test_ends_hold_as_many_on_either_side():
    values = np.arange(1000.0)
    found = band(values, np.ones(1000, bool))
    # JCGM 101:2008, 7.7: y(25) and y(975), of which the numbers count from 1
    assert (found.low, found.high) == pytest.approx((24.0, 974.0), abs=1.0)
    assert found.low - values[0] == pytest.approx(values[-1] - found.high)


def test_ends_are_those_of_scipys_weighing():
    values = np.random.default_rng(3).gamma(2.0, size=(256, 3))
    found = band(values, np.ones(values.shape, bool))
    ends = stats.mstats.hdquantiles(values, [0.025, 0.975], axis=0)
    assert np.stack([found.low, found.high]) == pytest.approx(np.asarray(ends), rel=2e-4)


@pytest.mark.parametrize("alike", [0.0, inf])
def test_an_end_among_samples_that_are_alike_is_theirs(alike):
    """Else a wheel that stays down in most karts would be told to change."""
    values = np.where(np.arange(256) < 20, np.abs(alike), np.linspace(1.0, 2.0, 256))
    found = band(values, np.isfinite(values))
    assert (found.high if alike else found.low) == alike


def test_of_few_samples_the_ends_are_two_of_them():
    values = np.random.default_rng(5).normal(size=40)
    found = band(values, np.ones(40, bool))
    assert {float(found.low), float(found.high)} <= set(values.tolist())


def test_the_band_of_a_figure_that_may_never_be_has_no_end():
    values = np.concatenate([np.linspace(20.0, 60.0, 900), np.full(100, inf)])
    found = band(values, np.isfinite(values))
    assert found.high == inf
    assert 20.0 < found.low < 22.0
    assert (found.known, found.never) == (1.0, 0.1)


def test_what_is_not_known_is_left_out_and_how_much_is_told():
    values = np.array([[1.0, 5.0, 9.0], [3.0, 5.0, 9.0], [2.0, 700.0, 9.0], [4.0, 6.0, 9.0]])
    known = np.array([[1, 1, 0], [1, 1, 0], [1, 0, 0], [1, 1, 0]], bool)
    found = band(values, known)
    assert found.low.tolist() == [1.0, 5.0, 0.0]
    assert found.high.tolist() == [4.0, 6.0, 0.0]
    assert found.known.tolist() == [1.0, 0.75, 0.0]
    assert found.told_apart.tolist() == [True, True, False]


def test_a_figure_that_comes_or_goes_differs_without_end():
    was, now = np.array([30.0, inf, 30.0, inf, 30.0]), np.array([25.0, 25.0, inf, inf, 0.0])
    known = np.array([True, False, True, False, True]), np.array([True, True, False, False, False])
    change, there = differences((was, known[0]), (now, known[1]))
    assert change.tolist() == [-5.0, -inf, inf, 0.0, 0.0]
    assert there.tolist() == [True, True, True, False, False]
