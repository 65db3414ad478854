"""Every row of the registry read off what is solved: shapes, batches, and alone as beside others."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from kinematics.figures import catalog, read, standing
from kinematics.figures.figure import Address, Given, Numbers, Of, each
from kinematics.figures.kart import NEAR_BOTH_WAYS
from kinematics.figures.standing import Standing
from kinematics.lock import sweep
from kinematics.parts import CornerSetting, Kart, Setting
from tests.helpers.cost.counting import counted_sweeps
from tests.helpers.karts import KART
from tests.helpers.reading import whole_turns
from tests.helpers.uneven import BENT, CASES, GIVEN, ONE, ROWS, fitted

LOCKS = np.radians([-35.0, -10.0, 0.0, 25.0])
AT = float(LOCKS[3])


def told(kart: Kart, setting: Setting) -> dict[str, dict[str, Numbers]]:
    """Every group of figures of a setting, those of load cases once for each."""
    ahead, swept = sweep(kart, setting, 0.0), sweep(kart, setting, LOCKS)
    turned = whole_turns(kart, setting, CASES.values(), AT)
    groups = {
        "columns": read.columns(swept, GIVEN),
        "headline": read.headline(ahead, GIVEN),
        "near": read.jacking(sweep(kart, setting, NEAR_BOTH_WAYS), GIVEN),
        "places": read.places(ahead, GIVEN),
    }
    for name, case in CASES.items():
        groups[name] = read.in_case(Standing(swept, case, GIVEN))
        groups[f"{name}: turn"] = read.of_turn(turned, case, GIVEN)
    return groups


THROUGH_LOCK = ("columns", *CASES)
ALONE = told(BENT, ONE)


def test_every_figure_of_the_catalog_is_read():
    assert {name for group in ALONE.values() for name in group} == set(catalog.every())


@pytest.mark.parametrize("group", ALONE)
def test_numbers_of_one_setting_are_finite_where_known_and_of_the_shape_promised(group):
    shape = LOCKS.shape if group in THROUGH_LOCK else ()
    for name, numbers in ALONE[group].items():
        assert numbers.name == name
        assert numbers.values.shape == numbers.known.shape == shape, name
        assert numbers.known.dtype == bool
        assert np.isfinite(numbers.values[numbers.known]).all(), name
        assert len(numbers.meaning) > 10


@pytest.mark.parametrize("shape", [(1,), pytest.param((6,), marks=pytest.mark.long), (3, 1, 2)])
@pytest.mark.parametrize("kart", [KART, BENT], ids=["even", "bent"])
def test_a_batch_of_settings_reads_as_each_alone(kart, shape):
    batch = told(kart, fitted(ROWS[: np.prod(shape)].reshape(*shape, 4)))
    for index in np.ndindex(shape):
        alone = told(kart, fitted(ROWS[np.ravel_multi_index(index, shape)]))
        for group, some in alone.items():
            lock = LOCKS.shape if group in THROUGH_LOCK else ()
            for name, one in some.items():
                many = batch[group][name]
                if name != "handwheel_deg":  # the lock positions are those of every setting
                    assert many.values.shape == many.known.shape == (*shape, *lock), (group, name)
                values, known = (
                    np.broadcast_to(a, (*shape, *lock))[index] for a in (many.values, many.known)
                )
                assert (known == one.known).all(), (group, name)
                close = 1e-9 if group in ("columns", "headline", "near", "places") else 1e-6
                assert values[known] == pytest.approx(one.values[known], abs=close), (group, name)


def test_a_setting_that_cannot_be_assembled_leaves_its_neighbours_as_they_are():
    """One rod too short to close at all, beside one that closes; nothing unknown is not a number."""
    length = np.array([100.0, float(sweep(KART, Setting(), 0.0).left.linkage.rod_length)])
    batch = told(KART, Setting(left=CornerSetting(rod_length=length)))
    alone = told(KART, Setting())
    for group, some in batch.items():
        for name, many in some.items():
            both = np.broadcast_to(many.known, (2, *alone[group][name].known.shape))
            one = alone[group][name]
            assert (both[1] == one.known).all(), (group, name)
            values = np.broadcast_to(many.values, both.shape)
            assert values[1][one.known] == pytest.approx(one.values[one.known], abs=1e-6), (group, name)
            assert not np.isnan(values).any(), (group, name)
            if "left" in name and many.address.figure.of in (Of.LOCK, Of.CASE):
                assert not both[0].any(), (group, name)


def asked() -> list[tuple[Address, np.ndarray, np.ndarray]]:
    """Every figure that can be asked for alone, with what its group says of it."""
    found = []
    for group, some in ALONE.items():
        case = group.removesuffix(": turn") if group.removesuffix(": turn") in CASES else None
        for numbers in some.values():
            one = replace(numbers.address, case=case)
            if group in THROUGH_LOCK:
                found += [
                    (replace(one, lock=float(lock)), numbers.values[i], numbers.known[i])
                    for i, lock in enumerate(LOCKS)
                ]
            else:
                lock = AT if one.figure.of is Of.AT_LOCK else None
                found.append((replace(one, lock=lock), numbers.values, numbers.known))
    return found


ASKED = asked()


def assert_reads(found, wanted):
    (value, known), (one, truth, there) = found, wanted
    assert np.shape(value) == np.shape(known) == (), str(one)
    assert bool(known) == bool(there), str(one)
    if there:
        assert float(value) == pytest.approx(float(truth), abs=1e-6), str(one)
    else:
        assert np.isposinf(value) == np.isposinf(truth), str(one)


def test_every_address_can_be_asked_for_and_no_two_are_alike():
    for one, _, _ in ASKED:
        catalog.check(one, CASES, KART.column.stop)
    assert len({str(one) for one, _, _ in ASKED}) == len(ASKED)


@pytest.mark.slow
def test_a_figure_asked_for_alone_is_the_groups_own_and_takes_one_sweep(monkeypatch):
    """Besides it only the close positions of a scanned turn are swept. Through lock: at both its ends."""
    calls = counted_sweeps(monkeypatch)
    between = LOCKS[1:-1].tolist()
    for wanted in [one for one in ASKED if one[0].lock not in between]:
        one = wanted[0]
        calls.clear()
        [found] = read.read(BENT, ONE, [one], CASES, GIVEN)
        assert_reads(found, wanted)
        fine = calls.pop("kinematics.figures.scanning", 0)
        assert sum(calls.values()) == 1, str(one)
        assert fine <= (one.figure.of is Of.SCAN), str(one)


def test_figures_asked_for_together_are_those_asked_for_alone(monkeypatch):
    for order in (ASKED, ASKED[::-1]):
        found = read.read(BENT, ONE, [one for one, _, _ in order], CASES, GIVEN)
        for value, wanted in zip(found, order, strict=True):
            assert_reads(value, wanted)
    still = [one for one, _, _ in ASKED if one.figure.of in (Of.LOCK, Of.AHEAD, Of.NEAR, Of.CASE)]
    calls = counted_sweeps(monkeypatch)
    read.read(BENT, ONE, still, CASES, GIVEN)
    assert sum(calls.values()) == 1


def test_where_the_wheels_stand_is_read_straight_ahead_whatever_lock_is_asked_for_beside_it():
    swept = read.places(sweep(BENT, ONE, 0.0))
    beside = [catalog.find("camber_left_deg").figure.at("left", lock) for lock in (-0.5, 0.4)]
    for name, numbers in swept.items():
        found = read.read(BENT, ONE, [*beside, numbers.address], {})
        assert float(found[-1][0]) == pytest.approx(float(numbers.values), abs=1e-9), name


def test_a_batch_asked_for_any_figures_has_those_of_each_alone():
    wanted = [one for one, _, _ in ASKED][::7]
    batch = read.read(BENT, fitted(ROWS.reshape(2, 3, 4)), wanted, CASES, GIVEN)
    for i, row in enumerate(ROWS):
        alone = read.read(BENT, fitted(row), wanted, CASES, GIVEN)
        for one, (many, there), (value, known) in zip(wanted, batch, alone, strict=True):
            place = np.unravel_index(i, (2, 3))
            many, there = (np.broadcast_to(a, (2, 3))[place] for a in (many, there))
            assert_reads((many, there), (one, value, known))


def test_effort_and_rear_axle_are_worked_out_only_where_they_are_asked_for(monkeypatch):
    worked = []
    for name in ("effort", "locked_axle", "standing_corners"):
        inner = getattr(standing, name)
        counted = lambda *given, inner=inner, name=name: worked.append(name) or inner(*given)  # noqa: E731
        monkeypatch.setattr(standing, name, counted)
    for figure, needed in (
        (standing.INSIDE_REAR_LOAD.at("", AT, "at 0.7 g"), []),
        (standing.ROLL.at("", AT, "at 0.7 g"), []),
        (standing.HANDWHEEL_TORQUE.at("", AT, "at 0.7 g"), ["effort"]),
        (standing.AXLE_YAW_MOMENT.at("", AT, "at 0.7 g"), ["locked_axle"]),
        (standing.STANDING_CAMBER.at("left", AT, "at 0.7 g"), ["standing_corners"]),
    ):
        worked.clear()
        read.read(KART, ONE, [figure], CASES)
        assert worked == needed, figure.name


def test_what_is_given_is_what_is_read():
    toe, torque = catalog.find("toe_total_mm"), catalog.find("handwheel_torque_nm")
    torque = replace(torque, lock=AT, case="at 0.7 g")
    found = [
        read.read(KART, ONE, [toe, torque], CASES, given)
        for given in (Given(200.0, 0.0), Given(400.0, 0.0), Given(200.0, 20.0))
    ]
    (small, light), (large, same), (_, heavy) = ([float(value) for value, _ in some] for some in found)
    assert large == pytest.approx(2.0 * small)
    assert same == light != heavy


def test_every_sided_figure_has_all_its_sides_in_its_group():
    for group in (catalog.THROUGH_LOCK, catalog.HEADLINE, catalog.IN_CASE, catalog.OF_TURN, catalog.PLACES):
        sides: dict[object, list[str]] = {}
        for one in each(group):
            sides.setdefault(one.figure, []).append(one.side)
        assert all(tuple(some) == figure.sides for figure, some in sides.items())
