"""Motions and steering axes from points, against a published example, SciPy's rotations, and by coverage."""

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from kinematics.estimate.motion import axis_of, motion
from tests.authorities.estimation import umeyama_1991
from tests.helpers.cost.depth import times

AXIS = np.array([-0.21, -0.17, 1.0]) / np.linalg.norm([-0.21, -0.17, 1.0])
FOOT = np.array([1045.0, 367.0, 130.0])
MARKS = np.array(
    [[1045.0, 500.0, 130.0], [1140.0, 520.0, 150.0], [1000.0, 480.0, 230.0], [927.0, 353.0, 125.0]]
)


def seen(turns_deg, spread=0.0, rng=None):
    turned = [FOOT + Rotation.from_rotvec(AXIS * a).apply(MARKS - FOOT) for a in np.radians(turns_deg)]
    return np.array(turned) + (rng.normal(0.0, spread, (len(turns_deg), *MARKS.shape)) if rng else 0.0)


def test_published_example_with_a_scale():
    """Umeyama 1991, IV."""
    found = motion(umeyama_1991.POINTS, umeyama_1991.MOVED, scaled=True)
    print(found)
    np.testing.assert_allclose(found.rotation, umeyama_1991.ROTATION, atol=5e-4)
    assert found.scale == pytest.approx(umeyama_1991.SCALE, abs=5e-4)
    np.testing.assert_allclose(found.shift, umeyama_1991.SHIFT, atol=5e-4)


def test_a_motion_is_found_again():
    turn, shift = Rotation.from_rotvec([0.3, -0.5, 0.8]), np.array([30.0, -4.0, 7.0])
    found = motion(MARKS, turn.apply(MARKS) + shift)
    np.testing.assert_allclose(found.rotation, turn.as_matrix(), atol=1e-12)
    np.testing.assert_allclose(found.shift, shift, atol=1e-9)


@pytest.mark.parametrize("turns_deg", [(-25.0, 0.0, 28.0), (0.0, 12.0, 25.0, -8.0), (40.0, -40.0, 5.0)])
def test_an_exact_axis_and_its_turns(turns_deg):
    found = axis_of(seen(turns_deg), 1.0)
    np.testing.assert_allclose(found.direction, AXIS, atol=1e-9)
    np.testing.assert_allclose(np.cross(found.foot - FOOT, AXIS), 0.0, atol=1e-6)
    np.testing.assert_allclose(np.degrees(found.turns), np.array(turns_deg) - turns_deg[0], atol=1e-7)


@pytest.mark.deep
def test_stated_intervals_hold_the_axis_as_often_as_they_say():
    """Sets of points off by 1 mm: 95 % intervals hold 93 to 97 %, 400 sets in the long run."""
    rng, held, sets = np.random.default_rng(1), [], times(60, 400)
    for _ in range(sets):
        found = axis_of(seen((-24.0, 0.0, 26.0), 1.0, rng), 1.0)
        true = np.concatenate([AXIS, FOOT + AXIS * ((found.foot - FOOT) @ AXIS)])
        miss = np.concatenate([found.direction, found.foot]) - true
        held.append(np.abs(miss[[0, 1, 3, 4]]) < 1.96 * np.sqrt(np.diag(found.covariance))[[0, 1, 3, 4]])
    share = np.mean(held)
    print(share)
    assert (0.93 if sets == 400 else 0.9) < share < (0.97 if sets == 400 else 0.99)


def test_points_that_do_not_turn_as_one_are_noticed():
    points = seen((-24.0, 0.0, 26.0), 1.0, np.random.default_rng(4))
    points[1, 2] += [0.0, 25.0, 0.0]
    assert axis_of(points, 1.0).scatter > 3.0


def test_too_little_is_refused():
    with pytest.raises(ValueError, match="2 positions of 4 points: an axis takes 3 of 2"):
        axis_of(seen((0.0, 20.0)), 1.0)
    with pytest.raises(ValueError, match="too little to show an axis"):
        axis_of(seen((0.0, 1.0, 2.0)), 1.0)
    with pytest.raises(ValueError, match="have not turned"):
        axis_of(np.repeat(MARKS[None], 3, axis=0), 1.0)
