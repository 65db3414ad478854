"""Ishigami & Homma, An importance quantification technique in uncertainty analysis for computer models, 1990.

The exact shares of variance of sin x1 + a sin² x2 + b x3⁴ sin x1, each x even between -pi and pi.
"""

import numpy as np

A, B = 7.0, 0.1
FIRST = (0.313905, 0.442411, 0.0)
TOTAL = (0.557589, 0.442411, 0.243684)


def ishigami(x: np.ndarray) -> np.ndarray:
    """The function of x (3, ...)."""
    return np.sin(x[0]) + A * np.sin(x[1]) ** 2 + B * x[2] ** 4 * np.sin(x[0])
