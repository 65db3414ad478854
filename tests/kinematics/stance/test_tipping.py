"""Where a kart has no resting place on three wheels: by statics, by the twin, and what is said of it."""

from dataclasses import replace
from math import inf

import numpy as np
import pytest

from kinematics.lock import sweep
from kinematics.parts import LoadCase
from kinematics.stance.equilibrium import equilibrium
from kinematics.standing.stand import stand
from tests.helpers.karts import KART, REFERENCE
from tests.helpers.random_karts import as_measured, front_wheels
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
    assert back.loads[:2].sum() == 0.0
    front = equilibrium(KART, *wheels, 0.0, 0.0, -5.0)
    assert front.tips
    assert front.loads[2:].sum() == 0.0
