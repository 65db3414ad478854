"""Least squares against certified values, closed forms, and what it must not claim."""

import numpy as np
import pytest

from kinematics.estimate.slopes import spread_of, with_slopes
from kinematics.estimate.squares import estimate, robust, with_prior
from tests.authorities.estimation import jcgm_100, nist_strd, york_1966


@pytest.mark.parametrize(
    ("function", "starts", "certified"),
    [
        (nist_strd.rat43, nist_strd.RAT43_STARTS, nist_strd.RAT43),
        (nist_strd.mgh09, nist_strd.MGH09_STARTS, nist_strd.MGH09),
    ],
)
def test_certified_values_from_both_starts_to_all_digits(function, starts, certified):
    """NIST StRD; the printed eleven digits, from each start alone."""
    for start in starts:
        found = estimate(with_slopes(function), [np.array(start)], fine=0.0)
        print(function.__name__, start, found.values)
        np.testing.assert_allclose(found.values, certified, rtol=5.1e-11)
        assert found.sharp


def test_certified_standard_deviations():
    """NIST StRD, Rat43: from the scatter of what is left."""
    found = estimate(with_slopes(nist_strd.rat43), [np.array(nist_strd.RAT43_STARTS[0])], fine=0.0)
    print(found.errors * found.scatter)
    np.testing.assert_allclose(found.errors * found.scatter, nist_strd.RAT43_SD, rtol=5.1e-11)


def test_a_line_through_thermometer_readings():
    """JCGM 100:2008, H.3."""
    line = with_slopes(lambda y: y[0] + y[1] * (jcgm_100.THERMOMETER - jcgm_100.ABOUT) - jcgm_100.CORRECTION)
    found = estimate(line, [np.zeros(2)], fine=0.0)
    sure, there = found.errors * found.scatter, np.array([[1.0, 30.0 - jcgm_100.ABOUT]])
    covariance = found.covariance * found.scatter**2
    at_30, sure_at_30 = (there @ found.values)[0], np.sqrt(spread_of(there, covariance))[0, 0]
    print(found.values, sure, found.correlation[0, 1], found.scatter, at_30, sure_at_30)
    np.testing.assert_allclose(found.values, jcgm_100.LINE, atol=5e-5)
    np.testing.assert_allclose(found.values[1], jcgm_100.LINE[1], atol=5e-6)
    np.testing.assert_allclose(sure, jcgm_100.LINE_SURE, atol=5e-5)
    assert found.correlation[0, 1] == pytest.approx(jcgm_100.LINE_TIED, abs=5e-4)
    assert found.scatter == pytest.approx(jcgm_100.LINE_SCATTER, abs=5e-5)
    assert (at_30, sure_at_30) == pytest.approx((jcgm_100.AT_30, jcgm_100.AT_30_SURE), abs=5e-5)


def test_readings_taken_together():
    """JCGM 100:2008, H.2, tables H.2 to H.4: each set weighed by how the five scatter together."""
    readings = jcgm_100.SIMULTANEOUS
    whiten = np.linalg.inv(np.linalg.cholesky(np.cov(readings.T)))
    slopes = np.tile(whiten, (len(readings), 1))
    means = estimate(lambda v: ((whiten @ (v - readings).T).T.ravel(), slopes), [readings[0]], fine=0.0)
    mean, covariance = means.values, means.covariance

    def impedance(v):
        size = 1e3 * v[0] / v[1]
        return np.array([size * np.cos(v[2]), size * np.sin(v[2]), size])

    values, slopes = with_slopes(impedance)(mean)
    spread = spread_of(slopes, covariance)
    sure = np.sqrt(np.diag(spread))
    tied = (spread / np.outer(sure, sure))[[0, 0, 1], [1, 2, 2]]
    print(values, sure, tied)
    np.testing.assert_allclose(values, jcgm_100.IMPEDANCE, atol=5e-4)
    np.testing.assert_allclose(sure, jcgm_100.IMPEDANCE_SURE, atol=6.1e-4)  # 0.2956 is printed as 0.295
    np.testing.assert_allclose(tied, jcgm_100.IMPEDANCE_TIED, atol=5.1e-4)


def test_both_coordinates_uncertain():
    """Pearson's data with York's weights: the places along x are values of the fit as well."""
    x, y = york_1966.X, york_1966.Y
    across, up = np.sqrt(york_1966.WEIGHT_X), np.sqrt(york_1966.WEIGHT_Y)
    line = with_slopes(lambda v: np.concatenate([(v[2:] - x) * across, (v[0] + v[1] * v[2:] - y) * up]))
    found = estimate(line, [np.array([5.0, -0.5, *x])], fine=0.0)
    print(found.values[:2], found.errors[:2])
    np.testing.assert_allclose(found.values[:2], york_1966.LINE, rtol=2e-9)
    np.testing.assert_allclose(found.errors[:2], york_1966.LINE_SURE, atol=6e-6)


def test_a_prior_and_a_reading_meet_by_their_weights():
    """By hand: 10 ± 3 known, 16 ± 4 read: (10/9 + 16/16) / (1/9 + 1/16) = 12.16, ± 2.4."""
    read = with_slopes(lambda v: (v - 16.0) / 4.0)
    found = estimate(with_prior(read, np.array([10.0]), np.array([3.0])), [np.array([0.0])], fine=0.0)
    assert found.values[0] == pytest.approx(12.16, abs=1e-12)
    assert found.errors[0] == pytest.approx(2.4, abs=1e-12)
    assert found.freedom == 1
    assert found.chi_square == pytest.approx((16.0 - 10.0) ** 2 / (3.0**2 + 4.0**2), abs=1e-12)


def test_what_is_not_told_has_no_error_and_no_false_one():
    """Two values of which only the sum is read: neither is told, and a third one is."""
    both = with_slopes(lambda v: np.array([v[0] + v[1] - 3.0, v[0] + v[1] - 3.2, v[2] - 1.0]))
    found = estimate(both, [np.zeros(3)])
    assert found.rank == 2
    assert np.isinf(found.errors[:2]).all()
    assert found.errors[2] == pytest.approx(1.0)


def test_the_best_of_several_minima_and_bounds():
    """(v² - 1)² / 4 + a slope: two minima, the lower one on the left; a bound keeps it out."""
    model = with_slopes(lambda v: np.array([v[0] ** 2 - 1.0, 0.3 * (v[0] + 1.0)]))
    starts = [np.array([0.9]), np.array([-0.9])]
    assert estimate(model, starts).values[0] == pytest.approx(-1.0, abs=1e-6)
    assert estimate(model, starts, low=0.0).values[0] > 0.5
    held = estimate(model, [np.array([2.0])], low=1.5)
    assert held.values[0] == pytest.approx(1.5, abs=1e-6)


def test_nothing_to_start_from_is_said():
    with pytest.raises(ValueError, match="nothing can be computed"):
        estimate(lambda v: (np.array([np.inf]), np.ones((1, 1))), [np.zeros(1)])


def test_leverage_is_the_hat_matrix():
    rng = np.random.default_rng(2)
    design = rng.normal(size=(9, 3))
    found = estimate(lambda v: (design @ v - 1.0, design), [np.zeros(3)])
    hat = design @ np.linalg.solve(design.T @ design, design.T)
    np.testing.assert_allclose(found.leverage, np.diag(hat), atol=1e-12)


def test_robust_weights():
    np.testing.assert_allclose(robust(np.array([0.0, -1.0, 3.0]), 1.5), [1.0, 1.0, 0.5])
