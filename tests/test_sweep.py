"""The chain end to end: shapes, batch and loop, rake, the inside rear, path and Ackermann."""

from __future__ import annotations

from dataclasses import fields, replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from kinematics.frames import FLAT_ROAD, dot, mirror
from kinematics.parts import REFERENCE, CornerSetting, Kart, Setting, Tyre
from kinematics.sweep import (
    CornerSweep,
    Sweep,
    ackermann_share,
    inside_rear_lift,
    path_curvature,
    rear_wheel_centres,
    reference_road,
    sweep,
    sweep_corner,
    with_rod,
)
from tests import reference
from tests.authorities import reimpell
from tests.karts import COLUMN, CORNER, KART, LOCK, TYRE, karts, settings_of

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
    assert abs(at.left.caster - plain.left.caster - rake) < 1e-12
    assert abs(at.right.caster - plain.right.caster - rake) < 1e-12
    assert np.sign(at.left.caster - plain.left.caster) == np.sign(shift)
    # the floor the wheels stand on: rear support points as high over it as before
    rear = rear_wheel_centres(KART, Setting(rear_axle_shift=shift))[0]
    front = np.array([KART.wheelbase, 500.0, KART.rear_tyre.radius])
    assert abs(dot(rear - front, at.road.normal)) < 1e-9
    assert np.abs(at.left.delta - plain.left.delta).max() < 1e-12  # the tie rod knows no road


def test_the_right_corner_sees_the_road_in_the_mirror():
    road = reference_road(KART, Setting(rear_axle_shift=12.0))
    assert road.normal[0] > 0.0
    assert road.normal[1] == 0.0
    assert abs(road.heading[2] + np.sin(np.arctan(12.0 / KART.wheelbase))) < 1e-15


def standing_on(at: Sweep, heights: tuple[float, float]) -> tuple[CornerSweep, CornerSweep]:
    """The corners of a sweep with their front support points put on blocks of these heights."""
    corners = []
    for corner, z in zip((at.left, at.right), heights, strict=True):
        place = np.broadcast_to(np.array([1000.0, 500.0, z]), corner.support_point.shape)
        corners.append(replace(corner, support_point=place))
    return corners[0], corners[1]


@pytest.mark.parametrize(
    ("handwheel", "heights", "lift"),
    [
        (0.5, (-5.0, 5.0), 10.0 * 400.0 / 500.0),  # left lock: the left front pushes down, the right lets go
        (-0.5, (5.0, -5.0), 10.0 * 400.0 / 500.0),
        (0.5, (5.0, -5.0), -10.0 * 400.0 / 500.0),
        (0.5, (-5.0, -5.0), 0.0),
    ],
)
def test_rigid_inside_rear_lift_by_hand(handwheel, heights, lift):
    """Front supports 500 mm and rear ones 400 mm off the middle: the front's slope lifts the rear by 4/5."""
    kart = replace(KART, rear_track=800.0, rear_tyre=Tyre(130.0, 0.0))
    at = sweep(kart, REFERENCE, handwheel)
    left, right = standing_on(at, heights)
    got = inside_rear_lift(kart, REFERENCE, FLAT_ROAD, left, right, at.handwheel)
    assert abs(got[0] - lift) < 1e-3


@given(karts(), settings_of())
def test_inside_rear_lift_is_the_distance_from_a_plane_fitted_to_the_other_three(kart, setting):
    at, theta = sweep(kart, setting, LOCK), LOCK
    rear = np.stack([w - kart.rear_tyre.radius * at.road.normal for w in rear_wheel_centres(kart, setting)])
    for i in (0, 10, 17, 25, 34):
        inside, outside = (0, 1) if theta[i] >= 0.0 else (1, 0)
        others = np.stack([at.left.support_point[i], mirror(at.right.support_point[i]), rear[outside]])
        slope = np.linalg.solve(np.column_stack([others[:, :2], np.ones(3)]), others[:, 2])
        above = rear[inside][2] - slope @ [*rear[inside][:2], 1.0]
        distance = above / np.sqrt(1.0 + slope[0] ** 2 + slope[1] ** 2)
        # a flat rear tyre carries on its shoulder only when it leans: rear wheels stand upright here
        assert abs(at.rigid_inside_rear_lift[i] - distance) < 1e-6


