"""What gauges read: against January's factor, the exact camber formula, and the scales' own sum."""

from __future__ import annotations

from dataclasses import replace
from math import inf

import numpy as np
import pytest

from kinematics.parts import CornerSetting, Frame, Setting, Tyre
from kinematics.standing.readings import TurnPlates, on_turn_plates, readings, workshop_caster
from tests.helpers.karts import KART, leaning

STEER = np.radians(20.0)


def leaning_kart(caster_deg, inclination_deg):
    corner = leaning(caster_deg, inclination_deg)
    return replace(KART, left=corner, right=corner, front_tyre=Tyre(130.0, 0.0, 50.0, 150.0))


def test_reference_kart_reads_its_own_measures():
    read = readings(KART, Setting(), 0.0)
    assert np.degrees(read.camber[0]) == pytest.approx([-0.5, -0.5], abs=1e-9)
    assert np.degrees(read.toe[0]) == pytest.approx([0.3, 0.3], abs=1e-9)
    assert np.degrees(read.caster[0]) == pytest.approx([12.0, 12.0], abs=1e-9)
    assert read.loads[0] == pytest.approx(KART.loads, abs=1e-6)
    assert read.ride_front[0] == pytest.approx(0.0, abs=1e-9)
    assert read.known.all()


def test_workshop_caster_by_the_published_numbers():
    """January, SAE 850219 (1985): factor 1.461902 at 20 deg; 12.8 and 6.5 deg read 13.001 by it."""
    plates = on_turn_plates(leaning_kart(12.8, 6.5), Setting(), [STEER])[0].held
    assert plates.known.all()
    assert np.degrees(plates.camber[0]) == pytest.approx([4.8577, -4.0356], abs=5e-5)
    assert np.degrees(plates.camber[1]) == pytest.approx([-4.0356, 4.8577], abs=5e-5)
    assert np.degrees(workshop_caster(plates, STEER)) == pytest.approx([13.001, 13.001], abs=5e-4)


def test_factor_is_january_s():
    plates = TurnPlates(np.zeros((2, 2)), np.array([[1.0, 0.0], [0.0, 1.0]]), np.ones((2, 2), bool))
    assert workshop_caster(plates, STEER) == pytest.approx([1.461902] * 2, abs=5e-7)


def test_a_standing_kart_leans_and_reads_less_caster():
    """The inside front drops and lifts the frame over it: the lean takes camber from the inside wheel."""
    kart = leaning_kart(12.8, 6.5)
    [plates] = on_turn_plates(kart, Setting(), [STEER])
    assert plates.free.known.all()
    assert (workshop_caster(plates.free, STEER) < workshop_caster(plates.held, STEER)).all()


def test_sides_are_mirror_images():
    fitted = CornerSetting(2.0, 0.7, 1.5, 3.0)
    read = readings(KART, Setting(fitted, fitted), np.radians([25.0, -25.0]))
    assert read.camber[0] == pytest.approx(read.camber[1, ::-1], abs=1e-9)
    assert read.steer[0] == pytest.approx(-read.steer[1, ::-1], abs=1e-9)
    assert read.loads[0] == pytest.approx(read.loads[1, [1, 0, 3, 2]], abs=1e-5)
    assert (read.steer[0] > 0.0).all()  # a turn of the handwheel to the left steers both wheels left


def test_scales_always_carry_the_kart():
    read = readings(KART, Setting(CornerSetting(3.0, 1.0)), np.radians([-40.0, 0.0, 40.0]))
    assert read.loads.sum(axis=-1) == pytest.approx([sum(KART.loads)] * 3, abs=1e-6)


def test_out_of_reach_is_said():
    stopped = replace(KART, column=replace(KART.column, stop=np.radians(20.0)))
    [both] = on_turn_plates(stopped, Setting(), [STEER])
    for plates in (both.free, both.held):
        assert not plates.known.any()
        assert np.isfinite(plates.camber).all()


def test_steers_side_by_side_are_those_searched_alone():
    """A steer out of reach, one whose handwheel angle is found and one at the other side of the search."""
    kart, setting = leaning_kart(12.8, 6.5), Setting(CornerSetting(2.0, 0.7), CornerSetting(1.0, 3.0), 3.0)
    kart = replace(kart, column=replace(kart.column, stop=np.radians(40.0)))
    steers = np.radians([5.0, 28.0, 15.0]).tolist()
    for steer, both in zip(steers, on_turn_plates(kart, setting, steers), strict=True):
        [alone] = on_turn_plates(kart, setting, [steer])
        for many, one in ((both.free, alone.free), (both.held, alone.held)):
            assert (many.known == one.known).all()
            assert bool(one.known.all()) == (steer < 0.4)
            assert many.camber[one.known] == pytest.approx(one.camber[one.known], abs=1e-8)
            assert many.handwheel[one.known] == pytest.approx(one.handwheel[one.known], abs=1e-8)


def test_a_wheel_on_its_plate_has_the_steer_asked_for():
    [both] = on_turn_plates(KART, Setting(), [STEER])
    for wheel in (0, 1):
        read = readings(KART, Setting(), both.free.handwheel[wheel])
        assert read.steer[:, wheel] == pytest.approx([STEER, -STEER], abs=1e-8)
        assert read.camber[:, wheel] == pytest.approx(both.free.camber[wheel], abs=1e-8)


def test_rigid_tyres_and_frame_are_no_trouble():
    kart = replace(KART, front_tyre=replace(KART.front_tyre, stiffness=inf), frame=Frame(inf, 0.5, 90.0))
    assert readings(kart, Setting(), np.radians([-30.0, 0.0, 30.0])).known.all()


def test_batches_and_silly_steer_are_refused():
    with pytest.raises(ValueError, match="one setting"):
        readings(KART, Setting(CornerSetting(np.zeros(3))), 0.0)
    with pytest.raises(ValueError, match="between 0 and 90 deg"):
        on_turn_plates(KART, Setting(), [STEER, 0.0])
