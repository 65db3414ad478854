"""A number that is not known exactly, and numbers drawn from what is known of it."""

from __future__ import annotations

from dataclasses import dataclass
from math import inf, log, sqrt
from statistics import NormalDist

import numpy as np

from kinematics.frames import Array

_NORMAL = NormalDist()
_below = np.frompyfunc(_NORMAL.cdf, 1, 1)
_score = np.frompyfunc(_NORMAL.inv_cdf, 1, 1)
_LEAST = 1e-12
"""No score is drawn from further out than this share of the normal distribution."""


@dataclass(frozen=True)
class Uncertain:
    """A number with its standard uncertainty, in its own unit, and the bounds that it cannot pass.

    It is normal about the value, or, by_ratio, its logarithm is: a number that is never negative and is known
    to within a factor rather than a difference. The value is then the middle, as likely too large as too
    small. Either is cut at its bounds and keeps its shape between them. Spread 0 is a number known exactly.
    """

    value: float
    spread: float
    low: float = -inf
    high: float = inf
    by_ratio: bool = False

    def __post_init__(self) -> None:
        if not 0.0 <= self.spread < inf:
            raise ValueError(f"a standard uncertainty is at least 0 and finite, not {self.spread:g}")
        if self.spread and not self.low <= self.value <= self.high:
            raise ValueError(f"{self.value:g} is not within its bounds, {self.low:g} to {self.high:g}")
        if self.by_ratio and self.spread and not self.value > 0.0:
            raise ValueError(f"a number known by a ratio is above 0, not {self.value:g}")

    @property
    def log_spread(self) -> float:
        """Standard deviation of the logarithm of a number known by ratio."""
        ratio = self.spread / self.value
        return sqrt(log(0.5 + 0.5 * sqrt(1.0 + 4.0 * ratio * ratio)))


def scores(share: Array) -> Array:
    """Standard normal scores (...) below which these shares (...), above 0 and below 1, lie."""
    return np.asarray(_score(np.clip(share, _LEAST, 1.0 - _LEAST)), float)


def shares(score: Array) -> Array:
    """Shares (...) of the distribution below standard normal scores (...)."""
    return np.asarray(_below(score), float)


def drawn(one: Uncertain, share: Array, low: float | Array = -inf, high: float | Array = inf) -> Array:
    """Numbers (n,) below which these shares (n,) of the distribution lie.

    low and high (n,) are further bounds. Bounds cut the distribution: no number is moved to a bound, all are
    drawn between them.
    """
    if not one.spread:
        return np.full(share.shape, one.value)
    bounds = np.maximum(low, one.low), np.minimum(high, one.high)
    below, above = (_share(one, bound) for bound in bounds)
    score = scores(below + share * (above - below))
    found = one.value * np.exp(one.log_spread * score) if one.by_ratio else one.value + one.spread * score
    numbers: Array = np.clip(found, *bounds)  # the last digits of the way there and back
    return numbers


def _share(one: Uncertain, bound: float | Array) -> Array:
    """The share of the whole distribution below a bound."""
    at = np.asarray(bound, float)
    if one.by_ratio:
        with np.errstate(divide="ignore"):
            score = np.log(np.maximum(at, 0.0) / one.value) / one.log_spread
    else:
        score = (at - one.value) / one.spread
    return np.asarray(_below(score), float)
