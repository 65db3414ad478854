"""Columns of a load case by the physics that they must keep, and each against the number it names."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from kinematics.drive.rear_axle import AxleGrip, locked_axle
from kinematics.figures.figure import WHEELS
from kinematics.lock import Sweep, sweep
from kinematics.parts import CornerSetting, Frame, Kart, LoadCase, Setting, Tyre
from kinematics.standing.effort import effort
from kinematics.standing.stand import stand
from tests.helpers.karts import KART, leaning
from tests.helpers.reading import FOUR_WHEELS, case_columns
from tests.twins import road

FULL = sweep(KART, Setting(), np.radians([0.0, 20.0]))
SOFT = Frame(60e3 * 180.0 / np.pi, 0.7, 90.0)
PER_RAD = 180.0 / np.pi


def soft_sweep(locks_deg) -> Sweep:
    """An uneven setting of a kart whose frame twists by degrees, so that no two angles of it agree."""
    setting = Setting(CornerSetting(3.0, np.pi, hub_spacer=8.0), CornerSetting(2.0, 2.0), 4.0)
    return sweep(replace(KART, frame=SOFT), setting, np.radians(locks_deg))


def test_a_left_turn_loads_the_right_wheels_and_four_loads_make_the_weight():
    found = case_columns(FULL, LoadCase("left turn", 0.5))
    front_left, front_right, rear_left, rear_right = (found[f"load_{wheel}_n"].values for wheel in WHEELS)
    assert (front_right > front_left).all()
    assert (rear_right > rear_left).all()
    assert np.allclose(front_left + front_right + rear_left + rear_right, sum(KART.loads), atol=0.5)
    assert front_left[0] + front_right[0] == pytest.approx(620.0, abs=1.0)
    assert np.allclose(found["inside_rear_load_n"].values, rear_left)
    share = 100.0 * (front_right + rear_left) / sum(KART.loads)
    assert np.allclose(found["cross_weight_percent"].values, share, atol=0.05)
    assert found["roll_deg"].values[0] > 0.0


def test_a_tipped_kart_has_no_figures():
    """Nothing may be shown of it; what stands there is a number all the same."""
    over = case_columns(FULL, LoadCase("over", 9.0))
    assert set(FOUR_WHEELS) < set(over)
    assert not any(column.known.any() for column in over.values())
    assert all(np.isfinite(column.values).all() for column in over.values())


def disc_kart(front_share: float) -> Kart:
    """Upright thin discs all round, so that an axle's lean is the difference of its tyres' compressions."""
    corner = leaning(12.0, 0.0)
    front, rear = Tyre(130.0, 0.0, stiffness=40.0), Tyre(139.0, 0.0, stiffness=60.0)
    kart = replace(KART, left=corner, right=corner, front_tyre=front, rear_tyre=rear)
    return replace(kart, frame=Frame(20e3 * PER_RAD, front_share, 90.0))


@pytest.mark.parametrize("lateral_g", [-0.7, 0.7])
@pytest.mark.parametrize("front_share", [1.0, 0.0])
def test_roll_is_the_seats_and_twist_is_what_the_front_adds(front_share, lateral_g):
    """By hand: an axle leans by (load right - load left) / stiffness over its track, straight ahead.

    With all of the compliance in front the seat leans with the rear axle, with none there with the front;
    the twist is the front's lean less the rear's (MODEL.md section 5; left side up is +).
    """
    kart = disc_kart(front_share)
    found = case_columns(sweep(kart, Setting(), [1e-9 * lateral_g]), LoadCase("turn", abs(lateral_g)))
    loads = {wheel: found[f"load_{wheel}_n"].values[0] for wheel in WHEELS}
    front = np.arcsin((loads["front_right"] - loads["front_left"]) / 40.0 / 1100.0) * PER_RAD
    rear = np.arcsin((loads["rear_right"] - loads["rear_left"]) / 60.0 / kart.rear_track) * PER_RAD
    assert abs(front - rear) > 0.1
    seat = rear if front_share == 1.0 else front
    assert found["roll_deg"].values[0] == pytest.approx(seat, abs=2e-4)
    assert found["twist_deg"].values[0] == pytest.approx(front - rear, abs=2e-4)
    assert found["roll_deg"].values[0] * lateral_g > 0.0


@pytest.mark.parametrize("way", [1.0, -1.0])
def test_each_column_of_the_four_wheels_is_the_number_that_it_names(way):
    """Wheels in the order FL FR RL RR, angles in deg; a frame so soft that roll and the twists differ."""
    swept, case = soft_sweep([way * 8.0, way * 35.0]), LoadCase("turn", 1.6, -0.2)
    found, at = {n: c.values for n, c in case_columns(swept, case).items()}, stand(swept, case)
    fl, fr, rl, rr = np.moveaxis(at.loads, -1, 0)
    air = dict(zip(("front_left", "front_right", "rear_left", "rear_right"), at.clearance.T, strict=True))
    inside = "rear_left" if way > 0.0 else "rear_right"
    assert air[inside][1] > 1.0
    assert np.abs(np.degrees([at.twist_front, at.twist_rear])).min() > 0.1
    expected = {
        **{
            "load_front_left_n": fl,
            "load_front_right_n": fr,
            "load_rear_left_n": rl,
            "load_rear_right_n": rr,
        },
        **{f"clearance_{wheel}_mm": value for wheel, value in air.items()},
        "cross_weight_percent": 100.0 * (fr + rl) / 1460.0,
        "diagonal_split_n": (fr + rl) - (fl + rr),
        "inside_rear_load_n": rl if way > 0.0 else rr,
        "inside_rear_clearance_mm": air[inside],
        "roll_deg": at.roll * PER_RAD,
        "pitch_deg": at.pitch * PER_RAD,
        "twist_deg": (at.twist_front - at.twist_rear) * PER_RAD,
        "ride_height_change_front_mm": at.height - 1045.0 * np.sin(at.pitch) - 90.0,
        "ride_height_change_rear_mm": at.height - 90.0,
        "lateral_acceleration_g": np.full(2, way * 1.6),
        "longitudinal_acceleration_g": np.full(2, -0.2),
    }
    for name, value in expected.items():
        assert found[name] == pytest.approx(value, rel=1e-9, abs=1e-7), name


def test_angles_to_the_road_are_those_of_plain_vectors():
    """MODEL.md section 4 by the twin: to the road as the front part lies; steer is + left at both wheels."""
    swept, case = soft_sweep([-30.0, 25.0]), LoadCase("turn", 0.6, 0.15)
    found, at = case_columns(swept, case), stand(swept, case)
    for i in (0, 1):
        for side, wheel in zip(("left", "right"), road.wheels(swept, at, i), strict=True):
            for angle in ("steer", "camber", "caster"):
                name = f"standing_{angle}_{side}_deg"
                assert found[name].values[i] == pytest.approx(getattr(wheel, angle) * PER_RAD, abs=1e-8), name


def test_torques_are_the_efforts_in_newton_metres():
    swept, case, trail = soft_sweep([15.0]), LoadCase("turn", 0.6), 12.0
    found, at = case_columns(swept, case, trail), stand(swept, case)
    of_loads, of_sides = road.kingpin_torques(swept, at, 0, trail)
    felt, axle = effort(swept, at, trail), locked_axle(swept, at, AxleGrip())
    expected = {
        "kingpin_torque_left_nm": of_loads[0] + of_sides[0],
        "kingpin_torque_right_nm": of_loads[1] + of_sides[1],
        "handwheel_torque_loads_nm": felt.handwheel_vertical[0],
        "handwheel_torque_side_nm": felt.handwheel_side[0],
        "handwheel_torque_nm": felt.handwheel_vertical[0] + felt.handwheel_side[0],
        "axle_yaw_moment_nm": axle.yaw_moment[0],
    }
    assert len({round(abs(value)) for value in expected.values()}) == len(expected)
    for name, value in expected.items():
        assert found[name].values[0] == pytest.approx(value / 1000.0, rel=1e-9), name
