"""How a search counts bushes and work, what it says, and what it refuses."""

from __future__ import annotations

from dataclasses import replace
from math import inf

import numpy as np
import pytest

from kinematics.choose import scan as search_scan
from kinematics.choose.box import Box, on_hand, pair_grid, row_of, whole_dial, work_level
from kinematics.choose.plan import Plan, figures_of, setting_of
from kinematics.choose.pool import Pool, front, objectives, work_front
from kinematics.choose.search import search, verdict
from kinematics.choose.targets import Target
from kinematics.lock import sweep
from kinematics.parts import CornerSetting, Setting
from tests.helpers.karts import KART
from tests.helpers.reading import named
from tests.helpers.searching import (
    BASE,
    DEG,
    LOCKS,
    REARWARD,
    SIX,
    SMALL,
    rows_fitted,
)


def test_the_grid_counts_a_concentric_bush_once():
    stock = on_hand(Box((0.0, 2.0)), [np.zeros(4)])
    assert len(pair_grid(stock, whole_dial(15.0 * DEG), 1, []).pairs) == 25**2
    assert len(pair_grid(stock, whole_dial(15.0 * DEG), 1, [np.array([2.0, 0.1, 2.0, 0.0])]).pairs) == 26 * 25
    rows = pair_grid(stock, whole_dial(15.0 * DEG), 1, []).rows(slice(None))
    assert len(np.unique(rows.round(9), axis=0)) == len(rows)
    few = on_hand(Box((0.0, 2.0), (4, 2)), [np.zeros(4)])
    alike = pair_grid(few, whole_dial(15.0 * DEG), 2, []).rows(
        slice(None)
    )  # two eccentric ones: one a corner
    assert len(alike) == 1 + 24 + 24


def test_fitted_bushes_are_on_hand_and_steps_are_respected():
    off_step = Setting(CornerSetting(3.3, 0.4), CornerSetting(3.3, 0.4))
    found = search(
        KART, off_step, Box((2.0,), (2,), 90.0 * DEG), [Target(named("caster_left_deg"), 13.0, 13.0)]
    )
    for candidate in found.best:
        for top, turn, bottom, _ in rows_fitted(candidate):
            assert min(abs(size - top) for size in (0.0, 2.0, 3.3)) < 1e-9
            assert top != bottom  # there are two of each
            on_step = abs(turn / (90.0 * DEG) - round(turn / (90.0 * DEG))) < 1e-9
            assert on_step or (top == pytest.approx(3.3) and turn == pytest.approx(0.4))


@pytest.mark.parametrize(
    ("row", "level"),
    [
        ((2.0, 1.0, 3.0, 2.0), 0),
        ((2.0, 1.0 + 2.0 * np.pi, 3.0, 2.0), 0),
        ((2.0, 1.1, 3.0, 2.0), 1),
        ((2.5, 1.0, 3.0, 2.0), 2),
        ((2.0, 1.1, 3.0, 2.5), 3),
        ((2.0, 1.1, 0.0, 0.0), 4),
        ((3.0, 1.0, 2.0, 2.0), 5),
    ],
)
def test_work_by_hand(row, level):
    assert work_level(np.array(row), np.array([2.0, 1.0, 3.0, 2.0])) == level
    assert work_level(np.array([0.0, 1.0, 0.0, 2.0]), np.array([0.0, 0.0, 0.0, 5.0])) == 0


def test_work_front_and_trade_front():
    at = float(LOCKS[4])
    targets = [
        Target(named("camber_left_deg", at), 2.0, 2.0),
        Target(named("camber_right_deg", at), -2.0, -2.0),
        Target(named("wheel_drop_left_mm", at), 14.0, 14.0),
    ]
    found = search(KART, BASE, SIX, targets)
    work, fits = [sum(c.work) for c in found.by_work], [c.fit for c in found.by_work]
    assert work == sorted(work)
    assert fits == sorted(fits, reverse=True)
    assert work[0] == 0
    assert fits[0] == pytest.approx(found.base.fit)
    assert fits[-1] == pytest.approx(found.best[0].fit)
    assert found.objectives == ("camber_deg", "wheel_drop_mm")
    _, points = objectives(targets, np.stack([c.missed for c in found.between]))
    assert len(points) > 2
    for a in points:
        assert not ((points <= a).all(axis=-1) & (points < a - 0.11).all(axis=-1)).any()


def test_work_front_leaves_out_what_takes_more_work_for_no_better_fit():
    fits, levels = np.array([5.0, 3.0, 4.0, 3.5, 1.0, 1.0]), np.array([0, 1, 2, 3, 4, 5])
    rows = np.zeros((6, 4))
    work = np.stack([levels, 0 * levels], axis=-1)
    assert work_front(Pool(rows, rows, fits[:, None], fits, work)).tolist() == [0, 1, 4]


def test_front_against_brute_force():
    points = np.random.default_rng(0).uniform(0.0, 50.0, (400, 3))
    points[7, 1] = inf
    kept = set(front(points, 400).tolist())
    steps = np.round(points / 0.1)
    beaten = [((steps <= s).all(axis=-1) & (steps < s).any(axis=-1)).any() for s in steps]
    assert kept == {i for i in range(400) if not beaten[i] and i != 7}
    assert len(front(points, 10)) <= 10


