"""Curves through lock, drawn on a Matplotlib figure that no window knows of.

A corner is told by line style (left solid, right dashed), a setting by colour and marker, and both by name
in a legend; nothing rests on colour alone. Matplotlib is imported by this module: import it late.
"""

from __future__ import annotations

import io
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import matplotlib
import numpy as np
from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.lines import Line2D

from kinematics.figures.figure import Numbers
from scenarios.ask.run import Run
from viz.tables.grid import shorten

Columns = Mapping[str, Numbers]

LINE_STYLES: dict[str, Any] = {"left": "-", "right": (0, (4, 1.6)), "": (0, (6, 1.2, 1, 1.2))}
LEAST_SPAN = 2.0  # mm or deg on a panel's upright axis
MARKERS = ("o", "s", "^", "D", "v", "P", "X", "*")


@dataclass(frozen=True)
class Panel:
    """One panel: what it is called, its columns, and in what unit they are read."""

    title: str
    unit: str
    columns: tuple[str, ...]


def _sides(title: str, quantity: str, unit: str) -> Panel:
    return Panel(title, unit, tuple(f"{quantity}_{side}_{unit}" for side in ("left", "right")))


PANELS = (
    _sides("Camber, + top outward", "camber", "deg"),
    _sides("Wheel drop since straight, + down", "wheel_drop", "mm"),
    Panel("Inside rear lift of a rigid kart, + up", "mm", ("rigid_inside_rear_lift_mm",)),
    _sides("Steer of the road wheel, + left", "steer", "deg"),
    _sides("Caster trail, + axis ahead", "caster_trail", "mm"),
    _sides("Scrub, + axis inboard", "scrub", "mm"),
)
CASE_PANELS = (
    Panel("Inside rear load", "N", ("inside_rear_load_n",)),
    Panel("Inside rear above the road", "mm", ("inside_rear_clearance_mm",)),
    _sides("Camber to the road", "standing_camber", "deg"),
    Panel("Handwheel torque, + left", "N·m", ("handwheel_torque_nm",)),
    Panel("Yaw moment of the rear axle, + left", "N·m", ("axle_yaw_moment_nm",)),
    Panel("Frame twist, + front left up", "deg", ("twist_deg",)),
)


@dataclass(frozen=True)
class Look:
    """Colours of a figure: ground, ink, grid, and one for each setting in turn."""

    ground: str
    ink: str
    grid: str
    settings: tuple[str, ...]


# Hues after Okabe and Ito, Color Universal Design (2008), from memory: told apart by most colour-blind eyes.
LIGHT = Look(
    "#ffffff",
    "#1b1b1f",
    "#d9d9de",
    ("#00579b", "#b84a00", "#00795a", "#8f3f77", "#6b5900", "#3d3d47", "#0086b3", "#a11d1d"),
)
DARK = Look(
    "#15171c",
    "#ececf1",
    "#3a3d46",
    ("#62b5f5", "#ff9e4a", "#3ed1a7", "#e897cb", "#e8d44d", "#c9c9d4", "#7fe0ff", "#ff8c8c"),
)


def lock_figure(title: str, runs: Sequence[Run], dark: bool = False) -> Figure:
    """A figure of every panel with all runs laid over each other; the caller owns it.

    The last two rows show the first load case of the runs, when they have one.
    """
    look = DARK if dark else LIGHT
    case = runs[0].cases[0].name if runs[0].cases else None
    rows = 2 if case is None else 4
    figure = Figure(figsize=(12.8, 3.3 * rows + 0.8), dpi=125, facecolor=look.ground, layout="constrained")
    FigureCanvasAgg(figure)
    figure.get_layout_engine().set(h_pad=0.1, w_pad=0.08)  # type: ignore[union-attr, call-arg]
    panels = figure.subplots(rows, 3, sharex=True)
    for axes, panel in zip(panels[:2].flat, PANELS, strict=True):
        draw_panel(axes, panel, [run.columns for run in runs], look)
    if case is not None:
        for axes, panel in zip(panels[2:].flat, CASE_PANELS, strict=True):
            draw_panel(axes, panel, [{**run.columns, **run.cases[0].columns} for run in runs], look)
            axes.set_title(f"{panel.title}\n{shorten(case, 40)}", color=look.ink, fontsize=11)
    for axes in panels[-1]:
        axes.set_xlabel("handwheel angle (deg), + left", color=look.ink)
    figure.suptitle(shorten(title, 90), color=look.ink, fontsize=14, fontweight="bold")
    legend(figure, [run.name for run in runs], look)
    return figure


