"""The stub axle: seated at the reference stance as measured, rigid, moved by its spacers the right way."""

from __future__ import annotations

from dataclasses import fields

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from kinematics.corner.bush import seat_centres
from kinematics.corner.stub import SeatedStub, neutral_stub, seat_stub, spin_axis, stub_matrix, turned
from kinematics.corner.wheel import camber_angle, steer_angle
from kinematics.frames import FLAT_ROAD, dot, turn
from kinematics.parts import CONCENTRIC, CornerSetting, Stub
from tests.helpers.karts import CORNER, corner_settings, karts

NAMES = tuple(f.name for f in fields(SeatedStub))


@given(karts())
def test_concentric_bushes_give_back_the_measured_stub(kart):
    corner = kart.left
    seated = seat_stub(corner, CONCENTRIC)
    assert np.abs(seated.wheel_centre - corner.stub.wheel_centre).max() < 1e-9
    assert np.abs(seated.arm_end - corner.stub.arm_end).max() < 1e-9
    assert np.abs(seated.spin - spin_axis(corner.stub)).max() < 1e-13
    bottom, top = seat_centres(corner.yoke)
    assert np.array_equal(seated.foot, bottom)
    assert np.array_equal(seated.top, top)
    neutral = neutral_stub(corner)
    for name, place in vars(seated).items():
        assert np.abs(getattr(neutral, name) - place).max() < 1e-9, name


@given(st.floats(-0.1, 0.1), st.floats(-0.1, 0.1))
def test_static_camber_and_toe_read_back_at_the_wheel(camber, toe):
    spin = spin_axis(Stub((0.0, 500.0, 130.0), camber, toe, (0.0, 400.0, 130.0)))
    assert abs(np.linalg.norm(spin) - 1.0) < 1e-13
    assert abs(camber_angle(spin, FLAT_ROAD) - camber) < 1e-13
    assert abs(-steer_angle(spin, FLAT_ROAD) - toe) < 1e-13


def test_which_way_camber_and_toe_lean_the_spin_axis():
    """Top outward dips the outboard end of the spin axis; toe-in swings it forward."""
    level = (0.0, 500.0, 130.0), (0.0, 400.0, 130.0)
    assert spin_axis(Stub(level[0], 0.1, 0.0, level[1]))[2] < 0.0
    assert spin_axis(Stub(level[0], 0.0, 0.1, level[1]))[0] > 0.0
    assert spin_axis(Stub(level[0], 0.0, 0.0, level[1])).tolist() == [0.0, 1.0, 0.0]


@given(karts(), corner_settings(), st.floats(-1.0, 1.0))
def test_the_stub_is_rigid(kart, setting, delta):
    """Distances between wheel centre, arm end and the foot keep, whatever the bushes and the turn."""
    corner = kart.left
    plain = CornerSetting(hub_spacer=setting.hub_spacer)

    def shape(seated: SeatedStub, spacer: float, turn_by: float) -> np.ndarray:
        foot = seated.foot + spacer * seated.k
        points = [turned(seated, seated.wheel_centre, turn_by), turned(seated, seated.arm_end, turn_by), foot]
        spin, (c, a, f) = turn(seated.spin, seated.k, turn_by), points
        gaps = [np.linalg.norm(c - a), np.linalg.norm(c - f), np.linalg.norm(a - f)]
        return np.array([*gaps, (a - c) @ spin, (f - c) @ spin, (a - f) @ seated.k, (c - f) @ seated.k])

    now = shape(seat_stub(corner, setting), float(setting.spacer_shift), delta)
    assert np.abs(now - shape(seat_stub(corner, plain), 0.0, 0.0)).max() < 1e-9


@given(karts(), corner_settings())
def test_spacers_move_the_stub_up_the_kingpin_and_the_wheel_out_along_its_spin(kart, setting):
    seated = seat_stub(kart.left, setting)
    bushes = (setting.top_offset, setting.top_clock, setting.bottom_offset, setting.bottom_clock)
    bare = seat_stub(kart.left, CornerSetting(*bushes))
    up, out = setting.spacer_shift * bare.k, setting.hub_spacer * bare.spin
    assert np.abs(seated.arm_end - bare.arm_end - up).max() < 1e-9
    assert np.abs(seated.wheel_centre - bare.wheel_centre - up - out).max() < 1e-9
    assert np.array_equal(seated.foot, bare.foot)
    assert np.array_equal(seated.spin, bare.spin)


