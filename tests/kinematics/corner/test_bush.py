"""Bush pairs: what a clock means, what a rating means, and how two bushes add."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from kinematics.corner.bush import (
    bush_offset,
    hole_centre,
    rated_size,
    seat_axes,
    seat_centres,
    steering_axis,
)
from kinematics.corner.pose import sweep_corner
from kinematics.corner.wheel import axis_angles
from kinematics.frames import FLAT_ROAD, X_FORWARD, axis_direction, cross, dot
from kinematics.parts import CONCENTRIC, CornerSetting, Yoke
from tests.authorities import common_practice as trade
from tests.helpers.karts import COLUMN, CORNER, TYRE, karts, leaning

FORWARD, OUTBOARD, REARWARD, INBOARD = np.radians([0.0, 90.0, 180.0, 270.0])
UPRIGHT = Yoke((0.0, 0.0, 100.0), 0.0, 0.0, 70.0)
LEANING = CORNER.yoke
clocks = st.floats(0.0, 6.3)
sizes = st.floats(0.0, np.radians(5.0))


def angle_between(u, v) -> float:
    return float(np.arctan2(np.linalg.norm(np.cross(u, v)), np.dot(u, v)))


def neutral(yoke: Yoke):
    return axis_direction(yoke.caster, yoke.kingpin_inclination)


@pytest.mark.parametrize(
    ("clock", "moved"),
    [(FORWARD, (2, 0, 0)), (OUTBOARD, (0, 2, 0)), (REARWARD, (-2, 0, 0)), (INBOARD, (0, -2, 0))],
)
def test_the_clock_of_an_upright_left_yoke(clock, moved):
    top = seat_centres(UPRIGHT)[1]
    assert np.allclose(hole_centre(UPRIGHT, top, 2.0, clock) - top, moved, atol=1e-15)
    axis = steering_axis(UPRIGHT, CornerSetting(2.0, clock))
    assert np.allclose(axis.top - top, moved, atol=1e-14)
    assert np.allclose(axis.bottom, seat_centres(UPRIGHT)[0])
    axis = steering_axis(UPRIGHT, CornerSetting(0.0, 0.0, 2.0, clock))
    assert np.allclose(axis.bottom - seat_centres(UPRIGHT)[0], moved, atol=1e-14)
    assert np.allclose(axis.top, top)


def test_the_seats_lie_half_a_span_either_side_of_the_yoke_centre():
    bottom, top = seat_centres(LEANING)
    assert np.allclose(0.5 * (bottom + top), LEANING.centre, atol=1e-12)
    assert np.allclose(top - bottom, LEANING.span * neutral(LEANING), atol=1e-12)
    assert top[2] > bottom[2]


@given(karts())
def test_the_axes_of_a_clock_are_square_to_the_kingpin_and_forward_is_x_projected(kart):
    k0, forward, outboard = seat_axes(kart.left.yoke)
    triad = np.stack([forward, outboard, k0])
    assert np.abs(triad @ triad.T - np.eye(3)).max() < 1e-13
    assert np.linalg.det(triad) > 0.0
    assert abs(dot(forward, cross(X_FORWARD, k0))) < 1e-13
    assert forward[0] > 0.0
    assert outboard[1] > 0.0


@given(sizes, clocks)
def test_a_rated_size_is_the_tilt_it_gives_with_a_concentric_bush_opposite(rated, clock):
    offset = bush_offset(rated, LEANING.span)
    for setting in (CornerSetting(offset, clock), CornerSetting(0.0, 0.0, offset, clock)):
        assert abs(angle_between(steering_axis(LEANING, setting).k, neutral(LEANING)) - rated) < 1e-12
    assert abs(rated_size(offset, LEANING.span) - rated) < 1e-13


@given(sizes, sizes, clocks)
def test_bushes_opposed_in_clock_add_by_their_tangents(top, bottom, clock):
    e_t, e_b = (bush_offset(r, LEANING.span) for r in (top, bottom))
    axis = steering_axis(LEANING, CornerSetting(e_t, clock, e_b, clock + np.pi))
    assert abs(np.tan(angle_between(axis.k, neutral(LEANING))) - np.tan(top) - np.tan(bottom)) < 1e-12


@given(sizes, clocks)
def test_equal_bushes_at_equal_clock_shift_the_axis_without_tilting_it(rated, clock):
    offset = bush_offset(rated, LEANING.span)
    axis = steering_axis(LEANING, CornerSetting(offset, clock, offset, clock))
    assert np.abs(axis.k - neutral(LEANING)).max() < 1e-13
    moved = axis.bottom - seat_centres(LEANING)[0]
    assert abs(np.linalg.norm(moved) - offset) < 1e-12
    assert abs(moved @ neutral(LEANING)) < 1e-12


def lean(setting: CornerSetting, yoke: Yoke = UPRIGHT):
    return np.degrees(axis_angles(steering_axis(yoke, setting).k, FLAT_ROAD))


def test_which_way_a_bush_leans_the_axis():
    assert lean(CornerSetting(1.0, REARWARD))[0] > 0.5  # top rearward adds caster
    assert lean(CornerSetting(0.0, 0.0, 1.0, FORWARD))[0] > 0.5  # bottom forward adds caster
    assert lean(CornerSetting(1.0, INBOARD))[1] > 0.5  # top inboard adds kingpin inclination
    assert lean(CornerSetting(0.0, 0.0, 1.0, OUTBOARD))[1] > 0.5  # so does bottom outboard


def test_turning_a_rearward_top_bush_by_half_a_turn_reverses_its_caster():
    rearward, forward = lean(CornerSetting(3.0, REARWARD)), lean(CornerSetting(3.0, FORWARD))
    assert np.allclose(rearward, -forward, atol=1e-12)


def test_components_of_a_clocked_bush_go_round_a_circle_as_the_trade_finds():
    """Common practice, no source: one 18 deg step from the caster extreme of a bush rated 1.5 deg.

    The recomputed figures are components of the rated angle; ours are projected angles, whose tangents are
    the components: 1.2e-4 deg apart here, hence the tolerance.
    """
    offset = bush_offset(np.radians(trade.BUSH_DEG), UPRIGHT.span)
    extreme = lean(CornerSetting(offset, REARWARD))
    step = lean(CornerSetting(offset, REARWARD + np.radians(trade.STEP_DEG)))
    assert abs(extreme[0] - trade.BUSH_DEG) < 1e-9
    assert abs(extreme[0] - step[0] - trade.STEP_CASTER_DEG) < 1e-4
    assert abs(step[1] - extreme[1] - trade.STEP_CAMBER_DEG) < 2e-4
    # a workshop's own gauge readings, to their printed digits
    assert abs(extreme[0] - step[0] - trade.REPORTED_CASTER_DEG) < 0.01
    assert abs(step[1] - extreme[1] - trade.REPORTED_CAMBER_DEG) < 0.01


def test_the_camber_traded_for_caster_shows_at_the_wheel():
    """The same step read as camber of the wheel, the tie rod re-set so that the wheel points ahead."""
    corner = leaning(0.0, 0.0)
    offset = bush_offset(np.radians(trade.BUSH_DEG), corner.yoke.span)
    clock = REARWARD - np.radians([0.0, trade.STEP_DEG])
    setting = CornerSetting(offset, clock, rod_toe=0.0)
    camber = np.degrees(sweep_corner(corner, setting, COLUMN, TYRE, FLAT_ROAD, np.zeros(1)).camber[:, 0])
    assert abs(camber[0]) < 1e-12
    assert abs(camber[1] - trade.STEP_CAMBER_DEG) < 2e-4  # towards outboard: the top leans out


@pytest.mark.parametrize("change", [{"top_offset": 2.0, "top_clock": np.pi}, {"spacer_shift": 5.0}])
def test_any_change_of_caster_or_ride_height_upsets_toe(change):
    """Common practice, no source. The tie rod is left alone."""
    changed = sweep_corner(CORNER, replace(CONCENTRIC, **change), COLUMN, TYRE, FLAT_ROAD, np.zeros(1))
    assert abs(changed.ahead[2] - CORNER.stub.toe) > np.radians(0.02)


@given(clocks, clocks)
def test_a_bush_of_no_size_is_concentric_at_any_clock(top, bottom):
    plain, none = steering_axis(LEANING, CONCENTRIC), steering_axis(LEANING, CornerSetting(0, top, 0, bottom))
    for name in ("k", "bottom", "top"):
        assert np.array_equal(getattr(plain, name), getattr(none, name))


@pytest.mark.parametrize("shape", [(), (1,), (3, 1, 2)])
def test_batch_is_loop(shape):
    rng = np.random.default_rng(1)
    top, clock = rng.uniform(0, 5, shape), rng.uniform(0, 6, shape)
    axis = steering_axis(LEANING, CornerSetting(top, clock, 1.5, 0.3))
    assert axis.k.shape == axis.bottom.shape == axis.top.shape == (*shape, 3)
    for at in np.ndindex(shape):
        one = steering_axis(LEANING, CornerSetting(float(top[at]), float(clock[at]), 1.5, 0.3))
        assert np.array_equal(axis.k[at], one.k)
        assert np.array_equal(axis.top[at], one.top)
