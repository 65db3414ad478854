"""The exhaustive part of a search: every pair of a grid, in batches, at one corner or at both alike.

Where targets ask for figures of load cases, every pair takes a stance each. On a large grid a cubic
polynomial of the four hole-offset components, fitted to exact samples, ranks the pairs instead, and the
best are then worked out exactly.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import combinations_with_replacement
from typing import Literal

import numpy as np

from kinematics.choose.box import Dial, Ints, OnHand, PairGrid, pair_grid, usage, work_level
from kinematics.choose.plan import Plan, figures_of
from kinematics.choose.pool import Pool, joined, kinds, shortlist
from kinematics.choose.targets import Target, fit, misses
from kinematics.corner.inverse import hole_vector
from kinematics.figures.figure import Address, Of
from kinematics.frames import Array, Mask

Sides = Literal["alike", "left", "right"]
Tick = Callable[[int, int], bool]
"""Called with what is done and what there is to do; a false answer stops the search."""

CHUNK, CHUNK_IN_CASES, CHUNK_IN_TURNS = 65536, 8192, 1024
"""Pairs worked out at a time: a second's work or so, after which progress is told."""
CHUNK_VALUES = 1 << 21
"""Figures worked out at a time at most."""
EXACT = 50000
"""Up to so many pairs the load-case figures of every pair are worked out, and nothing is predicted."""
EXACT_TURNS = 10000
"""Up to so many turns scanned (pairs times load cases and ways) every pair's is; above, coarsely to rank."""
SAMPLES = 400  # for 35 coefficients
DEGREE = 3


