"""Steering effort against the standing kart's energy, plain vectors, hand-made arms and the work of lock."""

from dataclasses import replace

import numpy as np
import pytest

from kinematics.frames import mirror
from kinematics.lock import Sweep, sweep
from kinematics.parts import LoadCase, Setting
from kinematics.stance.slopes import Attitude, Wheels
from kinematics.stance.springs import springs
from kinematics.stance.states import States
from kinematics.standing.effort import effort
from kinematics.standing.stand import stand, stood
from tests.helpers.karts import KART, REFERENCE, leaning, picker, setting_from
from tests.helpers.random_karts import random_kart
from tests.twins import road
from tests.twins.energy import energy


def standing_energy(swept: Sweep, standing):
    """Energy (N,) of the swept kart at its own attitude, by the readable form."""
    s = springs(swept.kart)
    places = np.stack([swept.left.wheel_centre, mirror(swept.right.wheel_centre)])
    places[..., 2] -= s.axis_height
    spins = np.stack([swept.left.spin, mirror(swept.right.spin)])
    wheels = Wheels(*np.moveaxis(places, -1, 0), *np.moveaxis(spins, -1, 0))
    shift = np.full(swept.handwheel.shape, float(swept.setting.rear_axle_shift))
    at = Attitude(standing.height, standing.pitch, standing.roll, standing.twist_front, standing.twist_rear)
    zeta = swept.kart.rear_tyre.radius - s.axis_height + shift
    floor = (np.full(zeta.shape, depth) for depth in swept.rest.floor)
    return energy(s, States(wheels, zeta, standing.lateral_g, standing.longitudinal_g, *floor), at)


def five_locks(rng, step) -> Sweep:
    """A random kart and setting at five close lock positions within reach."""
    while True:
        kart, setting, at = random_kart(rng), setting_from(rng.uniform), rng.uniform(-0.9, 0.9)
        swept = sweep(kart, setting, at + step * np.array([-2.0, -1.0, 0.0, 1.0, 2.0]))
        if swept.reach.all():
            return swept


@pytest.mark.parametrize("seed", range(20))
def test_the_torque_of_the_vertical_loads_is_the_slope_of_the_energy(seed):
    """dU/dtheta, the kart coming to rest anew at each angle, by central differences: 1e-5 relative."""
    rng, h = np.random.default_rng(seed), 1e-4
    accelerations = rng.uniform(-0.8, 0.8), rng.uniform(-0.3, 0.3)
    swept = five_locks(rng, h)
    standing = stood(swept, *accelerations)
    assert not standing.tips.any()
    u = standing_energy(swept, standing)
    slope = (8.0 * (u[3] - u[1]) - (u[4] - u[0])) / (12.0 * h)
    torque = effort(swept, standing).handwheel_vertical[2]
    assert torque == pytest.approx(slope, rel=1e-5, abs=0.05)


@pytest.mark.parametrize("seed", range(12))
def test_torques_are_those_of_plain_vectors_on_the_road(seed):
    """MODEL.md section 6 by the twin; the handwheel by the slopes of the kingpins' turn, differenced."""
    rng, h = np.random.default_rng(100 + seed), 1e-4
    accelerations = rng.uniform(-0.8, 0.8), rng.uniform(-0.3, 0.3)
    swept, trail = five_locks(rng, h), rng.uniform(0.0, 25.0)
    standing = stood(swept, *accelerations)
    felt, (of_loads, of_sides) = (
        effort(swept, standing, trail),
        road.kingpin_torques(swept, standing, 2, trail),
    )
    kingpins = np.array([felt.kingpin_left[2], felt.kingpin_right[2]])
    assert kingpins == pytest.approx(of_loads + of_sides, rel=1e-9, abs=1e-3)
    to_left = np.array([swept.left.delta, -swept.right.delta])
    rates = (8.0 * (to_left[:, 3] - to_left[:, 1]) - (to_left[:, 4] - to_left[:, 0])) / (12.0 * h)
    assert felt.handwheel_vertical[2] == pytest.approx(-of_loads @ rates, rel=1e-7, abs=0.01)
    assert felt.handwheel_side[2] == pytest.approx(-of_sides @ rates, rel=1e-7, abs=0.01)
    assert felt.handwheel[2] == felt.handwheel_vertical[2] + felt.handwheel_side[2]


