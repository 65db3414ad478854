"""Shares of variance against exact ones, SciPy's, and what a straight line must give."""

import numpy as np
import pytest
from scipy import stats

from kinematics.tolerance.points import points
from kinematics.tolerance.shares import shares
from kinematics.tolerance.uncertain import scores
from tests.authorities.estimation.ishigami_1990 import FIRST, TOTAL, ishigami

COUNT = 4096
EVEN = points(COUNT)
ALL = np.ones(COUNT, bool)
ANGLES = np.pi * (2.0 * EVEN[:, :3] - 1.0)


def test_ishigamis_function_has_its_exact_shares():
    found = shares(ishigami(ANGLES.T), ALL, ANGLES, degree=8)
    assert found.own == pytest.approx(FIRST, abs=0.004)
    assert found.together == pytest.approx(TOTAL[2], abs=0.004)
    assert np.all(found.most >= np.array(TOTAL) - 0.004)


def test_scipys_shares_of_it_are_the_same():
    dists = [stats.uniform(-np.pi, 2.0 * np.pi)] * 3
    theirs = stats.sobol_indices(func=ishigami, n=16384, dists=dists, rng=np.random.default_rng(1))
    assert theirs.first_order == pytest.approx(FIRST, abs=0.01)
    assert theirs.total_order == pytest.approx(TOTAL, abs=0.01)


def test_curves_that_are_left_out_count_as_acting_together():
    found = shares(ishigami(ANGLES.T), ALL, ANGLES, degree=2)
    assert found.own[1] < 0.1
    assert found.together > 0.7


@pytest.mark.parametrize("count", [256, 4096])
def test_a_straight_line_in_many_inputs_has_the_shares_of_its_slopes(count):
    slopes = np.concatenate([[3.0, 2.0, 1.0], np.zeros(50)])
    inputs = scores(points(count)[:, : slopes.size])
    found = shares(inputs @ slopes + 5.0, np.ones(count, bool), inputs)
    assert found.own == pytest.approx(slopes**2 / 14.0, abs=0.5 / np.sqrt(count))
    assert found.together < 0.6 / np.sqrt(count)
    assert found.own.min() >= 0.0


def test_chance_is_taken_off_and_told():
    rng = np.random.default_rng(7)
    inputs = scores(points(512)[:, :40])
    figure = inputs[:, 0] + rng.normal(size=512)
    found = shares(figure, np.ones(512, bool), inputs)
    assert abs(found.own[0] - 0.5) < 3.0 * found.error[0]
    assert found.together == pytest.approx(0.5, abs=0.1)
    assert np.mean(found.own[1:]) < 0.004
    assert 0.01 < found.error[0] < 0.08


def test_what_does_not_change_has_no_shares_and_what_is_constant_has_none():
    inputs = np.column_stack([scores(EVEN[:, 0]), np.full(COUNT, 3.0)])
    assert shares(np.full(COUNT, 5.0), ALL, inputs).own.tolist() == [0.0, 0.0]
    assert shares(inputs[:, 0], ALL, inputs).own == pytest.approx([1.0, 0.0], abs=1e-12)


def test_too_few_samples_are_refused():
    known = np.arange(COUNT) < 7
    with pytest.raises(ValueError, match="7 samples are too few for 3 inputs in polynomials of degree 2"):
        shares(EVEN[:, 0], known, EVEN[:, :3])
