"""The chain end to end: shapes, batch and loop, rake, the inside rear, path and Ackermann."""

from __future__ import annotations

from dataclasses import fields

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from kinematics.corner.pose import CornerSweep, sweep_corner
from kinematics.frames import FLAT_ROAD, dot
from kinematics.lock import Sweep, rear_wheel_centres, sweep, with_rod
from kinematics.parts import CornerSetting, Kart, Setting
from tests.helpers.karts import COLUMN, CORNER, KART, LOCK, REFERENCE, TYRE, karts, settings_of
from tests.twins import reference

ARRAYS = [f.name for f in fields(CornerSweep) if f.name not in ("corner", "setting", "seated", "linkage")]


PER_SETTING = {"caster", "kingpin_inclination", "ahead"}


OF_THE_LOCK = {"handwheel", "inner_joint"}


KART_ARRAYS = ("rigid_inside_rear_lift", "path_curvature", "ackermann", "ackermann_known", "reach")


POINTS = {
    "wheel_centre",
    "spin",
    "arm_end",
    "inner_joint",
    "contact_centre",
    "support_point",
    "axis_road_point",
}


def numbers(at: Sweep) -> dict[str, np.ndarray]:
    """Every array of a sweep by name."""
    of_corners = {f"{side}.{n}": getattr(getattr(at, side), n) for side in ("left", "right") for n in ARRAYS}
    return of_corners | {name: getattr(at, name) for name in KART_ARRAYS}


SHAPES = [(), (1,), (3, 1, 2)]


def batch(shape: tuple[int, ...], which: str) -> Setting:
    rng = np.random.default_rng(11)
    size, clock = rng.uniform(0, 6, shape), rng.uniform(0, 6, shape)
    left = CornerSetting(size, clock, 1.0, 2.0, hub_spacer=rng.uniform(0, 9, shape))
    if which == "left":
        return Setting(left=left, rear_axle_shift=4.0)
    if which == "rear":
        return Setting(CornerSetting(2.0, 3.0), rear_axle_shift=rng.uniform(-9, 9, shape))
    if which == "rods":
        return Setting(
            CornerSetting(rod_toe=rng.uniform(-0.02, 0.02, shape)), CornerSetting(rod_length=404.0 + size)
        )
    return Setting(left, CornerSetting(0.3 * size, 1.0 + clock), rng.uniform(-9, 9, shape))


def one_of(number, at):
    return None if number is None else float(np.asarray(number)[at if np.ndim(number) else ()])


def pick_one(setting: Setting, at: tuple[int, ...]) -> Setting:
    def corner(c: CornerSetting) -> CornerSetting:
        return CornerSetting(*(one_of(getattr(c, f.name), at) for f in fields(c)))

    return Setting(corner(setting.left), corner(setting.right), one_of(setting.rear_axle_shift, at))


@pytest.mark.parametrize("which", ["left", "rear", "rods", "all"])
@pytest.mark.parametrize("shape", SHAPES)
def test_batch_is_loop(shape, which):
    setting = batch(shape, which)
    every = numbers(sweep(KART, setting, LOCK))
    for at in np.ndindex(shape):
        for name, one in numbers(sweep(KART, pick_one(setting, at), LOCK)).items():
            quantity = name.split(".")[-1]
            trailing = every[name].ndim - one.ndim  # a corner without a batch keeps its own shape
            mine = every[name][at] if trailing == len(shape) else every[name]
            assert mine.shape == one.shape
            assert np.abs(mine.astype(float) - one).max() < 1e-8, quantity


@pytest.mark.parametrize("shape", SHAPES)
def test_shapes_are_settings_then_lock_then_xyz(shape):
    at = sweep(KART, batch(shape, "all"), LOCK)
    for corner in (at.left, at.right):
        for name in ARRAYS:
            tail: tuple[int, ...] = () if name in PER_SETTING else (LOCK.size,)
            tail += (3,) if name in POINTS or name == "ahead" else ()
            head = () if name in OF_THE_LOCK else shape
            assert getattr(corner, name).shape == head + tail, name
    for name in KART_ARRAYS:
        assert getattr(at, name).shape == (*shape, LOCK.size)
    assert sweep(KART, REFERENCE, 0.1).reach.shape == (1,)


def test_arguments_are_not_written_to():
    setting, lock = batch((3, 1, 2), "all"), LOCK.copy()
    kept = [np.copy(getattr(setting.left, f.name)) for f in fields(CornerSetting)[:6]]
    lock.flags.writeable = False
    for name in ("top_offset", "top_clock", "hub_spacer"):
        getattr(setting.left, name).flags.writeable = False
    sweep(KART, setting, lock)
    assert all(
        np.array_equal(k, getattr(setting.left, f.name))
        for k, f in zip(kept, fields(CornerSetting), strict=False)
    )


