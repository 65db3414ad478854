"""The search against the readable chain, brute force, and what was planted for it."""

from __future__ import annotations

from dataclasses import replace
from math import inf

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from kinematics.choose import scan as search_scan
from kinematics.choose.box import Box, on_hand, pair_grid, row_of, usage, whole_dial
from kinematics.choose.plan import Plan, figures_of, setting_of
from kinematics.choose.search import search, verdict
from kinematics.choose.targets import Target
from kinematics.figures import wheel
from kinematics.figures.fast import FAST
from kinematics.figures.figure import Given, Of
from kinematics.lock import sweep, with_rod
from kinematics.parts import LoadCase
from tests.helpers.cost.depth import deep
from tests.helpers.karts import KART, kart_from, picker
from tests.helpers.reading import (
    AT_LOCK,
    JACKING,
    WHOLE_TURN,
    case_columns,
    case_figures,
    columns,
    headline,
    jacking_figures,
    named,
)
from tests.helpers.searching import (
    BASE,
    CAMBER_AND_DROP,
    CASE,
    DEG,
    LOCKS,
    REARWARD,
    SIX,
    SIZES,
    SMALL,
    random_rows,
    rows_fitted,
    targets_met_by,
)


@pytest.mark.parametrize("rods", [None, (0.1, -0.2)])
def test_fast_figures_are_those_of_the_tables(rods):
    kart, rng = kart_from(picker(4)), np.random.default_rng(1)
    base = replace(BASE, rear_axle_shift=6.0)
    base = base if rods is None else with_rod(base, *np.radians(rods))
    left, right = random_rows(rng, 40), random_rows(rng, 40)
    ahead = [figure for figure in FAST if figure in wheel.STRAIGHT_AHEAD]
    at_lock = [figure for figure in FAST if figure.of is Of.LOCK]
    assert {*ahead, *at_lock} == set(FAST)
    figures = [figure.at(side) for figure in ahead for side in figure.sides]
    figures += [
        figure.at(side, float(lock))
        for figure in at_lock
        for side in figure.sides
        for lock in np.radians([-30.0, 0.0, 45.0])
    ]
    values, known = figures_of(Plan(kart, base, tuple(figures)), left, right)
    for index, figure in enumerate(figures):
        full = sweep(kart, setting_of(base, left, right), [figure.lock or 0.0])
        if figure.lock is None:
            truth = headline(full)[figure.name]
            assert np.abs(truth.values - values[:, index]).max() < 1e-9
        else:
            truth = columns(full)[figure.name]
            assert (truth.known[:, 0] == known[:, index]).all()
            assert np.abs(truth.values[:, 0] - values[:, index])[known[:, index]].max() < 1e-9


def test_whole_kart_and_case_figures_come_through_in_blocks(monkeypatch):
    monkeypatch.setattr("kinematics.choose.plan.SWEPT", 7)
    rng = np.random.default_rng(2)
    left, right = random_rows(rng, 20), row_of(REARWARD)[None]
    at = float(LOCKS[4])
    figures = (
        named("rigid_inside_rear_lift_mm", at),
        named("toe_total_mm"),
        named("inside_rear_load_n", at, CASE.name),
    )
    values, known = figures_of(Plan(KART, BASE, figures, Given(300.0), (CASE,)), left, right)
    assert known.all()
    full = sweep(KART, setting_of(BASE, left, right), [at])
    assert np.allclose(values[:, 0], full.rigid_inside_rear_lift[:, 0])
    toe = headline(sweep(KART, full.setting, 0.0), 300.0)["toe_total_mm"].values
    assert np.allclose(values[:, 1], toe)
    load = case_columns(full, CASE)["inside_rear_load_n"].values
    assert np.allclose(values[:, 2], load[:, 0])


@given(st.integers(0, 10**6), st.sampled_from(["kept", "reset"]))
@deep(3, 30)
def test_the_planted_pair_is_found_in_any_kart(seed, rods):
    pick = picker(seed)
    kart, rng = kart_from(pick), np.random.default_rng(seed)
    base = with_rod(BASE, 0.0, 0.0) if rods == "reset" else BASE
    top, bottom = rng.choice(SIZES, 2)
    clocks = 15.0 * DEG * rng.integers(24, size=2)
    row = np.array([top, clocks[0], bottom, clocks[1]])
    values, known = figures_of(Plan(kart, base, CAMBER_AND_DROP), row[None], row[None])
    if not known.all():  # a planted pair that binds is no target
        return
    targets = [Target(f, float(v), float(v)) for f, v in zip(CAMBER_AND_DROP, values[0], strict=True)]
    base = BASE if rods == "kept" else base
    found = search(kart, base, SIX, targets, rods=rods)
    assert found.total > 144**2
    best = found.best[0]
    assert best.fit < 1e-6
    assert best.reached
    for fitted in rows_fitted(best):
        assert np.allclose(fitted, row, atol=1e-9)


