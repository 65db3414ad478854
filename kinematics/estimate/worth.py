"""What a reading would be worth before it is taken: by how much it narrows what is asked, for its minutes."""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Sequence, Set
from dataclasses import dataclass

import numpy as np

from kinematics.frames import Array


@dataclass(frozen=True)
class Offer:
    """Readings that are taken at one go."""

    rows: Array
    """(k, p): slopes of each reading over its standard uncertainty."""
    minutes: float
    needs: tuple[tuple[Hashable, float], ...] = ()
    """What must stand ready for it, and the minutes that takes once for all readings that need it."""

    def cost(self, ready: Set[Hashable]) -> float:
        """Its minutes where so much stands ready."""
        return self.minutes + sum(minutes for need, minutes in self.needs if need not in ready)


@dataclass(frozen=True)
class Picked:
    """A candidate of a plan, by its place, with what is spent and what is left unknown once it is taken."""

    place: int
    minutes: float
    """Of this one, with what is set up for it."""
    spread: Array
    """(t,) standard uncertainties of what is asked, after it."""


def narrowed(covariance: Array, rows: Array) -> Array:
    """Covariance (p, p) of values once readings with these slopes (k, p), each of uncertainty 1, are
    taken."""
    across = covariance @ rows.T
    found: Array = covariance - across @ np.linalg.solve(rows @ across + np.eye(len(rows)), across.T)
    return found


def spreads(covariance: Array, asked: Array) -> Array:
    """Standard uncertainties (t,) of numbers with these slopes (t, p)."""
    found: Array = np.sqrt(np.maximum(np.einsum("tp,pq,tq->t", asked, covariance, asked), 0.0))
    return found


def plan(
    covariance: Array, asked: Array, candidates: Sequence[Offer], minutes: float = np.inf
) -> Iterator[Picked]:
    """Candidates in the order in which they tell most a minute of what is asked (t, p), as long as time
    lasts.

    What is told is the logarithm of the spread, added up over all that is asked. Each is taken once.
    """
    left, ready = set(range(len(candidates))), set[Hashable]()
    while left:
        now = spreads(covariance, asked)
        best, most, spent = None, LEAST, 0.0
        for place in sorted(left):
            one = candidates[place]
            cost = one.cost(ready)
            if cost > minutes:
                continue
            told = _told(covariance, asked, one.rows, now) / cost
            if told > most:
                best, most, spent = place, told, cost
        if best is None:
            return
        covariance = narrowed(covariance, candidates[best].rows)
        ready.update(need for need, _ in candidates[best].needs)
        left.remove(best)
        minutes -= spent
        yield Picked(best, spent, spreads(covariance, asked))


LEAST = 1e-4
"""What a minute must tell at least to be worth it: a hundredth of a percent of a spread."""


def _told(covariance: Array, asked: Array, rows: Array, now: Array) -> float:
    """By how much readings lower the logarithm of the spreads (t,), added up."""
    reach = asked @ covariance @ rows.T  # (t, k)
    inner = rows @ covariance @ rows.T + np.eye(len(rows))
    gone = np.einsum("tk,kt->t", reach, np.linalg.solve(inner, reach.T))
    share = np.clip(gone / np.maximum(now**2, 1e-300), 0.0, 1.0 - 1e-12)
    return float(-0.5 * np.sum(np.log1p(-share)))
