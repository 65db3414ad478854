"""Shares of a figure's variance by input, from the samples that its band is read off.

No state is solved for it: a polynomial in each input, all of them fitted at once, tells what part of the
variance an input alone explains. What no sum of such curves explains belongs to inputs acting together.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from kinematics.frames import Array, Mask

SQUARES = 2


@dataclass(frozen=True)
class Shares:
    """Of the variance of a figure: first-order shares (d,) of its inputs, and what acts together.

    An input's total share lies between its own and its own with what acts together. error (d,) is the
    standard error of each share, from the samples.
    """

    own: Array
    error: Array
    together: float

    @property
    def most(self) -> Array:
        """The largest that the total share of each input can be (d,)."""
        return np.minimum(self.own + self.together, 1.0)


def shares(figure: Array, known: Mask, scores: Array, degree: int = SQUARES) -> Shares:
    """Shares of the variance of a figure (n,), where known, by independent inputs with these scores (n, d).

    A score is any number that orders an input's samples, normal or even, and may be constant. degree is that
    of the polynomials; what the samples scatter by chance is taken off, and no share is below 0. Raises
    ValueError where there are not more samples than numbers to fit.
    """
    found, inputs = np.asarray(figure, float)[known], scores[known]
    count, width = inputs.shape
    if count <= width * degree + 1:
        raise ValueError(f"{count} samples are too few for {width} inputs in polynomials of degree {degree}")
    variance = float(np.var(found)) if count else 0.0
    if not variance > 0.0:
        return Shares(np.zeros(width), np.zeros(width), 0.0)
    return _shares(_polynomials(inputs, degree), (found - found.mean()) / np.sqrt(variance), width)


def _polynomials(inputs: Array, degree: int) -> Array:
    """Polynomials (n, d * degree) of scores (n, d), input by input.

    Each of mean 0 and unit variance; those of an input are uncorrelated over the samples. Of a constant: 0.
    """
    spread = np.std(inputs, axis=0)
    varies = spread > 0.0
    scaled = (inputs - inputs.mean(axis=0)) / np.where(varies, spread, 1.0)
    powers = scaled.T[..., None] ** np.arange(degree + 1)
    found = np.linalg.qr(powers)[0][..., 1:] * np.sqrt(len(inputs)) * varies[:, None, None]
    columns: Array = np.moveaxis(found, 0, 1).reshape(len(inputs), -1)
    return columns


def _shares(basis: Array, figure: Array, width: int) -> Shares:
    """Shares from basis columns (n, d * degree) and a figure (n,) of mean 0 and unit variance."""
    count, degree = figure.size, basis.shape[1] // width
    there = np.any(basis != 0.0, axis=0)
    slope = np.zeros(basis.shape[1])
    inverse = np.linalg.inv(basis[:, there].T @ basis[:, there])
    slope[there] = inverse @ (basis[:, there].T @ figure)
    left = figure - basis @ slope
    noise = float(left @ left) / (count - 1 - np.count_nonzero(there))
    chance = np.zeros_like(slope)
    chance[there] = noise * np.diag(inverse)
    squares = np.sum((slope * slope - chance).reshape(width, degree), axis=1)
    error = np.sqrt(np.sum((4.0 * slope * slope * chance + 2.0 * chance * chance).reshape(width, degree), 1))
    own = np.clip(squares, 0.0, 1.0)
    return Shares(own, error, max(0.0, 1.0 - float(own.sum())))