def slow_best(kart, base, box, targets, sides):
    """Brute force over settings one by one, written plainly."""
    stock = on_hand(box, [row_of(base.left), row_of(base.right)])
    clocks = np.arange(0.0, 2.0 * np.pi - 1e-9, box.clock_step)
    bushes = [(s, c) for s in stock.sizes for c in (clocks if s else [0.0])]
    best = inf
    for top in bushes:
        for bottom in bushes:
            row = np.array([*top, *bottom])
            left = row if sides in ("alike", "left") else row_of(base.left)
            right = row if sides in ("alike", "right") else row_of(base.right)
            if (usage(stock.sizes, np.concatenate([left, right])[None, ::2])[0] > stock.counts).any():
                continue
            total, setting = 0.0, setting_of(base, left, right)
            told = {lock: columns(sweep(kart, setting, [lock])) for lock in {t.address.lock for t in targets}}
            for target in targets:
                value = told[target.address.lock][target.address.name].values[0]
                total += (max(target.low - value, value - target.high, 0.0) / target.scale) ** 2
            best = min(best, np.sqrt(total / len(targets)))
    return best


@pytest.mark.slow
@pytest.mark.parametrize("sides", ["alike", "left", "right"])
@pytest.mark.parametrize("counts", [(None, None, None), (1, 3, 2)])
def test_equals_plain_brute_force_with_counts(sides, counts):
    box = replace(SMALL, counts=counts, clock_step=90.0 * DEG)
    targets = [
        Target(named("camber_left_deg", float(LOCKS[4])), 3.0, 3.0),
        Target(named("camber_right_deg", float(LOCKS[4])), -4.0, -3.5),
        Target(named("rigid_inside_rear_lift_mm", float(LOCKS[4])), 9.0, inf),
    ]
    found = search(KART, BASE, box, targets, sides=sides, rods="kept")
    assert found.best[0].fit == pytest.approx(slow_best(KART, BASE, box, targets, sides), abs=1e-9)
    assert found.seen == found.total
    for candidate in found.best:
        left, right = rows_fitted(candidate)
        if sides == "alike":
            assert np.allclose(left, right)
        else:
            held = right if sides == "left" else left
            assert np.allclose(held, row_of(REARWARD))


def test_each_corner_apart_shares_one_box_and_equals_brute_force():
    box = Box((0.0, 2.0, 3.5), (2, 2, 1), 90.0 * DEG)
    targets = [
        Target(named("camber_left_deg", float(LOCKS[4])), 6.0, 6.0),
        Target(named("camber_right_deg", float(LOCKS[4])), -6.0, -6.0),
        Target(named("caster_left_deg"), 15.0, 15.0),
    ]
    found = search(KART, BASE, box, targets, sides="each", rods="kept")
    stock = on_hand(box, [row_of(REARWARD)] * 2)
    rows = pair_grid(replace(stock, counts=stock.counts + 9), whole_dial(90.0 * DEG), 1, []).rows(slice(None))
    plan = Plan(KART, BASE, tuple(t.address for t in targets))
    left, right = (np.ravel(some) for some in np.indices((len(rows), len(rows))))
    values, _ = figures_of(plan, rows[left], rows[right])
    used = usage(stock.sizes, rows[:, ::2])
    total = sum(
        (np.maximum(np.maximum(t.low - v, v - t.high), 0.0) / t.scale) ** 2
        for t, v in zip(targets, values.T, strict=True)
    )
    allowed = (used[left] + used[right] <= stock.counts).all(axis=-1)
    assert not allowed.all()
    assert found.best[0].fit == pytest.approx(np.sqrt(total[allowed].min() / 3.0))
    assert found.best[0].fit > np.sqrt(total.min() / 3.0) + 0.01  # the box does bind
    assert [note for note in found.notes if "in turns" in note] == []


def test_corners_in_turns_do_no_worse_than_alike_and_say_what_was_not_looked_at():
    bent = kart_from(picker(9))
    targets = [
        Target(named("rigid_inside_rear_lift_mm", float(LOCKS[4])), 12.0, 12.0),
        Target(named("rigid_inside_rear_lift_mm", float(LOCKS[0])), 6.0, 6.0),
        Target(named("caster_left_deg"), 12.0, 12.0),
        Target(named("caster_right_deg"), 15.0, 15.0),
        Target(named("camber_right_deg", float(LOCKS[0])), 3.0, 3.0),
    ]
    alike = search(bent, BASE, SMALL, targets)
    each = search(bent, BASE, SMALL, targets, sides="each")
    assert each.best[0].fit < alike.best[0].fit
    for side in ("left", "right"):  # on the grid, no change at one corner makes it better still
        again = search(bent, each.best[0].setting, SMALL, targets, sides=side)
        assert again.best[0].fit >= each.best[0].fit - 1e-9
    assert any("in turns" in note for note in each.notes)


