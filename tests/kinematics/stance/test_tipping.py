"""Where a kart has no resting place on three wheels: by statics, by the twin, and what is said of it."""

from dataclasses import replace
from math import inf

import numpy as np
import pytest

from kinematics.lock import sweep
from kinematics.parts import LoadCase
from kinematics.stance import rescue
from kinematics.stance.equilibrium import equilibrium
from kinematics.stance.slopes import Attitude, Wheels
from kinematics.stance.springs import springs
from kinematics.stance.states import States
from kinematics.standing.stand import stand
from tests.helpers.karts import KART, REFERENCE, setting_from
from tests.helpers.random_karts import as_measured, front_wheels, random_kart
from tests.twins.stance import ARM, Twin

ANGLES = ("pitch", "roll", "twist_front", "twist_rear")
FIELDS = ("height", *ANGLES, "loads", "clearance")


def _case(lateral_g):
    return LoadCase("case", lateral_g=lateral_g)


def test_a_kart_beyond_tipping_is_said_to_tip_and_shows_no_nan():
    """Level rigid kart: it tips where lateral g is half the rear track over the height, near enough."""
    standing = stand(sweep(KART, REFERENCE, [0.0]), _case(5.0))
    assert standing.tips[0]
    for name in FIELDS:
        assert np.isfinite(getattr(standing, name)).all()
    assert standing.loads[0, [0, 2]].tolist() == [0.0, 0.0]
    assert standing.loads.sum() == pytest.approx(sum(KART.loads))
    right = stand(sweep(KART, REFERENCE, [-1e-9]), _case(5.0))
    assert right.loads[0, [1, 3]].tolist() == [0.0, 0.0]
    calm = stand(sweep(KART, REFERENCE, [0.0]), _case(1.0))
    assert not calm.tips[0]


def test_tipping_begins_where_statics_says():
    """Thin rigid tyres, rigid frame: the tipping line joins the outside wheels' support points."""
    front, rear = (replace(t, tread_width=0.0, stiffness=inf) for t in (KART.front_tyre, KART.rear_tyre))
    frame = replace(KART.frame, stiffness=inf)
    kart = replace(KART, front_tyre=front, rear_tyre=rear, frame=frame)
    x = sum(kart.loads[:2]) / sum(kart.loads)
    half = x * kart.left.stub.wheel_centre[1] + (1.0 - x) * 0.5 * kart.rear_track
    limit = half / kart.cog_height
    swept = sweep(kart, REFERENCE, [0.0])
    assert not stand(swept, _case(0.99 * limit)).tips[0]
    assert stand(swept, _case(1.01 * limit)).tips[0]


def test_a_rest_on_two_wheels_is_told_from_a_fall():
    """Wide treads hold the kart a little beyond the tipping line; the slow twin says so too."""
    swept, two = sweep(KART, REFERENCE, [0.0]), []
    for g in np.arange(1.5, 3.0, 0.05):
        standing = stand(swept, _case(g))
        if standing.on_two_wheels[0]:
            two.append(g)
            assert standing.tips[0]
            assert np.count_nonzero(standing.loads[0]) == 2
            left, spin, right, spin_right = (v[0] for v in front_wheels(swept))
            twin = Twin(KART, [(left, spin), (right, spin_right)], 0.0, g)
            q = np.array([standing.height[0], *(ARM * getattr(standing, a)[0] for a in ANGLES)])
            assert np.abs(twin.slope(q)).max() < 0.05  # N: at rest there
    assert two
    assert not stand(swept, _case(two[-1] + 0.3)).on_two_wheels[0]
    assert not stand(swept, _case(1.0)).on_two_wheels[0]


def test_forward_tipping_puts_the_weight_on_one_axle():
    wheels = as_measured(KART)
    back = equilibrium(KART, *wheels, 0.0, 0.0, 5.0)
    assert back.tips
    assert not back.on_two_wheels
    assert back.loads[:2].sum() == 0.0
    front = equilibrium(KART, *wheels, 0.0, 0.0, -5.0)
    assert front.tips
    assert not front.on_two_wheels
    assert front.loads[2:].sum() == 0.0


