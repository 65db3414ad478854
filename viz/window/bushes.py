"""The window's bushes, sizes and clocks in degrees: a pair fitted alike on both corners.

A size is rated on the left yoke's span, as the box's are.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from kinematics.choose.box import with_row
from kinematics.corner.bush import bush_offset, rated_size
from kinematics.lock import Sweep
from kinematics.parts import Setting

BUSHES = ("top_size", "top_clock", "bottom_size", "bottom_clock")


def linked_bushes(sweep: Sweep) -> dict[str, float]:
    """Rated sizes and clocks in degrees, by BUSHES, of the left corner, with which the sliders start."""
    fit, span = sweep.left.setting, sweep.kart.left.yoke.span
    sizes = [float(np.degrees(rated_size(o, span))) for o in (fit.top_offset, fit.bottom_offset)]
    clocks = [float(np.degrees(c)) % 360.0 for c in (fit.top_clock, fit.bottom_clock)]
    return dict(zip(BUSHES, (sizes[0], clocks[0], sizes[1], clocks[1]), strict=True))


def fitted(sweep: Sweep, bushes: dict[str, float]) -> Setting:
    """The sweep's setting with these bushes (degrees, by BUSHES) on both corners; all else stays fitted."""

    angles = {key: float(np.radians(bushes[key])) for key in BUSHES}
    top, bottom = (
        float(bush_offset(angles[size], sweep.kart.left.yoke.span)) for size in ("top_size", "bottom_size")
    )
    row = np.array([top, angles["top_clock"], bottom, angles["bottom_clock"]])
    left, right = (with_row(corner, row) for corner in (sweep.setting.left, sweep.setting.right))
    return replace(sweep.setting, left=left, right=right)
