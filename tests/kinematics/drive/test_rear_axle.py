"""The locked rear axle against closed forms, a scalar root finder and what lifting the inside rear does."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import brentq

from kinematics.drive.rear_axle import AxleGrip, axle_speed, brush_force, locked_axle
from kinematics.lock import sweep
from kinematics.parts import LoadCase
from kinematics.standing.stand import stand
from tests.helpers.karts import KART, REFERENCE

GRIP = AxleGrip(1.1, 12.0)


def scalar_brush(slip, load, friction, stiffness):
    """Brush model with parabolic pressure, as written in text books: slides beyond 3 friction/stiffness."""
    theta = stiffness / (3.0 * friction)
    if abs(slip) >= 1.0 / theta:
        return friction * load * np.sign(slip)
    x = theta * slip
    return 3.0 * friction * load * x * (1.0 - abs(x) + x * x / 3.0)


def test_the_brush_force_is_the_text_books():
    slips = np.linspace(-0.6, 0.6, 61)
    ours = brush_force(slips, 400.0, GRIP)
    assert ours == pytest.approx([scalar_brush(s, 400.0, 1.1, 12.0) for s in slips], abs=1e-9)
    assert brush_force(1e-7, 400.0, GRIP) / 1e-7 == pytest.approx(12.0 * 400.0, rel=1e-5)


def test_the_axle_speed_is_the_root_of_the_forces():
    rng = np.random.default_rng(2)
    spread, left, right = rng.uniform(-0.3, 0.3, 50), rng.uniform(1, 500, 50), rng.uniform(1, 500, 50)
    ours = axle_speed(spread, left, right, GRIP)
    for d, l_, r_, e in zip(spread, left, right, ours, strict=True):

        def net(speed, d=d, l_=l_, r_=r_):
            return scalar_brush(speed + d, l_, 1.1, 12.0) + scalar_brush(speed - d, r_, 1.1, 12.0)

        assert abs(net(e)) < 1e-6
        if abs(net(-abs(d))) > 1e-9 and abs(net(abs(d))) > 1e-9 and min(l_, r_) > 100.0:
            assert net(brentq(net, -abs(d), abs(d), xtol=1e-14)) == pytest.approx(net(e), abs=1e-6)


def at_lock(lateral_g, handwheel, kart=KART, grip=GRIP):
    swept = sweep(kart, REFERENCE, handwheel)
    standing = stand(swept, LoadCase("turn", lateral_g))
    return swept, standing, locked_axle(swept, standing, grip)


def test_it_opposes_the_turn_either_way():
    swept, _, axle = at_lock(0.0, np.radians([-20.0, 0.0, 20.0]))
    assert swept.path_curvature[2] > 0.0
    assert axle.yaw_moment[2] < 0.0
    assert axle.yaw_moment[0] == pytest.approx(-axle.yaw_moment[2], rel=1e-9)
    assert axle.yaw_moment[1] == pytest.approx(0.0, abs=1e-6)
    assert axle.force_left[2] > 0.0  # the inside tyre is dragged too fast: it drives


def test_small_slip_closed_form():
    """Springs in series: two slip stiffnesses C N share the difference of speed, track times curvature."""
    swept, standing, axle = at_lock(0.0, [1e-4], grip=AxleGrip(1e3, 12.0))
    left, right = 12.0 * standing.loads[0, 2], 12.0 * standing.loads[0, 3]
    track, curvature = KART.rear_track, swept.path_curvature[0]
    force = left * right / (left + right) * track * curvature
    assert axle.yaw_moment[0] == pytest.approx(-track * force, rel=1e-4)


def test_a_sliding_inside_wheel_gives_friction_times_its_load():
    _, standing, axle = at_lock(0.5, [0.5], grip=AxleGrip(0.8, 500.0))
    assert axle.yaw_moment[0] == pytest.approx(-KART.rear_track * 0.8 * standing.loads[0, 2], rel=1e-6)


def test_an_inside_wheel_in_the_air_frees_the_kart():
    """The point of jacking (common practice): the moment falls with the inside rear's load, to nothing."""
    kart = replace(KART, frame=replace(KART.frame, stiffness=np.inf))
    _, standing, axle = at_lock(0.6, np.radians(np.linspace(2.0, 45.0, 30)), kart)
    up = standing.loads[:, 2] == 0.0
    assert up.any()
    assert np.abs(axle.yaw_moment[up]).max() == 0.0
    assert np.abs(axle.yaw_moment[~up]).min() > 0.0


def test_grip_must_be_positive():
    with pytest.raises(ValueError, match="above 0"):
        AxleGrip(0.0, 10.0)
