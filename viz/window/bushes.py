"""The window's bushes, sizes and clocks in degrees: a pair fitted on both corners alike, or on one.

A size is rated on the left yoke's span, as the box's are.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from kinematics.choose.box import with_row
from kinematics.corner.bush import bush_offset, rated_size
from kinematics.lock import Sweep
from kinematics.parts import Setting
from viz.words.numbers import number

if TYPE_CHECKING:
    from viz.window.window import Viewer

BUSHES = ("top_size", "top_clock", "bottom_size", "bottom_clock")
SIZE_STEP, CLOCK_STEP = 0.1, 5.0
"""By how many degrees a key turns a bush's size and clock."""
CORNERS = ("both", "left", "right")
"""On which corners bushes are fitted."""


def bushes_of(sweep: Sweep, corners: str = "both") -> dict[str, float]:
    """Rated sizes and clocks in degrees, by BUSHES, of a corner; of both, the left one's."""
    fit = sweep.setting.right if corners == "right" else sweep.setting.left
    span = sweep.kart.left.yoke.span
    sizes = [float(np.degrees(rated_size(o, span))) for o in (fit.top_offset, fit.bottom_offset)]
    clocks = [float(np.degrees(c)) % 360.0 for c in (fit.top_clock, fit.bottom_clock)]
    return dict(zip(BUSHES, (sizes[0], clocks[0], sizes[1], clocks[1]), strict=True))


def fitted(sweep: Sweep, bushes: dict[str, float], corners: str = "both") -> Setting:
    """The sweep's setting with these bushes (degrees, by BUSHES) there; all else stays fitted."""
    angles = {key: float(np.radians(bushes[key])) for key in BUSHES}
    top, bottom = (
        float(bush_offset(angles[size], sweep.kart.left.yoke.span)) for size in ("top_size", "bottom_size")
    )
    row = np.array([top, angles["top_clock"], bottom, angles["bottom_clock"]])
    left, right = (
        with_row(corner, row) if corners in ("both", side) else corner
        for side, corner in (("left", sweep.setting.left), ("right", sweep.setting.right))
    )
    return replace(sweep.setting, left=left, right=right)


class Fitting:
    """The bushes of a viewer's A as its sliders show them: sizes and clocks in degrees, by BUSHES."""

    def __init__(self, viewer: Viewer) -> None:
        self.viewer, self.corners, self.marked = viewer, "both", ""
        self.bushes = bushes_of(viewer.sweep)

    def read(self) -> None:
        """Show the bushes that are fitted."""
        self.bushes = bushes_of(self.viewer.sweep, self.corners)
        self.viewer.say()

    def set_bush(self, which: str, degrees: float) -> None:
        """Fit a bush on the corners chosen: which is one of BUSHES, its rated size or clock in degrees."""
        self.marked = which
        if abs(self.bushes[which] - degrees) < 1e-9:
            self.viewer.say()
            return
        wanted = {**self.bushes, which: degrees}
        self.viewer.fit(fitted(self.viewer.sweep, wanted, self.corners), self._title(wanted))

    def set_corners(self, which: str) -> None:
        """Choose the corners on which bushes are fitted: one of CORNERS."""
        self.corners = which
        self.read()

    def next_corners(self) -> None:
        """Both corners, left, right, and round again."""
        self.set_corners(CORNERS[(CORNERS.index(self.corners) + 1) % len(CORNERS)])

    def mark(self) -> None:
        """Mark the next bush slider, which keys then turn."""
        self.marked = BUSHES[(BUSHES.index(self.marked) + 1) % len(BUSHES)] if self.marked else BUSHES[0]
        self.viewer.say()

    def turn(self, by: int) -> None:
        """Turn the marked bush slider by so many steps."""
        if not self.marked:
            self.mark()
        now = self.bushes[self.marked]
        if "clock" in self.marked:
            self.set_bush(self.marked, (round(now) + by * CLOCK_STEP) % 360.0)
        else:
            self.set_bush(self.marked, round(max(0.0, now + by * SIZE_STEP), 1))

    def _title(self, bushes: dict[str, float]) -> str:
        top, bottom = (
            f"{number(bushes[f'{b}_size'], 1)}° at {number(bushes[f'{b}_clock'], 0)}°"
            for b in ("top", "bottom")
        )
        where = "both corners" if self.corners == "both" else f"{self.corners} corner"
        return f"{where}: top {top}, bottom {bottom}"