SWUNG = ((1136, -30.0), (1136, -10.0), (1166, -20.0), (1217, -10.0))
LIGHT = ((2121, 0.7), (2138, 0.7), (2265, 0.0), (2275, 0.7), (2305, 1.0), (2336, 1.0), (2357, 1.0))
"""Random karts, and a lateral g in which a search that gives up early says they tip."""


def uneven(seed):
    """A random kart each of whose scales reads what it likes, and a random setting."""
    rng = np.random.default_rng(seed)
    kart = replace(random_kart(rng), loads=tuple(rng.uniform(30.0, 700.0, 4).tolist()))
    return kart, setting_from(rng.uniform)


def twin_of(swept, standing, i):
    """The slow twin at one lock position, and where the stance says that it rests (5,)."""
    left, spin, right, spin_right = (v[i] for v in front_wheels(swept))
    floor = np.array([float(depth) for depth in swept.rest.floor])
    g, wheels = float(standing.lateral_g[i]), [(left, spin), (right, spin_right)]
    twin = Twin(swept.kart, wheels, swept.setting.rear_axle_shift, g, floor=floor)
    return twin, np.array([standing.height[i], *(ARM * getattr(standing, a)[i] for a in ANGLES)])


@pytest.mark.parametrize(("seed", "g"), LIGHT)
def test_a_hard_case_that_rests_on_three_wheels_is_not_told_to_tip(seed, g, monkeypatch):
    swept = sweep(*uneven(seed), np.radians(np.linspace(-60.0, 60.0, 13)))
    standing = stand(swept, _case(g))
    assert not standing.tips[swept.reach].any()
    monkeypatch.setattr(rescue, "DESCENTS", 0)
    given_up = stand(swept, _case(g)).tips & swept.reach
    assert given_up.any()
    for i in np.flatnonzero(given_up):
        twin, place = twin_of(swept, standing, i)
        assert np.abs(twin.slope(place)).max() < 0.05  # N: at rest there
        assert np.abs(twin.loads(place) - standing.loads[i]).max() < 0.1


@pytest.mark.parametrize(("seed", "degrees"), SWUNG)
def test_a_kart_that_leans_far_on_two_wheels_is_told_from_one_that_falls(seed, degrees):
    swept = sweep(*uneven(seed), np.radians([degrees]))
    standing = stand(swept, _case(1.0 if seed != 1217 else 0.7))
    assert standing.on_two_wheels[0]
    assert abs(standing.roll[0]) > np.radians(5.0)
    twin, place = twin_of(swept, standing, 0)
    assert np.abs(twin.slope(place)).max() < 0.05


def stiff_states(count):
    """A kart on stiff tyres, as it was measured, under lateral accelerations to both sides."""
    tyres = replace(KART.front_tyre, stiffness=100.0), replace(KART.rear_tyre, stiffness=140.0)
    kart = replace(KART, front_tyre=tyres[0], rear_tyre=tyres[1])
    left, spin, right, spin_right = (np.repeat(v[None], count, 0) for v in as_measured(kart))
    place = np.moveaxis(np.stack([left, right]), -1, 0).copy()
    place[2] -= kart.frame.axis_height
    wheels = Wheels(*place, *np.moveaxis(np.stack([spin, spin_right]), -1, 0))
    rear = np.full(count, kart.rear_tyre.radius - kart.frame.axis_height)
    g, floors = np.linspace(-1.0, 1.0, count), np.full((2, count), kart.frame.axis_height)
    return springs(kart).take(np.zeros(count, dtype=int)), States(wheels, rear, g, np.zeros(count), *floors)


def test_a_descent_ends_where_only_round_off_is_left_of_the_way_down(monkeypatch):
    """A rounded energy once refused the last step for ever, and each descent was made to its sixtieth."""
    of_each, states = stiff_states(1000)
    rng, made, real = np.random.default_rng(1), [], rescue.step
    off = np.stack([70.0 + rng.normal(size=1000), *rng.normal(scale=0.01, size=(4, 1000))])
    monkeypatch.setattr(rescue, "step", lambda *given, **more: made.append(1) or real(*given, **more))
    rescue._descend(of_each, states, Attitude(*off))
    assert len(made) < 40
    made.clear()
    monkeypatch.setattr(rescue, "ROUNDED", 0.0)
    rescue._descend(of_each, states, Attitude(*off))
    assert len(made) == 60
