"""The band in which a figure lies, read off numbers of it; and that of a difference, read off pairs."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np
import numpy.typing as npt

from kinematics.frames import Array, Mask

COVERAGE = 0.95
LEAST = 64
"""Samples of which the ends of a band are weighed; of fewer they are two of them."""
FINE = 16


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
    tangent), and it holds where samples are infinite. An end is weighed from all samples, which of a few
    hundred tells it by a third better than one sample does; it is one of them where samples are missing,
    infinite or alike.
    """
    there = np.asarray(known | np.isinf(values))
    count = np.count_nonzero(there, axis=0)
    ordered = np.sort(np.where(there, values, np.nan), axis=0)  # what is not there comes last
    inside = np.floor(coverage * count + 0.5).astype(int)
    first = np.clip((count - inside) // 2, 1, None)
    ends = (first - 1, np.clip(first - 1 + inside, None, count - 1))
    low, high = (np.take_along_axis(ordered, np.clip(end, 0, None)[None, ...], axis=0)[0] for end in ends)
    if len(values) >= LEAST:
        finite = np.where(np.isfinite(ordered), ordered, 0.0)
        low, high = (
            np.where(_smooth(ordered, end), np.tensordot(_weights(len(values), share), finite, 1), one)
            for end, share, one in zip(ends, _shares(coverage), (low, high), strict=True)
        )
    none = count == 0
    never = np.count_nonzero(np.isinf(values), axis=0) / np.where(none, 1, count)
    low, high = (np.where(none, 0.0, end) for end in (low, high))
    return Band(low, high, count / len(values), never)


def _shares(coverage: float) -> tuple[float, float]:
    """The shares of all that lie below the two ends."""
    return 0.5 * (1.0 - coverage), 0.5 * (1.0 + coverage)


def _smooth(ordered: Array, end: npt.NDArray[np.intp]) -> Mask:
    """Where all samples (n, ...) are there and finite and an end (...) is no sample that others are alike."""
    at = np.clip(end[None, ...] + np.array([-1, 0, 1]).reshape(-1, *[1] * end.ndim), 0, len(ordered) - 1)
    lower, own, upper = np.take_along_axis(ordered, at, axis=0)
    smooth: Mask = np.all(np.isfinite(ordered), axis=0) & (lower != own) & (own != upper)
    return smooth


@cache
def _weights(count: int, share: float) -> Array:
    """Of ordered samples (n,), how much each counts for the value below which a share of all lies.

    Harrell & Davis, Biometrika 69 (1982) 635-640: how likely the sought one is to fall to its place, which
    has a beta distribution; summed here in FINE steps a place.
    """
    at = (np.arange(count * FINE) + 0.5) / (count * FINE)
    likely = (share * (count + 1) - 1.0) * np.log(at) + ((1.0 - share) * (count + 1) - 1.0) * np.log1p(-at)
    weights = np.exp(likely - likely.max()).reshape(count, FINE).sum(axis=1)
    share_of_each: Array = weights / weights.sum()
    return share_of_each


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
