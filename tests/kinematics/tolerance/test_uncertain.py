"""What is drawn has the spread that is stated, keeps within its bounds, and is cut there, not heaped up."""

from math import inf

import numpy as np
import pytest
from scipy import stats

from kinematics.tolerance.points import points
from kinematics.tolerance.uncertain import Uncertain, drawn, scores

EVEN = points(4096)[:, 0]


def test_a_normal_number_is_scipys():
    assert drawn(Uncertain(270.0, 20.0), EVEN) == pytest.approx(stats.norm(270.0, 20.0).ppf(EVEN), abs=1e-6)
    assert scores(EVEN) == pytest.approx(stats.norm.ppf(EVEN), abs=1e-9)


def test_a_number_known_by_ratio_has_its_value_in_the_middle_and_the_spread_stated():
    found = drawn(Uncertain(100.0, 35.0, by_ratio=True), EVEN)
    assert np.median(found) == pytest.approx(100.0, abs=0.1)
    assert np.std(found) == pytest.approx(35.0, rel=0.01)
    s = Uncertain(100.0, 35.0, by_ratio=True).log_spread
    assert found == pytest.approx(stats.lognorm(s, scale=100.0).ppf(EVEN), rel=1e-9)


@pytest.mark.parametrize(("low", "high"), [(0.0, 1.0), (0.5, inf), (-inf, 0.62)])
def test_bounds_cut_a_normal_number_as_scipy_cuts_it(low, high):
    found = drawn(Uncertain(0.6, 0.3, low, high), EVEN)
    a, b = (low - 0.6) / 0.3, (high - 0.6) / 0.3
    assert found == pytest.approx(stats.truncnorm(a, b, 0.6, 0.3).ppf(EVEN), abs=1e-7)
    assert np.unique(found).size > 4000  # none is moved to a bound


def test_bounds_of_each_sample_are_kept_and_cut_a_ratio_too():
    least = np.where(EVEN < 0.5, 60.0, 90.0)
    found = drawn(Uncertain(100.0, 60.0, by_ratio=True), points(4096)[:, 1], low=least, high=400.0)
    assert np.all((found > least) & (found < 400.0))


def test_a_number_known_exactly_is_what_it_is():
    assert np.array_equal(drawn(Uncertain(12.0, 0.0, 20.0, 30.0), EVEN), np.full(4096, 12.0))


@pytest.mark.parametrize(
    ("wrong", "told"),
    [
        ({"value": 1.0, "spread": -1.0}, "at least 0 and finite, not -1"),
        ({"value": 1.0, "spread": inf}, "at least 0 and finite, not inf"),
        ({"value": 3.0, "spread": 1.0, "high": 2.0}, "3 is not within its bounds, -inf to 2"),
        ({"value": 0.0, "spread": 1.0, "by_ratio": True}, "known by a ratio is above 0, not 0"),
    ],
)
def test_nonsense_is_refused(wrong, told):
    with pytest.raises(ValueError, match=told):
        Uncertain(**wrong)
