"""Tables of a sweep as plain text, at most 100 characters wide; nothing here prints."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import degrees
from textwrap import wrap
from typing import Any

import numpy as np

from kinematics.columns import Column, Figure
from kinematics.parts import Kart
from viz.payload import Run, column_values, figure_value

WIDTH = 100
BINDS, NONE = "binds", "-"
DECIMALS = {"deg": 2, "mm": 1, "percent": 0, "m": 1}
LABEL, CELL = 28, 9
SETTINGS_ABREAST = (WIDTH - LABEL) // (2 * CELL)
TOE_SIGN = "toe: + is toe-in (much of the kart trade counts toe-out as positive)"


@dataclass(frozen=True)
class Group:
    """Neighbouring columns of the table through lock under one heading."""

    heading: str
    unit: str
    columns: tuple[str, ...]
    decimals: int


def _pair(quantity: str, heading: str, unit: str, decimals: int) -> Group:
    return Group(heading, unit, tuple(f"{quantity}_{side}_{unit}" for side in ("left", "right")), decimals)


THROUGH_LOCK = (
    Group("wheel", "deg", ("handwheel_deg",), 1),
    _pair("steer", "steer", "deg", 1),
    _pair("camber", "camber", "deg", 2),
    _pair("wheel_drop", "wheel drop", "mm", 2),
    _pair("caster_trail", "trail", "mm", 1),
    _pair("scrub", "scrub", "mm", 1),
    Group("rear up", "mm", ("rigid_inside_rear_lift_mm",), 2),
    Group("ackm.", "%", ("ackermann_percent",), 0),
    Group("radius", "m", ("path_radius_m",), 1),
)
LEGEND = (
    "wheel: handwheel angle, + left. steer: of the road wheel, + left. camber: + top outward.",
    "wheel drop: support point lower than straight ahead, + down. trail, scrub: + axis ahead, + inboard.",
    "rear up: inside rear above the plane of the other three wheels, rigid kart. ackm.: 100 is full",
    "Ackermann, - near straight. radius: path of the rear axle's middle, + left.",
)
COLUMN_WIDTH = 7


def number(value: float | None, decimals: int, missing: str = NONE) -> str:
    """A number with fixed decimals and no negative zero; missing where there is none."""
    if value is None:
        return missing
    text = f"{value:.{decimals}f}"
    return text.lstrip("-") if float(text) == 0.0 else text


def shown_rows(count: int, middle: int | None, most: int = 16) -> list[int]:
    """Which of count lock positions a table shows: both ends, straight ahead (middle), even steps if it can.

    At most `most` steps where the count divides; else the nearest step with the end put after it.
    """
    steps = count - 1
    for step in range(1, steps + 1):
        if steps % step == 0 and steps // step <= most and (middle is None or middle % step == 0):
            if steps // step >= most // 2:
                return list(range(0, count, step))
            break
    step = max(1, -(-steps // most))
    return sorted({*range(0, count, step), steps, *(() if middle is None else (middle,))})


def lock_table(run: Run, all_rows: bool = False) -> list[str]:
    """The table through lock of a run, thinned to about a dozen positions unless all_rows."""
    handwheel = run.columns["handwheel_deg"].values
    straight = np.flatnonzero(handwheel == 0.0)
    middle = int(straight[0]) if straight.size else None
    count = len(handwheel)
    rows = list(range(count)) if all_rows else shown_rows(count, middle)
    thinned = (
        [f"{len(rows)} of {count} lock positions; --all-rows shows every one"] if len(rows) < count else []
    )
    return [*through_lock(run.columns, rows), *thinned]


def through_lock(columns: Mapping[str, Column], rows: Sequence[int]) -> list[str]:
    """The table through lock at these positions; a corner that cannot stand there reads 'binds'."""
    lines = _headings(THROUGH_LOCK)
    cells = [_cells(columns[name], g.decimals, columns) for g in THROUGH_LOCK for name in g.columns]
    lines += ["".join(cell[row].rjust(COLUMN_WIDTH) for cell in cells) for row in rows]
    return lines


def _headings(groups: Sequence[Group]) -> list[str]:
    above = "".join(_over(g, g.heading) for g in groups)
    units = "".join(_over(g, g.unit) for g in groups)
    sides = "".join("".join(_side(name).rjust(COLUMN_WIDTH) for name in g.columns) for g in groups)
    return [line.rstrip() for line in (above, units, sides)]


def _over(group: Group, text: str) -> str:
    width = COLUMN_WIDTH * len(group.columns)
    return text.rjust(width) if len(group.columns) == 1 else "  " + text.center(width - 2)


def _side(name: str) -> str:
    return next((side for side in ("left", "right") if f"_{side}_" in name), "")


def _cells(column: Column, decimals: int, columns: Mapping[str, Column]) -> list[str]:
    side = _side(column.name)
    sides = (side,) if side else ("left", "right")
    stands = np.logical_and.reduce([columns[f"steer_{s}_deg"].known for s in sides])
    values = column_values(column)
    if column.name == "handwheel_deg":
        return [number(v, decimals) for v in values]
    return [number(v, decimals, NONE if ok else BINDS) for v, ok in zip(values, stands, strict=True)]


def headline(runs: Sequence[Run]) -> list[str]:
    """The headline block: a row for each figure, left and right beside each other for every setting."""
    lines: list[str] = []
    for start in range(0, len(runs), SETTINGS_ABREAST):
        abreast = runs[start : start + SETTINGS_ABREAST]
        lines += ["", *_headline_block(abreast)] if lines else _headline_block(abreast)
    return [*lines, TOE_SIGN]


def _headline_block(runs: Sequence[Run]) -> list[str]:
    names = "".join(_shortened(run.name, 2 * CELL - 2).center(2 * CELL) for run in runs)
    lines = [
        (" " * LABEL + names).rstrip(),
        " " * LABEL + "".join("left".rjust(CELL) + "right".rjust(CELL) for _ in runs),
    ]
    done: set[str] = set()
    for figure in runs[0].headline.values():
        quantity = figure.name.replace("_left_", "_SIDE_").replace("_right_", "_SIDE_")
        if quantity not in done and not figure.name.startswith("binds_at"):
            lines.append(_headline_row(figure, quantity, runs))
        done.add(quantity)
    return lines


def _headline_row(figure: Figure, quantity: str, runs: Sequence[Run]) -> str:
    stem = quantity.removesuffix(f"_{figure.unit}").removesuffix("_SIDE").replace("_", " ")
    row = f"{stem:<{LABEL - 8}}{figure.unit:<8}"
    for run in runs:
        names = dict.fromkeys(quantity.replace("_SIDE_", f"_{side}_") for side in ("left", "right"))
        cells = [number(figure_value(run.headline[n]), DECIMALS.get(figure.unit, 2)) for n in names]
        row += cells[0].center(2 * CELL + 1) if len(cells) == 1 else "".join(c.rjust(CELL) for c in cells)
    return row.rstrip()


def _shortened(text: str, width: int) -> str:
    return text if len(text) <= width else text[: width - 1] + "…"


def binding_line(run: Run, kart: Kart) -> str:
    """One line that says where a tie rod binds within the mechanical stop, or that none does."""
    stop = degrees(kart.column.stop)
    angles = [figure_value(run.headline[f"binds_at_{way}_lock_deg"]) for way in ("left", "right")]
    found = [f"{number(angle, 2)} deg" for angle in angles if angle is not None and abs(angle) <= stop]
    if angles == [0.0, 0.0]:
        return "binds: a tie rod this long cannot be fitted, not even straight ahead"
    if not found:
        return f"binds: nowhere within the mechanical stop of ±{stop:g} deg"
    return f"binds: a tie rod, at {' and '.join(found)} of handwheel (mechanical stop ±{stop:g} deg)"


def fitted_line(side: str, table: Mapping[str, Any]) -> str:
    """One line for what a corner of a resolved setting has fitted."""
    parts = [f"{bush} {_bush(bush, table)}" for bush in ("top", "bottom")]
    for key, text in (("spacer_shift_mm", "spacer"), ("hub_spacer_mm", "hub spacer")):
        if table.get(key):
            parts.append(f"{text} {table[key]:g} mm")
    if "tie_rod_length_mm" in table:
        parts.append(f"tie rod {table['tie_rod_length_mm']:g} mm")
    elif "tie_rod_toe_deg" in table:
        parts.append(f"tie rod re-set to toe {table['tie_rod_toe_deg']:g} deg")
    else:
        parts.append("tie rod kept")
    return f"{side + ':':<7}" + ", ".join(parts)


def _bush(bush: str, table: Mapping[str, Any]) -> str:
    rated, offset = table.get(f"{bush}_rated_deg"), table.get(f"{bush}_offset_mm")
    if not rated and not offset:
        return "concentric"
    size = f"{rated:g} deg" if rated is not None else f"{offset:g} mm"
    return f"{size} @ {table[f'{bush}_clock_deg']:g}"


def entries(rows: Iterable[tuple[str, str, str]]) -> list[str]:
    """A list of names with unit and meaning, the meaning wrapped under itself."""
    rows = list(rows)
    wide = max(len(name) for name, _, _ in rows) + 2
    lines: list[str] = []
    for name, unit, meaning in rows:
        first, *rest = wrap(meaning, WIDTH - wide - 9) or [""]
        lines.append(f"{name:<{wide}}{unit:<9}{first}".rstrip())
        lines += [" " * (wide + 9) + line for line in rest]
    return lines
