"""Which bushes to fit: search a box for the bush pairs and clocks that come nearest to given targets.

Exhaustive over the box's sizes and clock steps; where clocks turn freely, or in more steps than can all be
looked at, exhaustive in coarse steps, and the best of each kind refined between them.
Everything but the bushes stays as it is in the base; the tie rods keep their length or are re-set to the
base's toe.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from kinematics.change.rods import Rods, with_own_rods
from kinematics.choose.box import FREE_STEP, Box, Ints, dial_of, on_hand, row_of
from kinematics.choose.corners import search_apart, search_in_turns, separable
from kinematics.choose.plan import Plan, figures_of, setting_of
from kinematics.choose.pool import (
    Pool,
    best_of_each,
    easiest,
    first_of_each,
    front,
    joined,
    looks,
    objectives,
    ranking,
    work_front,
)
from kinematics.choose.refine import refine, starts
from kinematics.choose.scan import Scan, Task, Tick, exact, scan, turns_of
from kinematics.choose.targets import Target, check_targets, reached
from kinematics.choose.words import miss_words, notes_on, work_words
from kinematics.figures.figure import Given
from kinematics.figures.read import GIVEN
from kinematics.frames import Array, Mask
from kinematics.lock import sweep
from kinematics.parts import Kart, LoadCase, Setting

Choice = Literal["alike", "each", "left", "right"]
Progress = Callable[[int, int], bool | None]

KEEP = 2000
RANKED = 40
REFINED = 100
"""Kinds and looks of candidates whose clocks are refined where they turn freely."""
REFINED_IN_CASES = 12
"""The same where each trial needs a stance."""
REFINED_IN_TURNS = 5
"""The same where each trial needs a whole turn."""


@dataclass(frozen=True)
class Candidate:
    """A setting that can be fitted, and how it does; arrays are in the order of the targets."""

    setting: Setting
    """With the bushes and the tie rods as searched."""
    values: Array
    missed: Array
    """How far outside each target's range, in its unit; 0 is met, inf has no value."""
    fit: float
    """Weighted root mean square miss in scales; 0 is all met."""
    work: tuple[int, int]
    """Work at the left and the right corner: places in search_box.WORK."""
    reached: bool
    free_lock: tuple[float, float]
    """Handwheel angles, rad, to the right (negative) and left, at which it binds or meets the stop."""


@dataclass(frozen=True)
class Found:
    """What a search found, and what it covered."""

    targets: tuple[Target, ...]
    base: Candidate
    best: tuple[Candidate, ...]
    """Ranked by fit, then work; neighbours with the same sizes and nearly the same clocks are left out."""
    easiest: tuple[Candidate, ...]
    """Those that meet every target: least work first, then usual clocks, then fit; neighbours out."""
    by_work: tuple[Candidate, ...]
    """Each fits better than all with as little work or less; least work first."""
    between: tuple[Candidate, ...]
    """None of the others is as good or better in every objective."""
    objectives: tuple[str, ...]
    """What `between` trades: figures, with sides and lock positions taken together."""
    seen: int
    total: int
    notes: tuple[str, ...]
    """What was covered and what was not, in plain words."""


def search(
    kart: Kart,
    base: Setting,
    box: Box,
    targets: Sequence[Target],
    *,
    sides: Choice = "alike",
    rods: Rods = "reset",
    given: Given = GIVEN,
    cases: Sequence[LoadCase] = (),
    progress: Progress | None = None,
    free_step: float = FREE_STEP,
    refined: bool = True,
    keep: int = KEEP,
) -> Found:
    """Search the box for bush pairs that meet the targets, starting from a base (one setting).

    sides: both corners alike, each its own, or one corner alone. rods: re-set to the base's toe, or kept at
    the base's length. cases are those that figures may name. progress(done, total) is called for every batch
    of a pass; a False stops the search, which then returns what it has. free_step in rad is the grid
    where clocks turn freely. An empty box, an unknown figure, an impossible range or contradictory targets
    raise ValueError.
    """
    check_targets(targets, [case.name for case in cases], kart.column.stop)
    rows = row_of(base.left), row_of(base.right)
    stock = on_hand(box, rows)
    fixed = with_own_rods(kart, base, rods)
    locks = tuple(sorted({t.address.stands_at for t in targets}))
    plan = Plan(kart, fixed, tuple(t.address for t in targets), given, tuple(cases), locks)
    dial = dial_of(stock, box.clock_step or free_step, turns_of(targets))
    task = Task(plan, tuple(targets), stock, dial, keep, *rows)
    tick = _ticking(progress)
    found = _scanned(task, sides, tick)
    pool, finest = found.pool, box.clock_step
    refined = refined and not (finest and task.dial.whole)
    if refined:
        pool = joined([pool, _refined(task, pool, sides, finest, tick)])
    return _found(task, pool, found, notes_on(task, found, sides == "each", refined, finest))


