"""The fast path against the readable chain it stands in for, and its memory."""

from __future__ import annotations

import numpy as np
import pytest

from kinematics.corner import fast as grid
from kinematics.corner.pose import sweep_corner
from kinematics.frames import FLAT_ROAD
from kinematics.parts import CornerSetting
from tests.helpers.cost.memory import peak_of
from tests.helpers.karts import COLUMN, CORNER, LOCK, TYRE
from tests.helpers.poses import pose_grid, road_from_normal


def random_settings(size: int, **more: object) -> CornerSetting:
    rng = np.random.default_rng(20)
    draw = rng.uniform
    return CornerSetting(
        draw(0, 6, size),
        draw(0, 7, size),
        draw(0, 6, size),
        draw(0, 7, size),
        draw(-5, 5, size),
        draw(0, 20, size),
        **more,
    )


@pytest.mark.parametrize("rod", [{}, {"rod_toe": np.radians(0.4)}, {"rod_length": 401.0}])
@pytest.mark.parametrize("road", [FLAT_ROAD, road_from_normal(np.array([0.01, -0.02, 1.0]))])
def test_fast_poses_equal_the_readable_chain(rod, road):
    setting = random_settings(600, **rod)
    slow = sweep_corner(CORNER, setting, COLUMN, TYRE, road, LOCK)
    fast = pose_grid(CORNER, setting, COLUMN, TYRE, road, LOCK)
    assert np.array_equal(slow.reach, fast.reach)
    assert not slow.reach.all()
    seen = slow.reach
    assert np.abs(slow.steer - fast.steer)[seen].max() < 1e-12
    assert np.abs(slow.camber - fast.camber)[seen].max() < 1e-12
    axes = np.stack([road.heading, road.left, road.normal])
    for points, components in (
        (slow.contact_centre, (fast.contact_x, fast.contact_y, fast.contact_z)),
        (slow.wheel_centre, (fast.centre_x, fast.centre_y, fast.centre_z)),
    ):
        assert np.abs(points @ axes.T - np.stack(components, axis=-1))[seen].max() < 1e-9
    drop = -(slow.support_point @ road.normal)
    assert np.abs(drop + grid.support_height(fast, TYRE))[seen].max() < 1e-9


def test_blocks_cover_every_setting_once():
    size = 2 * grid.PREPARED + 17
    seen = np.zeros(size, dtype=int)
    for rows, poses in grid.pose_blocks(CORNER, random_settings(size), COLUMN, TYRE, FLAT_ROAD, LOCK):
        seen[rows] += 1
        assert poses.steer.shape == (rows.stop - rows.start, LOCK.size)
    assert (seen == 1).all()


def test_one_setting_with_scalar_numbers_is_a_batch_of_one():
    poses = pose_grid(CORNER, CornerSetting(2.0, np.pi), COLUMN, TYRE, FLAT_ROAD, 0.1)
    assert poses.steer.shape == (1, 1)


_MILLION = """
import numpy as np
from tests.helpers.karts import CORNER, COLUMN, TYRE, LOCK
from kinematics.corner import fast as grid
from kinematics.frames import FLAT_ROAD
from kinematics.parts import CornerSetting
size = 1_000_000
clock = np.linspace(0.0, 6.28, size)
score = np.empty(size)
settings = CornerSetting(2.0, clock, 1.0, 0.5 * clock)
for rows, poses in grid.pose_blocks(CORNER, settings, COLUMN, TYRE, FLAT_ROAD, LOCK[::8]):
    score[rows] = poses.camber.max(axis=-1)
assert np.isfinite(score).all()
"""


@pytest.mark.slow
def test_a_million_settings_stay_under_one_gibibyte():
    assert peak_of(_MILLION) < 1024 * 1024  # KiB
