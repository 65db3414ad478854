"""Curves through lock, drawn on a Matplotlib figure that no window knows of.

A side is told by its colour, a setting by its stroke and marker, and both by name in a legend; where left and
right lie in one panel each curve's side is written at its end. Matplotlib is imported here: import it late.
"""

from __future__ import annotations

import io
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import ceil
from typing import Any

import matplotlib
import numpy as np
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.figure import Figure as Picture
from matplotlib.lines import Line2D
from matplotlib.patches import Patch

from kinematics.figures import kart, standing, wheel
from kinematics.figures.figure import Figure, Numbers
from kinematics.figures.verdict import gaps
from kinematics.tolerance.band import Band
from scenarios.ask.run import Run
from viz.look import shade
from viz.look.palette import Theme
from viz.look.rule import SIDES, Stroke, side_colour, stroke
from viz.plots.lettering import plain, titled
from viz.plots.paper import dress, sheet, theme_of

Columns = Mapping[str, Numbers]

Bands = Mapping[str, Band]

LEAST_SPAN = 2.0  # mm or deg on a panel's upright axis
SIDE_WORDS = {"left": "left front (L)", "right": "right front (R)", "": "whole kart"}


@dataclass(frozen=True)
class Panel:
    """One panel: what it is called, its columns, and in what unit they are read."""

    title: str
    unit: str
    columns: tuple[str, ...]


def _panel(title: str, figure: Figure) -> Panel:
    return Panel(title, figure.unit.text, tuple(figure.name(side) for side in figure.sides))


PANELS = (
    _panel("Camber, + top outward", wheel.CAMBER),
    _panel("Wheel drop since straight, + down", wheel.WHEEL_DROP),
    _panel("Inside rear lift of a rigid kart, + up", kart.RIGID_LIFT),
    _panel("Steer of the road wheel, + left", wheel.STEER),
    _panel("Caster trail, + axis ahead", wheel.CASTER_TRAIL),
    _panel("Scrub, + axis inboard", wheel.SCRUB),
)
CASE_PANELS = (
    _panel("Inside rear load", standing.INSIDE_REAR_LOAD),
    _panel("Inside rear above the road", standing.INSIDE_REAR_CLEARANCE),
    _panel("Camber to the road", standing.STANDING_CAMBER),
    _panel("Handwheel torque, + left", standing.HANDWHEEL_TORQUE),
    _panel("Yaw moment of the rear axle, + left", standing.AXLE_YAW_MOMENT),
    _panel("Frame twist, + front left up", standing.TWIST),
)
HANDWHEEL = kart.HANDWHEEL.name()


def columns_drawn(in_case: bool) -> list[str]:
    """The columns that a figure of settings through lock draws."""
    return [name for panel in (*PANELS, *(CASE_PANELS if in_case else ())) for name in panel.columns]


def lock_figure(title: str, runs: Sequence[Run], dark: bool = False, bands: Sequence[Bands] = ()) -> Picture:
    """A figure of every panel with all runs laid over each other; the caller owns it.

    The last two rows show the first load case of the runs, when they have one. bands are those of each run's
    columns, drawn as shades behind their curves.
    """
    theme = theme_of(dark)
    case = runs[0].cases[0].name if runs[0].cases else None
    rows = 2 if case is None else 4
    figure = sheet(12.8, 3.3 * rows + 0.8, theme)
    panels = figure.subplots(rows, 3, sharex=True)
    for axes, panel in zip(panels[:2].flat, PANELS, strict=True):
        draw_panel(axes, panel, [run.columns for run in runs], theme, bands=bands)
    if case is not None:
        for axes, panel in zip(panels[2:].flat, CASE_PANELS, strict=True):
            both = [{**run.columns, **run.cases[0].columns} for run in runs]
            draw_panel(axes, panel, both, theme, bands=bands)
            said = f"{panel.title}\n{plain(case, 40)}{_gaps(runs)}"
            axes.set_title(said, color=theme.ink, fontsize=11)
    for axes in panels[-1]:
        axes.set_xlabel("handwheel angle (deg), + left", color=theme.ink)
    figure.suptitle(plain(title, 90), color=theme.ink, fontsize=14, fontweight="bold")
    legend(figure, [run.name for run in runs], theme, bool(bands))
    return figure


def _gaps(runs: Sequence[Run]) -> str:
    """Why curves of the first load case have gaps."""
    why = gaps([word for run in runs for word in run.cases[0].stands])
    return f" (gaps: {', '.join(why)})" if why else ""


def draw_panel(
    axes: Axes,
    panel: Panel,
    runs: Sequence[Columns],
    theme: Theme,
    first: int = 0,
    bands: Sequence[Bands] = (),
) -> None:
    """Draw a panel's columns of every run over each other; first is the place of the first run's stroke.

    bands are those of the runs, as many or none.
    """
    dress(axes, theme, panel.title)
    axes.set_ylabel(panel.unit, color=theme.ink)
    for columns, shades in zip(runs, bands, strict=False):
        for name in panel.columns:
            _shade(axes, columns, name, shades[name], theme)
    for i, columns in enumerate(runs, first):
        for name in panel.columns:
            _draw_column(axes, columns, name, i, theme)
    _zero_and_span(axes, theme)
    if runs and len(panel.columns) > 1:
        _name_sides(axes, panel, runs[0], theme)


