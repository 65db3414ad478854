"""Clocks that turn freely, brought from the grid to the best place between its steps.

A batched pattern search: round every candidate a 5 x 5 patch of the two clocks is tried; it moves to the
best of the patch, and where that is the middle the patch is halved. Nothing leaves its kind: a bush that is
left alone stays as it is, so a candidate's work does not grow.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from kinematics.choose.box import left_alone, tidy
from kinematics.choose.pool import Pool, best_of_each, joined, kinds, looks
from kinematics.choose.scan import Task, exact
from kinematics.corner.bush import SAME_OFFSET
from kinematics.frames import Array, Mask

FINE = np.radians(0.002)
ROUNDS = 60
PATCH = np.stack(np.meshgrid(np.arange(-2.0, 3.0), np.arange(-2.0, 3.0)), axis=-1).reshape(-1, 2)
_CLOCKS = (1, 3)


def movable(rows: Array, base: Array) -> Mask:
    """Which clocks (n, 2) of bush pairs (n, 4) may move: not a concentric bush's, nor one left alone."""
    free: Mask = (rows[:, ::2] > SAME_OFFSET) & ~left_alone(rows, base)
    return free


def _tried(rows: Array, steps: Array, free: Mask) -> Array:
    """Rows (n, 4) with every patch of clock steps (n,) added where free (n, 2): (n, patch, 4)."""
    tried = np.repeat(rows[:, None, :], len(PATCH), axis=1)
    tried[..., _CLOCKS] += PATCH * steps[:, None, None] * free[:, None, :]
    return tidy(tried)


def _one_round(task: Task, pool: Pool, steps: Array, free: dict[str, Mask]) -> tuple[Pool, Array]:
    """Move each candidate to the best of its patch; free names the sides that move together."""
    sides = {"left": pool.left, "right": pool.right}
    rows = {
        side: _tried(own, steps, free[side])
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
    return now, np.where(better, steps, 0.5 * steps)


def refine(task: Task, pool: Pool, together: Sequence[tuple[str, ...]]) -> Pool:
    """The pool (n candidates) with the clocks of each refined; together lists the sides moved as one.

    [('left', 'right')] moves both corners alike, [('left',), ('right',)] one after the other.
    """
    if not len(pool):
        return pool
    bases = {"left": task.left, "right": task.right}
    steps = [np.full(len(pool), 0.5 * task.step) for _ in together]
    for _ in range(ROUNDS):
        for at, sides in enumerate(together):
            common: Mask = np.ones((len(pool), 2), dtype=bool)
            for side in sides:
                common &= movable(getattr(pool, side), bases[side])
            free: dict[str, Mask] = dict.fromkeys(sides, common)
            pool, steps[at] = _one_round(task, pool, steps[at], free)
        if max(step.max() for step in steps) < FINE:
            break
    return pool


def starts(task: Task, pool: Pool, count: int) -> Pool:
    """The candidates worth refining: the best of each kind and of each look, at most so many of either.

    Different looks of one kind matter because a bush pair reaches an axis in two ways.
    """
    chosen = [best_of_each(pool, label(pool, task.stock.sizes))[:count] for label in (kinds, looks)]
    return pool.take(np.unique(np.concatenate(chosen)))
