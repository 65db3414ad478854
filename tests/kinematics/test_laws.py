"""Laws of the chain over random karts, settings and the whole lock."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from kinematics.corner import pose as chain
from kinematics.corner.contact import tread_offset
from kinematics.corner.linkage import close_linkage, reference_rod_length
from kinematics.corner.pose import sweep_corner
from kinematics.corner.stub import seat_stub, turned
from kinematics.frames import FLAT_ROAD, cross, dot, turn
from kinematics.lock import sweep
from kinematics.parts import CornerSetting
from tests.helpers.karts import LOCK, corner_settings, karts, settings_of

CHOICE = {"delta", "corner", "setting", "seated", "linkage"}
OUTPUTS = [n for n in chain.CornerSweep.__dataclass_fields__ if n not in CHOICE]
turns = st.floats(0.0, 6.3)


def swept(kart, setting: CornerSetting, theta=LOCK):
    return sweep_corner(kart.left, setting, kart.column, kart.front_tyre, FLAT_ROAD, theta)


def calm(at) -> np.ndarray:
    """In reach and not within half a degree of binding, where the turn's slope runs away."""
    below, above = at.linkage.bind
    return at.reach & (above - at.handwheel > 0.01) & (at.handwheel - below > 0.01)


@given(karts(), corner_settings(), turns)
def test_no_output_depends_on_where_turn_0_lies(kart, setting, twist):
    """Any other seating turn about the kingpin: only delta shifts by it."""
    plain = swept(kart, setting)

    def twisted(corner, setting):
        seated = seat_stub(corner, setting)
        return replace(
            seated,
            wheel_centre=turned(seated, seated.wheel_centre, twist),
            arm_end=turned(seated, seated.arm_end, twist),
            spin=turn(seated.spin, seated.k, twist),
        )

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(chain, "seat_stub", twisted)
        other = swept(kart, setting)
    sure = calm(plain)
    for name in OUTPUTS:
        mine, theirs = getattr(plain, name), getattr(other, name)
        if mine.shape[:1] == LOCK.shape:
            mine, theirs = mine[sure], theirs[sure]
        assert np.abs(mine.astype(float) - theirs).max() < 1e-7, name
    slip = plain.delta - other.delta - twist
    assert np.abs(np.sin(0.5 * slip))[sure].max() < 1e-9


@given(karts(), settings_of())
def test_tie_rods_keep_their_length(kart, setting):
    at = sweep(kart, setting, LOCK)
    for corner in (at.left, at.right):
        gap = np.linalg.norm(corner.arm_end - corner.inner_joint, axis=-1)
        assert np.abs(gap - reference_rod_length(corner.corner))[corner.reach].max() < 1e-8


@given(karts(), corner_settings())
def test_the_stub_is_rigid_through_lock(kart, setting):
    at = swept(kart, setting)
    for a, b in (
        (at.wheel_centre, at.arm_end),
        (at.wheel_centre, at.seated.foot),
        (at.arm_end, at.seated.top),
    ):
        gap = np.linalg.norm(a - b, axis=-1)
        assert np.ptp(gap) < 1e-9
    assert np.ptp(dot(at.spin, at.seated.k)) < 1e-12
    assert np.abs(np.linalg.norm(at.spin, axis=-1) - 1.0).max() < 1e-12


@given(karts(), turns, turns)
def test_a_bush_of_no_size_is_concentric_at_any_clock(kart, top, bottom):
    plain, none = swept(kart, CornerSetting()), swept(kart, CornerSetting(0.0, top, 0.0, bottom))
    for name in OUTPUTS:
        assert np.array_equal(getattr(plain, name), getattr(none, name)), name


@given(karts(), corner_settings())
def test_a_whole_turn_of_the_clock_changes_nothing(kart, setting):
    round_ = replace(setting, top_clock=setting.top_clock + 2.0 * np.pi)
    here, there = swept(kart, setting), swept(kart, round_)
    sure = calm(here)
    for name in ("steer", "camber", "trail", "scrub", "wheel_drop"):
        assert np.abs(getattr(here, name) - getattr(there, name))[sure].max() < 1e-9, name