def _ticking(progress: Progress | None) -> Tick:
    """Progress that stays stopped once it has said so."""
    going = True

    def tick(done: int, total: int) -> bool:
        nonlocal going
        going = going and (progress is None or progress(done, total) is not False)
        return going

    return tick


def _refined(task: Task, pool: Pool, sides: Choice, finest: float, tick: Tick) -> Pool:
    """The best of each kind, their clocks brought between those looked at; finest: rad, 0 is any clock."""
    in_cases = REFINED_IN_TURNS if task.scanned else REFINED_IN_CASES
    some = starts(task, pool, in_cases if task.cases else REFINED)
    each = [(side,) for side in ("left", "right") if sides in (side, "each")]
    return refine(task, some, [("left", "right")] if sides == "alike" else each, finest, tick)


def _scanned(task: Task, sides: Choice, tick: Tick) -> Scan:
    if sides == "each":
        return (search_apart if separable(task) else search_in_turns)(task, tick)
    return scan(task, sides, task.left if sides == "right" else task.right, tick)


def _standing(task: Task, pool: Pool) -> tuple[Mask, Array]:
    """Which candidates reach every lock position asked for without binding on the way; their free lock."""
    setting = setting_of(task.plan.base, pool.left, pool.right)
    full = sweep(task.plan.kart, setting, np.array(task.plan.stand_at))
    left, right, stop = full.left.linkage.bind, full.right.linkage.bind, task.plan.kart.column.stop
    below = np.maximum(np.maximum(left[:, 0], -right[:, 1]), -stop)
    above = np.minimum(np.minimum(left[:, 1], -right[:, 0]), stop)
    return np.asarray(full.reach.all(axis=-1)), np.stack([below, above], axis=-1)


@dataclass(frozen=True)
class _Verified:
    """A pool with nothing known of candidates that bind short of a lock asked for, and its free locks."""

    pool: Pool
    free_lock: Array

    def take(self, which: Ints) -> _Verified:
        return _Verified(self.pool.take(which), self.free_lock[which])


def _verified(task: Task, pool: Pool) -> _Verified:
    stands, free_lock = _standing(task, pool)
    missed = np.where(stands[:, None], pool.missed, np.inf)
    return _Verified(replace(pool, missed=missed, fit=np.where(stands, pool.fit, np.inf)), free_lock)


def _candidates(task: Task, some: _Verified) -> list[Candidate]:
    pool = some.pool
    values, _ = figures_of(task.plan, pool.left, pool.right)
    met = reached(task.targets, pool.missed)
    return [
        Candidate(
            setting_of(task.plan.base, pool.left[i], pool.right[i]),
            values[i],
            pool.missed[i],
            float(pool.fit[i]),
            (int(pool.work[i, 0]), int(pool.work[i, 1])),
            bool(met[i]),
            (float(some.free_lock[i, 0]), float(some.free_lock[i, 1])),
        )
        for i in range(len(pool))
    ]


def _found(task: Task, pool: Pool, scanned: Scan, notes: tuple[str, ...]) -> Found:
    """Every list that is told is drawn from the same candidates, worked out once; the base is the last."""
    base = exact(task, task.left[None], task.right[None])
    every = _verified(task, joined([pool.take(ranking(pool)), base]))
    can = np.flatnonzero(np.isfinite(every.pool.fit))
    some = every.pool.take(can)
    names, points = objectives(task.targets, some.missed)
    trade = front(points) if len(names) > 1 else np.zeros(0, dtype=np.int64)
    alike = looks(some, task.stock.sizes)
    lists = (
        best_of_each(some, alike)[:RANKED],
        first_of_each(easiest(some, task.targets), alike)[:RANKED],
        work_front(some),
        trade[np.argsort(points[trade, 0])],
    )
    told = np.append(np.unique(np.concatenate([can[which] for which in lists])), len(every.pool) - 1)
    candidates = dict(zip(told.tolist(), _candidates(task, every.take(told)), strict=True))
    best, easy, by_work, between = (tuple(candidates[i] for i in can[which].tolist()) for which in lists)
    present, seen = candidates[len(every.pool) - 1], (scanned.seen, scanned.total)
    return Found(task.targets, present, best, easy, by_work, between, names, *seen, notes)


def verdict(found: Found) -> str:
    """One plain sentence: whether the targets are reached, with how much work, or what the nearest misses."""
    if found.easiest and not sum(found.easiest[0].work):
        return "All targets are reached as it is, with every bush left alone."
    if found.easiest:
        return f"All targets are reached; with the least work: {work_words(found.easiest[0].work)}."
    if not found.best:
        if any(target.address.figure.may_lack and not target.or_none for target in found.targets):
            return "No pair from the box stands at every lock position asked for and lifts its inside rear."
        return "No pair from the box can stand at every lock position asked for."
    missing = miss_words(found.targets, found.best[0].missed)
    return f"No pair from the box reaches every target; the nearest misses {missing}."