def test_lock_relieves_the_inside_rear_of_a_kart_with_caster_and_scrub():
    """MODEL: the inside front drops, the outside one rises, the inside rear is relieved, either way."""
    at = sweep(KART, REFERENCE, np.radians([-60.0, 60.0]))
    assert (at.rigid_inside_rear_lift > 5.0).all()
    assert at.left.wheel_drop[1] > 5.0
    assert at.right.wheel_drop[1] < -5.0
    assert at.right.wheel_drop[0] > 5.0
    assert at.left.wheel_drop[0] < -5.0


def posed(at: Sweep, steer_left, steer_right, apart: float) -> tuple[CornerSweep, CornerSweep]:
    """The corners of a sweep given these steer angles (kart's, rad) and axes this far apart."""
    point = np.broadcast_to(np.array([1045.0, 0.5 * apart, 0.0]), at.left.axis_road_point.shape)
    left = replace(at.left, steer=np.asarray(steer_left), axis_road_point=point, contact_centre=point)
    right = replace(at.right, steer=-np.asarray(steer_right), axis_road_point=point, contact_centre=point)
    return left, right


@pytest.mark.parametrize("way", [1.0, -1.0])
def test_full_ackermann_by_the_book_and_none_when_parallel(way):
    """Reimpell, Stoll, Betzler, The Automotive Chassis, 2nd ed. 2001, 3.7 (from memory)."""
    inside, outside = np.radians(np.array(reimpell.ROWS_DEG).T)
    theta = way * np.ones(inside.size)
    at = sweep(KART, REFERENCE, theta)
    pair = (inside, outside) if way > 0.0 else (-outside, -inside)
    full, known = ackermann_share(reimpell.WHEELBASE_MM, *posed(at, *pair, reimpell.BETWEEN_AXES_MM), theta)
    assert known.all()
    assert np.abs(full - 1.0).max() < 1e-6
    parallel = ackermann_share(
        reimpell.WHEELBASE_MM, *posed(at, way * inside, way * inside, reimpell.BETWEEN_AXES_MM), theta
    )[0]
    assert np.abs(parallel).max() < 1e-12
    swapped = (pair[1], pair[0])
    against = ackermann_share(reimpell.WHEELBASE_MM, *posed(at, *swapped, reimpell.BETWEEN_AXES_MM), theta)[0]
    assert np.abs(against + 1.0).max() < 1e-6


@pytest.mark.parametrize("way", [1.0, -1.0])
def test_path_radius_of_full_ackermann_is_the_common_centre(way):
    """Both wheels square to one centre on the rear axle's line, 3 m to the side, + left."""
    radius, half, base = 3000.0, 400.0, 1045.0
    left, right = np.arctan2(base, way * radius - half), np.arctan2(base, way * radius + half)
    if way < 0.0:
        left, right = left - np.pi, right - np.pi
    at = sweep(KART, REFERENCE, np.array([way * 0.5]))
    curvature = path_curvature(*posed(at, [left], [right], 2.0 * half))
    assert abs(1.0 / curvature[0] - way * radius) < 1e-6


def test_ackermann_says_nothing_near_straight_or_when_wheels_oppose():
    at = sweep(KART, REFERENCE, np.radians([-0.5, 0.0, 0.5, 30.0]))
    assert at.ackermann_known.tolist() == [False, False, False, True]
    assert (at.ackermann[:3] == 0.0).all()


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
            assert np.array_equal(getattr(mine, name), getattr(theirs, name)), name
    assert np.array_equal(here.reach, there.reach)
    assert np.abs(here.path_curvature + there.path_curvature)[here.reach].max() < 1e-12
    turning = here.reach & (LOCK != 0.0)
    assert np.abs(here.ackermann - there.ackermann)[turning].max() < 1e-9
    assert np.abs(here.rigid_inside_rear_lift - there.rigid_inside_rear_lift)[turning].max() < 1e-8