def test_positive_spacers_point_up_and_outboard():
    plain = seat_stub(CORNER, CONCENTRIC)
    lifted, wider = (
        seat_stub(CORNER, CornerSetting(spacer_shift=3.0)),
        seat_stub(CORNER, CornerSetting(hub_spacer=10.0)),
    )
    assert lifted.wheel_centre[2] > plain.wheel_centre[2] + 2.8
    assert lifted.arm_end[2] > plain.arm_end[2] + 2.8
    assert wider.wheel_centre[1] > plain.wheel_centre[1] + 9.9
    assert np.array_equal(wider.arm_end, plain.arm_end)


def test_a_positive_turn_steers_left():
    seated = seat_stub(CORNER, CONCENTRIC)
    before = steer_angle(seated.spin, FLAT_ROAD)
    after = steer_angle(turn(seated.spin, seated.k, 0.2), FLAT_ROAD)
    assert after > before + 0.1
    # the arm of a left stub points rearward here: its end swings to the right, inboard
    assert turned(seated, seated.arm_end, 0.2)[1] < seated.arm_end[1] - 10.0


@given(karts(), corner_settings(), st.lists(st.floats(-1.2, 1.2), min_size=1, max_size=4))
def test_the_matrix_carries_the_neutral_stub_to_its_place(kart, setting, turns):
    corner, delta = kart.left, np.array(turns)
    no_hub = CornerSetting(*(getattr(setting, f.name) for f in fields(setting)[:5]))
    matrix, seated = stub_matrix(corner, setting, delta), seat_stub(corner, no_hub)
    assert matrix.shape == (len(turns), 4, 4)
    rotation = matrix[:, :3, :3]
    assert np.abs(rotation @ np.swapaxes(rotation, 1, 2) - np.eye(3)).max() < 1e-13
    assert np.linalg.det(rotation).min() > 0.0
    for point, place in (
        (corner.stub.arm_end, seated.arm_end),
        (corner.stub.wheel_centre, seated.wheel_centre),
        (seat_centres(corner.yoke)[0], seated.foot + float(setting.spacer_shift) * seated.k),
    ):
        carried = (matrix @ np.array([*point, 1.0]))[:, :3]
        assert np.abs(carried - turned(seated, place, delta)).max() < 1e-9


@pytest.mark.parametrize("shape", [(), (1,), (3, 1, 2)])
def test_matrices_of_a_batch_are_those_of_a_loop(shape):
    rng = np.random.default_rng(2)
    size, delta = rng.uniform(0, 5, shape), rng.uniform(-0.5, 0.5, (*shape, 4))
    matrix = stub_matrix(CORNER, CornerSetting(size, 1.0, spacer_shift=2.0), delta)
    assert matrix.shape == (*shape, 4, 4, 4)
    for at in np.ndindex(shape):
        one = stub_matrix(CORNER, CornerSetting(float(size[at]), 1.0, spacer_shift=2.0), delta[at])
        assert np.abs(matrix[at] - one).max() < 1e-12


@pytest.mark.parametrize("shape", [(), (1,), (3, 1, 2)])
@pytest.mark.parametrize("name", [f.name for f in fields(CornerSetting)])
def test_any_number_of_a_setting_may_be_a_batch_and_the_seat_has_its_shape(name, shape):
    numbers = np.random.default_rng(3).uniform(0.1, 1.0, shape)
    more = {} if name.startswith(("top", "bottom")) else {"top_offset": 1.0}
    seated = seat_stub(CORNER, CornerSetting(**{name: numbers}, **more))
    for field in NAMES:
        assert getattr(seated, field).shape == (*shape, 3)
    every = seated.at_every_lock()
    assert every.k.shape == (*shape, 1, 3)
    for at in np.ndindex(shape):
        one = seat_stub(CORNER, CornerSetting(**{name: float(numbers[at])}, **more))
        assert all(np.array_equal(getattr(seated, f)[at], getattr(one, f)) for f in NAMES)


def test_a_length_and_a_toe_cannot_both_be_given():
    with pytest.raises(ValueError, match="not both"):
        CornerSetting(rod_length=400.0, rod_toe=0.0)


@given(karts(), corner_settings())
def test_the_stub_keeps_its_place_along_the_kingpin(kart, setting):
    """Measured from the bottom hole, plus the spacer shift: nothing slides up when a bush leans the axis."""
    plain, seated = seat_stub(kart.left, CONCENTRIC), seat_stub(kart.left, setting)
    before = dot(plain.arm_end - plain.foot, plain.k)
    after = dot(seated.arm_end - seated.foot, seated.k)
    assert abs(after - before - setting.spacer_shift) < 1e-9
