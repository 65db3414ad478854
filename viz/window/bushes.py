"""The window's bushes: rated sizes and clocks in degrees, of a pair fitted alike on both corners."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from kinematics.corner.bush import bush_offset, rated_size
from kinematics.lock import Sweep
from kinematics.parts import Corner, CornerSetting, Setting

BUSHES = ("top_size", "top_clock", "bottom_size", "bottom_clock")


def linked_bushes(sweep: Sweep) -> dict[str, float]:
    """Rated sizes and clocks in degrees, by BUSHES, of the left corner, with which the sliders start."""
    fit, span = sweep.left.setting, sweep.kart.left.yoke.span
    sizes = [float(np.degrees(rated_size(o, span))) for o in (fit.top_offset, fit.bottom_offset)]
    clocks = [float(np.degrees(c)) % 360.0 for c in (fit.top_clock, fit.bottom_clock)]
    return dict(zip(BUSHES, (sizes[0], clocks[0], sizes[1], clocks[1]), strict=True))


def fitted(sweep: Sweep, bushes: dict[str, float]) -> Setting:
    """The sweep's setting with these bushes (degrees, by BUSHES) on both corners; all else stays fitted."""

    def corner(part: Corner, fit: CornerSetting) -> CornerSetting:
        angles = {key: np.radians(bushes[key]) for key in BUSHES}
        return replace(
            fit,
            top_offset=float(bush_offset(angles["top_size"], part.yoke.span)),
            top_clock=float(angles["top_clock"]),
            bottom_offset=float(bush_offset(angles["bottom_size"], part.yoke.span)),
            bottom_clock=float(angles["bottom_clock"]),
        )

    kart, setting = sweep.kart, sweep.setting
    return replace(setting, left=corner(kart.left, setting.left), right=corner(kart.right, setting.right))