def most_at_once(figures: Sequence[Address]) -> int:
    """How many pairs are worked out at a time for these figures."""
    of = {figure.figure.of for figure in figures}
    most = CHUNK_IN_TURNS if Of.SCAN in of else CHUNK_IN_CASES if any(o.in_case for o in of) else CHUNK
    return max(1, min(most, CHUNK_VALUES // max(len(figures), 1)))


@dataclass(frozen=True)
class Task:
    """All a search works with: figures and targets in the same order, stock, clocks, base pairs."""

    plan: Plan
    targets: tuple[Target, ...]
    stock: OnHand
    dial: Dial
    keep: int
    left: Array
    """The base pair (4,) at the left corner, from which work is counted."""
    right: Array

    @property
    def cases(self) -> list[int]:
        """Places of the targets that belong to load cases."""
        return [i for i, target in enumerate(self.targets) if target.address.case is not None]

    @property
    def scanned(self) -> list[int]:
        """Places of the targets for which a whole turn is scanned."""
        return [i for i in self.cases if self.targets[i].address.figure.of is Of.SCAN]

    @property
    def chunk(self) -> int:
        """How many pairs are worked out at a time."""
        return most_at_once([target.address for target in self.targets])

    def labels(self, pool: Pool) -> Ints:
        """Kinds of candidates, of which a shortlist keeps the best each."""
        return kinds(pool, self.stock.sizes)


@dataclass(frozen=True)
class Scan:
    """What a scan found: its shortlist, how many pairs it saw of how many, and how well it predicted."""

    pool: Pool
    seen: int
    total: int
    predicted: float | None = None
    """Root mean square error, in scales, of the cubic that ranked load-case targets; None: none did."""
    coarse: float | None = None
    """The same of turns that were scanned coarsely to rank."""


@dataclass(frozen=True)
class Rough:
    """How the grid is ranked where not every figure of every pair is worked out."""

    cubic: list[int]
    """Places of the targets that a cubic predicts."""
    predict: Callable[[Array], Array] | None
    """Rows (n, 4) -> (n, cubic)."""
    coarse: list[int]
    """Places of the targets that are read off a coarse turn."""


def pool_of(task: Task, left: Array, right: Array, values: Array, known: Mask) -> Pool:
    """Score bush pairs (n or 1, 4) by their figures (n, targets)."""
    size = len(values)
    left, right = (np.broadcast_to(rows, (size, 4)) for rows in (left, right))
    missed = misses(task.targets, values, known)
    work = np.stack([work_level(left, task.left), work_level(right, task.right)], axis=-1)
    return Pool(left, right, missed, fit(task.targets, missed), work)


def empty_pool(task: Task) -> Pool:
    """A pool without candidates."""
    none = np.zeros((0, len(task.targets)))
    return pool_of(task, np.zeros((0, 4)), np.zeros((0, 4)), none, none.astype(bool))


def exact(task: Task, left: Array, right: Array) -> Pool:
    """Score bush pairs with every figure worked out."""
    return pool_of(task, left, right, *figures_of(task.plan, left, right))


def grid_of(task: Task, sides: Sides, held: Array, uses: bool = True) -> PairGrid:
    """Every pair the stock allows at the sides; held is the pair (4,) at the other corner, if it uses any."""
    if sides == "alike":
        return pair_grid(task.stock, task.dial, 2, [task.left, task.right])
    rest = task.stock.counts - uses * usage(task.stock.sizes, held[None, ::2])[0]
    fitted = task.left if sides == "left" else task.right
    return pair_grid(replace(task.stock, counts=rest), task.dial, 1, [fitted])


def both_sides(sides: Sides, rows: Array, held: Array) -> tuple[Array, Array]:
    """Left and right rows when rows (n, 4) go to the sides and held (4,) stays at the other."""
    if sides == "alike":
        return rows, rows
    return (rows, held[None]) if sides == "left" else (held[None], rows)


def _monomials(rows: Array, scale: float) -> Array:
    vectors = [hole_vector(rows[:, at], rows[:, at + 1]) / scale for at in (0, 2)]
    x = np.concatenate([np.ones((len(rows), 1)), *vectors], axis=-1)
    chosen = combinations_with_replacement(range(x.shape[-1]), DEGREE)
    return np.stack([x[:, list(factors)].prod(axis=-1) for factors in chosen], axis=-1)


def case_model(
    task: Task, sides: Sides, held: Array, grid: PairGrid, which: list[int]
) -> Callable[[Array], Array]:
    """A cubic fitted to some targets' figures, of a spread sample of the grid: rows (n, 4) -> (n, which)."""
    sample = np.random.default_rng(1).choice(len(grid.pairs), min(SAMPLES, len(grid.pairs)), replace=False)
    rows = grid.rows(np.sort(sample))
    scale = max(float(task.stock.sizes[-1]), 1e-9)
    values, known = figures_of(task.plan, *both_sides(sides, rows, held), which)
    terms, weights = _monomials(rows, scale), []
    for column in range(len(which)):
        good = known[:, column]
        fitted = np.linalg.lstsq(terms[good], values[good, column], rcond=None)[0] if good.any() else 0.0
        weights.append(np.broadcast_to(fitted, terms.shape[1:]))
    coefficients = np.stack(weights, axis=-1)
    return lambda some: _monomials(some, scale) @ coefficients


def turns_of(targets: Sequence[Target]) -> int:
    """How many whole turns, of a load case and a way, the targets take of each pair."""
    return len({(t.address.case, t.address.side) for t in targets if t.address.figure.of is Of.SCAN})


def rough(task: Task, sides: Sides, held: Array, grid: PairGrid) -> Rough | None:
    """What is not worked out for every pair of so large a grid; None where everything is."""
    total = len(grid.pairs)
    coarse = task.scanned if total * turns_of(task.targets) > max(EXACT_TURNS, task.keep) else []
    cubic = [i for i in task.cases if i not in task.scanned] if total > max(EXACT, task.keep) else []
    if not coarse and not cubic:
        return None
    return Rough(cubic, case_model(task, sides, held, grid, cubic) if cubic else None, coarse)


def _ranked(task: Task, how: Rough, left: Array, right: Array, rows: Array) -> Pool:
    """Pairs scored as roughly as is said; rows (n, 4) are those that vary."""
    rest = [i for i in range(len(task.targets)) if i not in how.cubic]
    values = np.empty((len(rows), len(task.targets)))
    known = np.ones(values.shape, dtype=bool)
    plan = replace(task.plan, coarse=bool(how.coarse))
    values[:, rest], known[:, rest] = figures_of(plan, left, right, rest)
    if how.predict is not None:
        values[:, how.cubic] = how.predict(rows)
    return pool_of(task, left, right, values, known)


def _error(task: Task, now: Pool, before: Pool, which: list[int]) -> float | None:
    """Root mean square difference of misses in scales; None where there is nothing to compare."""
    if not which:
        return None
    both = np.isfinite(now.missed[:, which]) & np.isfinite(before.missed[:, which])
    scales = np.array([task.targets[i].scale for i in which])
    gap = np.where(both, now.missed[:, which], 0.0) - np.where(both, before.missed[:, which], 0.0)
    return float(np.sqrt(np.square(gap / scales).sum() / max(int(both.sum()), 1)))


def scan(task: Task, sides: Sides, held: Array, tick: Tick, uses: bool = True) -> Scan:
    """Score every pair of the grid at the sides, the other corner held (4,), and keep a shortlist.

    uses says whether the bushes held at the other corner are taken out of the stock.
    """
    grid = grid_of(task, sides, held, uses)
    total, seen = len(grid.pairs), 0
    how, pool = rough(task, sides, held, grid), empty_pool(task)
    chunk = task.chunk
    while seen < total:
        rows = grid.rows(slice(seen, seen + chunk))
        left, right = both_sides(sides, rows, held)
        found = exact(task, left, right) if how is None else _ranked(task, how, left, right, rows)
        pool = shortlist(joined([pool, found]), task.targets, task.labels, task.keep)
        seen += len(rows)
        if not tick(seen, total):
            break
    if how is None:
        return Scan(pool, seen, total)
    now = exact(task, pool.left, pool.right) if len(pool) else pool
    errors = (_error(task, now, pool, which) for which in (how.cubic, how.coarse))
    return Scan(shortlist(now, task.targets, task.labels, task.keep), seen, total, *errors)
