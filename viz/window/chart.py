"""A small chart in the window: load on the inside rear against lock, with a cursor where the kart is."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from kinematics.frames import Array
from kinematics.lock import Sweep
from kinematics.stance.equilibrium import Stance
from kinematics.standing.stand import inside_rear_load
from viz.canvas.text import unit_rgb
from viz.look.palette import Theme
from viz.look.rule import side_colour, stroke

TITLE = "inside rear, N"


@dataclass(frozen=True, eq=False)
class Curve:
    """Inside rear load through lock: handwheel in deg (N,), load in N (N,)."""

    handwheel_deg: Array
    load: Array


def curve(sweep: Sweep, standing: Stance) -> Curve:
    """The curve of a stance; lock positions that are not reached or where the kart tips are left out."""
    shown = sweep.reach & ~standing.tips
    return Curve(np.degrees(sweep.handwheel[shown]), inside_rear_load(sweep, standing)[shown])


class LoadChart:
    """The chart, which fills a renderer; A is solid, B dashed, both named."""

    def __init__(self, renderer: Any, theme: Theme) -> None:
        import pyvista as pv

        self.chart = pv.Chart2D(size=(1.0, 1.0), loc=(0.0, 0.0))
        self.chart.title = self.chart.x_label = self.chart.y_label = ""
        self._curves: dict[str, Curve] = {}
        self._theme, self._cursor, self._top = theme, None, 1.0
        renderer.add_chart(self.chart)
        self.set_theme(theme)

    def set_curves(self, curves: dict[str, Curve], handwheel_deg: float) -> None:
        """Draw the curves by name, A and perhaps B; none hides the chart."""
        self._curves = {name: c for name, c in curves.items() if len(c.load)}
        self.chart.visible = bool(self._curves)
        self.chart.clear()
        ink = side_colour(self._theme, "")
        for place, (name, c) in enumerate(self._curves.items()):
            style = stroke(place).name
            self.chart.line(c.handwheel_deg, c.load, color=ink, width=2.5, style=style, label=name)
        self._top = max((float(c.load.max()) for c in self._curves.values()), default=1.0) * 1.05 + 1.0
        self.chart.y_range = (0.0, self._top)
        ends = [c.handwheel_deg[[0, -1]] for c in self._curves.values()]
        if ends:
            self.chart.x_range = (float(np.min(ends)) - 1.0, float(np.max(ends)) + 1.0)
        at = [handwheel_deg] * 2
        self._cursor = self.chart.line(at, [0.0, self._top], color=self._theme.strong, width=2.0)
        self.chart.legend_visible = False

    @property
    def title(self) -> str:
        """What the curves are, where there are any."""
        if not self._curves:
            return ""
        return f"{TITLE}: A solid, B dashed" if "B" in self._curves else TITLE

    def move(self, handwheel_deg: float) -> None:
        """Put the cursor at a handwheel angle in degrees."""
        if self._cursor is not None and self._curves:
            self._cursor.update([handwheel_deg] * 2, [0.0, self._top])

    def value(self, name: str, handwheel_deg: float) -> float:
        """Load of a curve at a handwheel angle, as drawn, N."""
        c = self._curves[name]
        return float(np.interp(handwheel_deg, c.handwheel_deg, c.load))

    def set_theme(self, theme: Theme) -> None:
        """Give ground, axes and words the theme's colours."""
        self._theme = theme
        self.chart.background_color = theme.plate
        self.chart.border_color = theme.ink
        for axis in (self.chart.x_axis, self.chart.y_axis):
            axis.tick_label_size = 11
            axis.GetPen().SetColorF(*unit_rgb(theme.ink))
            axis.GetLabelProperties().SetColor(*unit_rgb(theme.ink))
            axis.grid = False