@pytest.mark.parametrize("exact", [0, 10**9])
def test_load_cases_rank_predicted_or_exact_and_find_the_planted(monkeypatch, exact):
    monkeypatch.setattr(search_scan, "EXACT", exact)
    at = float(LOCKS[4])
    figures = (
        named("inside_rear_load_n", at, CASE.name),
        named("camber_left_deg", at),
        named("caster_left_deg"),
    )
    row = np.array([2.0, 1.25 * np.pi, 3.5, 0.5 * np.pi])
    targets = targets_met_by(KART, BASE, figures, row, row, (CASE,))
    found = search(KART, BASE, SMALL, targets, rods="kept", cases=[CASE], keep=30)
    assert found.best[0].fit < 1e-6
    assert np.allclose(rows_fitted(found.best[0])[0], row)
    assert any("cubic" in note for note in found.notes) == (exact == 0)


def in_turn(name, case=CASE.name, at=None):
    return named(name, at, case)


def test_figures_of_a_turn_come_through_in_blocks_as_for_one_setting(monkeypatch):
    monkeypatch.setattr("kinematics.choose.plan.SWEPT", 300)
    rng, fast = np.random.default_rng(7), LoadCase("fast corner", 0.4)
    left, right, at = random_rows(rng, 12), row_of(REARWARD)[None], float(LOCKS[4])
    figures = (
        *(in_turn(name, case.name) for name in WHOLE_TURN for case in (CASE, fast)),
        *(in_turn(name, fast.name, lock) for name in AT_LOCK for lock in (at, 0.5 * at)),
        *(named(name) for name in JACKING),
    )
    plan = Plan(KART, BASE, figures, cases=(CASE, fast))
    values, known = figures_of(plan, left, right)
    lifts = known[:, figures.index(in_turn("lift_off_steer_left_deg", fast.name))]
    assert 0 < lifts.sum() < 12
    for i in range(12):
        alone = setting_of(BASE, left[i], right[0])
        told = {
            (case.name, lock): case_figures(KART, alone, case, lock)
            for case in (CASE, fast)
            for lock in (at, 0.5 * at)
        }
        rigid = jacking_figures(KART, alone)
        for j, figure in enumerate(figures):
            one = (told[figure.case, figure.lock or at] if figure.case else rigid)[figure.name]
            assert bool(one.known) == known[i, j]
            if one.known:
                assert values[i, j] == pytest.approx(float(one.values), abs=1e-6)


@pytest.mark.parametrize("turns", [0, 10**9])
def test_lift_off_and_jacking_find_the_planted_coarse_or_exact(monkeypatch, turns):
    monkeypatch.setattr(search_scan, "EXACT_TURNS", turns)
    fast = LoadCase("fast corner", 1.5)
    at = float(LOCKS[4])
    figures = (
        in_turn("lift_off_handwheel_left_deg", fast.name),
        in_turn("jacking_rate_left_n_per_deg"),
        in_turn("least_inside_rear_load_left_n"),
        named("jacking_rate_right_mm_per_deg"),
        named("camber_left_deg", at),
    )
    row = np.array([3.5, 1.0 * np.pi, 2.0, 1.75 * np.pi])
    targets = targets_met_by(KART, BASE, figures, row, row, (CASE, fast))
    found = search(KART, BASE, SMALL, targets, rods="kept", cases=[CASE, fast], keep=30)
    assert found.best[0].fit < 1e-6
    assert np.allclose(rows_fitted(found.best[0])[0], row)
    assert any("positions of a turn" in note for note in found.notes) == (turns == 0)


def test_a_wheel_that_never_lifts_is_left_out_or_met_as_is_wanted():
    cases = (LoadCase("standing"),)
    figure = in_turn("lift_off_steer_left_deg", "standing")
    targets = [Target(named("caster_left_deg"), 13.0, 13.0), Target(figure, 5.0, inf)]
    nowhere = search(KART, BASE, SMALL, targets, cases=cases)
    assert not nowhere.best
    assert "lifts its inside rear" in verdict(nowhere)
    assert any("left out" in note for note in nowhere.notes)
    found = search(KART, BASE, SMALL, [targets[0], replace(targets[1], or_none=True)], cases=cases)
    assert found.best[0].reached
    assert found.best[0].values[1] == inf
    assert found.best[0].missed[1] == 0.0
    plan, row = Plan(KART, BASE, (figure,), cases=cases, stand_at=(0.0,)), row_of(REARWARD)[None]
    assert figures_of(plan, row, row)[0] == inf
    binds = replace(plan, stand_at=(1.5,))  # rad; nothing is sure of one that cannot stand where it must
    assert figures_of(binds, row, row)[0] == 0.0
