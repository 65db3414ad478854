"""Exact slopes of what is written in plain arithmetic, by steps into the complex plane.

A step so small that its square is nothing leaves the slope as the imaginary part, without a difference of two
near numbers (Squire and Trapp, SIAM Review 40 (1998) 110-112).
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import numpy.typing as npt

from kinematics.frames import Array

Analytic = Callable[[npt.NDArray[np.complex128]], npt.NDArray[np.complex128]]
"""Of values (p,) numbers (m,), by arithmetic, roots, powers and functions that know complex numbers alone."""
STEP = 1e-40


def with_slopes(function: Analytic) -> Callable[[Array], tuple[Array, Array]]:
    """The function of real values (p,): its numbers (m,) and their slopes (m, p)."""

    def both(values: Array) -> tuple[Array, Array]:
        stepped = values + 1j * STEP * np.eye(len(values))
        slopes = np.stack([np.imag(function(one)) / STEP for one in stepped], axis=-1)
        return np.real(function(values.astype(complex))), slopes

    return both


def spread_of(slopes: Array, covariance: Array) -> Array:
    """Covariance (k, k) of numbers with these slopes (k, p) by values of this covariance (p, p).

    JCGM 100:2008, 5.2.2, eq. (13).
    """
    found: Array = slopes @ covariance @ slopes.T
    return found
