"""A kart stood up to be read: against the slow twin, springs in series, and levers by hand."""

from dataclasses import replace

import numpy as np
import pytest

import scenarios
from kinematics.parts import GRAVITY, Masses, Setting, Tyre
from kinematics.standing.arranged import Arrangement, pull_to_lift, shown, turned_to
from kinematics.standing.readings import readings
from tests.helpers.cost.depth import times
from tests.helpers.karts import KART, setting_from
from tests.helpers.random_karts import random_kart
from tests.twins import gauges

TRAINING = scenarios.load("training-kart")
DELIVERED = TRAINING.settings["as-delivered"]
ARRANGED = (
    Arrangement(),
    Arrangement(packed=(10.0, 0.0, 0.0, 0.0)),
    Arrangement(packed=(0.0, 60.0, 0.0, 60.0)),
    Arrangement(packed=(200.0, 200.0, 0.0, 0.0)),
    Arrangement(hung=Masses(200.0, 200.0 * 500.0, 200.0 * 250.0, 200.0 * 300.0)),
    Arrangement(held=True),
)


@pytest.mark.deep
def test_every_instrument_shows_what_the_slow_twin_sees():
    rng, tried = np.random.default_rng(12), 0
    while tried < times(6, 60):
        kart, setting, how = random_kart(rng), setting_from(rng.uniform), ARRANGED[tried % len(ARRANGED)]
        theta = rng.uniform(-0.6, 0.6)
        found = shown(kart, setting, [theta], how)
        if not found.known.all() or (found.clearance > 0.0).any():
            continue
        tried += 1
        if setting.left.rod_toe is not None or setting.left.rod_length is not None or setting.rear_axle_shift:
            continue
        twin = gauges.seen(kart, setting, theta, how)
        np.testing.assert_allclose(found.steer[0], twin.steer, atol=2e-7)
        np.testing.assert_allclose(found.camber[0], twin.camber, atol=2e-7)
        np.testing.assert_allclose(found.caster[0], twin.caster, atol=2e-7)
        np.testing.assert_allclose(found.kingpin_inclination[0], twin.inclination, atol=2e-7)
        np.testing.assert_allclose(found.loads[0], twin.loads, atol=2e-3)
        np.testing.assert_allclose(found.wheel_height[0], twin.heights, atol=2e-4)


@pytest.mark.parametrize("stiffness", [130.0, 170.0, 230.0])
def test_a_shim_under_one_front_wheel_twists_the_frame(stiffness):
    """Springs in series by hand: front tyres, frame and rear tyres take 10 mm over the front track as one
    twist."""
    kart = gauges.with_stiffness(TRAINING.kart, stiffness)
    degree = 1e3 * 180.0 / np.pi
    front = 0.5 * kart.front_tyre.stiffness * kart.front_track**2 / degree
    rear = 0.5 * kart.rear_tyre.stiffness * kart.rear_track**2 / degree
    whole = 1.0 / (1.0 / front + 1.0 / stiffness + 1.0 / rear)
    by_hand = whole * degree * (10.0 / kart.front_track) / kart.rear_track / GRAVITY
    how = Arrangement(packed=(10.0, 0.0, 0.0, 0.0))
    before, after = (shown(kart, DELIVERED, [0.0], one).loads[0] / GRAVITY for one in (Arrangement(), how))
    gone = before - after
    twin = before - gauges.seen(kart, DELIVERED, 0.0, how).loads / GRAVITY
    print(stiffness, gone, twin, by_hand)
    np.testing.assert_allclose(gone, twin, atol=1e-4)
    assert gone[2] == pytest.approx(by_hand, abs=0.06)
    assert gone[2] == pytest.approx({130.0: 5.28, 170.0: 6.53, 230.0: 8.17}[stiffness], abs=0.005)


@pytest.mark.parametrize("crown", [1.0, 400.0])
def test_a_side_on_blocks_leans_the_kart_over_its_feet(crown):
    """By hand, hard tyres: a side h up leans it by h over the track. Its centre of gravity goes over by its
    height times that, and the feet of a round tread by the tread's radius: on flat treads the high side gains
    weight.
    """
    tyre = Tyre(130.0, 2.0 * crown if crown < 2.0 else 160.0, crown, 5e4)
    kart = replace(TRAINING.kart, front_tyre=tyre, rear_tyre=tyre, rear_track=1000.0)
    stubs = [
        replace(one.stub, camber=0.0, wheel_centre=(1045.0, 500.0, 130.0)) for one in (kart.left, kart.right)
    ]
    kart = replace(kart, left=replace(kart.left, stub=stubs[0]), right=replace(kart.right, stub=stubs[1]))
    before, after = (
        shown(kart, Setting(), [0.0], Arrangement(packed=(h, 0.0, h, 0.0))).loads[0] for h in (0.0, 20.0)
    )
    gained = (after - before)[[0, 2]].sum()
    by_hand = before.sum() * (crown - kart.cog_height) * 20.0 / 1000.0**2
    print(crown, gained, by_hand)
    assert gained == pytest.approx(by_hand, rel=0.02)


