"""The points are SciPy's, each between its steps; what is strewn besides is like nothing else."""

from pathlib import Path

import numpy as np
import pytest
from scipy import stats
from scipy.stats import qmc

from kinematics.tolerance import points as module
from kinematics.tolerance.points import BITS, MOST, points, strewn

SEED, POOL = 1601, 8000


def test_the_points_are_chosen_columns_of_scipys_half_a_step_on():
    columns = np.load(Path(module.__file__).with_name("sobol.npy"))[0]
    theirs = qmc.Sobol(POOL, scramble=True, rng=np.random.default_rng(SEED)).random(512)[:, columns]
    assert np.array_equal(points(512) * 2**BITS, theirs * 2**BITS + 0.5)


@pytest.mark.parametrize(("count", "most"), [(256, 0.19), (512, 0.14), (1024, 0.1), (4096, 0.05)])
def test_no_two_inputs_are_much_alike(count, most):
    alike = np.corrcoef(stats.norm.ppf(points(count)).T) - np.eye(64)
    assert np.abs(alike).max() < most
    assert np.sqrt(np.mean(alike**2)) < 0.6 / np.sqrt(count)  # by chance it is 1 / sqrt(count)


def test_the_last_of_them_are_as_even_as_the_first():
    assert np.all(np.count_nonzero(points(MOST) < 0.25, axis=0) == MOST // 4)


def test_more_points_begin_with_the_same_and_each_half_of_each_input_has_half_of_them():
    assert np.array_equal(points(4096)[:256], points(256))
    assert np.all(np.count_nonzero(points(1024) < 0.5, axis=0) == 512)


@pytest.mark.parametrize("count", [0, MOST + 1])
def test_so_many_points_there_are_not(count):
    with pytest.raises(ValueError, match=f"there are 1 to {MOST} points, not {count}"):
        points(count)


def test_what_is_strewn_is_even_the_same_for_a_name_and_alike_for_no_two():
    one, other = strewn(1024, "left top bush"), strewn(1024, "right top bush")
    assert np.array_equal(np.sort((one * 1024).astype(int)), np.arange(1024))
    assert np.array_equal(one, strewn(1024, "left top bush"))
    assert abs(np.corrcoef(one, other)[0, 1]) < 0.1
    assert np.abs(np.corrcoef(np.column_stack([points(1024), one]).T)[-1, :-1]).max() < 0.12
