"""The closed-form bush-pair inverse against the forward chain, and against brute force."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kinematics.corner import inverse
from kinematics.corner.bush import bush_offset, steering_axis
from kinematics.corner.wheel import axis_angles
from kinematics.frames import FLAT_ROAD
from kinematics.parts import CornerSetting, Yoke
from tests.helpers.poses import road_from_normal

YOKE = Yoke((1045.0, 430.0, 130.0), np.radians(12.0), np.radians(10.0), 70.0)
CLOCK = st.floats(0.0, 2.0 * np.pi, exclude_max=True)
OFFSET = st.floats(0.0, 6.0)


def apart(a, b):
    """Angle between two clocks."""
    return np.abs((np.asarray(a) - b + np.pi) % (2.0 * np.pi) - np.pi)


@given(OFFSET, CLOCK, OFFSET, CLOCK)
@settings(max_examples=300, derandomize=True)
def test_both_answers_give_back_the_axis(top, top_clock, bottom, bottom_clock):
    k = steering_axis(YOKE, CornerSetting(top, top_clock, bottom, bottom_clock)).k
    found = inverse.clocks_for_axis(YOKE, k, top, bottom)
    assert found.reach
    for answer in range(2):
        again = CornerSetting(top, found.top_clock[answer], bottom, found.bottom_clock[answer])
        assert np.abs(steering_axis(YOKE, again).k - k).max() < 1e-9


def test_one_of_the_answers_is_the_pair_it_came_from():
    rng = np.random.default_rng(5)
    top, bottom = rng.uniform(1.0, 5.0, 500), rng.uniform(1.0, 5.0, 500)
    top_clock, bottom_clock = rng.uniform(0.0, 2.0 * np.pi, (2, 500))
    open_triangle = np.abs(np.sin(top_clock - bottom_clock)) > 0.01  # else the answers all but coincide
    k = steering_axis(YOKE, CornerSetting(top, top_clock, bottom, bottom_clock)).k
    found = inverse.clocks_for_axis(YOKE, k, top, bottom)
    miss = apart(found.top_clock, top_clock[:, None]) + apart(found.bottom_clock, bottom_clock[:, None])
    assert miss.min(axis=-1)[open_triangle].max() < 1e-9
    assert miss.max(axis=-1)[open_triangle].min() > 1e-3
    tilt = inverse.tilt_vector(YOKE, k)
    mirrored = inverse.hole_vector(top[:, None], found.top_clock).sum(axis=-2)  # about the tilt: along it
    assert np.abs(mirrored[:, 0] * tilt[:, 1] - mirrored[:, 1] * tilt[:, 0]).max() < 1e-9


@pytest.mark.parametrize("road", [FLAT_ROAD, road_from_normal(np.array([0.02, 0.0, 1.0]))])
def test_wanted_caster_and_inclination_are_had_on_the_road_as_it_is(road):
    caster, inclination = np.radians([14.0, 13.5, 15.0]), np.radians([10.0, 8.5, 11.0])
    top, bottom = bush_offset(np.radians(3.0), 70.0), bush_offset(np.radians(2.5), 70.0)
    found = inverse.clocks_for_angles(YOKE, caster, inclination, top, bottom, road)
    assert found.reach.all()
    k = steering_axis(YOKE, CornerSetting(top, found.top_clock, bottom, found.bottom_clock)).k
    got_caster, got_inclination = axis_angles(k, road)
    assert np.abs(got_caster - caster[:, None]).max() < 1e-12
    assert np.abs(got_inclination - inclination[:, None]).max() < 1e-12


def test_a_single_bush_reaches_its_circle_and_nothing_else():
    offset = float(bush_offset(np.radians(2.0), 70.0))
    k = steering_axis(YOKE, CornerSetting(offset, 1.0)).k
    on_top = inverse.clocks_for_axis(YOKE, k, offset, 0.0)
    assert on_top.reach
    assert apart(on_top.top_clock, 1.0).max() < 1e-7
    assert (on_top.bottom_clock == 0.0).all()
    below = inverse.clocks_for_axis(YOKE, k, 0.0, offset)  # the bottom hole must go the other way
    assert below.reach
    assert apart(below.bottom_clock, 1.0 + np.pi).max() < 1e-7
    assert (below.top_clock == 0.0).all()
    assert not inverse.clocks_for_axis(YOKE, k, 1.01 * offset, 0.0).reach


def test_no_tilt_asks_for_equal_bushes_at_any_common_clock():
    found = inverse.clocks_for_tilt([0.0, 0.0], [3.0, 3.0, 0.0], [3.0, 2.0, 0.0])
    assert found.reach.tolist() == [True, False, True]
    assert found.together.tolist() == [True, False, False]
    assert np.allclose(found.top_clock[0], found.bottom_clock[0])


def test_out_of_reach_is_said_and_the_nearest_is_given():
    tilt = np.array([[9.0, 0.0], [0.0, 0.5], [0.0, -0.5]])
    found = inverse.clocks_for_tilt(tilt, [3.0, 4.0, 2.0], [2.0, 2.0, 4.0])
    assert not found.reach.any()
    assert np.allclose(found.wanted, [9.0, 0.5, 0.5])
    assert np.allclose(found.least, [1.0, 2.0, 2.0])
    assert np.allclose(found.most, [5.0, 6.0, 6.0])
    top = inverse.hole_vector(np.array([3.0, 4.0, 2.0]), found.top_clock[:, 0])
    bottom = inverse.hole_vector(np.array([2.0, 2.0, 4.0]), found.bottom_clock[:, 0])
    assert np.allclose(top - bottom, [[5.0, 0.0], [0.0, 2.0], [0.0, -2.0]])


def test_equals_brute_force_on_a_fine_grid():
    clock = np.radians(np.arange(0.0, 360.0, 0.5))
    top, bottom = 3.7, 2.4
    k = steering_axis(YOKE, CornerSetting(top, clock[:, None], bottom, clock[None, :])).k
    caster, inclination = axis_angles(k, FLAT_ROAD)
    for want_caster, want_inclination in np.radians([[14.0, 11.0], [10.5, 13.0], [12.0, 6.2]]):
        miss = np.hypot(caster - want_caster, inclination - want_inclination)
        found = inverse.clocks_for_angles(YOKE, want_caster, want_inclination, top, bottom)
        assert found.reach
        at = np.unravel_index(np.argmin(miss), miss.shape)
        off = np.maximum(apart(found.top_clock, clock[at[0]]), apart(found.bottom_clock, clock[at[1]]))
        assert off.min() < np.radians(1.0)


@pytest.mark.parametrize("offsets", [(3.7, 2.4), (2.4, 2.4), (3.0, 0.0), (0.0, 3.0)])
@pytest.mark.parametrize("step", np.radians([15.0, 360.0 / 7.0, 90.0]))
def test_on_a_clock_step_no_pair_comes_nearer(offsets, step):
    clock = np.arange(round(2.0 * np.pi / step)) * step
    arms = [inverse.hole_vector(offset, clock) for offset in offsets]
    for tilt in np.random.default_rng(1).uniform(-5.0, 5.0, (40, 2)):
        miss = np.linalg.norm(arms[0][:, None] - arms[1][None] - tilt, axis=-1)
        found = inverse.clocks_on_step(tilt, *offsets, step)
        vectors = [inverse.hole_vector(offset, found[:, at]) for at, offset in enumerate(offsets)]
        near = np.linalg.norm(vectors[0] - vectors[1] - tilt, axis=-1)
        assert near[0] == pytest.approx(miss.min(), abs=1e-9)
        assert near[0] <= near[-1] + 1e-9
        ahead = tilt[0] * vectors[0][:, 1] - tilt[1] * vectors[0][:, 0] >= 0.0
        assert len(set(ahead.tolist())) == len(found)
        assert np.abs(found / step - np.round(found / step)).max() < 1e-9


@pytest.mark.parametrize("road", [FLAT_ROAD, road_from_normal(np.array([0.02, 0.0, 1.0]))])
@pytest.mark.parametrize(("top", "bottom"), [(3.0, 1.0), (2.0, 2.0), (2.5, 0.0)])
def test_ranges_in_reach_are_those_of_a_fine_grid(top, bottom, road):
    clock = np.linspace(0.0, 2.0 * np.pi, 1801)
    setting = CornerSetting(top, clock[:, None], bottom, clock[None, :] if bottom else 0.0)
    caster, inclination = axis_angles(steering_axis(YOKE, setting).k, road)
    for angles, free in ((caster, road.heading), (inclination, road.left)):
        ends = inverse.angle_in_reach(YOKE, top + bottom, free, road)
        assert np.allclose([angles.min(), angles.max()], ends, atol=np.radians(2e-5))
    for wanted in np.radians([8.0, 10.0, 10.5, 12.0]):
        ranges = inverse.other_angle_in_reach(
            YOKE, (abs(top - bottom), top + bottom), road.left, wanted, road.heading, road
        )
        had = caster[np.abs(inclination - wanted) < np.radians(0.01)]
        inside = [(low - 1e-3 <= had) & (had <= high + 1e-3) for low, high in ranges]
        assert np.any(inside, axis=0).all()
        for end in np.ravel(ranges):
            assert np.abs(had - end).min() < 3e-3  # the grid is a fifth of a degree; at an end it runs askew
            exact = inverse.clocks_for_angles(YOKE, end, wanted, top, bottom, road)
            found = CornerSetting(top, exact.top_clock, bottom, exact.bottom_clock)
            assert (
                np.abs(np.array(axis_angles(steering_axis(YOKE, found).k, road)).T - [end, wanted]).max()
                < 1e-7
            )
    low, high = inverse.angle_in_reach(YOKE, top + bottom, road.left, road)
    for beyond in (low - 1e-4, high + 1e-4):
        assert not inverse.other_angle_in_reach(
            YOKE, (abs(top - bottom), top + bottom), road.left, beyond, road.heading, road
        )
