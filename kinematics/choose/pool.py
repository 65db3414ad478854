"""A pool of candidates that stays small while a search runs: the best, the best of each kind, the fronts."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, fields

import numpy as np

from kinematics.choose.box import WORK, Ints, size_of
from kinematics.choose.targets import Target, reached
from kinematics.corner.bush import SAME_OFFSET, same_clock
from kinematics.frames import Array

ROUGH = 0.1
"""Between targets, misses that differ by less than this share of a scale count as equal."""
LONGEST_FRONT = 200
"""A longer front is thinned by counting coarser differences as equal."""
EASY = 200
"""Of those that meet every target, so many are kept for being little work."""


@dataclass(frozen=True)
class Pool:
    """Candidates, one a row: bush pairs (n, 4), misses per target (n, targets), fit, work (n, 2 corners)."""

    left: Array
    right: Array
    missed: Array
    fit: Array
    work: Ints

    def take(self, which: Ints) -> Pool:
        """Some of the candidates, in the order asked for."""
        return Pool(*(getattr(self, f.name)[which] for f in fields(Pool)))

    def __len__(self) -> int:
        return len(self.fit)


def joined(pools: Sequence[Pool]) -> Pool:
    """Several pools as one."""
    return Pool(*(np.concatenate([getattr(pool, f.name) for pool in pools]) for f in fields(Pool)))


def ranking(pool: Pool) -> Ints:
    """The order of the candidates by fit, and by work where they fit equally well."""
    return np.lexsort((pool.work.sum(axis=-1), np.round(pool.fit, 9)))


def odd_clocks(rows: Array) -> Ints:
    """How many bushes of pairs (..., 4) stand elsewhere than at 0, 90, 180 or 270: (...)."""
    quarters = 0.5 * np.pi * np.round(rows[..., 1::2] / (0.5 * np.pi))
    odd = ~same_clock(rows[..., 1::2], quarters) & (rows[..., ::2] > SAME_OFFSET)
    return np.asarray(odd.sum(axis=-1), dtype=np.int64)


def easiest(pool: Pool, targets: Sequence[Target]) -> Ints:
    """The candidates that meet every target, least work first.

    At equal work usual clocks (0, 90, 180, 270) go before odd ones, then what fits better, then the smaller
    bushes.
    """
    met = np.flatnonzero(reached(targets, pool.missed))
    some = pool.take(met)
    sizes = sum(rows[:, ::2].sum(axis=-1) for rows in (some.left, some.right))
    odd = odd_clocks(some.left) + odd_clocks(some.right)
    order = np.lexsort((np.round(sizes, 6), np.round(some.fit, 9), odd, some.work.sum(axis=-1)))
    return np.asarray(met[order], dtype=np.int64)


def kinds(pool: Pool, sizes: Array) -> Ints:
    """A number (n,) shared by candidates with the same sizes in the same places and the same work."""
    numbers = np.zeros(len(pool), dtype=np.int64)
    for rows in (pool.left, pool.right):
        for place in (0, 2):
            numbers = numbers * sizes.size + size_of(sizes, rows[:, place])
    return (numbers * len(WORK) + pool.work[:, 0]) * len(WORK) + pool.work[:, 1]


def looks(pool: Pool, sizes: Array) -> Ints:
    """A number (n,) shared by candidates of one kind whose clocks agree to about an eighth of a turn."""
    label = kinds(pool, sizes)
    for rows in (pool.left, pool.right):
        for clock in (rows[:, 1], rows[:, 3]):
            label = label * 8 + np.round(clock / (0.25 * np.pi)).astype(np.int64) % 8
    return label


def best_of_each(pool: Pool, labels: Ints) -> Ints:
    """The best candidate of each label (n,), best first."""
    return first_of_each(ranking(pool), labels)


def first_of_each(order: Ints, labels: Ints) -> Ints:
    """The places in an order at which a label (n,) is met first, in that order."""
    _, first = np.unique(labels[order], return_index=True)
    return np.asarray(order[np.sort(first)], dtype=np.int64)


def objectives(targets: Sequence[Target], missed: Array) -> tuple[tuple[str, ...], Array]:
    """What the targets are about, left and right and all lock positions together: names, misses (n, names).

    A miss here is the weighted root mean square in scales over the targets of that figure.
    """
    labels = [t.address.sideless for t in targets]
    distinct = tuple(dict.fromkeys(labels))
    weight = np.array([t.weight for t in targets])
    scaled = weight * np.square(missed / np.array([t.scale for t in targets]))
    of_each = []
    for label in distinct:
        chosen = np.array([other == label for other in labels])
        of_each.append(np.sqrt(scaled[:, chosen].sum(axis=-1) / weight[chosen].sum()))
    return distinct, np.stack(of_each, axis=-1)


def front(points: Array, longest: int = LONGEST_FRONT) -> Ints:
    """Rows of points (n, m) that no other row beats in everything; smaller is better, inf is never on it.

    Of rows that are equal to within ROUGH one is kept; a front longer than asked for is made of coarser
    steps.
    """
    finite = np.flatnonzero(np.isfinite(points).all(axis=-1))
    rough, chosen = ROUGH, finite
    while True:
        chosen = _undominated(np.round(points[chosen] / rough), points[chosen].sum(axis=-1), chosen)
        if len(chosen) <= longest:
            return chosen
        rough *= 2.0


def _undominated(steps: Array, total: Array, rows: Ints) -> Ints:
    kept = []
    order = np.lexsort((total, steps.sum(axis=-1)))
    steps, rows = steps[order], rows[order]
    while len(rows):
        kept.append(rows[0])
        beaten = (steps >= steps[0]).all(axis=-1)
        steps, rows = steps[~beaten], rows[~beaten]
    return np.array(kept, dtype=np.int64)


def shortlist(pool: Pool, targets: Sequence[Target], labels: Callable[[Pool], Ints], keep: int) -> Pool:
    """The best `keep` candidates, the best of each label, the easiest, the front between targets, once."""
    possible = pool.take(np.flatnonzero(np.isfinite(pool.fit)))
    if not len(possible):
        return possible
    names, points = objectives(targets, possible.missed)
    trade = front(points) if len(names) > 1 else np.zeros(0, dtype=np.int64)
    order = ranking(possible)
    lists = (order[:keep], first_of_each(order, labels(possible)), easiest(possible, targets)[:EASY], trade)
    every = np.concatenate(lists)
    return possible.take(np.unique(every))


def work_front(pool: Pool) -> Ints:
    """Candidates that fit better than all with as little work or less; least work first."""
    total = pool.work.sum(axis=-1)
    best = best_of_each(pool, total)
    best = best[np.argsort(total[best], kind="stable")]
    before = np.concatenate([[np.inf], np.minimum.accumulate(pool.fit[best])[:-1]])
    return np.asarray(best[pool.fit[best] < before - 1e-9], dtype=np.int64)
