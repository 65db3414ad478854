"""Numbers that readings have tied together: drawn so that one that is high has its partner high, or low."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from kinematics.frames import Array
from kinematics.tolerance.uncertain import scores, shares
from scenarios.sure.stated import Input

Pair = tuple[str, str, float]
LEAST = 1e-9
"""Of a matrix of correlations that was rounded, the least its own values are taken for."""


def tied(drawn: Array, inputs: Sequence[Input], pairs: Sequence[Pair]) -> Array:
    """Shares (n, d) of independent numbers as those of numbers with these correlations."""
    names = [one.name for one in inputs]
    named = {name for one, other, _ in pairs for name in (one, other)}
    which = [place for place, name in enumerate(names) if name in named]
    if not which:
        return drawn
    tie = _root(correlations([names[place] for place in which], pairs))
    found = drawn.copy()
    found[:, which] = shares(scores(drawn[:, which]) @ tie.T)
    return found


def correlations(names: Sequence[str], pairs: Sequence[Pair]) -> Array:
    """The matrix of names' correlations, 0 where nothing is said."""
    matrix = np.eye(len(names))
    for one, other, number in pairs:
        if one in names and other in names and one != other:
            row, column = names.index(one), names.index(other)
            matrix[row, column] = matrix[column, row] = number
    return matrix


def _root(matrix: Array) -> Array:
    """A root of the nearest matrix of correlations: what is written in a file is rounded."""
    sizes, ways = np.linalg.eigh(matrix)
    root = ways * np.sqrt(np.maximum(sizes, LEAST))
    found: Array = root / np.sqrt(np.sum(root**2, axis=1))[:, None]
    return found
