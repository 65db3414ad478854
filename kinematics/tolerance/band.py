"""The band in which a figure lies, read off numbers of it; and that of a difference, read off pairs."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from kinematics.frames import Array, Mask

COVERAGE = 0.95


@dataclass(frozen=True)
class Band:
    """From low to high, each (...): as many samples lie below as above. An end may be infinite: never.

    known (...) is the share of samples that have a figure or are sure never to have it, never (...) the share
    of those that are sure never to have it. Where known is 0 the ends mean nothing.
    """

    low: Array
    high: Array
    known: Array
    never: Array

    @property
    def half(self) -> Array:
        """Half the width (...)."""
        width: Array = self.high - self.low
        return 0.5 * width

    @property
    def told_apart(self) -> Mask:
        """Where 0 lies outside of the band of a difference (...): the two can be told apart."""
        apart: Mask = (self.known > 0.0) & ((self.low > 0.0) | (self.high < 0.0))
        return apart

    def between(self, places: Array, at: Array) -> Band:
        """A band (N,) along rising places (N,), read between them at others (n,)."""
        return Band(*(np.interp(at, places, part) for part in (self.low, self.high, self.known, self.never)))


def band(values: Array, known: Mask, coverage: float = COVERAGE) -> Band:
    """The equal-tailed band (...) of samples (n, ...), by JCGM 101:2008, 7.7; infinite ones are known.

    Equal-tailed and not shortest: it is the same band whichever way a figure is written (an angle, its
    tangent), and it holds where samples are infinite. Its ends are samples, none lies between two of them.
    """
    there = np.asarray(known | np.isinf(values))
    count = np.count_nonzero(there, axis=0)
    ordered = np.sort(np.where(there, values, np.nan), axis=0)  # what is not there comes last
    inside = np.floor(coverage * count + 0.5).astype(int)
    first = np.clip((count - inside) // 2, 1, None)
    ends = (first - 1, np.clip(first - 1 + inside, None, count - 1))
    low, high = (np.take_along_axis(ordered, np.clip(end, 0, None)[None, ...], axis=0)[0] for end in ends)
    none = count == 0
    never = np.count_nonzero(np.isinf(values), axis=0) / np.where(none, 1, count)
    low, high = (np.where(none, 0.0, end) for end in (low, high))
    return Band(low, high, count / len(values), never)


def differences(base: tuple[Array, Mask], now: tuple[Array, Mask]) -> tuple[Array, Mask]:
    """Now less base, sample by sample, and where there is one; inf where a figure goes, -inf where it comes.

    What is never there in either has no difference.
    """
    (was, was_known), (is_now, now_known) = (np.broadcast_arrays(*one) for one in (base, now))
    known = (was_known | np.isinf(was)) & (now_known | np.isinf(is_now))
    neither = np.isinf(was) & np.isinf(is_now)
    change = np.where(neither, 0.0, is_now) - np.where(neither, 0.0, was)
    known = np.asarray(known & ~neither)
    return np.where(known, change, 0.0), known