def test_a_weight_hung_on_is_on_the_scales_where_it_hangs():
    kart, weight = TRAINING.kart, 100.0
    x, y = 400.0, 200.0
    hung = Arrangement(hung=Masses(weight, weight * x, weight * y, 0.0))
    gained = shown(kart, DELIVERED, [0.0], hung).loads[0] - shown(kart, DELIVERED, [0.0]).loads[0]
    assert gained.sum() == pytest.approx(weight, abs=1e-6)
    assert gained[:2].sum() == pytest.approx(weight * x / kart.wheelbase, rel=0.01)
    across = (gained[0] - gained[1]) * 0.5 * kart.front_track + (
        gained[2] - gained[3]
    ) * 0.5 * kart.rear_track
    assert across == pytest.approx(weight * y, rel=0.03)


def test_nothing_arranged_shows_what_a_standing_kart_reads():
    angles = np.radians([-30.0, 0.0, 20.0])
    found, read = shown(KART, Setting(), angles), readings(KART, Setting(), angles)
    for name in ("steer", "camber", "caster", "kingpin_inclination", "loads"):
        np.testing.assert_allclose(getattr(found, name), getattr(read, name), atol=1e-12)
    np.testing.assert_allclose(found.wheel_height[1, 2:], KART.rear_tyre.radius, atol=1e-6)


def test_signs_left_lock_turns_both_plates_left_and_a_shim_lifts_its_wheel():
    found = shown(KART, Setting(), [0.4])
    assert (found.steer > 0.0).all()
    up = shown(KART, Setting(), [0.0], Arrangement(packed=(0.0, 0.0, 0.0, 15.0)))
    assert up.wheel_height[0, 3] > up.wheel_height[0, 2] + 10.0
    assert up.loads[0, 3] > up.loads[0, 2]


def test_plates_turned_to_an_angle_show_it_and_one_beyond_the_stop_is_not_there():
    wanted = np.radians([15.0, -20.0, 80.0])
    theta, there = turned_to(KART, Setting(), 1, wanted)
    assert there.tolist() == [True, True, False]
    np.testing.assert_allclose(shown(KART, Setting(), theta[:2]).steer[:, 1], wanted[:2], atol=1e-9)


def test_a_pull_that_just_lifts_a_wheel_against_the_twin_without_that_wheel():
    """The twin with an upward force at the hub instead of the tyre: the hub is where a tyre unloaded would
    hold it."""
    theta = np.radians([25.0])
    pull, known = pull_to_lift(TRAINING.kart, DELIVERED, 2, theta)
    assert known.all()
    there = shown(TRAINING.kart, DELIVERED, theta)
    high = pull[0] / TRAINING.kart.rear_tyre.stiffness
    lifted = shown(TRAINING.kart, DELIVERED, theta, Arrangement(packed=(0.0, 0.0, high, 0.0)))
    assert lifted.loads[0, 2] == pytest.approx(pull[0], abs=1e-5)
    unloaded = TRAINING.kart.rear_tyre.radius + TRAINING.kart.loads[2] / TRAINING.kart.rear_tyre.stiffness
    assert lifted.wheel_height[0, 2] == pytest.approx(unloaded, abs=0.05)
    assert pull[0] > there.loads[0, 2]


def test_many_karts_at_once_show_what_each_does():
    karts = [gauges.with_stiffness(TRAINING.kart, one) for one in (130.0, 230.0)]
    both = gauges.with_stiffness(TRAINING.kart, np.array([130.0, 230.0]))
    how, angles = Arrangement(packed=(0.0, 8.0, 0.0, 0.0)), np.radians([0.0, 20.0])
    found = shown(both, DELIVERED, angles, how)
    for row, kart in enumerate(karts):
        alone = shown(kart, DELIVERED, angles, how)
        np.testing.assert_allclose(found.loads[row], alone.loads, atol=1e-6)
        np.testing.assert_allclose(found.wheel_height[row], alone.wheel_height, atol=1e-9)
    theta, _ = turned_to(both, DELIVERED, 0, np.radians([10.0]), how)
    assert theta.shape == (2, 1)
    pulls, _ = pull_to_lift(both, DELIVERED, 3, np.radians([-20.0]), how)
    assert pulls.shape == (2, 1)
