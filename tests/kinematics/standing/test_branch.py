"""A kart with two resting places: one is followed from straight ahead, and where it ends is told.

A rigid frame, even loads a little heavier behind, and much caster: at full lock it stands on front left and
rear right like a table on uneven ground, and may rock to either of the other two.
"""

from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import minimize

import scenarios
from kinematics.batches import at_every_lock
from kinematics.batches import stacked as side_by_side
from kinematics.lock import sweep
from kinematics.parts import Chassis, LoadCase, Setting
from kinematics.stance.slopes import Attitude
from kinematics.standing import stand as stand_room
from kinematics.standing.branch import on_the_road, placed
from kinematics.standing.stand import stand
from scenarios.likely.sampled import sampled
from tests.helpers.karts import KART, setting_from
from tests.helpers.random_karts import front_wheels, random_kart, stacked
from tests.helpers.uneven import MUCH_CASTER as MUCH
from tests.helpers.uneven import ONE, TABLE
from tests.twins.stance import ARM, Twin

STILL = LoadCase("standing")
FR, RL = 1, 2


EXTREME = (
    (3013, -1.0, LoadCase("into", 0.3), 13.0),
    (3118, 1.0, LoadCase("against", 0.7, opposite_lock=True), 31.7),
)
"""Random karts whose scales read what they like, the way they turn, and where they fall in deg."""


def stood(*degrees):
    swept = sweep(TABLE, MUCH, np.radians(degrees))
    return swept, stand(swept, STILL)


def twin_at(degrees):
    """The slow twin at one handwheel angle."""
    swept = sweep(TABLE, MUCH, np.radians([degrees]))
    left, spin, right, spin_right = (v[0] for v in front_wheels(swept))
    floor = np.array([float(depth) for depth in swept.rest.floor])
    return Twin(TABLE, [(left, spin), (right, spin_right)], 0.0, floor=floor)


def held(twin, roll):
    """Least energy at a roll held in deg, and where (5,)."""
    base = twin.energy(np.zeros(5))

    def at(place):
        return np.array([place[0], place[1], ARM * np.radians(roll), 0.0, 0.0])

    found = minimize(
        lambda place: twin.energy(at(place)) - base,
        [KART.frame.axis_height + 10.0, 0.0],
        method="Nelder-Mead",
        options={"maxiter": 4000, "xatol": 1e-4, "fatol": 1e-5},
    )
    return found.fun, at(found.x)


def hollows(degrees):
    """Rolls in deg about which the slow twin rests at one handwheel angle."""
    twin = twin_at(degrees)
    rolls = np.concatenate([np.arange(0.05, 0.4, 0.05), np.arange(1.6, 2.2, 0.04)])
    levels = np.array([held(twin, roll)[0] for roll in rolls])
    return rolls[1:-1][(levels[1:-1] < levels[:-2]) & (levels[1:-1] < levels[2:])]


def rest_near(twin, roll):
    """The twin's resting place (5,) downhill of a roll in deg."""
    base = twin.energy(np.zeros(5))
    return minimize(lambda q: twin.energy(q) - base, held(twin, roll)[1], jac=twin.slope, method="BFGS").x


@pytest.fixture(scope="module")
def through():
    """Every half degree to left lock."""
    return stood(*np.arange(0.0, 80.0, 0.5))


def test_the_slow_twin_finds_both_resting_places_and_the_kart_is_in_that_of_its_branch():
    twin, (_, standing) = twin_at(60.0), stood(60.0)
    rests = [rest_near(twin, roll) for roll in (0.15, 1.7)]
    for q, air in zip(rests, (FR, RL), strict=True):
        assert np.abs(twin.slope(q)).max() < 0.01
        assert np.flatnonzero(twin.loads(q) == 0.0).tolist() == [air]
    assert rests[0][2] < 0.5 * rests[1][2]
    assert np.abs(twin.loads(rests[1]) - standing.loads[0]).max() < 0.05
    assert standing.roll[0] == pytest.approx(rests[1][2] / ARM, abs=1e-5)


def test_loads_and_clearances_go_on_without_a_leap_as_far_as_the_branch_leads(through):
    swept, standing = through
    ends = standing.fell_at[np.isfinite(standing.fell_at)]
    assert np.ptp(ends) < 1e-12
    assert np.degrees(ends[0]) == pytest.approx(68.7, abs=0.1)
    assert ((swept.handwheel >= ends[0]) == np.isfinite(standing.fell_at)).all()
    leap = np.abs(np.diff(standing.clearance, axis=0)).max(axis=-1)
    across = np.flatnonzero(np.isfinite(standing.fell_at))[0] - 1
    assert leap[across] > 30.0
    assert np.delete(leap, across).max() < 6.0


