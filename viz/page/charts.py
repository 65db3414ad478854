"""Charts of pages: a quantity of A and B against lock, A solid and B dashed, each curve named at its end.

Each chart is one SVG text with a cursor that the page moves. Left and right wheels differ by colour and by
their labels, A and B by the stroke and by their labels.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import ceil, floor, log10

from kinematics.figures.figure import Figure
from viz.page import svg
from viz.words.numbers import PAGE, short

Values = Sequence[float | None]
Shade = tuple[Values, Values]
WIDTH, HEIGHT = 420.0, 240.0
LEFT, RIGHT, TOP, BOTTOM = 46.0, 350.0, 14.0, 204.0
LINE_HEIGHT = 14.0


@dataclass(frozen=True)
class Chart:
    """One chart: title, unit, and its columns as (name, what it is, class)."""

    key: str
    title: str
    unit: str
    curves: tuple[tuple[str, str, str], ...]


def curves(figure: Figure) -> tuple[tuple[str, str, str], ...]:
    """The curves of a figure: one a side, or a plain one."""
    return tuple((figure.name(side), side, side or "plain") for side in figure.sides)


@dataclass(frozen=True)
class _Scale:
    """From values to the page, for both axes."""

    x: tuple[float, float]
    y: tuple[float, float]

    def at(self, x: float, y: float) -> tuple[float, float]:
        across = (x - self.x[0]) / (self.x[1] - self.x[0])
        up = (y - self.y[0]) / (self.y[1] - self.y[0])
        return LEFT + across * (RIGHT - LEFT), BOTTOM - up * (BOTTOM - TOP)


def ticks(low: float, high: float, count: int = 5) -> list[float]:
    """Round numbers from at or below low to at or above high, about `count` steps of 1, 2 or 5."""
    rough = max(high - low, 1e-6) / count
    power = 10.0 ** floor(log10(rough))
    step = next(s * power for s in (1.0, 2.0, 5.0, 10.0) if s * power >= 0.999 * rough)
    first, last = floor(low / step + 1e-9), ceil(high / step - 1e-9)
    return [round(i * step, 9) for i in range(first, max(last, first + 1) + 1)]


def draw(
    chart: Chart,
    lock: Sequence[float],
    through: Mapping[str, Mapping[str, Values]],
    shades: Mapping[str, Mapping[str, Shade]] | None = None,
) -> str:
    """The chart of A and B: `through` has a table of columns for each, `lock` the handwheel angles, deg.

    shades are the lower and upper ends of where most likely karts lie, drawn behind the curves.
    """
    names = [name for name, _, _ in chart.curves]
    shown = [table[name] for table in through.values() for name in names]
    shown += [end for table in (shades or {}).values() for name in names for end in table[name]]
    known = [value for values in shown for value in values if value is not None]
    marks = ticks(min(known, default=0.0), max(known, default=1.0))
    scale = _Scale((lock[0], lock[-1]), (marks[0], marks[-1]))
    behind = [
        svg.areas(
            [_between(scale, *at) for at in zip(lock, *table[name], strict=True)], class_=f"shade {kind}"
        )
        for table in (shades or {}).values()
        for name, _, kind in chart.curves
    ]
    parts = [_grid(scale, marks), *behind, *_curves(chart, lock, through, scale)]
    cursor = svg.line(LEFT, TOP, LEFT, BOTTOM, class_="cursor", data_from=f"{LEFT}", data_to=f"{RIGHT}")
    return svg.tag(
        "svg",
        "".join((*parts, cursor)),
        viewBox=f"0 0 {WIDTH:g} {HEIGHT:g}",
        role="img",
        aria_label=f"{chart.title} in {chart.unit} against handwheel angle in degrees, A solid and B dashed",
        class_="chart",
    )


def _between(
    scale: _Scale, x: float, low: float | None, high: float | None
) -> tuple[float, float, float] | None:
    """A shade on the page at one lock position: across, its lower and its upper end; None without one."""
    if low is None or high is None:
        return None
    across, down = scale.at(x, low)
    return across, down, scale.at(x, high)[1]


def _grid(scale: _Scale, marks: Sequence[float]) -> str:
    parts = []
    for value in marks:
        _, y = scale.at(scale.x[0], value)
        parts.append(svg.line(LEFT, y, RIGHT, y, class_="zero" if value == 0.0 else "grid"))
        parts.append(svg.words(short(value, 6, PAGE), LEFT - 6.0, y + 4.0, class_="tick", text_anchor="end"))
    for value in ticks(*scale.x, count=6):
        if scale.x[0] <= value <= scale.x[1]:
            x, _ = scale.at(value, marks[0])
            parts.append(svg.line(x, TOP, x, BOTTOM, class_="zero" if value == 0.0 else "grid"))
            text = f"{'+' if value > 0.0 else ''}{short(value, 6, PAGE)}"
            parts.append(svg.words(text, x, BOTTOM + 15.0, class_="tick", text_anchor="middle"))
    parts.append(
        svg.words(
            "handwheel °, left is +", 0.5 * (LEFT + RIGHT), BOTTOM + 31.0, class_="tick", text_anchor="middle"
        )
    )
    return "".join(parts)


def _curves(
    chart: Chart, lock: Sequence[float], through: Mapping[str, Mapping[str, Values]], scale: _Scale
) -> list[str]:
    drawn, ends = [], []
    for slot, table in through.items():
        for name, what, kind in chart.curves:
            points = [None if y is None else scale.at(x, y) for x, y in zip(lock, table[name], strict=True)]
            drawn.append(svg.polylines(points, class_=f"curve {kind} {slot.lower()}"))
            last = next((p for p in reversed(points) if p is not None), None)
            if last is not None:
                ends.append((last[1], f"{slot} {what}".strip(), f"name {kind}"))
    heights = spread([y for y, _, _ in ends])
    names = [
        svg.words(text, RIGHT + 6.0, height + 4.0, class_=kind)
        for height, (_, text, kind) in zip(heights, ends, strict=True)
    ]
    return drawn + names


def spread(heights: Sequence[float]) -> list[float]:
    """The heights moved apart to LINE_HEIGHT, in their order, and kept between top and bottom."""
    order = sorted(range(len(heights)), key=lambda i: heights[i])
    placed = [0.0] * len(heights)
    floor_at = TOP
    for rank, i in enumerate(order):
        room_below = LINE_HEIGHT * (len(order) - 1 - rank)
        placed[i] = max(floor_at, min(heights[i], BOTTOM - room_below))
        floor_at = placed[i] + LINE_HEIGHT
    return placed
