"""Rotations against SciPy's, the mirror, and the road's axes."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from kinematics.frames import (
    FLAT_ROAD,
    X_FORWARD,
    Y_LEFT,
    Z_UP,
    axis_direction,
    cross,
    dot,
    mirror,
    tilt,
    turn,
    unit,
)
from tests.helpers.poses import road_from_normal


def vectors(*shape: int, seed: int = 3) -> np.ndarray:
    return np.random.default_rng(seed).normal(size=(*shape, 3))


def frozen(v: np.ndarray) -> np.ndarray:
    v.flags.writeable = False
    return v


def test_a_positive_turn_is_right_handed():
    assert np.allclose(turn(X_FORWARD, Z_UP, np.pi / 2), Y_LEFT, atol=1e-15)
    assert np.allclose(cross(X_FORWARD, Y_LEFT), Z_UP)


@pytest.mark.parametrize("shape", [(), (1,), (3, 1, 2)])
def test_products_are_numpys_over_the_last_axis(shape):
    u, v = frozen(vectors(*shape)), frozen(vectors(*shape, seed=4))
    assert np.allclose(cross(u, v), np.cross(u, v), atol=1e-15)
    assert np.allclose(dot(u, v), np.sum(u * v, axis=-1), atol=1e-15)
    assert np.allclose(np.linalg.norm(unit(u), axis=-1), 1.0, atol=1e-15)
    assert dot(u, v).shape == shape


def test_turn_is_scipys_rotation_vector():
    v, axis = frozen(vectors(50)), frozen(unit(vectors(50, seed=5)))
    angle = frozen(np.random.default_rng(6).uniform(-4, 4, 50))
    theirs = Rotation.from_rotvec(angle[:, None] * axis).apply(v.copy())
    assert np.abs(turn(v, axis, angle) - theirs).max() < 1e-13


def test_turn_broadcasts_settings_against_lock():
    v, axis, angle = vectors(4, 1), unit(vectors(4, 1, seed=7)), np.linspace(-1, 1, 5)
    out = turn(v, axis, angle)
    assert out.shape == (4, 5, 3)
    assert np.abs(out[2, 3] - turn(v[2, 0], axis[2, 0], angle[3])).max() < 1e-13


def test_tilt_is_the_smallest_rotation_by_scipy():
    a, b, v = unit(vectors(50)), unit(vectors(50, seed=8)), vectors(50, seed=9)
    normal = np.cross(a, b)
    angle = np.arctan2(np.linalg.norm(normal, axis=-1), np.sum(a * b, axis=-1))
    theirs = Rotation.from_rotvec(angle[:, None] * unit(normal)).apply(v)
    assert np.abs(tilt(v, a, b) - theirs).max() < 1e-12
    assert np.abs(tilt(a, a, b) - b).max() < 1e-13


def test_no_tilt_is_exact():
    v = vectors(20)
    assert np.array_equal(tilt(v, Z_UP, Z_UP), v)


def test_the_mirror_flips_y_alone_and_leaves_its_argument():
    v = frozen(np.array([1.0, 2.0, 3.0]))
    assert mirror(v).tolist() == [1.0, -2.0, 3.0]
    assert mirror(mirror(v)).tolist() == v.tolist()


def test_an_axis_leans_rearward_by_caster_and_inboard_by_kingpin_inclination():
    k = axis_direction(np.radians(12.0), np.radians(10.0))
    assert k[0] < 0.0
    assert k[1] < 0.0
    assert np.isclose(-k[0] / k[2], np.tan(np.radians(12.0)), atol=1e-15)
    assert np.isclose(-k[1] / k[2], np.tan(np.radians(10.0)), atol=1e-15)
    assert np.isclose(np.linalg.norm(k), 1.0, atol=1e-15)
    assert axis_direction(0.0, 0.0).tolist() == [0.0, 0.0, 1.0]
    assert axis_direction(np.zeros((3, 1)), np.zeros(2)).shape == (3, 2, 3)


def test_a_flat_road_has_vehicle_axes():
    assert FLAT_ROAD.left.tolist() == Y_LEFT.tolist()
    road = road_from_normal(np.array([0.0, 0.0, 7.0]))
    assert road.normal.tolist() == Z_UP.tolist()
    assert road.heading.tolist() == X_FORWARD.tolist()


@pytest.mark.parametrize("shape", [(), (1,), (3, 1, 2)])
def test_any_road_is_square_and_right_handed_with_its_heading_over_vehicle_x(shape):
    road = road_from_normal(frozen(vectors(*shape) * 0.1 + Z_UP))
    triad = np.stack([road.heading, road.left, road.normal], axis=-2)
    assert np.abs(triad @ np.swapaxes(triad, -1, -2) - np.eye(3)).max() < 1e-13
    assert np.abs(np.linalg.det(triad) - 1.0).max() < 1e-13
    # the heading is vehicle x laid on the road: nothing of x is left over to the side
    assert np.abs(dot(road.left, X_FORWARD)).max() < 1e-13
    assert dot(road.heading, X_FORWARD).min() > 0.0