def _name_sides(axes: Axes, panel: Panel, columns: Columns, theme: Theme) -> None:
    """A letter for its side at the end of each of a run's curves; letters that would meet are moved apart."""
    handwheel, low, high = columns[HANDWHEEL].values, *axes.get_ylim()
    ends = []
    for name in panel.columns:
        known = np.flatnonzero(np.broadcast_to(columns[name].known, handwheel.shape))
        if known.size:
            last = known[-1]
            ends.append(
                (float(columns[name].values[last]), float(handwheel[last]), columns[name].address.side)
            )
    meet = len(ends) == 2 and abs(ends[0][0] - ends[1][0]) < 0.08 * (high - low)
    for place, (value, at, side) in enumerate(sorted(ends)):
        axes.annotate(
            side[:1].upper(),
            (at, value),
            (4.0, (2.0 * place - 1.0) * 5.0 if meet else 0.0),
            textcoords="offset points",
            color=side_colour(theme, side),
            fontsize=8,
            fontweight="bold",
            va="center",
            annotation_clip=False,
        ).set_in_layout(False)


def _zero_and_span(axes: Axes, theme: Theme) -> None:
    """A line at zero where zero is in sight, and a span that does not magnify next to nothing."""
    low, high = axes.get_ylim()
    if high - low < LEAST_SPAN:
        middle = 0.5 * (low + high)
        low, high = middle - 0.5 * LEAST_SPAN, middle + 0.5 * LEAST_SPAN
    axes.set_ylim(low, high)
    if low < 0.0 < high:
        axes.axhline(0.0, color=theme.ink, linewidth=0.6)


def _draw_column(axes: Axes, columns: Columns, name: str, i: int, theme: Theme) -> None:
    column, handwheel = columns[name], columns[HANDWHEEL].values
    # Matplotlib breaks a line at a NaN; it is made here, at the last step, and goes no further.
    values = np.where(column.known, column.values, np.nan)
    every = max(1, len(handwheel) // 6)
    axes.plot(
        handwheel,
        values,
        color=side_colour(theme, column.address.side),
        linestyle=line_style(stroke(i)),
        linewidth=1.8,
        marker=stroke(i).marker,
        markevery=(every // 2 + i * every // 4, every) if len(handwheel) > 12 else 1,
        markersize=5,
    )


def _shade(axes: Axes, columns: Columns, name: str, band: Band, theme: Theme) -> None:
    """The band of a column where it has one, behind its curve."""
    column = columns[name]
    low, high = shade.ends(column, band)
    colour = side_colour(theme, column.address.side)
    axes.fill_between(columns[HANDWHEEL].values, low, high, color=colour, alpha=shade.SHADE, linewidth=0.0)


def line_style(how: Stroke) -> Any:
    """A stroke as Matplotlib takes it."""
    return (0, how.dashes) if how.dashes else how.name


def legend(figure: Picture, names: Sequence[str], theme: Theme, shaded: bool = False) -> None:
    """Name every run by its stroke and every side by its colour, below the panels, and what a shade is."""
    handles: list[Artist] = [
        Line2D(
            [],
            [],
            color=theme.ink,
            linestyle=line_style(stroke(i)),
            linewidth=1.8,
            marker=stroke(i).marker,
            label=plain(name, 24),
        )
        for i, name in enumerate(names)
    ]
    handles += [
        Line2D([], [], color=side_colour(theme, side), linewidth=4.0, label=SIDE_WORDS[side])
        for side in SIDES
    ]
    if shaded:
        handles.append(Patch(facecolor=theme.ink, alpha=shade.SHADE, label=shade.TOLD))
    figure.legend(
        handles=handles,
        loc="outside lower center",
        ncols=ceil(len(handles) / ceil(len(handles) / 6)),
        frameon=False,
        labelcolor=theme.ink,
        handlelength=3.6,
    )


def figure_bytes(figure: Picture, suffix: str) -> bytes:
    """The figure as the bytes of a PNG, SVG or PDF file; the same figure gives the same bytes.

    The file carries its title, an SVG its language too: Matplotlib has no place for a PDF's.
    """
    title = titled(figure)
    told = {
        "png": {"Title": title},
        "svg": {"Date": None, "Title": title, "Language": "en"},
        "pdf": {"CreationDate": None, "Title": title},
    }
    content = io.BytesIO()
    with matplotlib.rc_context({"svg.hashsalt": "lockarc", "svg.fonttype": "path"}):
        figure.savefig(content, format=suffix, facecolor=figure.get_facecolor(), metadata=told.get(suffix))
    return content.getvalue()
