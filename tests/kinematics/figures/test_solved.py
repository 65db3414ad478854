"""A setting solved once for all that is read of it: what it costs, and that it is what each reader says."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from kinematics.figures import read
from kinematics.figures.kart import NEAR_BOTH_WAYS
from kinematics.figures.solved import Solved
from kinematics.figures.standing import Standing
from kinematics.lock import sweep
from kinematics.parts import CornerSetting, LoadCase, Setting
from kinematics.standing.stand import stand
from tests.helpers.cost.counting import counted_sweeps
from tests.helpers.reading import whole_turns
from tests.helpers.uneven import BENT, CASES, GIVEN, ONE, ROWS, fitted

LOCKS = np.radians([-35.0, 0.0, 25.0])
AT = {name: float(np.radians(lock)) for name, lock in zip(CASES, (33.0, 21.0), strict=True)}
DRIVEN = {name: replace(case, handwheel=AT[name]) for name, case in CASES.items()}
BATCH = fitted(ROWS.reshape(2, 3, 4))
NAMES = (
    *("sweep", "ahead", "columns", "straight", "near", "headline", "places"),
    *("case_columns", "case_figures", "stood_ahead"),
)


def made(setting: Setting = ONE) -> Solved:
    return Solved(BENT, setting, LOCKS, tuple(DRIVEN.values()), GIVEN)


@pytest.mark.parametrize("setting", [ONE, BATCH], ids=["one", "a batch"])
@pytest.mark.parametrize("order", [NAMES, NAMES[::-1]], ids=["forward", "backward"])
def test_one_sweep_serves_all_that_is_asked_and_one_more_the_scanned_turns(monkeypatch, setting, order):
    calls, one = counted_sweeps(monkeypatch), made(setting)
    assert not calls
    for _ in range(2):
        for name in order:
            getattr(one, name)
    assert calls.pop("kinematics.figures.solved") == 1
    assert calls.pop("kinematics.figures.scanning") == 1
    assert not calls


def test_a_case_is_stood_on_the_road_once_for_its_columns_and_twice_for_its_turns(monkeypatch):
    """A turn is read at the case's own lateral acceleration and, near straight ahead, with it held."""
    stood: list[tuple[str, str]] = []
    for reader in ("standing", "turn"):

        def counted(swept, case, way=None, reader=reader):
            stood.append((reader, case.name))
            return stand(swept, case, way)

        monkeypatch.setattr(f"kinematics.figures.{reader}.stand", counted)
    one = made()
    for _ in range(2):
        assert one.case_columns
        assert one.case_figures
        assert one.stood_ahead
    columns, turns = ([case for by, case in stood if by == reader] for reader in ("standing", "turn"))
    assert sorted(columns) == sorted([*CASES, "standing"])
    assert sorted(turns) == sorted([*CASES, *CASES])


@pytest.mark.parametrize("setting", [ONE, BATCH], ids=["one", "a batch"])
def test_all_of_it_is_what_each_reader_says(setting):
    one, ahead, swept = made(setting), sweep(BENT, setting, 0.0), sweep(BENT, setting, LOCKS)
    pairs = [
        (one.columns, read.columns(swept, GIVEN)),
        (one.straight, read.headline(ahead, GIVEN)),
        (one.near, read.jacking(sweep(BENT, setting, NEAR_BOTH_WAYS), GIVEN)),
        (one.places, read.places(ahead, GIVEN)),
    ]
    for name, case in CASES.items():
        turned = whole_turns(BENT, setting, [case], AT[name])
        pairs.append((one.case_columns[name], read.in_case(Standing(swept, case, GIVEN))))
        pairs.append((one.case_figures[name], read.of_turn(turned, case, GIVEN)))
    for found, truth in pairs:
        assert list(found) == list(truth)
        for name, numbers in truth.items():
            assert found[name].address == numbers.address
            assert found[name].meaning == numbers.meaning
            assert (found[name].known == numbers.known).all(), name
            values = found[name].values[numbers.known] if numbers.known.shape else found[name].values
            wanted = numbers.values[numbers.known] if numbers.known.shape else numbers.values
            assert values == pytest.approx(wanted, abs=1e-6), name
    assert one.headline == {**one.straight, **one.near}
    assert one.sweep.handwheel.tolist() == LOCKS.tolist()
    assert one.ahead.handwheel.tolist() == [0.0]


def test_the_kart_as_it_stands_is_a_case_without_acceleration():
    still = read.in_case(Standing(sweep(BENT, ONE, 0.0), LoadCase("still"), GIVEN))
    for name, numbers in made().stood_ahead.items():
        assert float(numbers.values) == pytest.approx(float(still[name].values[0]), abs=1e-9)
        assert "standing straight ahead" in numbers.meaning


def test_another_setting_is_solved_afresh():
    base = made()
    assert base.columns
    other = replace(base, setting=Setting(CornerSetting(4.0, 1.0), ONE.right, 2.0))
    assert (other.columns["camber_left_deg"].values != base.columns["camber_left_deg"].values).all()
    moved = other.sweep.right.wheel_centre - base.sweep.right.wheel_centre
    assert np.abs(moved).max() < 1e-12
