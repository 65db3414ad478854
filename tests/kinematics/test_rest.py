"""A setting at rest: road and floor against the slow twin, moments in a corner, rake by any part."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import brentq

import scenarios
from kinematics.frames import Y_LEFT, mirror
from kinematics.lock import rear_wheel_centres, sweep, with_rod
from kinematics.parts import CornerSetting, LoadCase, Setting
from kinematics.rest import rest
from kinematics.standing.stand import stand, stood
from tests.helpers.karts import KART, setting_from
from tests.helpers.random_karts import front_wheels, random_kart
from tests.twins.energy import on_the_road
from tests.twins.stance import UP, Twin, lowest_point

STILL = LoadCase("still")


def upright(rng, g=0.0):
    """A random kart and setting that stands on its four wheels straight ahead, at rest and at lateral g."""
    while True:
        swept = sweep(random_kart(rng), setting_from(rng.uniform), 0.0)
        if swept.reach.all() and all((stood(swept, one, 0.0).loads > 0.0).all() for one in (0.0, g)):
            return swept


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(15))
def test_road_and_floor_are_the_twins(seed):
    """SciPy finds the rest of whole rotations; the road is read off it by hand: 1e-6 rad, 1e-3 mm."""
    swept = upright(np.random.default_rng(seed))
    left, spin_left, right, spin_right = (v[0] for v in front_wheels(swept))
    twin = Twin(swept.kart, [(left, spin_left), (right, spin_right)], swept.setting.rear_axle_shift)
    depths, normal = twin.road(twin.rest())
    at = rest(swept.kart, swept.setting)
    assert np.abs(at.road.normal - normal).max() < 1e-6
    assert np.abs(np.array([at.floor.front, at.floor.rear]) - depths).max() < 1e-3


def test_the_reference_setting_stands_on_the_reference_floor():
    at = rest(KART, Setting())
    assert np.abs(at.road.normal - UP).max() < 1e-9
    assert np.abs(at.road.heading - [1.0, 0.0, 0.0]).max() < 1e-9
    assert np.abs(np.array(at.floor) - KART.frame.axis_height).max() < 1e-6


def test_a_batch_is_its_settings_one_by_one():
    shifts = np.array([-4.0, 0.0, 7.0])
    for made in (
        lambda s: Setting(CornerSetting(3.0, 1.0, spacer_shift=s), CornerSetting(), 2.0),
        lambda s: with_rod(Setting(CornerSetting(3.0, 1.0, spacer_shift=s), CornerSetting(), 2.0), 0.01, 0.0),
    ):
        many = rest(KART, made(shifts))
        for i, shift in enumerate(shifts):
            one = rest(KART, made(shift))
            assert np.abs(many.road.normal[i] - one.road.normal).max() < 1e-10
            assert abs(many.floor.front[i] - one.floor.front) < 1e-7


@pytest.mark.parametrize(("up", "transfer"), [(0.0, 747.0), (-20.0, 693.0), (20.0, 802.0)])
def test_ride_height_changes_the_load_transfer(up, transfer):
    """Training kart, 1 g, straight ahead: outer less inner load as an independent solver found it, 2 N."""
    made = scenarios.load("training-kart")
    setting = made.settings["as-delivered"]
    left, right = (
        replace(c, spacer_shift=-up / sweep(made.kart, setting, 0.0).left.seated.k[..., 2])
        for c in (setting.left, setting.right)
    )
    swept = sweep(made.kart, replace(setting, left=left, right=right, rear_axle_shift=-up), 0.0)
    front_left, front_right, rear_left, rear_right = stand(swept, LoadCase("corner", 1.0)).loads[0]
    assert front_right + rear_right - front_left - rear_left == pytest.approx(transfer, abs=2.0)


@pytest.mark.parametrize("seed", range(50))
def test_the_loads_moment_is_the_inertias_over_the_road_as_the_kart_stands(seed):
    """About the road under the centre of gravity: loads times their arms = weight, g and height, 0.1 %.

    Points and arms are worked out here from the attitude alone. Where a wheel has left the road the kart
    heaves, and the forces, fixed to their part, are a millimetre off it.
    """
    rng = np.random.default_rng(seed)
    g = float(0.3 * rng.choice([-1.0, 1.0]))
    swept = upright(rng, g)
    kart, at = swept.kart, stood(swept, g, 0.0)
    axis = np.array([0.0, 0.0, kart.frame.axis_height])
    rolls = at.roll + np.array([at.twist_front, at.twist_rear, 0.0 * at.roll])

    def placed(point, part):
        return on_the_road(point - axis, at.pitch[0], rolls[part, 0]) + at.height[0] * UP

    left, spin_left, right, spin_right = (v[0] for v in front_wheels(swept))
    rear_left, rear_right = rear_wheel_centres(kart, swept.setting)
    wheels = [(left, spin_left, 0), (right, spin_right, 0), (rear_left, Y_LEFT, 1), (rear_right, Y_LEFT, 1)]
    tyres = (kart.front_tyre, kart.front_tyre, kart.rear_tyre, kart.rear_tyre)
    across = []
    for (centre, spin, part), tyre in zip(wheels, tyres, strict=True):
        turned = on_the_road(spin, at.pitch[0], rolls[part, 0])
        across.append(lowest_point(placed(centre, part), turned, tyre, UP)[1])
    twin = Twin(kart, [(left, spin_left), (right, spin_right)], 0.0)
    cog = placed(twin.cog + axis, 2)
    weight, loads = sum(kart.loads), at.loads[0]
    assert loads.sum() == pytest.approx(weight, rel=1e-6)
    moment = float(loads @ (cog[1] - np.array(across)))
    assert moment == pytest.approx(weight * g * cog[2], rel=1e-3)


def caster_and_pitch(setting):
    swept = sweep(KART, setting, 0.0)
    return float(np.degrees(swept.left.caster)), float(stand(swept, STILL).pitch[0])


def front(shift, **more):
    return Setting(CornerSetting(spacer_shift=shift, **more), CornerSetting(spacer_shift=shift, **more))


@pytest.mark.parametrize("axle", [-8.0, 12.0])
def test_the_same_rake_gives_the_same_caster_whichever_part_made_it(axle):
    """Rear axle, front spacers, or bushes that shift the axis without tilting it: 0.001 deg."""
    caster, pitch = caster_and_pitch(Setting(rear_axle_shift=axle))
    assert abs(caster - 12.0) > 0.4
    spacer = brentq(lambda s: caster_and_pitch(front(s))[1] - pitch, -30.0, 30.0, xtol=1e-9)
    assert caster_and_pitch(front(spacer))[0] == pytest.approx(caster, abs=1e-3)
    half = front(0.5 * spacer)
    rest_of_it = brentq(
        lambda s: caster_and_pitch(replace(half, rear_axle_shift=s))[1] - pitch, -30.0, 30.0, xtol=1e-9
    )
    assert caster_and_pitch(replace(half, rear_axle_shift=rest_of_it))[0] == pytest.approx(caster, abs=1e-3)
    forward = front(0.0, top_offset=4.0, bottom_offset=4.0)
    to_match = brentq(
        lambda s: caster_and_pitch(replace(forward, rear_axle_shift=s))[1] - pitch, -30.0, 30.0, xtol=1e-9
    )
    assert caster_and_pitch(replace(forward, rear_axle_shift=to_match))[0] == pytest.approx(caster, abs=1e-3)


def test_a_frame_that_stands_lower_in_front_has_less_caster_and_a_tail_that_does_has_more():
    assert caster_and_pitch(front(10.0))[0] < 11.5
    assert caster_and_pitch(Setting(rear_axle_shift=10.0))[0] > 12.5


def test_one_wheel_raised_leans_the_road_of_both_in_the_mirror():
    """Left stub up: the frame's left front stands lower, so its road rises to the left, and mirrors."""
    left_up = sweep(KART, Setting(CornerSetting(spacer_shift=6.0)), 0.0)
    right_up = sweep(KART, Setting(right=CornerSetting(spacer_shift=6.0)), 0.0)
    assert left_up.road.normal[1] < -1e-3
    assert np.abs(mirror(left_up.road.normal) - right_up.road.normal).max() < 1e-9
    high, low = left_up.left.kingpin_inclination, left_up.right.kingpin_inclination
    assert float(high) == pytest.approx(float(right_up.right.kingpin_inclination))
    assert abs(high - low) > 1e-3


def test_a_rod_set_to_a_toe_has_it_on_the_road_it_then_stands_on():
    setting = with_rod(Setting(CornerSetting(3.0, 0.5, spacer_shift=8.0), CornerSetting(), -6.0), 0.03, -0.01)
    swept = sweep(KART, setting, 0.0)
    standing = stand(swept, STILL)
    assert np.abs(standing.road_front.normal[0] - swept.road.normal).max() < 1e-9
    heading = np.cross(swept.left.spin[0], standing.road_front.normal[0])
    toe = np.arctan2(
        -heading @ np.cross(swept.road.normal, swept.road.heading), heading @ standing.road_front.heading[0]
    )
    assert toe == pytest.approx(0.03, abs=1e-9)
