"""What both front corners make of the whole kart: inside rear, Ackermann and path."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given

from kinematics.corner.pose import CornerSweep
from kinematics.frames import FLAT_ROAD, Y_LEFT, mirror
from kinematics.lock import (
    Sweep,
    ackermann_share,
    inside_rear_lift,
    path_curvature,
    rear_wheel_centres,
    sweep,
)
from kinematics.parts import CornerSetting, Setting, Tyre
from tests.authorities import reimpell
from tests.helpers.karts import KART, LOCK, REFERENCE, karts, settings_of
from tests.twins.stance import lowest_point


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
    up = at.road.normal
    rear = np.stack([lowest_point(w, Y_LEFT, kart.rear_tyre, up) for w in rear_wheel_centres(kart, setting)])
    for i in (0, 10, 17, 25, 34):
        inside, outside = (0, 1) if theta[i] >= 0.0 else (1, 0)
        others = np.stack([at.left.support_point[i], mirror(at.right.support_point[i]), rear[outside]])
        slope = np.linalg.solve(np.column_stack([others[:, :2], np.ones(3)]), others[:, 2])
        above = rear[inside][2] - slope @ [*rear[inside][:2], 1.0]
        distance = above / np.sqrt(1.0 + slope[0] ** 2 + slope[1] ** 2)
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
    """The corners of a sweep given these steer angles (kart's, rad), axes and contacts this far apart."""
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


def cotangent_and_axis_point(corner: CornerSweep, at: Sweep, i: int, side: float):
    """Cotangent of a wheel's steer, + left, and where its axis meets the road plane through its contact.

    MODEL.md section 4 with plain vectors in the kart's axes; side is 1 on the left, -1 on the right.
    """
    mirrored = np.array([1.0, side, 1.0])
    spin, centre = corner.spin[i] * mirrored, corner.wheel_centre[i] * mirrored
    k, foot = corner.seated.k * mirrored, corner.seated.foot * mirrored
    up, ahead = at.road.normal, at.road.heading
    trace = side * np.cross(spin, up)
    down = (up @ spin) * spin - up
    contact = centre + at.kart.front_tyre.radius * down / np.linalg.norm(down)
    point = foot + k * (up @ (contact - foot)) / (up @ k)
    return (trace @ ahead) / (trace @ np.cross(up, ahead)), point


@pytest.mark.parametrize("lock_deg", [-40.0, -15.0, 15.0, 40.0])
def test_ackermann_of_a_swept_kart_by_plain_vectors_takes_the_distance_between_the_axes(lock_deg):
    """cot(outside) - cot(inside) over j / wheelbase; j is neither track nor the contacts' distance."""
    setting = Setting(CornerSetting(3.0, np.pi, hub_spacer=10.0), CornerSetting(2.0, 2.0), 4.0)
    at = sweep(KART, setting, np.radians([lock_deg]))
    (cot_left, left), (cot_right, right) = (
        cotangent_and_axis_point(corner, at, 0, side) for corner, side in ((at.left, 1.0), (at.right, -1.0))
    )
    j = np.linalg.norm(left - right)
    contacts = at.left.contact_centre[0] - mirror(at.right.contact_centre[0])
    assert min(KART.front_track, np.linalg.norm(contacts)) > j + 150.0
    assert at.ackermann[0] == pytest.approx((cot_right - cot_left) * KART.wheelbase / j, abs=1e-9)
    assert at.ackermann_known[0]


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
