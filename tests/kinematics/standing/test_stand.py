"""The stance of a swept kart: load cases, which wheel is inside, angles to the road as it lies, the trade."""

from dataclasses import replace

import numpy as np
import pytest

from kinematics.corner.wheel import camber_angle
from kinematics.frames import FLAT_ROAD
from kinematics.lock import sweep
from kinematics.parts import GRAVITY, CornerSetting, LoadCase, Setting
from kinematics.stance.equilibrium import FR, RL, RR
from kinematics.standing.stand import (
    inside_is_left,
    inside_rear_clearance,
    inside_rear_load,
    lateral_g,
    stand,
    standing_corners,
    stood,
)
from tests.helpers.karts import KART, REFERENCE, leaning, picker, setting_from

REST = LoadCase("rest")
LOCK = np.radians([-40.0, -20.0, 0.0, 20.0, 40.0])


def both(**numbers) -> Setting:
    corner = CornerSetting(**numbers)
    return Setting(corner, corner)


INTO = [-1.0, -1.0, 1.0, 1.0, 1.0]
"""Which way each position of LOCK turns; straight ahead belongs to the turn to the left."""


def test_a_given_lateral_g_holds_through_lock_into_the_turn():
    standing = stand(sweep(KART, REFERENCE, LOCK), LoadCase("turn", lateral_g=0.7, longitudinal_g=-0.2))
    assert standing.lateral_g.tolist() == [0.7 * way for way in INTO]
    assert (standing.longitudinal_g == -0.2).all()


def test_opposite_lock_is_against_it_and_only_by_name():
    slide = LoadCase("slide", lateral_g=0.7, opposite_lock=True)
    assert lateral_g(sweep(KART, REFERENCE, LOCK), slide).tolist() == [-0.7 * way for way in INTO]
    with pytest.raises(ValueError, match=r"at least 0, not -0\.7"):
        LoadCase("slide", lateral_g=-0.7)
    with pytest.raises(ValueError, match="has no opposite lock"):
        LoadCase("slide", speed=9.0, opposite_lock=True)


def test_straight_ahead_belongs_to_the_turn_that_is_read():
    ahead = sweep(KART, REFERENCE, [0.0, -0.0])
    case = LoadCase("turn", lateral_g=0.7)
    assert lateral_g(ahead, case).tolist() == [0.7, 0.7]
    assert lateral_g(ahead, case, -1.0).tolist() == [-0.7, -0.7]
    assert lateral_g(ahead, case, np.array([1.0, -1.0])).tolist() == [0.7, -0.7]


def test_a_speed_on_a_radius_gives_one_lateral_g_through_lock():
    """By hand: (9 m/s)² / (6 m · 9.80665 m/s²) = 1.37662 g; a grip limit below it holds."""
    swept = sweep(KART, REFERENCE, LOCK)
    corner = LoadCase("corner", speed=9.0, radius=6000.0)
    assert lateral_g(swept, corner) == pytest.approx(1.37662 * np.array(INTO), abs=1e-5)
    held = lateral_g(swept, replace(corner, grip_limit_g=1.1))
    assert held.tolist() == [1.1 * way for way in INTO]
    against = lateral_g(swept, replace(corner, opposite_lock=True))
    assert (against == -lateral_g(swept, corner)).all()


def test_a_speed_gives_the_lateral_g_of_the_path_within_the_grip_limit():
    swept = sweep(KART, REFERENCE, LOCK)
    free = lateral_g(swept, LoadCase("hairpin", speed=5.0))
    radius = 1e-3 / swept.path_curvature[[0, 1, 3, 4]]
    assert free[[0, 1, 3, 4]] == pytest.approx(25.0 / radius / GRAVITY, rel=1e-12)
    assert free[0] < 0.0 < free[4]
    held = lateral_g(swept, LoadCase("hairpin", speed=15.0, grip_limit_g=1.1))
    assert held.tolist() == [-1.1, -1.1, held[2], 1.1, 1.1]
    assert abs(held[2]) < 1.1


def test_the_inside_is_told_by_the_lateral_g_and_at_rest_by_the_handwheel():
    swept = sweep(KART, REFERENCE, LOCK)
    assert inside_is_left(swept, stand(swept, REST)).tolist() == [False, False, True, True, True]
    right = stood(swept, -0.5, 0.0)
    assert not inside_is_left(swept, right).any()
    assert (inside_rear_load(swept, right) == right.loads[:, RR]).all()
    left = stood(swept, 0.5, 0.0)
    assert (inside_rear_load(swept, left) == left.loads[:, RL]).all()
    assert (inside_rear_clearance(swept, left) == left.clearance[:, RL]).all()


def test_settings_lock_and_cases_are_batched():
    bushes = np.linspace(0.0, 3.0, 6).reshape(3, 1, 2)
    swept = sweep(KART, both(top_offset=bushes, top_clock=np.pi), LOCK)
    standing = stand(swept, LoadCase("turn", lateral_g=0.4))
    assert standing.loads.shape == (3, 1, 2, 5, 4)
    for index in np.ndindex(3, 1, 2):
        alone = sweep(KART, both(top_offset=bushes[index], top_clock=np.pi), LOCK)
        one = stand(alone, LoadCase("turn", lateral_g=0.4))
        assert np.abs(one.loads - standing.loads[index]).max() < 1e-6