def test_plain_words_when_nothing_reaches():
    found = search(KART, BASE, SMALL, [Target(named("caster_left_deg"), 40.0, 45.0)])
    assert not found.best[0].reached
    assert verdict(found).startswith(
        "No pair from the box reaches every target; the nearest misses caster_left_deg by 2"
    )
    assert verdict(found).endswith(" deg.")
    easy = search(KART, BASE, SMALL, [Target(named("caster_left_deg"), 0.0, 45.0)])
    assert verdict(easy) == "All targets are reached as it is, with every bush left alone."


def test_a_lock_no_pair_reaches_is_said_not_shown():
    short = replace(
        KART,
        left=replace(KART.left, inner_joint=(870.0, 160.0, 80.0)),
        right=replace(KART.right, inner_joint=(870.0, 160.0, 80.0)),
    )
    at = np.radians(89.0)
    probe = sweep(short, Setting(), [at])
    assert not probe.reach.all()
    found = search(short, Setting(), SMALL, [Target(named("toe_total_deg", float(at)), 0.0, 0.0)])
    assert found.best == ()
    assert "can stand at every lock position" in verdict(found)


def test_every_lock_asked_for_must_stand_at_both_corners():
    """The left wheel's camber at a lock where the right linkage binds for some pairs only."""
    rng = np.random.default_rng(0)
    right = replace(KART.right, inner_joint=(780.0, 25.0, 60.0))
    kart = replace(KART, right=right)
    grid = pair_grid(on_hand(SMALL, [row_of(REARWARD)] * 2), whole_dial(45.0 * DEG), 2, [row_of(REARWARD)])
    rows = grid.rows(slice(None))
    figure = named("camber_left_deg", float(np.radians(69.0)))
    reach = sweep(kart, setting_of(BASE, rows, rows), [figure.lock]).reach[:, 0]
    assert 0.2 < reach.mean() < 0.8
    values, known = figures_of(Plan(kart, BASE, (figure,)), rows, rows)
    assert known.all()
    wanted = float(values[rng.choice(np.flatnonzero(~reach)), 0])
    for keep in (1, 2000):
        found = search(kart, BASE, SMALL, [Target(figure, wanted, wanted)], rods="kept", keep=keep)
        nearest = np.abs(values[reach, 0] - wanted).min() / 0.1
        assert nearest > 1e-6
        assert found.best[0].fit == pytest.approx(nearest)


def test_a_linkage_that_bound_and_closed_again_is_not_shown():
    joint = (700.0, 260.0, 80.0)  # it binds at 45 deg to the right and closes again from 60 deg on
    kart = replace(KART, left=replace(KART.left, inner_joint=joint))
    at = float(np.radians(-70.0))
    figure = named("camber_left_deg", at)
    assert figures_of(Plan(kart, BASE, (figure,)), np.zeros((1, 4)), np.zeros((1, 4)))[1].all()
    assert not sweep(kart, Setting(), [at]).left.reach.any()
    assert sweep(kart, Setting(), [at]).right.reach.all()
    found = search(
        kart, Setting(), Box((0.5,), clock_step=90.0 * DEG), [Target(figure, -inf, inf)], sides="left"
    )
    assert found.best == ()


def test_progress_is_told_and_can_stop_the_search(monkeypatch):
    monkeypatch.setattr(search_scan, "CHUNK", 100)
    told = []
    targets = [Target(named("caster_left_deg"), 14.0, 14.0)]
    whole = search(KART, BASE, SMALL, targets, progress=lambda done, total: told.append((done, total)))
    assert whole.seen == whole.total
    assert told[-1] == (whole.total, whole.total)
    assert len(told) > 2
    stopped = search(KART, BASE, SMALL, targets, progress=lambda done, total: done < 200)
    assert stopped.seen == 200
    assert stopped.seen < stopped.total
    assert stopped.best
    assert "Stopped early" in stopped.notes[0]


@pytest.mark.parametrize(
    ("box", "targets", "message"),
    [
        (Box(()), None, "the box is empty"),
        (Box((2.0, 3.0), (0, 0)), None, "the box is empty"),
        (
            SMALL,
            [Target(named("wheel_drop_left_mm"), 0.0, 1.0)],
            "wheel_drop_left_mm is read at a lock position",
        ),
        (
            SMALL,
            [Target(named("caster_left_deg"), 0.0, 1.0), Target(named("caster_left_deg"), 2.0, 3.0)],
            "contradictory targets: caster_left_deg",
        ),
        (
            SMALL,
            [Target(named("inside_rear_load_n", 0.1, "x"), 0.0, 1.0)],
            "inside_rear_load_n at handwheel .* in x: no load cases are given",
        ),
    ],
)
def test_refused_in_one_line(box, targets, message):
    with pytest.raises(ValueError, match=message) as caught:
        search(KART, BASE, box, targets or [Target(named("caster_left_deg"), 10.0, 11.0)])
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize(
    ("make", "message"),
    [
        (lambda: Box((2.0,), (1, 2)), "1 bush sizes but 2 counts"),
        (lambda: Box((-2.0,)), "at least 0 mm"),
        (lambda: Box((2.0,), (-1,)), "no count may be below 0"),
        (lambda: Box((2.0,), clock_step=50.0 * DEG), "50 deg does not"),
        (lambda: row_of(CornerSetting(np.ones(3))), "one setting, not a batch"),
    ],
)
def test_nonsense_is_refused_when_made(make, message):
    with pytest.raises(ValueError, match=message):
        make()
