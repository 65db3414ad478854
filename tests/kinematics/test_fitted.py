"""What is changed on the whole kart: against statics by hand, and the slow twin's minimum of energy."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from kinematics.fitted import fitted, rear_axle_height
from kinematics.lock import rear_wheel_centres, sweep
from kinematics.parts import AS_MEASURED, GRAVITY, Chassis, LoadCase, Masses, Setting
from kinematics.stance.equilibrium import Floor, equilibrium
from kinematics.stance.springs import springs
from kinematics.standing.stand import stand
from tests.helpers.karts import KART
from tests.helpers.random_karts import as_measured, front_wheels, random_kart, random_sweep
from tests.twins.stance import ARM, Twin

STILL = LoadCase("still")
CORNER = LoadCase("corner", 0.5)
WHEELS = as_measured(KART)
MIDDLE = springs(KART)
KG = GRAVITY


def ahead(chassis: Chassis, case: LoadCase = STILL):
    """The even kart so changed, straight ahead."""
    swept = sweep(KART, Setting(chassis=chassis), 0.0)
    return swept, stand(swept, case)


def loads(chassis: Chassis, case: LoadCase = STILL) -> np.ndarray:
    return ahead(chassis, case)[1].loads[0]


def mass(kg: float, x: float, y: float, z: float) -> Masses:
    weight = kg * KG
    return Masses(weight, weight * x, weight * y, weight * z)


def test_nothing_changed_is_the_kart_itself():
    assert fitted(KART, AS_MEASURED) is KART
    once = fitted(KART, Chassis(rear_track=10.0))
    assert fitted(once, Chassis(rear_track=10.0)).rear_track == once.rear_track == KART.rear_track + 10.0
    assert fitted(once, AS_MEASURED) is KART
    unchanged = loads(Chassis(masses=Masses()))
    assert unchanged == pytest.approx(np.array(KART.loads), abs=1e-6)


def test_ballast_is_carried_as_by_levers():
    """Moments about the rear axle and the mid-plane, by hand."""
    front, left = 0.4 * KART.wheelbase, 150.0
    found = loads(Chassis(masses=mass(6.0, front, left, 60.0)))
    assert found.sum() == pytest.approx(MIDDLE.weight + 6.0 * KG, rel=1e-9)
    assert found[:2].sum() == pytest.approx(sum(KART.loads[:2]) + 0.4 * 6.0 * KG, rel=2e-3)
    assert found[0] > KART.loads[0]
    assert found[0] + found[2] > found[1] + found[3]


def test_a_seat_moved_rearward_takes_its_share_off_the_front():
    back = 20.0
    found = loads(Chassis(masses=Masses(forward=-70.0 * KG * back)))
    assert found.sum() == pytest.approx(MIDDLE.weight, rel=1e-9)
    off = 70.0 * KG * back / KART.wheelbase
    assert sum(KART.loads[:2]) - found[:2].sum() == pytest.approx(off, rel=0.02)


def test_a_seat_raised_transfers_more_load_in_a_corner():
    """The transfer's moment about the mid-plane is weight times acceleration times height over the road."""
    low, high = (loads(Chassis(masses=Masses(up=90.0 * KG * up)), CORNER) for up in (0.0, 30.0))
    arms = np.array([KART.front_track, -KART.front_track, KART.rear_track, -KART.rear_track]) / 2.0
    more = (low - high) @ arms
    assert more == pytest.approx(
        0.5 * 90.0 * KG * 30.0, rel=0.03
    )  # leaning moves the support points a little


def test_softer_tyres_let_the_kart_down_by_what_they_give():
    for axle, both in (("front", KART.loads[:2]), ("rear", KART.loads[2:])):
        swept, standing = ahead(Chassis(**{f"{axle}_stiffness": 0.8}))
        stiffness = getattr(KART, f"{axle}_tyre").stiffness
        give = 0.5 * sum(both) / stiffness * (1.0 / 0.8 - 1.0)
        sunk = -getattr(standing, f"ride_height_change_{axle}")[0]
        assert sunk == pytest.approx(give, rel=0.02)
        assert swept.rest.road.normal[0] * (1.0 if axle == "front" else -1.0) < 0.0 or give == 0.0


def test_larger_tyres_lift_their_end_and_turn_the_caster_with_it():
    for axle, way in (("front", 1.0), ("rear", -1.0)):
        swept, standing = ahead(Chassis(**{f"{axle}_radius": 4.0}))
        assert getattr(standing, f"ride_height_change_{axle}")[0] == pytest.approx(4.0, rel=0.02)
        before = sweep(KART, Setting(), 0.0).left.caster
        assert swept.left.caster - before == pytest.approx(way * 4.0 / KART.wheelbase, rel=0.03)
        same = Setting(rear_axle_shift=way * 4.0)  # the axle moved in the frame rakes it alike
        assert swept.left.caster == pytest.approx(sweep(KART, same, 0.0).left.caster, abs=2e-5)


