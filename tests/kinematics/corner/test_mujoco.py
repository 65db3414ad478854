"""The same linkage closed by MuJoCo's kinematics over the whole lock, on random karts and bush pairs."""

from __future__ import annotations

import numpy as np
import pytest

from kinematics.corner.linkage import close_linkage
from kinematics.corner.pose import sweep_corner
from kinematics.corner.stub import seat_stub
from kinematics.frames import FLAT_ROAD
from tests.helpers.karts import corner_setting_from, kart_from, picker
from tests.twins.mujoco_corner import CornerTwin

AGREE_DEG, AGREE_MM = 1e-6, 1e-6


def reachable_lock(corner, setting, column) -> np.ndarray:
    """Handwheel angles from bind to bind, or a quarter turn; a hair inside, where a turn is still told."""
    bind = close_linkage(corner, setting, seat_stub(corner, setting), column, FLAT_ROAD).bind
    low, high = np.clip(bind, -np.pi / 2, np.pi / 2) * (1.0 - 1e-3)
    return np.concatenate([np.linspace(low, 0.0, 40)[:-1], np.linspace(0.0, high, 40)])


@pytest.mark.parametrize("seed", range(40))
def test_mujoco_agrees_over_the_whole_lock(seed):
    pick = picker(1000 + seed)
    kart, setting = kart_from(pick), corner_setting_from(pick)
    corner = kart.left if seed % 2 else kart.right
    theta = reachable_lock(corner, setting, kart.column)
    ours = sweep_corner(corner, setting, kart.column, kart.front_tyre, FLAT_ROAD, theta)
    twin = CornerTwin(corner, setting, kart.column, twist=pick(-0.6, 0.6))
    angles, centres = twin.sweep(theta)
    assert ours.reach.all()
    assert np.degrees(np.abs(angles[:, 0] - ours.steer)).max() < AGREE_DEG
    assert np.degrees(np.abs(angles[:, 1] - ours.camber)).max() < AGREE_DEG
    assert np.abs(centres - ours.wheel_centre).max() < AGREE_MM


def test_random_karts_bind_and_lean_so_that_the_twin_means_something():
    binding, tilted = 0, 0
    for seed in range(40):
        pick = picker(1000 + seed)
        kart, setting = kart_from(pick), corner_setting_from(pick)
        corner = kart.left if seed % 2 else kart.right
        theta = reachable_lock(corner, setting, kart.column)
        binding += theta[-1] < np.radians(85.0)
        tilted += abs(float(setting.top_offset) - float(setting.bottom_offset)) > 1.0
    assert binding >= 8
    assert tilted >= 20
