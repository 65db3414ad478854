"""What readings cannot tell apart, of combinations made by hand."""

import numpy as np
import pytest

from kinematics.estimate.apart import told_together, touched


def test_two_values_of_which_only_the_sum_is_read():
    [found] = told_together(10.0 * np.array([[1.0, 1.0, 0.0], [1.0, 1.0, 0.0]]))
    assert set(found.which) == {0, 1}
    np.testing.assert_allclose(np.array(found.shares), [np.sqrt(0.5), -np.sqrt(0.5)], atol=1e-12)


def test_what_is_told_is_in_no_combination_and_what_is_not_touched_neither():
    slopes = np.diag([10.0, 10.0, 0.1, 10.0])
    assert told_together(slopes) == []
    assert touched(slopes).tolist() == [0, 1, 3]
    assert told_together(np.zeros((2, 3))) == []


def test_two_unrelated_pairs_are_named_apart():
    """Whatever basis of what is not told a decomposition happens to give."""
    slopes = np.array([[5.0, 5.0, 0.0, 0.0, 0.0], [0.0, 0.0, 7.0, -7.0, 0.0], [0.0, 0.0, 0.0, 0.0, 9.0]])
    found = sorted(tuple(sorted(one.which)) for one in told_together(slopes))
    assert found == [(0, 1), (2, 3)]


@pytest.mark.parametrize("seed", range(40))
def test_what_is_spoken_of_and_not_told_is_named_every_time(seed):
    """Readings of a few mixed causes: a value of which more than 0.8 is left stands in some combination."""
    rng = np.random.default_rng(seed)
    slopes = rng.normal(size=(12, 4)) @ (rng.normal(size=(4, 9)) * rng.choice([0.1, 1.0, 8.0], (4, 9)))
    left = np.sqrt(np.diag(np.linalg.inv(np.eye(9) + slopes.T @ slopes)))
    named = {place for one in told_together(slopes) for place in one.which}
    untold = {int(place) for place in touched(slopes) if left[place] > 0.8}
    assert untold <= named


@pytest.mark.parametrize("seed", range(8))
def test_along_a_combination_no_reading_changes(seed):
    rng = np.random.default_rng(seed)
    slopes = 20.0 * rng.normal(size=(4, 3)) @ rng.normal(size=(3, 6))
    found = told_together(slopes)
    assert len(found) == 3
    for one in found:
        way = np.zeros(6)
        way[list(one.which)] = one.shares
        assert len(one.which) <= 4
        assert np.linalg.norm(slopes @ way) < 0.35 * np.linalg.norm(slopes, 2)