def test_standing_still_the_wheels_return_to_straight_and_the_driver_holds_against_them():
    """Kingpin inclination and scrub lift the kart at lock; loads only, even kart (common practice)."""
    corner = leaning(0.0, 12.0)
    kart = replace(KART, left=corner, right=corner)
    swept = sweep(kart, REFERENCE, np.radians([-30.0, 0.0, 30.0]))
    felt = effort(swept, stand(swept, LoadCase("rest")))
    assert felt.handwheel[2] > 0.0
    assert felt.handwheel[0] == pytest.approx(-felt.handwheel[2], rel=1e-9)
    assert felt.handwheel[1] == pytest.approx(0.0, abs=1e-6)


def test_caster_trail_returns_the_wheels_in_a_turn():
    """The side force behind the axis turns the wheels right in a left turn: kingpin torque below zero."""
    corner = leaning(12.0, 0.0)
    swept = sweep(replace(KART, left=corner, right=corner), REFERENCE, np.radians([10.0]))
    felt = effort(swept, stand(swept, LoadCase("turn", lateral_g=0.8)))
    assert felt.handwheel_side[0] > 0.0
    assert felt.kingpin_left[0] + felt.kingpin_right[0] < 0.0


def test_pneumatic_trail_adds_its_arm():
    """A vertical axis over the contact: the torque of a side force F is F times the pneumatic trail."""
    corner = leaning(0.0, 0.0, scrub=0.0)
    kart = replace(KART, left=corner, right=corner, front_tyre=replace(KART.front_tyre, tread_width=0.0))
    swept = sweep(kart, REFERENCE, [0.0])
    standing = stand(swept, LoadCase("turn", lateral_g=0.5))
    none, some = (effort(swept, standing, trail) for trail in (0.0, 15.0))
    share = springs(kart).cog[0] / kart.wheelbase
    side = 0.5 * sum(kart.loads) * share
    added = some.kingpin_left + some.kingpin_right - none.kingpin_left - none.kingpin_right
    assert added[0] == pytest.approx(-15.0 * side, rel=1e-3)  # the frame leans: its cosine is left out here


@pytest.mark.parametrize("lock_deg", [-45.0, 45.0])
def test_side_forces_square_to_turned_wheels_make_up_the_axles_across_the_kart(lock_deg):
    """Upright axes over the contacts of thin discs, by hand: F = -torque / pneumatic trail at each wheel.

    F by load alike, and F_left cos(steer_left) + F_right cos(steer_right) = weight * g * share in front; a
    force square to the kart would have the arm trail * cos(steer) (MODEL.md sections 5 and 6). The frame
    leans by a degree, whose cosine is left out: 1e-3.
    """
    corner = leaning(0.0, 0.0, scrub=0.0)
    kart = replace(KART, left=corner, right=corner, front_tyre=replace(KART.front_tyre, tread_width=0.0))
    swept = sweep(kart, REFERENCE, np.radians([lock_deg]))
    standing = stand(swept, LoadCase("turn", lateral_g=0.5))
    none, some = (effort(swept, standing, trail) for trail in (0.0, 15.0))
    left = (none.kingpin_left - some.kingpin_left)[0] / 15.0
    right = (none.kingpin_right - some.kingpin_right)[0] / 15.0
    steer_left, steer_right = swept.left.steer[0], -swept.right.steer[0]
    assert min(abs(steer_left), abs(steer_right)) > np.radians(18.0)
    assert left / right == pytest.approx(standing.loads[0, 0] / standing.loads[0, 1], rel=1e-3)
    asked = 0.5 * sum(kart.loads) * (620.0 / 1460.0)
    across = left * np.cos(steer_left) + right * np.cos(steer_right)
    assert across == pytest.approx(np.copysign(asked, lock_deg), rel=1e-3)  # into the turn


def test_mirrored_lock_and_load_give_the_opposite_torque():
    pick = picker(4)
    setting = setting_from(pick)
    even = Setting(setting.left, setting.left, setting.rear_axle_shift)
    felt = []
    for side in (1.0, -1.0):
        swept = sweep(KART, even, [side * 0.4])
        felt.append(effort(swept, stand(swept, LoadCase("turn", 0.6)), 12.0))
    assert felt[0].handwheel == pytest.approx(-felt[1].handwheel, rel=1e-9)
    assert felt[0].kingpin_left == pytest.approx(-felt[1].kingpin_right, rel=1e-9)


def test_batch_shapes():
    turned = Setting(replace(REFERENCE.left, spacer_shift=np.zeros((3, 1, 2))), REFERENCE.right)
    swept = sweep(KART, turned, [0.1, 0.2])
    assert effort(swept, stand(swept, LoadCase("rest"))).handwheel.shape == (3, 1, 2, 2)
