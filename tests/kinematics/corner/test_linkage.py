"""The tie-rod closure against published and constructed linkages, a root search, and SymPy."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
import sympy
from hypothesis import given

from kinematics.corner.linkage import (
    assembly_branch,
    binding_angles,
    close_linkage,
    closure,
    column_axis,
    reference_rod_length,
    spade_joint,
)
from kinematics.corner.stub import SeatedStub, seat_stub, turned
from kinematics.corner.wheel import steer_angle
from kinematics.frames import FLAT_ROAD, turn
from kinematics.parts import Column, Corner, CornerSetting, Stub, Yoke
from tests.authorities import mccarthy, norton
from tests.helpers.karts import (
    COLUMN,
    CORNER,
    LOCK,
    corner_setting_from,
    corner_settings,
    kart_from,
    karts,
    picker,
)
from tests.helpers.linkages import constructed, linked
from tests.twins import reference


def test_constructed_linkage_turns_as_computed_independently():
    corner, column = constructed()
    link = linked(corner, column=column)
    theta, delta = np.radians(np.array(mccarthy.TURNS_DEG).T)
    closed = closure(link, theta)
    assert closed.reach.all()
    assert np.abs(np.degrees(closed.delta - delta)).max() < 6e-7
    assert abs(link.rod_length - mccarthy.ROD_LENGTH_MM) < 6e-11


def test_constructed_linkage_binds_and_has_its_other_assembly_where_computed():
    corner, column = constructed()
    link = linked(corner, column=column)
    assert abs(np.degrees(link.bind[1]) - mccarthy.BINDS_AT_DEG) < 6e-7
    assert link.bind[0] == -np.inf
    assert not closure(link, np.radians([mccarthy.OUT_OF_REACH_DEG])).reach[0]
    other = closure(replace(link, branch=-link.branch), np.zeros(1))
    assert abs(np.degrees(other.delta[0]) - mccarthy.OTHER_ASSEMBLY_AHEAD_DEG) < 6e-7


@pytest.mark.parametrize(("start_deg", "turn_deg"), [(50.0, norton.OPEN_DEG), (-90.0, norton.CROSSED_DEG)])
def test_planar_limit(start_deg, turn_deg):
    """Norton, Design of Machinery, ex. 4-1 (from memory), the ground line laid along y, both axes upright."""

    def at(angle_deg: float, length: float) -> np.ndarray:
        return length * np.array([-np.sin(np.radians(angle_deg)), np.cos(np.radians(angle_deg)), 0.0])

    end = np.array([0.0, norton.GROUND, 0.0]) + at(start_deg, norton.ROCKER)
    stub = Stub((0.0, 200.0, 0.0), 0.0, 0.0, tuple(end.tolist()))
    corner = Corner(
        Yoke((0.0, norton.GROUND, 0.0), 0.0, 0.0, 50.0), stub, tuple(at(0.0, norton.CRANK).tolist())
    )
    column = Column((0.0, 0.0, 0.0), np.pi / 2, np.pi)
    link = linked(corner, CornerSetting(rod_length=norton.COUPLER), column)
    delta = closure(link, np.radians([norton.CRANK_DEG])).delta[0]
    assert abs(start_deg + np.degrees(delta) - turn_deg) < 6e-4


def test_the_column_points_up_and_rearward_and_left_lock_swings_the_spade_to_the_right():
    assert np.allclose(column_axis(Column((0, 0, 0), np.radians(30.0), 1.0)), [-np.sqrt(0.75), 0.0, 0.5])
    joint = spade_joint(COLUMN, CORNER.inner_joint, np.array([0.0, 0.2]))
    assert np.allclose(joint[0], CORNER.inner_joint)
    assert joint[1, 1] < joint[0, 1] - 5.0  # the spade hangs below the column
    closed = closure(linked(CORNER), np.array([-0.2, 0.0, 0.2]))
    assert closed.delta[0] < -0.05
    assert abs(closed.delta[1]) < 1e-15
    assert closed.delta[2] > 0.05
    assert (closed.rate > 0.2).all()


@given(karts(), corner_settings())
def test_the_tie_rod_keeps_its_length_through_lock(kart, setting):
    corner = kart.left
    seated, link = seat_stub(corner, setting), linked(corner, setting, kart.column)
    closed = closure(link, LOCK)
    arm = turned(seated.at_every_lock(), seated.at_every_lock().arm_end, closed.delta)
    gap = np.linalg.norm(arm - spade_joint(kart.column, corner.inner_joint, LOCK), axis=-1)
    assert np.abs(gap - reference_rod_length(corner))[closed.reach].max() < 1e-8
    assert closed.reach[LOCK.size // 2]


def test_a_root_search_with_scipys_rotations_agrees_over_the_whole_lock():
    for seed in range(8):
        pick = picker(seed)
        kart = kart_from(pick)
        corner, setting = kart.left, corner_setting_from(pick)
        twist = pick(-1, 1)
        seat, seated = reference.seat_of(corner, setting, twist), seat_stub(corner, setting)
        closed = closure(linked(corner, setting, kart.column), LOCK)
        for way in (range(17, 35), range(17, -1, -1)):
            start = -twist
            for i in way:
                if not closed.reach[i]:
                    break
                start = reference.turn_at(corner, kart.column, seat, LOCK[i], start)
                steer, _ = reference.wheel_angles(reference.spin_at(corner, seat, start))
                ours = steer_angle(turn(seated.spin, seated.k, closed.delta[i]), FLAT_ROAD)
                assert abs(np.degrees(steer - ours)) < 1e-7


@given(karts(), corner_settings())
def test_the_rate_is_the_slope_of_the_turn(kart, setting):
    link = linked(kart.left, setting, kart.column)
    h = 1e-5
    closed, ahead, behind = (closure(link, LOCK + d) for d in (0.0, h, -h))
    # within half a degree of binding the slope runs away and a difference says nothing
    below, above = link.bind
    calm = closed.reach & (above - LOCK > 0.01) & (LOCK - below > 0.01)
    slope = (ahead.delta - behind.delta) / (2.0 * h)
    assert np.abs(slope - closed.rate)[calm].max() < 1e-5
    assert (closed.rate[~closed.reach] == 0.0).all()


def test_the_branch_is_the_one_the_reference_stands_in():
    assert assembly_branch(CORNER, COLUMN) == -1.0
    forward = replace(CORNER, stub=replace(CORNER.stub, arm_end=(1130.0, 425.0, 125.0)))
    assert assembly_branch(forward, COLUMN) == 1.0
    assert abs(closure(linked(forward), np.zeros(1)).delta[0]) < 1e-14


@pytest.mark.parametrize("shape", [(), (1,), (3, 1, 2)])
def test_batch_is_loop(shape):
    rng = np.random.default_rng(5)
    size, length = rng.uniform(0, 5, shape), 370.0 + rng.uniform(0, 40, shape)
    link = linked(CORNER, CornerSetting(size, 2.0, rod_length=length))
    assert link.coefficients.shape == (*shape, 3, 3)
    assert link.bind.shape == (*shape, 2)
    closed = closure(link, LOCK)
    assert closed.delta.shape == closed.rate.shape == closed.reach.shape == (*shape, LOCK.size)
    for at in np.ndindex(shape):
        one = closure(linked(CORNER, CornerSetting(float(size[at]), 2.0, rod_length=float(length[at]))), LOCK)
        assert np.array_equal(closed.reach[at], one.reach)
        assert np.abs(closed.delta[at] - one.delta).max() < 1e-10


def test_closure_coefficients_are_those_sympy_derives():
    """|A(delta) - S(theta)|² = L² expanded by SymPy is a cos + b sin = c with our numbers."""
    delta, theta = sympy.symbols("delta theta", real=True)
    corner, column = constructed()
    setting = CornerSetting(2.0, 1.0, 1.5, 4.0, 3.0)
    seated, link = seat_stub(corner, setting), linked(corner, setting, column)

    def rodrigues(v: np.ndarray, axis: np.ndarray, angle: sympy.Symbol) -> sympy.Matrix:
        v, axis = sympy.Matrix(v.tolist()), sympy.Matrix(axis.tolist())
        c, s = sympy.cos(angle), sympy.sin(angle)
        return c * v + s * axis.cross(v) + (1 - c) * axis.dot(v) * axis

    foot, joint = np.array(column.foot), np.array(corner.inner_joint)
    arm = sympy.Matrix(seated.foot.tolist()) + rodrigues(seated.arm_end - seated.foot, seated.k, delta)
    spade = sympy.Matrix(foot.tolist()) + rodrigues(joint - foot, column_axis(column), theta)
    gap = (arm - spade).dot(arm - spade) - float(link.rod_length) ** 2
    a, b, c = link.coefficients
    ours = sum(
        row @ np.array([1.0, sympy.cos(theta), sympy.sin(theta)], dtype=object) * trig
        for row, trig in ((a, sympy.cos(delta)), (b, sympy.sin(delta)), (-c, sympy.Integer(1)))
    )
    miss = sympy.lambdify((delta, theta), gap + 2 * ours)
    for at in ((0.0, 0.0), (0.4, -1.1), (-2.0, 2.5), (1.3, 0.7)):
        assert abs(miss(*at)) < 1e-8


def test_a_linkage_does_not_depend_on_where_the_stub_was_seated():
    setting = CornerSetting(2.0, 1.0, 1.5, 4.0, 3.0)
    seated = seat_stub(CORNER, setting)
    about = {
        "wheel_centre": turned(seated, seated.wheel_centre, 0.7),
        "arm_end": turned(seated, seated.arm_end, 0.7),
        "spin": turn(seated.spin, seated.k, 0.7),
    }
    twisted: SeatedStub = replace(seated, **about)
    one = close_linkage(CORNER, setting, seated, COLUMN, FLAT_ROAD)
    two = close_linkage(CORNER, setting, twisted, COLUMN, FLAT_ROAD)
    assert np.abs(one.bind[np.isfinite(one.bind)] - two.bind[np.isfinite(two.bind)]).max() < 1e-9
    calm = np.radians(np.linspace(-70.0, 50.0, 13))
    assert np.abs(closure(one, calm).delta - closure(two, calm).delta - 0.7).max() < 1e-9
    assert np.isfinite(binding_angles(two.coefficients)).sum() == np.isfinite(one.bind).sum()
