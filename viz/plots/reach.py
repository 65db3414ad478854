"""The map of a box: caster against camber, coloured in steps by a figure. Import late: Matplotlib.

Colours are steps of a perceptually uniform map, so that their edges read as contours, and each step can be
told in grey as well. Marks differ by shape, and every one is named beside a leader line.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import product

import numpy as np
from matplotlib import colormaps
from matplotlib.axes import Axes
from matplotlib.collections import PathCollection
from matplotlib.colors import BoundaryNorm, ListedColormap
from matplotlib.figure import Figure
from matplotlib.patheffects import AbstractPathEffect, withStroke
from matplotlib.text import Text
from matplotlib.ticker import MaxNLocator
from matplotlib.transforms import Bbox

from kinematics.frames import Array
from scenarios.ask.reach import Mapped, Mark
from viz.look.palette import Theme
from viz.plots.lettering import plain
from viz.plots.paper import dress, sheet, theme_of
from viz.tables.grid import shorten

STEPS = 9
CELLS = 18
FEWEST_CELLS = 40
EDGE_LINE = 0.3
LEAST_STEP = 1e-3
SHAPES = {"present": ("*", 330.0), "setting": ("D", 80.0), "candidate": ("o", 100.0)}
KIND_WORDS = {"present": "present setting", "setting": "other setting", "candidate": "candidate"}
INKS = {True: (0.25, 1.0), False: (0.0, 0.86)}
"""Share of the colour map used on a dark and on a light ground, so that no point is lost on it."""
NAME_FONT, NAME_LENGTH, NAME_PAD = 10, 26, 6.0
HIDES = 12.0
"""Marks nearer than this (pixels) share one name."""


def map_figure(mapped: Mapped, dark: bool = False) -> Figure:
    """The map as a figure; the caller owns it."""
    theme = theme_of(dark)
    figure = sheet(11.5, 8.2, theme)
    axes = figure.add_subplot()
    _dress(axes, mapped, theme)
    points = _points(axes, mapped, theme, dark)
    if points is not None:
        _colour_bar(figure, axes, points, mapped, theme)
    _marks(axes, mapped.marks, theme)
    handles, words = axes.get_legend_handles_labels()
    figure.legend(
        handles,
        words,
        loc="outside lower center",
        ncols=len(handles),
        frameon=False,
        labelcolor=theme.ink,
        markerscale=0.7,
    )
    _names(figure, axes, mapped.marks, theme)
    return figure


def _dress(axes: Axes, mapped: Mapped, theme: Theme) -> None:
    dress(axes, theme)
    title = f"{plain(mapped.scenario.title, 34)}: what the box can reach, {mapped.fitted}"
    axes.set_title(title, color=theme.ink, fontsize=14, fontweight="bold", pad=12)
    axes.set_xlabel("caster (deg), + top rearward", color=theme.ink, fontsize=11)
    axes.set_ylabel("camber straight ahead (deg), + top outward", color=theme.ink, fontsize=11)
    axes.set_axisbelow(True)
    axes.margins(0.09)


def _points(axes: Axes, mapped: Mapped, theme: Theme, dark: bool) -> PathCollection | None:
    spots = mapped.spots
    without = spots.stands & ~spots.known
    if without.any():
        x, y = spots.caster[without], spots.camber[without]
        axes.scatter(x, y, s=18, marker="x", color=theme.ink, alpha=0.5, linewidths=0.8, label="no value")
    shown = spots.stands & spots.known
    if not shown.any():
        return None
    levels = levels_of(spots.value[shown])
    norm = BoundaryNorm(levels, len(levels) - 1)
    colours = colours_of(len(levels) - 1, dark)
    size = float(np.clip(60000.0 / shown.sum(), 16.0, 60.0))
    x, y, values = spots.caster[shown], spots.camber[shown], spots.value[shown]
    _contours(axes, *cell_means(x, y, values), levels[1:-1], theme)
    return axes.scatter(
        x, y, c=values, s=size, cmap=colours, norm=norm, edgecolors=theme.ink, linewidths=EDGE_LINE
    )


def cell_means(x: Array, y: Array, values: Array) -> tuple[Array, Array, Array]:
    """Mean place and mean value of the points (n,) in each cell of a grid over the map."""
    cell = sum(
        (np.minimum(CELLS * (v - v.min()) / max(float(np.ptp(v)), 1e-12), CELLS - 1).astype(int) * CELLS**i)
        for i, v in enumerate((x, y))
    )
    _, place, count = np.unique(cell, return_inverse=True, return_counts=True)
    mean_x, mean_y, mean = (np.bincount(place, weights=v) / count for v in (x, y, values))
    return mean_x, mean_y, mean


def _contours(axes: Axes, x: Array, y: Array, means: Array, levels: Array, theme: Theme) -> None:
    """Lines of equal mean value, labelled; none where too few cells are filled to draw them through."""
    if len(means) < FEWEST_CELLS:
        return
    lines = axes.tricontour(x, y, means, levels=levels, colors=theme.ink, linewidths=1.1, zorder=3)
    halo: list[AbstractPathEffect] = [withStroke(linewidth=3.0, foreground=theme.plate)]
    lines.set_path_effects(halo)
    for text in axes.clabel(lines, fontsize=9, fmt="%g", colors=theme.ink, zorder=3):
        text.set_path_effects(halo)


def levels_of(values: Array) -> Array:
    """Round edges of the colour steps around values (n,), at least two; the outer ones hold every value."""
    low, high = float(values.min()), float(values.max())
    if high - low < LEAST_STEP:
        middle = 0.5 * (low + high)
        low, high = middle - LEAST_STEP, middle + LEAST_STEP
    return np.asarray(MaxNLocator(STEPS, steps=[1, 2, 2.5, 5, 10]).tick_values(low, high), float)


def colours_of(count: int, dark: bool) -> ListedColormap:
    """So many steps of the perceptually uniform map that stand out from the ground."""
    whole = colormaps["viridis"]
    return ListedColormap(whole(np.linspace(*INKS[dark], count)))


def figure_words(mapped: Mapped) -> str:
    """The colouring figure in words, its lock and case, and its unit."""
    address = mapped.address
    stem = address.name.rsplit("_", 1)[0].replace("_", " ")
    words = f"{stem} ({mapped.unit})"
    if address.lock is not None:
        words += f"\nat handwheel {address.lock_deg:g} deg"
    return words if address.case is None else f"{words} in {plain(address.case, 40)}"


def _colour_bar(figure: Figure, axes: Axes, points: PathCollection, mapped: Mapped, theme: Theme) -> None:
    bar = figure.colorbar(points, ax=axes, spacing="proportional", pad=0.02, aspect=32)
    bar.set_label(figure_words(mapped), color=theme.ink, fontsize=11)
    bar.ax.tick_params(colors=theme.ink, labelsize=10)
    bar.outline.set_edgecolor(theme.fine)


def _marks(axes: Axes, marks: Sequence[Mark], theme: Theme) -> None:
    for kind, (shape, size) in SHAPES.items():
        some = [mark for mark in marks if mark.kind == kind]
        if some:
            x, y = [mark.caster for mark in some], [mark.camber for mark in some]
            axes.scatter(
                x,
                y,
                s=size,
                marker=shape,
                facecolor=theme.plate,
                edgecolor=theme.ink,
                linewidth=1.8,
                label=KIND_WORDS[kind],
                zorder=4,
            )


def together(places: Array, marks: Sequence[Mark]) -> list[tuple[Array, str]]:
    """Places (n, 2) of the marks in pixels and their names; marks of one kind that hide each other as one."""
    groups: list[tuple[Array, str, list[str]]] = []
    for place, mark in zip(places, marks, strict=True):
        near = (g for g in groups if g[1] == mark.kind and np.hypot(*(g[0] - place)) < HIDES)
        group = next(near, None)
        if group is None:
            groups.append((place, mark.kind, [mark.name]))
        else:
            group[2].append(mark.name.removeprefix("candidate "))
    return [(place, _joined(names)) for place, _, names in groups]


def _joined(names: Sequence[str]) -> str:
    if len(names) == 1:
        return plain(names[0], NAME_LENGTH)
    return plain(", ".join(shorten(name, NAME_LENGTH) for name in names), 2 * NAME_LENGTH)


def _names(figure: Figure, axes: Axes, marks: Sequence[Mark], theme: Theme) -> None:
    """Name each mark beside it, where the name hides no mark and no other name."""
    figure.draw_without_rendering()
    places = axes.transData.transform([[mark.caster, mark.camber] for mark in marks])
    taken = [Bbox.from_bounds(x - 14.0, y - 14.0, 28.0, 28.0) for x, y in places]
    for place, words in together(places, marks):
        name = _name(axes, words, place, theme)
        extent = name.get_window_extent()
        size = np.array([extent.width, extent.height]) + 2.0 * NAME_PAD
        box = _free(place, size, taken, axes.get_window_extent())
        taken.append(box)
        middle = 0.5 * (np.array(box.min) + np.array(box.max))
        name.set_position(tuple(axes.transData.inverted().transform(middle)))
        ends = axes.transData.inverted().transform([place, middle])
        axes.plot(*ends.T, color=theme.ink, linewidth=0.9, zorder=3.5, scalex=False, scaley=False)


def _name(axes: Axes, words: str, place: Array, theme: Theme) -> Text:
    box = {"boxstyle": "round,pad=0.25", "facecolor": theme.plate, "edgecolor": theme.ink, "lw": 0.6}
    x, y = axes.transData.inverted().transform(place)
    name = axes.text(
        x,
        y,
        words,
        color=theme.ink,
        fontsize=NAME_FONT,
        ha="center",
        va="center",
        zorder=6,
        bbox=box,
    )
    name.set_in_layout(False)
    return name


def _free(place: Array, size: Array, taken: Sequence[Bbox], inside: Bbox) -> Bbox:
    """The nearest place for a name beside a mark that hides least, within the axes; pixels."""
    best, least = Bbox.from_bounds(*(place - 0.5 * size), *size), np.inf
    turns = np.linspace(0.0, 2.0 * np.pi, 16, endpoint=False)
    for reach, turn in product((26.0, 44.0, 66.0, 95.0, 130.0), turns):
        way = np.array([np.cos(turn), np.sin(turn)])
        centre = place + way * (reach + 0.5 * size * np.abs(way))
        box = Bbox.from_bounds(*(centre - 0.5 * size), *size)
        hidden = sum(_overlap(box.padded(3.0), other) for other in taken)
        outside = float(np.prod(box.size)) - _overlap(box, inside)
        cost = hidden + 4.0 * outside + reach
        if cost < least:
            best, least = box, cost
    return best


def _overlap(one: Bbox, other: Bbox) -> float:
    both = Bbox.intersection(one, other)
    return 0.0 if both is None else float(both.width * both.height)
