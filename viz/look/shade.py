"""The shade of a curve: where most likely karts lie, on plots and on pages alike."""

from __future__ import annotations

import numpy as np

from kinematics.figures.figure import Numbers
from kinematics.frames import Array
from kinematics.tolerance.band import Band

TOLD = "95 of 100 likely karts"
"""What lies in a shade."""
SHADE = 0.16
"""How much of its colour a shade covers."""
MOST_KARTS = 0.5
"""A band is drawn where at least this share of the likely karts has the figure."""


def ends(column: Numbers, band: Band) -> tuple[Array, Array]:
    """Lower and upper end (N,) of a column's shade; nan where it has none."""
    there = np.broadcast_to(column.known & (band.known >= MOST_KARTS), np.shape(band.low))
    low, high = (np.where(there & np.isfinite(end), end, np.nan) for end in (band.low, band.high))
    return low, high