def test_camber_is_relative_to_the_road_as_it_then_lies():
    """In a left turn the frame leans right: both wheels' camber shifts by the roll, less at the right."""
    swept = sweep(KART, REFERENCE, [0.0])
    standing = stand(swept, LoadCase("turn", lateral_g=0.8))
    left, right = standing_corners(swept, standing)
    lean = standing.roll[0] + standing.twist_front[0]
    assert lean > 0.0
    on_the_floor = camber_angle(swept.left.spin, FLAT_ROAD)[0]
    assert left.camber[0] == pytest.approx(on_the_floor - lean, abs=1e-4)
    assert right.camber[0] == pytest.approx(on_the_floor + lean, abs=1e-4)
    assert left.caster[0] == pytest.approx(swept.left.caster - standing.pitch[0], abs=1e-3)


def test_at_the_reference_the_standing_corner_is_the_swept_one():
    swept = sweep(KART, REFERENCE, [0.0])
    left, _ = standing_corners(swept, stand(swept, REST))
    for name in ("steer", "camber", "trail", "scrub", "caster", "kingpin_inclination"):
        assert np.abs(getattr(left, name) - getattr(swept.left, name)).max() < 1e-8


def test_cross_weight_is_the_share_of_front_right_and_rear_left():
    loads = (300.0, 320.0, 430.0, 410.0)
    standing = stand(sweep(replace(KART, loads=loads), REFERENCE, [0.0]), REST)
    assert standing.cross_weight[0] == pytest.approx((320.0 + 430.0) / 1460.0, abs=1e-9)


def test_spacers_move_the_ride_height_and_the_pitch():
    """Stub axles moved up lower the nose by their shift along the kingpin, and a little by their toe."""
    swept = sweep(KART, both(spacer_shift=6.0), [0.0])
    standing = stand(swept, REST)
    down = 6.0 * swept.left.seated.k[2]
    assert standing.ride_height_change_front[0] == pytest.approx(-down, abs=0.3)
    assert standing.ride_height_change_rear[0] == pytest.approx(0.0, abs=0.1)
    assert standing.pitch[0] > 0.0


def test_lowering_one_corner_takes_load_off_it():
    """A stub moved up on the left lowers that corner: it and its diagonal carry less (common practice)."""
    swept = sweep(KART, Setting(CornerSetting(spacer_shift=3.0), CornerSetting()), [0.0])
    change = stand(swept, REST).loads[0] - KART.loads
    assert change[0] < 0.0
    assert change[3] < 0.0
    assert change[1] > 0.0
    assert change[2] > 0.0


def relief(kart, setting=REFERENCE):
    """Load (N) that 15 deg of road steer to the left take off the inside rear, standing still."""
    swept = sweep(kart, setting, np.radians(np.linspace(0.0, 60.0, 61)))
    standing = stand(swept, REST)
    left, right = standing_corners(swept, standing)
    mean = 0.5 * (left.steer - right.steer)
    loads = standing.loads[:, RL]
    return loads[0] - np.interp(np.radians(15.0), mean, loads)


def on(corner):
    return replace(KART, left=corner, right=corner)


def test_more_caster_lifts_more():
    lifts = [relief(on(leaning(c, 10.0))) for c in (4.0, 8.0, 12.0, 16.0, 20.0)]
    assert (np.diff(lifts) > 0.0).all()


def test_more_scrub_lifts_more():
    lifts = [relief(on(leaning(12.0, 10.0, scrub=s))) for s in (60.0, 90.0, 120.0, 150.0)]
    assert (np.diff(lifts) > 0.0).all()


def test_a_wider_front_track_lifts_more():
    """Track widened on the hubs, as it is done in the paddock: hub spacers on both sides."""
    lifts = [relief(KART, both(hub_spacer=s)) for s in (0.0, 5.0, 10.0, 20.0)]
    assert (np.diff(lifts) > 0.0).all()


def test_a_softer_frame_lifts_less():
    def frame(share_of_kart):
        return replace(KART, frame=replace(KART.frame, stiffness=share_of_kart * KART.frame.stiffness))

    lifts = [relief(frame(share)) for share in (0.5, 0.75, 1.0, 2.0, 10.0)]
    assert (np.diff(lifts) > 0.0).all()


def test_lock_relieves_the_inside_rear_and_loads_the_inside_front():
    """Standing still, positive caster and scrub (common practice): the diagonal jacks."""
    standing = stand(sweep(KART, REFERENCE, LOCK), REST)
    change = standing.loads[4] - standing.loads[2]
    assert change[RL] < 0.0 < change[RR]
    assert change[FR] < 0.0 < change[0]


def test_a_mirrored_setting_and_case_stand_mirrored():
    setting = setting_from(picker(9))
    other = Setting(setting.right, setting.left, setting.rear_axle_shift)
    turned = LOCK[LOCK != 0.0]
    one = stand(sweep(KART, setting, turned), LoadCase("turn", lateral_g=0.5))
    two = stand(sweep(KART, other, -turned), LoadCase("turn", lateral_g=0.5))
    assert np.abs(one.loads - two.loads[:, [1, 0, 3, 2]]).max() < 1e-6
