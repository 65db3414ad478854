"""Points spread evenly over a cube of many dimensions: the same ones every time, so that what two settings
have in common cancels in their difference.

Columns of a scrambled Sobol' sequence (Joe & Kuo, SIAM J. Sci. Comput. 30 (2008) 2635-2654), chosen so that
no two are much alike. Their generating matrices and shifts are kept beside this module: SciPy makes the same
points, but takes a second to be imported.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path
from zlib import crc32

import numpy as np
import numpy.typing as npt

from kinematics.frames import Array

_KEPT = Path(__file__).with_name("sobol.npy")
BITS = 30
COLUMNS = 64
MOST = 1 << 14
"""Points that there are."""


@cache
def _matrices() -> tuple[npt.NDArray[np.uint32], npt.NDArray[np.uint32]]:
    """The shifts (64,) and the columns of the generating matrices (14, 64), lowest bit of the count first."""
    _, shift, *matrices = np.load(_KEPT, allow_pickle=False)
    return shift, np.array(matrices)


def points(count: int) -> Array:
    """The first points (count, 64), each coordinate above 0 and below 1; best where count is a power of two.

    Raises ValueError where there are not so many.
    """
    if not 1 <= count <= MOST:
        raise ValueError(f"there are 1 to {MOST} points, not {count}")
    shift, columns = _matrices()
    place = np.arange(count, dtype=np.uint32)
    gray, at = place ^ (place >> 1), np.broadcast_to(shift, (count, COLUMNS)).copy()
    for bit, column in enumerate(columns):
        at ^= ((gray >> bit) & 1)[:, None] * column
    within: Array = (at + 0.5) / (1 << BITS)
    return within


def strewn(count: int, name: str) -> Array:
    """One coordinate (count,) more, of its own for each name: one number in each of count equal steps, in an
    order that has nothing to do with that of any other name."""
    rng = np.random.default_rng(crc32(name.encode()))
    strewn: Array = (rng.permutation(count) + rng.random(count)) / count
    return np.clip(strewn, 0.5 / (1 << BITS), None)