def test_the_chain_agrees_with_a_root_search_per_pose():
    """SciPy's rotations and brentq, one pose at a time: wheel centre, steer and camber."""
    setting = CornerSetting(3.0, 2.0, 2.0, 5.0, 2.0, 10.0)
    ours = sweep_corner(CORNER, setting, COLUMN, TYRE, FLAT_ROAD, LOCK)
    seat, start = reference.seat_of(CORNER, setting), -0.3
    for i in range(LOCK.size // 2, LOCK.size):
        if not ours.reach[i]:
            break
        start = reference.turn_at(CORNER, COLUMN, seat, LOCK[i], start)
        spin = reference.spin_at(CORNER, seat, start)
        centre = reference.place(seat, start, CORNER.stub.wheel_centre) + setting.hub_spacer * spin
        assert (
            np.abs(np.degrees(np.array(reference.wheel_angles(spin)) - [ours.steer[i], ours.camber[i]])).max()
            < 1e-7
        )
        assert np.abs(centre - ours.wheel_centre[i]).max() < 1e-7
    assert i > 25


def test_the_reference_setting_gives_back_what_was_measured():
    at = sweep(KART, REFERENCE, 0.0)
    for corner in (at.left, at.right):
        assert np.abs(corner.wheel_centre[0] - CORNER.stub.wheel_centre).max() < 1e-9
        assert np.abs(corner.arm_end[0] - CORNER.stub.arm_end).max() < 1e-9
        assert abs(corner.caster - CORNER.yoke.caster) < 1e-13
        assert abs(corner.kingpin_inclination - CORNER.yoke.kingpin_inclination) < 1e-13
        assert np.abs(corner.ahead - [-CORNER.stub.toe, CORNER.stub.camber, CORNER.stub.toe]).max() < 1e-9
        assert corner.camber_gain[0] == corner.wheel_drop[0] == 0.0


@given(karts(), settings_of(), st.floats(-0.02, 0.02), st.floats(-0.02, 0.02))
def test_rods_re_set_to_a_toe_give_it_back(kart, setting, left, right):
    at = sweep(kart, with_rod(setting, left, right), 0.0)
    assert abs(at.left.ahead[2] - left) < 1e-9
    assert abs(at.right.ahead[2] - right) < 1e-9
    assert abs(-at.left.steer[0] - left) < 1e-9


def test_a_rod_kept_by_its_length_changes_nothing():
    plain = sweep(KART, Setting(CornerSetting(2.0, 1.0)), LOCK)
    given_ = CornerSetting(2.0, 1.0, rod_length=float(plain.left.linkage.rod_length))
    again = sweep(KART, Setting(given_), LOCK)
    assert np.abs(plain.left.steer - again.left.steer).max() < 1e-12


@pytest.mark.parametrize("shift", [-8.0, 12.0])
def test_a_raised_rear_axle_rakes_the_road_and_adds_caster(shift):
    """The frame's tail comes down by the shift over the wheelbase: as much caster as the floor tips."""
    at, plain = sweep(KART, Setting(rear_axle_shift=shift), LOCK), sweep(KART, REFERENCE, LOCK)
    rake = np.arctan(shift / KART.wheelbase)
    # what the rake shifts of the weight, the tyres give: a thousandth of a degree
    assert abs(np.degrees(at.left.caster - plain.left.caster - rake)) < 1e-3
    assert abs(np.degrees(at.right.caster - plain.right.caster - rake)) < 1e-3
    assert np.sign(at.left.caster - plain.left.caster) == np.sign(shift)
    # the floor the wheels stand on: rear support points as high over it as before
    rear = rear_wheel_centres(KART, Setting(rear_axle_shift=shift))[0]
    front = np.array([KART.wheelbase, 500.0, KART.rear_tyre.radius])
    assert abs(dot(rear - front, at.road.normal)) < 0.02
    assert np.abs(at.left.delta - plain.left.delta).max() < 1e-12  # the tie rod knows no road


@given(karts(), settings_of())
def test_every_number_is_finite_in_reach_and_out(kart, setting):
    for theta in (LOCK, np.radians(np.linspace(-179.0, 179.0, 24))):
        for name, values in numbers(sweep(kart, setting, theta)).items():
            assert np.isfinite(values).all(), name


def test_an_unfittable_rod_on_one_side_is_masked_on_that_side():
    at = sweep(KART, Setting(CornerSetting(rod_length=np.array([100.0, 404.0]))), LOCK)
    assert not at.left.reach[0].any()
    assert at.left.reach[1].any()
    assert at.right.reach.any()
    assert not at.reach[0].any()
    assert all(np.isfinite(v).all() for v in numbers(at).values())


@given(karts(even=True), settings_of())
def test_mirror_symmetry(kart: Kart, setting):
    """An even kart with its settings swapped, at the opposite handwheel, is its own mirror image."""
    here = sweep(kart, setting, LOCK)
    there = sweep(kart, Setting(setting.right, setting.left, setting.rear_axle_shift), -LOCK)
    for mine, theirs in ((here.left, there.right), (here.right, there.left)):
        for name in ARRAYS:
            assert np.allclose(getattr(mine, name), getattr(theirs, name), rtol=0.0, atol=1e-8), name
    assert np.array_equal(here.reach, there.reach)
    assert np.abs(here.path_curvature + there.path_curvature)[here.reach].max() < 1e-12
    turning = here.reach & (LOCK != 0.0)
    assert np.abs(here.ackermann - there.ackermann)[turning].max() < 1e-9
    assert np.abs(here.rigid_inside_rear_lift - there.rigid_inside_rear_lift)[turning].max() < 1e-8