def test_without_the_branch_the_same_sweep_leaps_to_and_fro(through, monkeypatch):
    monkeypatch.setattr(stand_room, "followed", lambda swept, standing, lateral: standing)
    _, alone = stood(*np.arange(0.0, 80.0, 0.5))
    leaps = [np.abs(np.diff(one.clearance, axis=0)).max(axis=-1) for one in (through[1], alone)]
    assert not np.isfinite(alone.fell_at).any()
    assert leaps[1].argmax() < leaps[0].argmax()


@pytest.mark.parametrize(("seed", "way", "case", "ends"), EXTREME)
def test_an_extreme_kart_leaps_once_where_it_falls_and_not_again(seed, way, case, ends, monkeypatch):
    rng = np.random.default_rng(seed)
    kart = random_kart(rng)
    loads, stiffer = tuple(rng.uniform(30.0, 700.0, 4).tolist()), np.inf if seed % 2 else 10.0
    kart = replace(kart, loads=loads, frame=replace(kart.frame, stiffness=stiffer * kart.frame.stiffness))
    swept = sweep(kart, setting_from(rng.uniform), way * np.radians(np.arange(0.0, 55.0)))

    def leaps():
        standing = stand(swept, case)
        moves = np.abs(np.diff(standing.clearance, axis=0)).max(axis=-1)
        return standing, np.flatnonzero(swept.reach[1:] & (moves > 10.0))

    standing, once = leaps()
    assert np.degrees(np.min(np.abs(standing.fell_at))) == pytest.approx(ends, abs=0.1)
    assert once.tolist() == [int(np.ceil(ends)) - 1]
    monkeypatch.setattr(stand_room, "followed", lambda swept, standing, lateral: standing)
    assert len(leaps()[1]) == 2


def test_both_resting_places_are_counted_as_far_as_there_are_two(through):
    swept, standing = through
    degrees, twice = np.degrees(swept.handwheel), standing.rests_twice
    ends = float(np.degrees(np.min(standing.fell_at)))
    assert twice[np.abs(degrees - 60.0) < 5.0].all()
    assert not twice[degrees < 20.0].any()
    assert not twice[degrees > ends].any()
    first = degrees[twice][0]
    assert twice[(degrees >= first) & (degrees < ends - 0.5)].all()
    for angle, count in ((first - 2.0, 1), (first, 2), (65.0, 2)):  # a hollow just begun is missed
        rolls = [rest_near(twin_at(angle), roll)[2] for roll in (0.15, 1.7)]
        assert (np.ptp(rolls) > 1.0) == (count == 2), (angle, rolls)


def test_the_resting_place_is_gone_where_it_is_said_to_end(through):
    ends = float(np.degrees(np.min(through[1].fell_at)))
    assert len(hollows(ends - 0.5)) == 2
    [left] = hollows(ends + 0.5)
    assert left < 0.3


def test_a_position_stands_alike_whatever_else_is_looked_at(through):
    _, whole = through
    for angle in (-75.0, 50.0, 60.0):
        _, alone = stood(angle)
        same = whole.loads[int(2 * abs(angle))]
        same = same if angle > 0.0 else same[[1, 0, 3, 2]]
        assert np.abs(alone.loads[0] - same).max() < 1e-3
        assert np.isfinite(alone.fell_at[0]) == (abs(angle) > 70.0)


def test_lock_to_the_right_mirrors_lock_to_the_left_under_a_lateral_acceleration():
    case = LoadCase("leaning", lateral_g=0.005)
    both = stand(sweep(TABLE, MUCH, np.radians([-78.0, -60.0, 60.0, 78.0])), case)
    assert np.abs(both.loads[:2] - both.loads[:1:-1][:, [1, 0, 3, 2]]).max() < 1e-3
    assert both.fell_at[0] == pytest.approx(-both.fell_at[3], abs=1e-9)
    assert np.isfinite(both.fell_at).tolist() == [True, False, False, True]


def test_a_batch_of_karts_and_settings_stands_as_each_alone():
    tops = np.array([0.0, 4.0])
    corner = replace(MUCH.left, top_offset=tops)
    lock = np.radians([-60.0, 0.0, 72.0])
    whole = stand(sweep(TABLE, Setting(corner, corner), lock), STILL)
    for i, top in enumerate(tops):
        corner = replace(MUCH.left, top_offset=float(top))
        alone = stand(sweep(TABLE, Setting(corner, corner), lock), STILL)
        assert np.abs(whole.loads[i] - alone.loads).max() < 1e-6
        assert np.abs(whole.height[i] - alone.height).max() < 1e-6


