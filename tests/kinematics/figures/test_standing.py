"""Columns of a load case by the physics that they must keep."""

from __future__ import annotations

import numpy as np
import pytest

from kinematics.figures.figure import WHEELS
from kinematics.lock import sweep
from kinematics.parts import LoadCase, Setting
from tests.helpers.karts import KART
from tests.helpers.reading import FOUR_WHEELS, case_columns

FULL = sweep(KART, Setting(), np.radians([0.0, 20.0]))


def test_a_left_turn_loads_the_right_wheels_and_four_loads_make_the_weight():
    found = case_columns(FULL, LoadCase("left turn", 0.5))
    front_left, front_right, rear_left, rear_right = (found[f"load_{wheel}_n"].values for wheel in WHEELS)
    assert (front_right > front_left).all()
    assert (rear_right > rear_left).all()
    assert np.allclose(front_left + front_right + rear_left + rear_right, sum(KART.loads), atol=0.5)
    assert front_left[0] + front_right[0] == pytest.approx(620.0, abs=1.0)
    assert np.allclose(found["inside_rear_load_n"].values, rear_left)
    share = 100.0 * (front_right + rear_left) / sum(KART.loads)
    assert np.allclose(found["cross_weight_percent"].values, share, atol=0.05)
    assert found["roll_deg"].values[0] > 0.0


def test_a_tipped_kart_has_no_figures():
    """Nothing may be shown of it; what stands there is a number all the same."""
    over = case_columns(FULL, LoadCase("over", 9.0))
    assert set(FOUR_WHEELS) < set(over)
    assert not any(column.known.any() for column in over.values())
    assert all(np.isfinite(column.values).all() for column in over.values())
