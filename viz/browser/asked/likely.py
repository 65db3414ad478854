"""How sure the charts are: where most of the karts lie that could have been measured as this one was."""

from __future__ import annotations

import numpy as np

from kinematics.frames import Array, Mask
from scenarios.likely.bands import bands
from viz.browser import figures
from viz.browser.chosen.choices import SLOTS, Choices, compared
from viz.browser.memory import Memory
from viz.look import shade
from viz.page.charts import Shade, Values

KARTS = 128
"""Likely karts: a quarter of what a plot has, for a shade that moves less than the eye sees, at once."""
COLUMNS = tuple(name for chart in figures.CHARTS for name, _, _ in chart.curves)


def charts(chosen: Choices) -> dict[str, str]:
    """Every chart by its key with the shades of A and B behind the curves. Raises Refusal."""
    both = compared(chosen)
    solved = Memory().stood(both, chosen)
    found = bands(both, list(SLOTS), [], count=KARTS)
    through = {name: figures.through_values(stood) for name, stood in solved.items()}
    shades: dict[str, dict[str, Shade]] = {}
    for name, stood in solved.items():
        columns = {**stood.solved.columns, **stood.solved.case_columns[stood.case.name]}
        its = found.columns(name, stood.case, COLUMNS)
        ends = {column: shade.ends(columns[column], its[column]) for column in COLUMNS}
        shades[name] = {
            c: (_told(low, stood.shown), _told(high, stood.shown)) for c, (low, high) in ends.items()
        }
    return figures.drawn(chosen.scenario, through, shades)


def _told(end: Array, shown: Mask) -> Values:
    there = np.isfinite(end) & shown
    return [value if ok else None for value, ok in zip(end.tolist(), there.tolist(), strict=True)]