def draw_panel(axes: Axes, panel: Panel, runs: Sequence[Columns], look: Look, first: int = 0) -> None:
    """Draw a panel's columns of every run over each other; first is the place of the first run's colour."""
    axes.set_facecolor(look.ground)
    axes.set_title(panel.title, color=look.ink, fontsize=11)
    axes.set_ylabel(panel.unit, color=look.ink)
    axes.grid(True, color=look.grid, linewidth=0.8)
    axes.tick_params(colors=look.ink, labelsize=9)
    for spine in axes.spines.values():
        spine.set_color(look.grid)
    for i, columns in enumerate(runs, first):
        for name in panel.columns:
            _draw_column(axes, columns, name, i, look)
    _zero_and_span(axes, look)


def _zero_and_span(axes: Axes, look: Look) -> None:
    """A line at zero where zero is in sight, and a span that does not magnify next to nothing."""
    low, high = axes.get_ylim()
    if high - low < LEAST_SPAN:
        middle = 0.5 * (low + high)
        low, high = middle - 0.5 * LEAST_SPAN, middle + 0.5 * LEAST_SPAN
    axes.set_ylim(low, high)
    if low < 0.0 < high:
        axes.axhline(0.0, color=look.ink, linewidth=0.6)


def _draw_column(axes: Axes, columns: Columns, name: str, i: int, look: Look) -> None:
    column, handwheel = columns[name], columns["handwheel_deg"].values
    # Matplotlib breaks a line at a NaN; it is made here, at the last step, and goes no further.
    values = np.where(column.known, column.values, np.nan)
    every = max(1, len(handwheel) // 6)
    axes.plot(
        handwheel,
        values,
        color=_cyclic(look.settings, i),
        linestyle=LINE_STYLES[column.address.side],
        linewidth=1.8,
        marker=_cyclic(MARKERS, i),
        markevery=(every // 2 + i * every // 4, every) if len(handwheel) > 12 else 1,
        markersize=5,
    )


def _cyclic(things: Sequence[str], i: int) -> str:
    return things[i % len(things)]


def legend(figure: Figure, names: Sequence[str], look: Look) -> None:
    """Name every run and what each line style means, below the panels."""
    words = {"left": "left front", "right": "right front", "": "whole kart"}
    handles = [
        Line2D([], [], color=_cyclic(look.settings, i), marker=_cyclic(MARKERS, i), label=shorten(name, 24))
        for i, name in enumerate(names)
    ]
    handles += [
        Line2D([], [], color=look.ink, linestyle=style, linewidth=1.8, label=words[side])
        for side, style in LINE_STYLES.items()
    ]
    figure.legend(
        handles=handles,
        loc="outside lower center",
        ncols=min(len(handles), 6),
        frameon=False,
        labelcolor=look.ink,
        handlelength=3.6,
    )


def figure_bytes(figure: Figure, suffix: str) -> bytes:
    """The figure as the bytes of a PNG, SVG or PDF file; the same figure gives the same bytes."""
    undated = {"svg": {"Date": None}, "pdf": {"CreationDate": None}}
    content = io.BytesIO()
    with matplotlib.rc_context({"svg.hashsalt": "lockarc", "svg.fonttype": "path"}):
        figure.savefig(content, format=suffix, facecolor=figure.get_facecolor(), metadata=undated.get(suffix))
    return content.getvalue()
