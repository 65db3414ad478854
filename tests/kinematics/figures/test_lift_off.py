"""Where the inside rear leaves the road, by hand: a load carried on, or a clearance carried back."""

import numpy as np
import pytest

from kinematics.figures.lift_off import lift_off
from kinematics.figures.turning import Turn


def scanned(load, clearance, known=True):
    """A turn at 0, 1, 2, ... of handwheel, with a road steer of half that."""
    load, clearance = np.asarray(load, float), np.asarray(clearance, float)
    out, there = np.arange(load.shape[-1], dtype=float), np.ones(load.shape, bool)
    return Turn(out, 0.5 * out, load, clearance, np.zeros(load.shape), there, there & known)


@pytest.mark.parametrize(
    ("load", "clearance", "where"),
    [
        ([30.0, 20.0, 10.0, 0.0, 0.0], [0.0, 0.0, 0.0, 0.2, 0.4], 3.0),
        ([32.0, 22.0, 12.0, 2.0, 0.0], [0.0, 0.0, 0.0, 0.0, 0.4], 3.2),
        ([5.0, 0.0, 0.0], [0.0, 0.5, 2.0], 1.0 - 0.5 / 1.5),  # in the first step: the clearance carried back
        ([5.0, 0.0, 0.0], [0.0, 3.0, 4.0], 0.0),  # no further back than straight ahead
        ([5.0, 0.0], [0.0, 0.5], 1.0),  # nothing to carry either way
        ([0.0, 0.0, 0.0], [0.1, 0.5, 1.0], 0.0),
    ],
)
def test_between_positions_by_hand(load, clearance, where):
    found = lift_off(scanned(load, clearance))
    assert (float(found.handwheel), float(found.steer)) == pytest.approx((where, 0.5 * where))
    assert found.lifts
    assert not found.stays


def test_a_wheel_that_stays_down_and_one_that_is_not_known_of():
    found = lift_off(scanned(np.full((2, 3), 9.0), np.zeros((2, 3)), known=[[True] * 3, [True, False, True]]))
    assert not found.lifts.any()
    assert found.stays.tolist() == [True, False]
