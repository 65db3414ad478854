"""Where a linkage binds, what a rod can and cannot do, and that out of reach is a mask and never NaN."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from kinematics.corner.linkage import (
    Linkage,
    close_linkage,
    closure,
    reference_rod_length,
    spade_joint,
    turn_for_toe,
)
from kinematics.corner.stub import seat_stub, turned
from kinematics.corner.wheel import steer_angle
from kinematics.frames import FLAT_ROAD, turn, unit
from kinematics.parts import CONCENTRIC, CornerSetting
from tests.helpers.karts import COLUMN, CORNER, LOCK, corner_settings, karts
from tests.helpers.linkages import constructed, linked
from tests.helpers.poses import road_from_normal


def residual(link: Linkage, theta: float) -> float:
    a, b, c = link.coefficients @ np.array([1.0, np.cos(theta), np.sin(theta)])
    return float(a * a + b * b - c * c)


@given(karts(), corner_settings())
def test_it_binds_where_an_independent_root_search_says(kart, setting):
    link = linked(kart.left, setting, kart.column)
    for bind, way in zip(link.bind, (-1.0, 1.0), strict=True):
        grid = way * np.linspace(0.0, np.pi, 721)
        values = np.array([residual(link, t) for t in grid])
        lost = np.flatnonzero(values <= 0.0)
        if not np.isfinite(bind):
            assert lost.size == 0
            continue
        if lost.size == 0:
            assert values.min() < 1e-3 * values[0]  # it touched between two positions of the grid
            continue
        root = brentq(lambda t: residual(link, t), grid[lost[0] - 1], grid[lost[0]], xtol=1e-14)
        assert abs(root - bind) < 1e-8
        inside, outside = (
            closure(link, np.array([bind - way * 1e-7])),
            closure(link, np.array([bind + way * 1e-7])),
        )
        assert inside.reach[0]
        assert not outside.reach[0]
        assert abs(inside.delta[0] - outside.delta[0]) < 0.01  # the nearest assembly, not a jump


def test_past_binding_it_stays_out_of_reach_even_where_it_could_be_put_together_again():
    """A linkage that binds and closes again further on cannot be turned there."""
    corner, column = constructed()
    link, theta = linked(corner, column=column), np.linspace(0.0, np.pi, 181)
    could = np.array([residual(link, t) > 0.0 for t in theta])
    closed = closure(link, theta)
    assert could[theta > link.bind[1]].any(), "the example must close again for this test to mean anything"
    assert np.array_equal(closed.reach, theta < link.bind[1])


@given(karts(), corner_settings())
def test_everything_is_finite_out_of_reach_too(kart, setting):
    closed = closure(linked(kart.left, setting, kart.column), np.linspace(-np.pi, np.pi, 73))
    assert np.isfinite(closed.delta).all()
    assert np.isfinite(closed.rate).all()


@pytest.mark.parametrize("length", [100.0, 800.0])
def test_a_rod_that_cannot_be_fitted_is_out_of_reach_everywhere(length):
    link = linked(CORNER, CornerSetting(rod_length=length))
    assert link.bind.tolist() == [0.0, 0.0]
    closed = closure(link, LOCK)
    assert not closed.reach.any()
    assert np.isfinite(closed.delta).all()
    assert np.isfinite(link.coefficients).all()


def test_a_toe_no_turn_can_give_is_out_of_reach_everywhere():
    """A spin axis close to the kingpin's own direction hardly swings: most toes cannot be had."""
    setting = CornerSetting(rod_toe=np.radians([0.0, 70.0]))
    seated = seat_stub(CORNER, setting)
    lying = replace(seated, k=unit(np.array([[0.6, 0.3, 1.0], [0.6, 0.3, 1.0]])))
    near = replace(lying, spin=unit(np.array([[0.6, 0.4, 1.0], [0.6, 0.4, 1.0]])))
    assert turn_for_toe(near, np.radians([0.0, 70.0]), FLAT_ROAD)[1].tolist() == [False, True]
    link = close_linkage(CORNER, setting, near, COLUMN, FLAT_ROAD)
    assert link.bind[0].tolist() == [0.0, 0.0]
    assert np.isfinite(link.rod_length).all()
    closed = closure(link, LOCK)
    assert not closed.reach[0].any()
    assert np.isfinite(closed.delta).all()


@given(karts(), corner_settings(), st.floats(-0.05, 0.05), st.floats(-0.02, 0.02))
def test_a_rod_re_set_to_a_toe_gives_it_back_straight_ahead(kart, setting, toe, slope):
    corner, reset, road = kart.left, replace(setting, rod_toe=toe), road_from_normal([slope, -slope, 1.0])
    seated = seat_stub(corner, reset)
    link = close_linkage(corner, reset, seated, kart.column, road)
    closed = closure(link, np.zeros(1))
    assert closed.reach[0]
    assert abs(-steer_angle(turn(seated.spin, seated.k, closed.delta[0]), road) - toe) < 1e-9


def test_a_toe_of_none_of_the_bushes_needs_the_reference_rod():
    link = linked(CORNER, CornerSetting(rod_toe=CORNER.stub.toe))
    assert abs(link.rod_length - reference_rod_length(CORNER)) < 1e-9


def test_a_longer_rod_behind_the_axle_toes_in():
    """The arm points rearward: pushing its end outboard turns the nose of the wheel inboard."""
    kept = reference_rod_length(CORNER)
    assert linked(CORNER, CornerSetting(rod_toe=np.radians(1.0))).rod_length > kept
    assert closure(linked(CORNER, CornerSetting(rod_length=kept + 1.0)), np.zeros(1)).delta[0] < -0.005


def test_out_of_reach_the_turn_is_that_of_the_nearest_assembly():
    """No other turn of the stub brings the rod's length closer: what a picture of the miss would show."""
    corner, column = constructed()
    link, seated = linked(corner, column=column), seat_stub(corner, CONCENTRIC)
    theta = link.bind[1] + np.radians([0.5, 5.0, 15.0, 30.0])
    closed, every = closure(link, theta), np.linspace(-np.pi, np.pi, 7201)
    assert all(residual(link, t) < 0.0 for t in theta)
    for delta, t in zip(closed.delta, theta, strict=True):
        joint = spade_joint(column, corner.inner_joint, t)

        def miss(turn_by, joint=joint):
            rod = turned(seated, seated.arm_end, np.asarray(turn_by)) - joint
            return np.abs(np.linalg.norm(rod, axis=-1) - link.rod_length)

        assert miss(delta) <= miss(every).min() + 1e-9