def test_karts_changed_by_their_settings_are_led_as_each_alone(monkeypatch):
    """Three frames at once; beyond the branch each stands as it would without having been led."""
    times, leaning = np.array([1.0, 20.0, 12.0]), LoadCase("leaning", lateral_g=0.005)
    soft, lock = replace(TABLE, frame=KART.frame), np.radians([60.0, 78.0])

    def stands(stiffer):
        changed = replace(MUCH, chassis=Chassis(frame_stiffness=stiffer, rear_radius=8.0))
        return stand(sweep(soft, changed, lock), leaning)

    whole = stands(times)
    assert np.isfinite(whole.fell_at[:, 1]).tolist() == [False, True, True]
    for i, stiffer in enumerate(times):
        alone = stands(float(stiffer))
        assert np.abs(whole.loads[i] - alone.loads).max() < 1e-5
        assert np.array_equal(np.isfinite(whole.fell_at[i]), np.isfinite(alone.fell_at))
    monkeypatch.setattr(stand_room, "followed", lambda swept, standing, lateral: standing)
    assert np.abs(whole.loads[:, 1] - stands(times).loads[:, 1]).max() < 1e-5


def test_a_frame_that_twists_has_one_resting_place_and_is_not_led(monkeypatch):
    def refuse(*_):
        raise AssertionError("led")

    monkeypatch.setattr("kinematics.standing.branch._led", refuse)
    swept = sweep(KART, MUCH, np.radians(np.linspace(-78.0, 78.0, 53)))
    for case in (STILL, LoadCase("into", 0.7), LoadCase("against", 0.7, opposite_lock=True)):
        stand(swept, case)


def test_from_an_attitude_it_comes_to_rest_downhill_of_it():
    """On either side of the ridge between the two, as the twin's energy has it."""
    swept, _ = stood(60.0)
    twin, rolls = twin_at(60.0), np.arange(0.1, 1.8, 0.1)
    found = [held(twin, roll) for roll in rolls]
    ridge = rolls[5:-5][np.argmax([level for level, _ in found[5:-5]])]
    starts = np.array([place / [1.0, *[ARM] * 4] for _, place in found]).T[..., None]
    there = placed(swept, 0.0, 0.0)
    standing = on_the_road(at_every_lock(swept.kart), there, Attitude(*starts))
    fell_left = np.degrees(standing.roll[:, 0]) < 0.5
    off = np.abs(rolls - ridge) > 0.05
    assert np.array_equal(fell_left[off], (rolls < ridge)[off])


def test_a_batch_of_karts_and_settings_is_led_each_as_alone():
    """One kart that stands like a table among others that do not, with one setting of two."""
    loads = ((350.4, 350.4, 379.6, 379.6), (345.0, 352.0, 380.0, 383.0), KART.loads)
    karts = [replace(TABLE, loads=each) for each in loads]
    lock = np.radians([-72.0, -60.0, 0.0, 60.0, 72.0])
    settings = [ONE, MUCH]
    whole = stand(sweep(stacked(karts, (3,)), side_by_side(settings, 1), lock), STILL)
    assert np.isfinite(whole.fell_at[1, 0]).tolist() == [True, False, False, False, True]
    assert whole.rests_twice[1, 0].tolist() == [False, True, False, True, False]
    for i, j in np.ndindex(2, 3):
        alone = stand(sweep(karts[j], settings[i], lock), STILL)
        assert np.abs(whole.loads[i, j] - alone.loads).max() < 1e-4
        assert np.array_equal(whole.rests_twice[i, j], alone.rests_twice)
        assert np.array_equal(np.isfinite(whole.fell_at[i, j]), np.isfinite(alone.fell_at))


def test_likely_karts_of_the_training_kart_are_not_led(monkeypatch):
    def refuse(*_):
        raise AssertionError("led")

    monkeypatch.setattr("kinematics.standing.branch._led", refuse)
    scenario = scenarios.load()
    karts = sampled(scenario, 64)
    swept = sweep(karts.kart, scenario.settings["more-caster"], np.radians(np.linspace(-60.0, 60.0, 13)))
    for case in scenario.load_cases:
        assert stand(swept, case).rests_twice.shape == (64, 13)
