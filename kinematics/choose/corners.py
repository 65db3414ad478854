"""Two corners that need not be alike: separately where the targets fall apart by corner, else in turns."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from kinematics.choose.box import Ints, usage
from kinematics.choose.plan import side_of
from kinematics.choose.pool import Pool, best_of_each, joined, ranking, shortlist
from kinematics.choose.scan import Scan, Sides, Task, Tick, empty_pool, exact, scan
from kinematics.choose.targets import fit
from kinematics.frames import Array

PASSES = 6
CORNER_KEEP = 150
"""Best of one corner that are paired with those of the other, besides the best of each kind."""
MOST_OF_CORNER = 1500
"""So many of one corner at most, and the best of each work: a box of very many sizes has more kinds."""
PAIRED_VALUES = 1 << 22
"""Numbers held at a time while corners are paired."""


def separable(task: Task) -> bool:
    """Whether each target is decided by one corner alone."""
    return all(side_of(target.address) for target in task.targets)


def _work_pairs(pool: Pool) -> Ints:
    return np.asarray(pool.work[:, 0] * 100 + pool.work[:, 1], dtype=np.int64)


def _one_corner(task: Task, side: Sides, tick: Tick) -> tuple[Scan, list[int]]:
    """One corner searched for its own targets alone, nothing taken by the other; and their places."""
    own = [i for i, target in enumerate(task.targets) if side_of(target.address) == side]
    plan = replace(task.plan, figures=tuple(task.plan.figures[i] for i in own), stand_sides=(side,))
    part = replace(task, plan=plan, targets=tuple(task.targets[i] for i in own), keep=CORNER_KEEP)
    if not own:
        nothing = exact_without_targets(task)
        return Scan(nothing, 1, 1), own
    return scan(part, side, task.right if side == "left" else task.left, tick, uses=False), own


def exact_without_targets(task: Task) -> Pool:
    """A pool of the base alone, for a corner of which nothing is asked."""
    none = np.zeros((1, 0))
    return Pool(task.left[None], task.right[None], none, np.zeros(1), np.zeros((1, 2), dtype=np.int64))


def _paired(task: Task, left: Pool, right: Pool, places: tuple[list[int], list[int]]) -> Pool:
    """Every pairing of the left candidates with the right ones that the stock allows."""
    use_left, use_right = (usage(task.stock.sizes, rows[:, ::2]) for rows in (left.left, right.right))
    enough = (use_left[:, None, :] + use_right[None, :, :] <= task.stock.counts).all(axis=-1)
    a, b = np.nonzero(enough)
    missed = np.empty((len(a), len(task.targets)))
    missed[:, places[0]], missed[:, places[1]] = left.missed[a], right.missed[b]
    work = np.stack([left.work[a, 0], right.work[b, 1]], axis=-1)
    return Pool(left.left[a], right.right[b], missed, fit(task.targets, missed), work)


def _few(pool: Pool) -> Pool:
    """The candidates of one corner that are paired: all where they are few enough."""
    if len(pool) <= MOST_OF_CORNER:
        return pool
    light = best_of_each(pool, pool.work.sum(axis=-1))
    return pool.take(np.unique(np.concatenate([ranking(pool)[:MOST_OF_CORNER], light])))


def search_apart(task: Task, tick: Tick) -> Scan:
    """Both corners searched completely, each for its own targets, then paired within the stock.

    The other corner counts through the sizes it uses, of which the best of each kind is among those paired
    unless there are more than MOST_OF_CORNER, and through the lean it gives the frame, some hundredths of a
    degree: the pairs kept are worked out anew.
    """
    (left, left_places), (right, right_places) = (_one_corner(task, side, tick) for side in ("left", "right"))
    lefts, rights, pool = _few(left.pool), _few(right.pool), empty_pool(task)
    step = max(1, PAIRED_VALUES // max(1, len(rights) * (task.stock.sizes.size + len(task.targets))))
    for start in range(0, len(lefts), step):
        some = lefts.take(np.arange(start, min(start + step, len(lefts))))
        found = _paired(task, some, rights, (left_places, right_places))
        pool = shortlist(joined([pool, found]), task.targets, _work_pairs, task.keep)
    now = exact(task, pool.left, pool.right) if len(pool) else pool
    return Scan(now, left.seen + right.seen, left.total + right.total)


def search_in_turns(task: Task, tick: Tick) -> Scan:
    """Start from the best alike, then search one corner completely with the other held, in turns.

    It ends where no change at one corner alone makes it better; a change of both at once might.
    """
    whole = scan(task, "alike", task.left, tick)
    base = exact(task, task.left[None], task.right[None])
    pool, seen, total, found_in = joined([whole.pool, base]), whole.seen, whole.total, [whole]
    best = pool.take(ranking(pool)[:1])
    for _ in range(PASSES):
        before = float(best.fit[0])
        for side in ("left", "right"):
            held: Array = best.right[0] if side == "left" else best.left[0]
            found = scan(task, side, held, tick)
            pool = shortlist(joined([pool, found.pool]), task.targets, _work_pairs, task.keep)
            best = pool.take(ranking(pool)[:1])
            seen, total = seen + found.seen, total + found.total
            found_in.append(found)
        if seen < total or not best.fit[0] < before - 1e-9:
            break
    worst = (
        max((error for error in errors if error is not None), default=None)
        for errors in ([s.predicted for s in found_in], [s.coarse for s in found_in])
    )
    return Scan(pool, seen, total, *worst)