@given(karts(), corner_settings())
def test_the_assembly_runs_on_from_straight_ahead_without_a_jump(kart, setting):
    theta = np.linspace(-np.pi / 2, np.pi / 2, 721)
    at = swept(kart, setting, theta)
    sure = calm(at)
    step = np.abs(np.diff(at.delta))[sure[1:] & sure[:-1]]
    steepest = np.maximum(np.abs(at.delta_rate[1:]), np.abs(at.delta_rate[:-1]))[sure[1:] & sure[:-1]]
    assert (step < 1.5 * steepest * (theta[1] - theta[0]) + 1e-4).all()
    assert at.reach[360]


@given(karts(), corner_settings())
def test_the_drop_has_the_slope_of_virtual_work_at_the_handwheel(kart, setting):
    """d(drop)/d(handwheel) = -k·((P - foot) x z) d(delta)/d(handwheel), by central difference."""
    h = 1e-5
    at, more, less = (swept(kart, setting, LOCK + d) for d in (0.0, h, -h))
    lever = dot(at.seated.k, cross(at.support_point - at.seated.foot, FLAT_ROAD.normal))
    slope = (more.wheel_drop - less.wheel_drop) / (2.0 * h)
    half, tyre = 0.5 * kart.front_tyre.tread_width, kart.front_tyre
    to_shoulder = np.abs(np.abs(tread_offset(tyre, np.sin(at.camber))) - half)
    smooth = calm(at) & ((to_shoulder > 0.1) | (to_shoulder == 0.0))
    # the difference is good to h² times the third derivative, which grows towards binding
    error = np.abs(slope + lever * at.delta_rate) / (1.0 + at.delta_rate**4)
    assert error[smooth].max(initial=0.0) < 1e-3


@given(karts(), corner_settings())
def test_the_tyre_stands_on_the_road_under_the_wheel(kart, setting):
    """Contact centre and support point: one loaded radius below in the plane, and never higher than it."""
    at = swept(kart, setting)
    assert (
        np.abs(np.linalg.norm(at.contact_centre - at.wheel_centre, axis=-1) - kart.front_tyre.radius).max()
        < 1e-9
    )
    assert np.abs(dot(at.contact_centre - at.wheel_centre, at.spin)).max() < 1e-9
    assert (at.support_point[..., 2] <= at.contact_centre[..., 2] + 1e-9).all()
    # the axis–road point is on the axis and level with the contact centre
    assert np.abs(at.axis_road_point[..., 2] - at.contact_centre[..., 2]).max() < 1e-9
    off = np.linalg.norm(cross(at.axis_road_point - at.seated.foot, at.seated.k), axis=-1)
    assert off.max() < 1e-9
    # trail and scrub are that point's place from the contact centre
    gap = np.linalg.norm(at.axis_road_point - at.contact_centre, axis=-1)
    assert np.abs(np.hypot(at.trail, at.scrub) - gap).max() < 1e-9


@given(karts(), corner_settings())
def test_camber_obeys_the_exact_relation_with_static_camber_and_toe_too(kart, setting):
    """A rigid stub keeps spin·k: tan c sin d cos g - tan s cos d cos g - sin g is the same at any lock."""
    at = swept(kart, setting)
    c, s = np.tan(at.caster), np.tan(at.kingpin_inclination)
    kept = (c * np.sin(at.steer) - s * np.cos(at.steer)) * np.cos(at.camber) - np.sin(at.camber)
    assert np.ptp(kept) < 1e-12


@given(karts(), corner_settings(), st.floats(-0.03, 0.03))
def test_a_re_set_rod_and_the_same_rod_given_by_length_are_one(kart, setting, toe):
    reset = replace(setting, rod_toe=toe)
    length = close_linkage(kart.left, reset, seat_stub(kart.left, reset), kart.column, FLAT_ROAD).rod_length
    here, there = swept(kart, reset), swept(kart, replace(setting, rod_length=float(length)))
    assert np.array_equal(here.reach, there.reach)
    assert np.abs(here.steer - there.steer)[calm(here)].max() < 1e-9
    assert abs(here.ahead[2] - toe) < 1e-9
