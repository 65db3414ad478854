"""A kart measured with a setting on it, and the kart with concentric bushes behind that."""

from dataclasses import replace

import numpy as np
import pytest

from kinematics.lock import sweep
from kinematics.parts import CornerSetting, Setting
from kinematics.standing.measured import as_measured, neutral
from tests.helpers.karts import KART, leaning
from tests.helpers.random_karts import random_kart, stacked

ON = Setting(CornerSetting(4.0, np.pi, 2.0, 0.0, 3.0, 5.0), CornerSetting(2.0, 2.0, 1.0, 1.0, -2.0, 0.0))


def numbers(kart):
    """Everything that can be read of a kart, flat."""
    found = [*kart.loads, *kart.column.foot, kart.column.inclination, kart.front_track]
    for corner in (kart.left, kart.right):
        yoke, stub = corner.yoke, corner.stub
        found += [*yoke.centre, *stub.wheel_centre, *stub.arm_end, *corner.inner_joint]
        found += [yoke.caster, yoke.kingpin_inclination, stub.camber, stub.toe]
    return np.array(found, dtype=float)


def even(kart):
    """With a track that is that of its wheels, as one that is made of a file."""
    wheels = [corner.stub.wheel_centre[1] for corner in (kart.left, kart.right)]
    return replace(kart, front_track=float(sum(wheels)))


def test_with_concentric_bushes_a_kart_is_read_as_it_is_written():
    assert numbers(as_measured(KART, Setting())) == pytest.approx(numbers(KART), abs=1e-9)
    assert numbers(neutral(KART, Setting())) == pytest.approx(numbers(even(KART)), abs=1e-9)


@pytest.mark.parametrize("seed", range(6))
def test_the_kart_behind_the_readings_is_the_one_that_was_read(seed):
    kart = even(random_kart(np.random.default_rng(seed)))
    read = as_measured(kart, ON)
    assert np.abs(numbers(read) - numbers(kart)).max() > 5.0
    assert numbers(neutral(read, ON)) == pytest.approx(numbers(kart), abs=1e-8)


def test_a_batch_of_karts_is_each_alone():
    karts = [even(random_kart(np.random.default_rng(seed))) for seed in range(3)]
    reads = [replace(as_measured(kart, ON), column=karts[0].column) for kart in karts]
    found = neutral(stacked(reads, (3,)), ON)
    for place, read in enumerate(reads):
        alone = neutral(read, ON)
        assert found.loads[2][place] == pytest.approx(alone.loads[2], abs=1e-8)
        assert found.left.stub.arm_end[place] == pytest.approx(alone.left.stub.arm_end, abs=1e-8)
        assert found.right.yoke.caster[place] == pytest.approx(alone.right.yoke.caster, abs=1e-10)


def test_a_hub_spacer_is_taken_off_a_wheel_without_camber_or_toe_to_the_full():
    corner = leaning(12.0, 10.0)
    kart = replace(KART, left=corner, right=corner)
    hubs = Setting(CornerSetting(hub_spacer=8.0), CornerSetting(hub_spacer=8.0))
    found = neutral(kart, hubs)
    assert found.left.stub.wheel_centre[1] == pytest.approx(corner.stub.wheel_centre[1] - 8.0, abs=1e-6)
    assert found.front_track == pytest.approx(2.0 * (corner.stub.wheel_centre[1] - 8.0), abs=1e-6)
    assert found.left.yoke.caster == pytest.approx(corner.yoke.caster, abs=1e-6)


def test_bushes_that_lean_an_upright_axis_rearward_have_added_their_tilt_to_the_caster():
    """By hand, without inclination: holes 2 and 1 mm apart over a span of 70 mm lean it by atan(3 / 70)."""
    corner = leaning(12.0, 0.0)
    kart = replace(KART, left=corner, right=corner)
    bushes = CornerSetting(2.0, np.pi, 1.0, 0.0)
    found = neutral(kart, Setting(bushes, bushes))
    gained = np.degrees(corner.yoke.caster - found.left.yoke.caster)
    assert gained == pytest.approx(np.degrees(np.arctan(3.0 / 70.0)), abs=0.02)


def test_the_weight_is_that_on_the_scales_and_the_rods_keep_their_length():
    found = neutral(KART, ON)
    assert sum(found.loads) == pytest.approx(sum(KART.loads), abs=1e-8)
    ahead = sweep(found, ON, 0.0)
    for corner, swept in ((KART.left, ahead.left), (KART.right, ahead.right)):
        length = np.linalg.norm(np.subtract(corner.stub.arm_end, corner.inner_joint))
        assert swept.linkage.rod_length == pytest.approx(length, abs=1e-6)


def test_readings_that_no_kart_has_are_refused():
    on = CornerSetting(400.0, np.pi, 400.0, 0.0)
    with pytest.raises(ValueError, match="no kart with concentric bushes would be measured like this one"):
        neutral(KART, Setting(on, on))
