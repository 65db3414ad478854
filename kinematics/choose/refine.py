"""Clocks brought from those a search looked at to the best place between them.

A batched pattern search: round every candidate a 5 x 5 patch of the two clocks is tried; it moves to the
best of the patch, and where that is the middle the patch is halved. Nothing leaves its kind: a bush that is
left alone stays as it is, so a candidate's work does not grow. Where clocks come in steps the patch does too.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from kinematics.choose.box import OnHand, left_alone, tidy
from kinematics.choose.pool import Pool, best_of_each, joined, kinds, looks
from kinematics.choose.scan import Task, Tick, exact
from kinematics.corner.bush import SAME_OFFSET
from kinematics.frames import Array, Mask

FINE = np.radians(0.002)
"""Where clocks turn freely, the step at which it is fine enough."""
ROUNDS = 60
OF_EACH_WORK = 12
"""Of each amount of work at least this part of what is refined of either is."""
PATCH = np.stack(np.meshgrid(np.arange(-2.0, 3.0), np.arange(-2.0, 3.0)), axis=-1).reshape(-1, 2)
_CLOCKS = (1, 3)


def movable(rows: Array, base: Array, stock: OnHand) -> Mask:
    """Which clocks (n, 2) of bush pairs (n, 4) may move.

    Not a concentric bush's, nor one left alone, nor one that stands at clocks of its own alone.
    """
    free: Mask = (rows[:, ::2] > SAME_OFFSET) & ~left_alone(rows, base) & ~stock.held(rows[:, ::2])
    return free


def _tried(rows: Array, steps: Array, free: Mask, finest: float) -> Array:
    """Rows (n, 4) with every patch of clock steps (n,) added where free (n, 2): (n, patch, 4)."""
    tried = np.repeat(rows[:, None, :], len(PATCH), axis=1)
    moved = tried[..., _CLOCKS] + PATCH * steps[:, None, None]
    moved = np.round(moved / finest) * finest if finest else moved
    tried[..., _CLOCKS] = np.where(free[:, None, :], moved, tried[..., _CLOCKS])
    return tidy(tried)


def _one_round(
    task: Task, pool: Pool, steps: Array, free: dict[str, Mask], finest: float
) -> tuple[Pool, Array]:
    """Move each candidate to the best of its patch; free names the sides that move together."""
    sides = {"left": pool.left, "right": pool.right}
    rows = {
        side: _tried(own, steps, free[side], finest)
        if side in free
        else np.repeat(own[:, None, :], len(PATCH), axis=1)
        for side, own in sides.items()
    }
    tried = exact(task, rows["left"].reshape(-1, 4), rows["right"].reshape(-1, 4))
    fits = tried.fit.reshape(len(pool), -1)
    best = fits.argmin(axis=-1)
    better = fits[np.arange(len(pool)), best] < pool.fit - 1e-12
    chosen = tried.take(np.arange(len(pool)) * len(PATCH) + best)
    now = joined([pool, chosen]).take(
        np.where(better, np.arange(len(pool)) + len(pool), np.arange(len(pool)))
    )
    return now, np.where(better, steps, _halved(steps, finest))


def _halved(steps: Array, finest: float) -> Array:
    """Half of the steps (n,), in whole multiples of the finest; of the finest itself nothing is left."""
    half: Array = 0.5 * steps
    return np.floor(half / finest + 1e-6) * finest if finest else half


def refine(task: Task, pool: Pool, together: Sequence[tuple[str, ...]], finest: float, tick: Tick) -> Pool:
    """The pool (n candidates) with the clocks of each refined; together lists the sides moved as one.

    [('left', 'right')] moves both corners alike, [('left',), ('right',)] one after the other. finest is the
    clock step, rad, 0 where clocks turn freely; tick is called for every round.
    """
    if not len(pool):
        return pool
    bases, least = {"left": task.left, "right": task.right}, finest or FINE
    start = max(_halved(np.array([task.dial.between]), finest)[0], finest)
    steps = [np.full(len(pool), start) for _ in together]
    for turn in range(ROUNDS):
        for at, sides in enumerate(together):
            common: Mask = np.ones((len(pool), 2), dtype=bool)
            for side in sides:
                common &= movable(getattr(pool, side), bases[side], task.stock)
            free: dict[str, Mask] = dict.fromkeys(sides, common)
            pool, steps[at] = _one_round(task, pool, steps[at], free, finest)
        if max(step.max() for step in steps) < least * (1.0 - 1e-6) or not tick(turn + 1, ROUNDS):
            break
    return pool


def starts(task: Task, pool: Pool, count: int) -> Pool:
    """The candidates worth refining: the best of each kind and look, so many of either; some of each work.

    Different looks of one kind matter because a bush pair reaches an axis in two ways; little work matters
    where it is far from the best.
    """
    kind, look = (best_of_each(pool, label(pool, task.stock.sizes)) for label in (kinds, looks))
    work = pool.work[look].sum(axis=-1)
    least = max(1, count // OF_EACH_WORK)
    some = [look[work == level][:least] for level in np.unique(work)]
    return pool.take(np.unique(np.concatenate([kind[:count], look[:count], *some])))
