"""Weighted least squares: the values that readings mean, with their covariance.

A model gives residuals in units of their standard uncertainty and the exact slope of each by each value.
SciPy's trust region leads to the minimum; Gauss-Newton steps then sharpen it to the last digits, as a search
that stops at a tolerance leaves half of them. What is known of the values beforehand is residuals more,
`with_prior`.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import inf

import numpy as np

from kinematics.frames import Array, Mask

Model = Callable[[Array], tuple[Array, Array]]
"""Of values (p,): residuals (m,), each over its standard uncertainty, and their slopes (m, p)."""
SHARPENED = 200
ROUGH = 3e-3
"""How near to a minimum, as a share of the way, a search goes from each start before the best one is taken
on."""
HALVINGS = 8
SHOWN, SETTLED = 1e-12, 1e-8
"""A step that lowers the sum of squares by a smaller share than the first is lost in its round-off; a search
that ends with one above the second has not come to a minimum."""
HELD = 1e-12
"""A direction is told at all where its singular value is above this share of the largest."""


@dataclass(frozen=True)
class Estimate:
    """Values (p,) that fit best."""

    values: Array
    residuals: Array
    """(m,), each over its standard uncertainty."""
    slopes: Array
    """(m, p) of the residuals by the values."""
    sharp: bool
    """Whether it has come to a minimum, or to a bound."""

    @property
    def chi_square(self) -> float:
        """Sum of the squared residuals."""
        return float(self.residuals @ self.residuals)

    @property
    def freedom(self) -> int:
        """Residuals less the values that they tell."""
        return len(self.residuals) - self.rank

    @property
    def rank(self) -> int:
        """How many combinations of the values the residuals tell."""
        return int(np.count_nonzero(self._told))

    @cached_property
    def _parts(self) -> tuple[Array, Array, Array]:
        """Sizes (p,) of the columns, and singular values with their directions of columns of size one."""
        sizes = np.sqrt(np.sum(self.slopes**2, axis=0))
        sizes = np.where(sizes > 0.0, sizes, 1.0)
        _, singular, ways = np.linalg.svd(self.slopes / sizes, full_matrices=False)
        return sizes, singular, ways

    @property
    def _told(self) -> Mask:
        singular = self._parts[1]
        told: Mask = singular > HELD * max(float(singular.max(initial=0.0)), 1e-300)
        return told

    @cached_property
    def covariance(self) -> Array:
        """Of the values (p, p), from the stated uncertainties; inf where a value is not told at all."""
        sizes, singular, ways = self._parts
        told = self._told
        kept = ways[told] / singular[told, None]
        found: Array = (kept.T @ kept) / np.outer(sizes, sizes)
        shares = np.sum(ways[told] ** 2, axis=0)
        lost = shares < 1.0 - 1e-9
        found[lost, lost] = inf
        return found

    @property
    def scatter(self) -> float:
        """Size of a residual as found, where no uncertainties are stated: the square root of chi² a
        freedom."""
        return float(np.sqrt(self.chi_square / self.freedom)) if self.freedom > 0 else inf

    @property
    def errors(self) -> Array:
        """Standard errors (p,) from the stated uncertainties."""
        found: Array = np.sqrt(np.diag(self.covariance))
        return found

    @property
    def correlation(self) -> Array:
        """Of the values (p, p), -1..1."""
        errors = np.where(np.isfinite(self.errors) & (self.errors > 0.0), self.errors, 1.0)
        found: Array = np.where(np.isfinite(self.covariance), self.covariance, 1.0) / np.outer(errors, errors)
        return found

    @cached_property
    def leverage(self) -> Array:
        """How much of each residual (m,) the fit takes up, 0..1."""
        left, singular, _ = np.linalg.svd(self.slopes / self._parts[0], full_matrices=False)
        told: Array = np.sum(left[:, singular > HELD * singular.max(initial=1e-300)] ** 2, axis=1)
        return np.minimum(told, 1.0)


def estimate(
    model: Model,
    starts: Sequence[Array],
    low: Array | float = -inf,
    high: Array | float = inf,
    fine: float = 1e-7,
) -> Estimate:
    """The best of the minima that are reached from starts (p,), within bounds (p,).

    The search ends with a step that moves the residuals by less than this share of them; 0 is all digits.
    Raises ValueError where the model has no finite residual at any of them.
    """
    both = _remembered(model)
    bounds = np.broadcast_to(low, np.shape(starts[0])), np.broadcast_to(high, np.shape(starts[0]))
    found = [
        _from(both, np.asarray(start, float), *bounds, 1e-10 if fine == 0.0 else ROUGH) for start in starts
    ]
    there = [one for one in found if one is not None]
    if not there:
        raise ValueError("nothing can be computed where the search starts")
    costs = [float(np.sum(both(one)[0] ** 2)) for one in there]
    best = int(np.argmin(costs))
    return _sharpened(both, there[best], *bounds, fine)


def _remembered(model: Model) -> Model:
    """The model, asked once for the same values."""
    kept: dict[bytes, tuple[Array, Array]] = {}

    def both(values: Array) -> tuple[Array, Array]:
        at = values.tobytes()
        if at not in kept:
            kept[at] = model(values)
        return kept[at]

    return both


def _part(both: Model, which: int) -> Callable[[Array], Array]:
    """The residuals of a model alone, or the slopes."""
    return lambda values: both(values)[which]


def _from(both: Model, start: Array, low: Array, high: Array, fine: float) -> Array | None:
    """Where a search comes to from a start, None where nothing can be computed there."""
    from scipy.optimize import least_squares  # only who fits waits for it

    within = np.clip(start, *_inside(low, high))
    if not np.all(np.isfinite(both(within)[0])):
        return None
    told = least_squares(
        _part(both, 0),
        within,
        jac=_part(both, 1),
        bounds=(low, high),
        x_scale="jac",
        xtol=fine,
        ftol=max(fine**2, 1e-15),
        gtol=1e-12,
        max_nfev=300,
    )
    found: Array = told.x
    return found


def _inside(low: Array, high: Array) -> tuple[Array, Array]:
    """Bounds a little within, where a search may start."""
    room = np.where(np.isfinite(low) & np.isfinite(high), 1e-6 * (high - low), 1e-9)
    return low + room, high - room


def _sharpened(both: Model, values: Array, low: Array, high: Array, fine: float) -> Estimate:
    """Gauss-Newton steps while they lead down or, so close that a sum of squares no longer shows it,
    shrink."""
    residuals, slopes = both(values)
    before = inf
    for _ in range(SHARPENED):
        step, size = _step(residuals, slopes, (values > low) & (values < high))
        close = size**2 <= SHOWN * max(float(residuals @ residuals), 1e-300)
        least = fine * max(float(np.linalg.norm(residuals)), 1.0 if fine else 0.0)
        if size <= least or (close and size >= before):
            break
        taken = _lower(both, values, step, residuals, low, high, close)
        if taken is None:
            break
        before = size
        values, residuals, slopes = taken
    return Estimate(values, residuals, slopes, sharp=bool(size**2 <= SETTLED * (1.0 + residuals @ residuals)))


def _step(residuals: Array, slopes: Array, free: Mask) -> tuple[Array, float]:
    """The step (p,) of those that are free, and by how much it moves the residuals."""
    step = np.zeros(slopes.shape[1])
    sizes = np.maximum(np.sqrt(np.sum(slopes**2, axis=0)), 1e-300)[free]
    scaled = slopes[:, free] / sizes
    step[free] = np.linalg.lstsq(scaled, -residuals, rcond=HELD)[0] / sizes
    return step, float(np.linalg.norm(slopes @ step))


def _lower(
    both: Model, values: Array, step: Array, residuals: Array, low: Array, high: Array, close: bool
) -> tuple[Array, Array, Array] | None:
    """Where a step, or half of it and so on, leads down; None where it does nowhere. Close by it is taken."""
    was = float(residuals @ residuals)
    for half in range(HALVINGS):
        there = np.clip(values + step * 0.5**half, low, high)
        new, slopes = both(there)
        if np.all(np.isfinite(new)) and (close or float(new @ new) < was):
            return there, new, slopes
    return None


def with_prior(model: Model, middle: Array, spread: Array) -> Model:
    """The model with what is known of values (p,) beforehand: a residual more for each finite spread."""
    known = np.isfinite(spread)
    rows = np.eye(len(middle))[known] / spread[known, None]

    def both(values: Array) -> tuple[Array, Array]:
        residuals, slopes = model(values)
        prior = (values - middle)[known] / spread[known]
        return np.concatenate([residuals, prior]), np.concatenate([slopes, rows])

    return both


def robust(residuals: Array, most: float) -> Array:
    """Weights (m,), 1 for a residual up to most and less for one beyond (Huber)."""
    weights: Array = np.minimum(1.0, most / np.maximum(np.abs(residuals), 1e-300))
    return weights
