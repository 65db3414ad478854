"""The joints of a tie rod in other holes: where they are, and what that does, by hand."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from kinematics.corner.bush import seat_centres
from kinematics.corner.fast import pose_blocks
from kinematics.corner.joints import arm_end, column_axis, in_their_holes, inner_joint
from kinematics.corner.linkage import reference_rod_length
from kinematics.frames import FLAT_ROAD, axis_direction
from kinematics.lock import sweep
from kinematics.parts import CornerSetting, Setting
from tests.helpers.karts import KART

CORNER, COLUMN = KART.left, KART.column
MOVED = CornerSetting(arm_hole=8.0, spade_hole=-6.0)


def away(joint, foot, axis) -> float:
    """Distance of a point from an axis through foot."""
    return float(np.linalg.norm(np.cross(np.asarray(joint) - foot, axis)))


def test_a_hole_is_so_much_further_from_its_axis_and_at_the_same_height_on_it():
    axis, foot = column_axis(COLUMN), np.array(COLUMN.foot)
    was, now = np.array(CORNER.inner_joint), inner_joint(CORNER, MOVED, COLUMN)
    assert away(now, foot, axis) - away(was, foot, axis) == pytest.approx(-6.0)
    assert (now - was) @ axis == pytest.approx(0.0, abs=1e-12)
    k, seat = (
        axis_direction(CORNER.yoke.caster, CORNER.yoke.kingpin_inclination),
        seat_centres(CORNER.yoke)[0],
    )
    was, now = np.array(CORNER.stub.arm_end), arm_end(CORNER, MOVED)
    assert away(now, seat, k) - away(was, seat, k) == pytest.approx(8.0)
    assert (now - was) @ k == pytest.approx(0.0, abs=1e-12)


def test_a_corner_in_its_holes_is_the_corner_where_none_is_moved():
    assert in_their_holes(CORNER, CornerSetting(), COLUMN) == CORNER
    moved = in_their_holes(CORNER, MOVED, COLUMN)
    assert moved.stub.arm_end == tuple(arm_end(CORNER, MOVED))
    assert moved.inner_joint == tuple(inner_joint(CORNER, MOVED, COLUMN))


def steer_per_turn(setting: CornerSetting) -> float:
    """Mean road steer per handwheel angle near straight, toe set again."""
    again = replace(setting, rod_toe=-KART.left.stub.toe)
    swept = sweep(KART, Setting(again, again), [-0.01, 0.01])
    steer = 0.5 * (swept.left.steer - swept.right.steer)
    return float(steer[1] - steer[0]) / 0.02


def test_a_longer_spade_steers_quicker_and_a_longer_arm_slower_as_their_lengths():
    plain = steer_per_turn(CornerSetting())
    axis, foot = column_axis(COLUMN), np.array(COLUMN.foot)
    spade = away(CORNER.inner_joint, foot, axis)
    longer = steer_per_turn(CornerSetting(spade_hole=0.1 * spade))
    assert longer / plain == pytest.approx(1.1, abs=0.03)
    k, seat = (
        axis_direction(CORNER.yoke.caster, CORNER.yoke.kingpin_inclination),
        seat_centres(CORNER.yoke)[0],
    )
    arm = away(CORNER.stub.arm_end, seat, k)
    assert steer_per_turn(CornerSetting(arm_hole=0.1 * arm)) / plain == pytest.approx(1.0 / 1.1, abs=0.03)


def test_the_rod_keeps_its_length_through_lock_and_is_that_of_the_kart_as_measured():
    swept = sweep(KART, Setting(MOVED, MOVED), np.linspace(-0.6, 0.6, 7))
    for corner in (swept.left, swept.right):
        gap = np.linalg.norm(corner.arm_end - corner.inner_joint, axis=-1)
        assert gap[corner.reach] == pytest.approx(float(reference_rod_length(corner.corner)), abs=1e-9)


def test_the_fast_chain_knows_the_holes_and_a_batch_is_each_alone():
    holes = np.array([-5.0, 0.0, 7.0])
    batch = CornerSetting(arm_hole=holes, spade_hole=-holes)
    locks = np.radians([-15.0, 0.0, 20.0])
    [(_, poses)] = pose_blocks(CORNER, batch, COLUMN, KART.front_tyre, FLAT_ROAD, locks)
    for row, hole in enumerate(holes.tolist()):
        alone = CornerSetting(arm_hole=hole, spade_hole=-hole)
        [(_, one)] = pose_blocks(CORNER, alone, COLUMN, KART.front_tyre, FLAT_ROAD, locks)
        assert poses.steer[row] == pytest.approx(one.steer[0], abs=1e-12)
        both = sweep(KART, Setting(alone, alone), locks)
        flat = both.left.delta
        assert np.ptp(one.steer[0] - flat) < 0.2  # another road: the same turn but for the rake
