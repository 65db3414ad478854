"""The sheet on which plots are drawn, and a panel of it in a theme's colours."""

from __future__ import annotations

from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure

from viz.look.palette import DARK, LIGHT, Theme


def theme_of(dark: bool) -> Theme:
    """The theme of a plot on a dark or a light ground."""
    return DARK if dark else LIGHT


def sheet(width: float, height: float, theme: Theme) -> Figure:
    """An empty figure of so many inches, its panels laid out clear of each other; no window knows of it."""
    figure = Figure(figsize=(width, height), dpi=125, facecolor=theme.plate, layout="constrained")
    FigureCanvasAgg(figure)
    figure.get_layout_engine().set(h_pad=0.1, w_pad=0.08)  # type: ignore[union-attr, call-arg]
    return figure


def dress(axes: Axes, theme: Theme, title: str = "") -> None:
    """Ground, grid, frame and numbers of a panel."""
    axes.set_facecolor(theme.plate)
    axes.set_title(title, color=theme.ink, fontsize=11)
    axes.grid(True, color=theme.fine, linewidth=0.8)
    axes.tick_params(colors=theme.ink, labelsize=9)
    for spine in axes.spines.values():
        spine.set_color(theme.fine)
