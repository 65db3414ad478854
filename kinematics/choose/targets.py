"""What is wanted of a setting: figures by their address, each with a range, a weight and a scale.

Values are in the figures' own units (degrees, mm, N); handwheel angles are in rad. "As now but a tenth less"
is for the caller to resolve against the base.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, field, replace
from math import inf, isinf, isnan

import numpy as np

from kinematics.figures.catalog import check
from kinematics.figures.figure import Address, Of
from kinematics.frames import Array, Mask


@dataclass(frozen=True)
class Target:
    """A figure and the range in which it is wanted, in the figure's own unit; low = high is a value.

    -inf or inf leaves a side open. weight says how much a miss of one scale counts; scale defaults to the
    figure's natural one. or_none counts a wheel that is sure to stay down as met: it has no lift-off.
    """

    address: Address
    low: float
    high: float
    weight: float = 1.0
    scale: float = field(default=0.0)
    or_none: bool = False

    def __post_init__(self) -> None:
        if isnan(self.low) or isnan(self.high) or self.low == inf or self.high == -inf:
            raise ValueError(f"{self.address.words}: the range {self.low:g} to {self.high:g} holds no number")
        if self.low > self.high:
            raise ValueError(f"{self.address.words}: impossible range, {self.low:g} is above {self.high:g}")
        if not 0.0 < self.weight < inf:
            raise ValueError(f"{self.address.words}: weight must be above 0, not {self.weight:g}")
        if self.or_none and not self.address.figure.may_lack:
            raise ValueError(f"{self.address.words}: only a figure of lift-off may be wanted with 'or none'")
        if self.scale == 0.0:
            object.__setattr__(self, "scale", self.address.figure.worth)
        if not 0.0 < self.scale < inf:
            raise ValueError(f"{self.address.words}: scale must be above 0, not {self.scale:g}")

    @property
    def tolerance(self) -> float:
        """A miss up to this counts as reached: the scale for a value, rounding for a range."""
        return self.scale if self.low == self.high else 1e-9 * max(1.0, self.scale)

    def __str__(self) -> str:
        return f"{self._range()} or none" if self.or_none else self._range()

    def _range(self) -> str:
        if self.low == self.high:
            return f"{self.address.words} = {self.low:g}"
        if isinf(self.low) and isinf(self.high):
            return f"{self.address.words} at any value"
        if isinf(self.low):
            return f"{self.address.words} at most {self.high:g}"
        if isinf(self.high):
            return f"{self.address.words} at least {self.low:g}"
        return f"{self.address.words} in {self.low:g} to {self.high:g}"


def check_targets(targets: Sequence[Target], cases: Collection[str], stop: float) -> None:
    """Refuse an empty list, unknown figures and two ranges of one figure that have nothing in common."""
    if not targets:
        raise ValueError("no targets are given: name at least one figure and its range")
    lows: dict[Address, float] = {}
    highs: dict[Address, float] = {}
    for target in targets:
        check(target.address, cases, stop)
        figure = target.address
        if figure.lock is None and figure.figure.of is Of.LOCK:
            figure = replace(figure, lock=0.0)  # a headline figure is the column straight ahead
        low = lows[figure] = max(target.low, lows.get(figure, -inf))
        high = highs[figure] = min(target.high, highs.get(figure, inf))
        if low > high:
            raise ValueError(
                f"contradictory targets: {target.address.words} at least {low:g} and at most {high:g}"
            )


def misses(targets: Sequence[Target], values: Array, known: Mask) -> Array:
    """How far values (..., targets) lie outside each range, in its unit; inf where there is no value.

    A value of inf that is not known says that there is sure to be none, which a target may count as met.
    """
    low, high = (np.array([getattr(t, end) for t in targets]) for end in ("low", "high"))
    none = np.isposinf(values) & ~known
    finite = np.where(none, 0.0, values)
    outside = np.maximum(np.maximum(low - finite, finite - high), 0.0)
    met_without = none & np.array([t.or_none for t in targets], dtype=bool)
    missed: Array = np.where(known, outside, np.where(met_without, 0.0, np.inf))
    return missed


def fit(targets: Sequence[Target], missed: Array) -> Array:
    """One number for misses (..., targets): their weighted root mean square in scales; 0 is all met."""
    weight = np.array([t.weight for t in targets])
    share = np.sqrt(weight / weight.sum()) / np.array([t.scale for t in targets])
    total: Array = np.sqrt(np.square(missed * share).sum(axis=-1))
    return total


def reached(targets: Sequence[Target], missed: Array) -> Mask:
    """Whether every target is met within its tolerance: (..., targets) -> (...)."""
    return np.asarray(np.all(missed <= np.array([t.tolerance for t in targets]), axis=-1))