def test_another_tyre_does_not_move_the_axle_in_the_frame():
    kart = fitted(KART, Chassis(rear_radius=5.0, rear_track=40.0))
    centre = rear_wheel_centres(kart, Setting())[0]
    assert centre == pytest.approx([0.0, 0.5 * KART.rear_track + 20.0, KART.rear_tyre.radius])
    assert rear_axle_height(kart, 3.0) == KART.rear_tyre.radius + 3.0


def test_a_bar_is_a_stiffer_frame_and_nothing_else():
    """On a kart that stands without preload it is the kart with that frame."""
    even = replace(KART, loads=(330.0, 330.0, 440.0, 440.0))
    frame = replace(even.frame, stiffness=1.5 * even.frame.stiffness)
    swept = sweep(even, Setting(chassis=Chassis(frame_stiffness=1.5)), [0.5])
    other = sweep(replace(even, frame=frame), Setting(), [0.5])
    assert stand(swept, CORNER).loads == pytest.approx(stand(other, CORNER).loads, abs=1e-6)


def test_wider_rear_wheels_lift_more_as_a_rigid_kart_and_unload_less():
    """Common practice, no source: the rigid lift in mm grows with the rear width, jacking in N falls."""
    locks = np.radians([0.0, 30.0])
    narrow, wide = (sweep(KART, Setting(chassis=Chassis(rear_track=w)), locks) for w in (0.0, 60.0))
    assert wide.rigid_inside_rear_lift[1] > narrow.rigid_inside_rear_lift[1]

    def unloaded(swept):
        load = stand(swept, STILL).loads[:, 2]
        return load[0] - load[1]

    assert 0.0 < unloaded(wide) < unloaded(narrow)


def drawn(seed: int) -> Chassis:
    rng = np.random.default_rng(seed)
    kg, place = rng.uniform(-4.0, 8.0), rng.uniform([-100.0, -400.0, 40.0], [1000.0, 400.0, 300.0])
    seat = 70.0 * KG * rng.uniform(-30.0, 30.0, 3)
    put = mass(kg, *place)
    masses = Masses(put.weight, put.forward + seat[0], put.left + seat[1], put.up + seat[2])
    return Chassis(
        rng.uniform(-60, 60), *rng.uniform(-4, 4, 2), *rng.uniform(0.7, 1.4, 2), rng.uniform(0.6, 2.5), masses
    )


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(12))
def test_it_rests_where_the_energy_is_least(seed):
    """Loads within 0.01 N of the slow twin, which knows nothing of how the springs are kept here."""
    rng = np.random.default_rng(seed)
    swept, chassis = random_sweep(rng), drawn(seed)
    g, floor = (rng.uniform(-0.4, 0.4), rng.uniform(-0.3, 0.3)), rng.uniform(20, 150, 2)
    wheels, shift = front_wheels(swept), swept.setting.rear_axle_shift
    standing = equilibrium(fitted(swept.kart, chassis), *wheels, shift, *g, Floor(*floor))
    left, spin_left, right, spin_right = (v[0] for v in wheels)
    twin = Twin(swept.kart, [(left, spin_left), (right, spin_right)], shift, *g, floor, chassis)
    found = twin.rest()
    assert (found is None) == bool(standing.tips[0] and not standing.on_two_wheels[0])
    if found is not None:
        assert standing.loads[0] == pytest.approx(twin.loads(found), abs=0.01)
        assert ARM * standing.roll[0] == pytest.approx(found[2], abs=1e-3)


def test_a_batch_of_changes_is_each_alone():
    kart = random_kart(np.random.default_rng(3))
    changes = [drawn(seed) for seed in range(6)]
    names = (
        "rear_track",
        "front_radius",
        "rear_radius",
        "front_stiffness",
        "rear_stiffness",
        "frame_stiffness",
    )
    masses = {
        n: np.array([getattr(c.masses, n) for c in changes]) for n in ("weight", "forward", "left", "up")
    }
    together = Chassis(
        **{n: np.array([getattr(c, n) for c in changes]) for n in names}, masses=Masses(**masses)
    )
    locks = np.radians([-20.0, 0.0, 15.0])
    whole = sweep(kart, Setting(chassis=together), locks)
    standing = stand(whole, CORNER)
    for row, chassis in enumerate(changes):
        alone = sweep(kart, Setting(chassis=chassis), locks)
        assert stand(alone, CORNER).loads == pytest.approx(standing.loads[row], abs=1e-6)
        assert alone.left.camber == pytest.approx(whole.left.camber[row], abs=1e-9)
