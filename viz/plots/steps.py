"""What one usual step of every adjustment is worth: a bar a step, the largest first. Import late: Matplotlib.

The one message is what a step does to the inside rear wheel; small columns beside it say what else it does
and what work it is. Nothing rests on colour alone: what cannot be told is pale, last and without a number.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import degrees, isfinite
from typing import Any

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.transforms import blended_transform_factory

from scenarios.ask.answer import TORQUE, outward
from scenarios.ask.steps import Stepped
from scenarios.likely.bands import Banded
from viz.look.palette import Theme
from viz.plots.lettering import plain as lettered
from viz.plots.paper import dress, sheet, theme_of
from viz.words.numbers import number
from viz.words.sure import Scale, gain, kg, plain

THICK, PALE = 0.62, 0.3
ROW = 0.4
"""Height of a step, inches."""
MARGIN, ROOM = 0.06, 0.45
"""Free beside the bars, and at the right of them for their numbers, as a share of what they span."""
GONE = "stays down", "now lifts"
"""What is written where a step ends or begins the lifting of the inside rear."""


@dataclass(frozen=True)
class Worth:
    """One figure of every step: its short name, what heads it, its unit and which way is which."""

    short: str
    title: str
    unit: str
    scale: Scale = plain


COLUMNS = (
    Worth("load", "Load on the\ninside rear", "kg,\n+ heavier", kg),
    Worth("lifts", "It leaves\nthe road", "° of handwheel,\n+ later"),
    Worth("camber", "Outside-front\ncamber", "degrees,\n+ top outward"),
    Worth(TORQUE, "Handwheel\ntorque", "N·m,\n+ into the turn"),
)


def steps_figure(found: Stepped, dark: bool = False) -> Figure:
    """A bar for every step with its band, the other figures and the minutes beside it; the caller owns it."""
    theme, ranked = theme_of(dark), found.ranked
    figure = sheet(12.8, ROW * len(ranked) + 2.4, theme)
    main, *beside, work = figure.subplots(1, 1 + len(COLUMNS), sharey=True, width_ratios=(4.2, 1, 1, 1, 0.8))
    corner = found.answer.corners[0]
    worth = [{**one, TORQUE: outward(one[TORQUE], corner)} for one in map(found.worth, ranked)]
    lead = _lead(worth)
    _draw(main, lead, worth, theme, whiskers=True)
    for axes, column in zip(beside, [one for one in COLUMNS if one is not lead], strict=True):
        _draw(axes, column, worth, theme)
    _work(work, [found.steps[name].minutes for name in ranked], theme)
    main.set_yticks(range(len(ranked)), [found.steps[name].words for name in ranked])
    main.set_ylim(len(ranked) - 0.4, -0.6)
    _title(figure, found, theme)
    return figure


def _lead(worth: Sequence[Mapping[str, Banded]]) -> Worth:
    """What is drawn large: the load, but where the wheel is in the air anyway where it leaves the road."""
    told = [column for column in COLUMNS[:2] if any(one[column.short].told_apart for one in worth)]
    return next(iter(told), COLUMNS[0])


def _draw(
    axes: Axes, column: Worth, worth: Sequence[Mapping[str, Banded]], theme: Theme, whiskers: bool = False
) -> None:
    """A column's bars from the top down, pale where the band holds 0, with whiskers and numbers if asked."""
    title, unit = (text.replace("\n", " ") if whiskers else text for text in (column.title, column.unit))
    _dress(axes, title, unit, theme)
    each = [one[column.short] for one in worth]
    _span(axes, column, each, whiskers)
    axes.axvline(0.0, color=theme.ink, linewidth=0.8)
    for place, by in enumerate(each):
        if by.value is not None and isfinite(by.value):
            bar = axes.barh(place, column.scale(by.value), THICK, color=theme.strong)
            bar[0].set_alpha(1.0 if by.told_apart else PALE)
            if whiskers:
                _whisker(axes, place, column, by, theme)
        elif by.value is not None:
            _word(axes, place, GONE[by.value < 0.0], theme)
    if all(by.value is None for by in each):
        _word(axes, 0.5 * len(each), "no difference to tell", theme, at=0.4, fontsize=9, rotation=90.0)


def _dress(axes: Axes, title: str, unit: str, theme: Theme) -> None:
    """A panel whose rows need no lines, its bars before the grid."""
    dress(axes, theme, title)
    axes.grid(False, axis="y")
    axes.set_axisbelow(True)
    axes.set_xlabel(unit, color=theme.ink, fontsize=9)
    axes.tick_params(axis="y", length=0)


def _span(axes: Axes, column: Worth, each: Sequence[Banded], whiskers: bool) -> None:
    """As far as bars and whiskers go, 0 within it; what is not worth telling is not drawn large."""
    least = column.scale(each[0].address.figure.worth)
    ends = [0.0]
    for by in each:
        ends += [by.value or 0.0, *((float(by.band.low), float(by.band.high)) if whiskers else ())]
    drawn = [column.scale(end) for end in ends if isfinite(end)]
    low, high = min(*drawn, -least), max(*drawn, least)
    axes.set_xlim(low - MARGIN * (high - low), high + (ROOM if whiskers else MARGIN) * (high - low))


def _whisker(axes: Axes, place: int, column: Worth, by: Banded, theme: Theme) -> None:
    """The band of 95 % of a step, and in a column at the right the number where there is one to tell."""
    least, most = axes.get_xlim()
    low, high = (min(max(column.scale(float(end)), least), most) for end in (by.band.low, by.band.high))
    axes.plot([low, high], [place, place], color=theme.ink, linewidth=1.3, marker="|", markersize=8, zorder=3)
    if by.told_apart:
        _word(axes, place, gain(by, column.scale, band=True), theme, at=0.985, ha="right", fontsize=9)


def _word(axes: Axes, place: float, word: str, theme: Theme, at: float = 0.5, **how: Any) -> None:
    """A word beside a step, so far across the panel, over its lines."""
    across = blended_transform_factory(axes.transAxes, axes.transData)
    ground = {"facecolor": theme.plate, "edgecolor": "none", "pad": 1.0}
    how = {"ha": "center", "fontsize": 8, "bbox": ground, "zorder": 4, **how}
    axes.text(at, place, word, transform=across, color=theme.ink, va="center", **how)


def _work(axes: Axes, minutes: Sequence[int], theme: Theme) -> None:
    """The minutes of every step, each with its number."""
    _dress(axes, "Work", "minutes, toe set\nagain: a guess", theme)
    bars = axes.barh(range(len(minutes)), minutes, THICK, color=theme.soft)
    axes.bar_label(bars, padding=3, color=theme.ink, fontsize=9)
    axes.set_xlim(0.0, 1.4 * max(minutes))


def _title(figure: Figure, found: Stepped, theme: Theme) -> None:
    """What the picture says above it, of which kart and how to read it beneath."""
    corner, answer = found.answer.corners[0], found.answer
    title = f"What one usual step does to the inside rear in {lettered(corner.case.name, 40)}"
    figure.suptitle(title, color=theme.ink, fontsize=14, fontweight="bold")
    of = (
        f"{lettered(answer.scenario.title, 50)}, {lettered(found.base, 24)}: "
        f"{number(degrees(corner.at), 0)}° of handwheel to the {corner.way}, toe set back after each step."
    )
    reads = "A whisker holds 95 of 100 karts measured like this one. Pale: it holds 0, no difference to tell."
    figure.supxlabel(f"{of}\n{reads}", color=theme.ink, fontsize=10)
