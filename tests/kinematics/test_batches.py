"""Many karts at once: each has the figures that it has alone."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from kinematics.batches import at_every_lock, batch_shape, once, once_beside, one_of, refuse_unless, rows
from kinematics.batches import stacked as together_settings
from kinematics.figures import read
from kinematics.figures.kart import NEAR_BOTH_WAYS
from kinematics.figures.standing import Standing
from kinematics.lock import sweep
from kinematics.parts import AS_MEASURED, Kart, LoadCase, Setting, Tyre
from tests.helpers.karts import KART, setting_from
from tests.helpers.random_karts import random_kart, stacked
from tests.helpers.reading import whole_turns
from tests.helpers.uneven import GIVEN

LOCKS = np.radians([-35.0, -10.0, 0.0, 25.0])
CASES = LoadCase("gentle", 0.3), LoadCase("fast", speed=9.0, longitudinal_g=-0.2, grip_limit_g=1.2)
COUNT = 12


def drawn() -> list[Kart]:
    """Thin discs, spheres, rigid frames and all between, with one stop."""
    rng = np.random.default_rng(4)
    return [
        replace(kart, column=replace(kart.column, stop=1.1))
        for kart in (random_kart(rng) for _ in range(COUNT))
    ]


def fitted(count: int) -> list[Setting]:
    rng = np.random.default_rng(9)
    return [setting_from(rng.uniform) for _ in range(count)]


def told(kart: Kart, setting: Setting):
    """Every figure there is, by its group and name."""
    ahead, swept = sweep(kart, setting, 0.0), sweep(kart, setting, LOCKS)
    turned = whole_turns(kart, setting, CASES, float(LOCKS[3]))
    groups = [
        read.columns(swept, GIVEN),
        read.headline(ahead, GIVEN),
        read.jacking(sweep(kart, setting, NEAR_BOTH_WAYS), GIVEN),
        read.places(ahead, GIVEN),
        *(read.in_case(Standing(swept, case, GIVEN)) for case in CASES),
        *(read.of_turn(turned, case, GIVEN) for case in CASES),
    ]
    return {(i, name): numbers for i, group in enumerate(groups) for name, numbers in group.items()}


def assert_is(together, alone, shape, at):
    """What a batch of this shape has at one place is what is found there alone."""
    for key, one in alone.items():
        whole = (*shape, *one.values.shape)
        values, known = (np.broadcast_to(v, whole)[at] for v in (together[key].values, together[key].known))
        assert np.array_equal(known, np.broadcast_to(one.known, known.shape)), key
        off = np.abs(np.where(known, values, 0.0) - np.where(known, one.values, 0.0))
        assert off.max() < 1e-6 * one.address.figure.worth, key


@pytest.fixture(scope="module")
def alone():
    """Every figure of each kart."""
    [setting] = fitted(1)
    return [told(kart, setting) for kart in drawn()]


@pytest.mark.parametrize("shape", [pytest.param((COUNT,), marks=pytest.mark.long), (3, 4)])
def test_a_batch_of_karts_has_the_figures_of_each_alone(alone, shape):
    [setting] = fitted(1)
    together = told(stacked(drawn(), shape), setting)
    for place, one in enumerate(alone):
        assert_is(together, one, shape, np.unravel_index(place, shape))


def test_karts_and_settings_make_one_batch():
    karts, settings = drawn()[:3], fitted(2)
    together = told(stacked(karts, (3, 1)), together_settings(settings))
    for i, kart in enumerate(karts):
        for j, setting in enumerate(settings):
            assert_is(together, told(kart, setting), (3, 2), (i, j))


def test_rows_locks_and_shapes_of_records():
    karts = drawn()[:4]
    batch = stacked(karts, (2, 2))
    assert batch_shape(batch) == (2, 2)
    assert batch_shape(KART) == ()
    wide = at_every_lock(batch)
    assert wide.left.yoke.centre.shape == (2, 2, 1, 3)
    assert wide.loads[2].shape == wide.rear_tyre.radius.shape == (2, 2, 1)
    assert at_every_lock(KART) is KART
    some = rows(batch, (2, 2), np.array([3, 0]))
    assert some.cog_height.tolist() == [karts[3].cog_height, karts[0].cog_height]
    assert some.right.stub.arm_end.tolist() == [list(karts[i].right.stub.arm_end) for i in (3, 0)]
    spread = rows(replace(KART, cog_height=np.array([200.0, 300.0])), (3, 2), np.array([0, 1, 5]))
    assert spread.cog_height.tolist() == [200.0, 300.0, 300.0]
    assert spread.wheelbase == KART.wheelbase


def test_one_bad_kart_of_many_is_refused():
    with pytest.raises(ValueError, match="tyre radius must be above 0 mm, not -1 to 130"):
        Tyre(np.array([130.0, -1.0]), 100.0)
    with pytest.raises(ValueError, match="not 2 mm"):
        refuse_unless(False, "not {} mm", 2.0)


def test_settings_that_are_all_the_same_are_a_batch_all_the_same():
    whole = together_settings([Setting(), Setting()], axes=1)
    assert batch_shape(whole) == (2, 1)
    assert whole.chassis is AS_MEASURED
    assert one_of(one_of(whole, 1), 0) == Setting()


def test_what_is_made_of_a_record_is_made_once_and_anew_of_a_changed_one():
    made = []

    @once
    def length(kart):
        made.append(kart)
        return kart.wheelbase

    kart = replace(KART)
    assert [length(kart), length(kart)] == [KART.wheelbase] * 2
    longer = replace(kart, wheelbase=1100.0)
    assert [length(longer), length(longer)] == [1100.0] * 2
    assert made == [kart, longer]
    assert kart == KART


def test_what_is_made_of_two_records_is_made_anew_for_another_of_either():
    made = []

    @once_beside
    def both(kart, setting):
        made.append((kart, setting))
        return len(made)

    karts, settings = (KART, replace(KART)), (Setting(), Setting())
    asked = [(0, 0), (0, 0), (0, 1), (1, 1), (1, 1), (0, 1)]
    assert [both(karts[i], settings[j]) for i, j in asked] == [1, 1, 2, 3, 3, 4]
    assert settings[0] == settings[1]
