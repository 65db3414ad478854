"""Curves of settings laid over their base, and their differences from it beneath. Import late: Matplotlib."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from matplotlib.figure import Figure

from kinematics.change.change import Difference
from kinematics.figures.figure import Numbers
from scenarios.ask.compare import WAY_WORDS, Compared, base_columns
from viz.plots.lettering import plain
from viz.plots.lock import CASE_PANELS, HANDWHEEL, PANELS, Bands, Columns, draw_panel, legend
from viz.plots.paper import sheet, theme_of

IN_CASE = CASE_PANELS[:3]


def columns_drawn(in_case: bool) -> list[str]:
    """The columns that a figure of changes through lock draws."""
    return [name for panel in (*PANELS, *(IN_CASE if in_case else ())) for name in panel.columns]


def compare_figure(compared: Compared, way: str, dark: bool = False, bands: Sequence[Bands] = ()) -> Figure:
    """A figure of every panel and, beneath each, the differences from the base; the caller owns it.

    way is how the kart is left. The last two rows show the first load case, when there is one. bands are
    those of each setting's differences, drawn as shades behind them.
    """
    theme = theme_of(dark)
    case = compared.cases[0] if compared.cases else None
    panels = [PANELS[:3], PANELS[3:], *([IN_CASE] if case is not None else [])]
    figure = sheet(12.8, 5.4 * len(panels) + 0.9, theme)
    grid = figure.subplots(2 * len(panels), 3, sharex=True, height_ratios=(3, 2.2) * len(panels))
    now = [_base(compared, case), *_settings(compared, way, case, "now")]
    changes = _settings(compared, way, case, "change")
    for row, some in enumerate(panels):
        for axes, below, panel in zip(grid[2 * row], grid[2 * row + 1], some, strict=True):
            draw_panel(axes, panel, now, theme)
            if some is IN_CASE:
                axes.set_title(f"{panel.title}\n{plain(case, 40)}", color=theme.ink, fontsize=11)
            draw_panel(below, panel, changes, theme, first=1, bands=bands)
            below.set_title(f"less {plain(compared.base, 30)}", color=theme.ink, fontsize=9)
    for axes in grid[-1]:
        axes.set_xlabel("handwheel angle (deg), + left", color=theme.ink)
    title = f"{plain(compared.scenario.title, 40)}: against {plain(compared.base, 30)}, {WAY_WORDS[way]}"
    figure.suptitle(title, color=theme.ink, fontsize=14, fontweight="bold")
    legend(figure, [compared.base, *(against.name for against in compared.settings)], theme, bool(bands))
    return figure


def _base(compared: Compared, case: str | None) -> Columns:
    columns = base_columns(compared)
    of_case = (
        {}
        if case is None
        else {name: columns[f"{case}.{name}"] for panel in IN_CASE for name in panel.columns}
    )
    return {**columns, **of_case}


def _settings(compared: Compared, way: str, case: str | None, which: str) -> Sequence[Columns]:
    found = []
    for against in compared.settings:
        left = against.ways[way]
        curves = {**left.curves, **(left.cases[case] if case is not None else {})}
        found.append(_columns(curves, which))
    return found


def _columns(curves: Mapping[str, Difference], which: str) -> Columns:
    columns = {name: Numbers(c.address, c.meaning, getattr(c, which), c.known) for name, c in curves.items()}
    handwheel = curves[HANDWHEEL]
    return {**columns, HANDWHEEL: replace(columns[HANDWHEEL], values=handwheel.now)}
