"""The tables through lock: the geometry of a setting, and how the kart stands in a load case."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from kinematics.figures.figure import Numbers
from scenarios.ask.run import CaseRun, Run
from scenarios.documents.run import column_values
from scenarios.kit import SIDES
from viz.tables.grid import Grid, GridColumn, layout, under
from viz.tables.headline import side_of
from viz.words.numbers import TERMINAL, decimals, number

BINDS, TIPS = "binds", "tips"
HANDWHEEL = "handwheel_deg"
Marks = list[str]


@dataclass(frozen=True)
class Heading:
    """Columns of a run side by side under one heading, each with its own side below."""

    heads: tuple[str, ...]
    names: tuple[str, ...]

    @property
    def columns(self) -> list[GridColumn]:
        """The columns of the grid."""
        if len(self.names) == 1:
            return [GridColumn(self.heads)]
        return under(self.heads, [GridColumn((side_of(name),)) for name in self.names])


def _pair(quantity: str, heading: str, unit: str, suffix: str = "") -> Heading:
    return Heading((heading, unit), tuple(f"{quantity}_{side}_{suffix or unit}" for side in SIDES))


WHEELS = (
    _pair("steer", "steer", "deg"),
    _pair("camber", "camber", "deg"),
    _pair("wheel_drop", "wheel drop", "mm"),
    _pair("caster_trail", "trail", "mm"),
    _pair("scrub", "scrub", "mm"),
    Heading(("rigid", "lift", "mm"), ("rigid_inside_rear_lift_mm",)),
)
GEOMETRY = (
    *WHEELS,
    Heading(("ackm.", "%"), ("ackermann_percent",)),
    Heading(("radius", "m"), ("path_radius_m",)),
)
GEOMETRY_LEGEND = (
    "handwheel: its angle, + left. steer: of the road wheel, + left. camber: + top outward.",
    "wheel drop: support point lower than straight ahead, + down. trail, scrub: + axis ahead, + inboard.",
    "rigid lift: inside rear above the plane of the other three wheels, rigid kart. ackm.: 100 is full",
    "Ackermann, - near straight. radius: path of the rear axle's middle, + left.",
)
STANDING = (
    _pair("load_front", "front load", "N", "n"),
    _pair("load_rear", "rear load", "N", "n"),
    Heading(("air", "mm"), ("inside_rear_clearance_mm",)),
    Heading(("cross", "%"), ("cross_weight_percent",)),
    Heading(("lat.", "g"), ("lateral_acceleration_g",)),
    Heading(("roll", "deg"), ("roll_deg",)),
    Heading(("twist", "deg"), ("twist_deg",)),
    _pair("standing_camber", "camber", "deg"),
    Heading(("torque", "N·m"), ("handwheel_torque_nm",)),
    Heading(("axle", "N·m"), ("axle_yaw_moment_nm",)),
)
STANDING_LEGEND = (
    "air: between the inside rear and the road. cross: share of the weight on front right and rear left.",
    "lat.: lateral acceleration. roll: of the seat, twist: of the frame, + left (front left) side up.",
    "camber: to the road as the kart stands. torque: held at the handwheel, + left. axle: yaw moment of",
    "the one-piece rear axle, + left, a model: it opposes the turn until the inside rear is unloaded.",
)


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


def shown_positions(handwheel_deg: Sequence[float], most: int = 16) -> list[int]:
    """Which of these lock positions a table shows."""
    straight = np.flatnonzero(np.asarray(handwheel_deg) == 0.0)
    return shown_rows(len(handwheel_deg), int(straight[0]) if straight.size else None, most)


def lock_table(
    columns: Sequence[GridColumn],
    handwheel_deg: Sequence[float],
    positions: Sequence[int],
    cells: Callable[[int], Sequence[str]],
) -> list[str]:
    """A table through lock: the handwheel's angle, and cells (of a lock position) under the columns.

    The angle has decimals enough for no two rows to read alike.
    """
    angles = [handwheel_deg[row] for row in positions]
    least = decimals(HANDWHEEL, "deg")
    apart = (d for d in range(least, 9) if len({number(angle, d) for angle in angles}) == len(angles))
    digits = next(apart, least)
    rows = [[number(handwheel_deg[row], digits), *cells(row)] for row in positions]
    return layout(Grid([GridColumn(("hand-", "wheel", "deg")), *columns], rows))


def names_and_columns(shown: Sequence[Heading]) -> tuple[list[str], list[GridColumn]]:
    """Names and grid columns of all that is shown, in order."""
    return [n for some in shown for n in some.names], [c for some in shown for c in some.columns]


def geometry_table(run: Run, all_rows: bool = False) -> list[str]:
    """The geometry through lock; a corner that cannot stand there reads 'binds'."""
    names, columns = names_and_columns(GEOMETRY)
    marks = {name: _marks(run, (side,) if (side := side_of(name)) else SIDES) for name in names}
    positions, count = _positions(run, all_rows), len(run.columns[HANDWHEEL].values)
    thinned = [f"{len(positions)} of {count} lock positions; --all-rows shows every one"]
    table = _table(run, positions, columns, [run.columns[name] for name in names], marks)
    return [*table, *(thinned if len(positions) < count else [])]


def standing_table(run: Run, case: CaseRun, all_rows: bool = False) -> list[str]:
    """How the kart stands through lock in a load case; 'tips' where it has no resting place."""
    names, columns = names_and_columns(STANDING)
    mark = [BINDS if mark == BINDS else TIPS for mark in _marks(run, SIDES)]
    shown = [case.columns[name] for name in names]
    return _table(run, _positions(run, all_rows), columns, shown, dict.fromkeys(names, mark))


def _positions(run: Run, all_rows: bool) -> list[int]:
    handwheel = run.columns[HANDWHEEL].values.tolist()
    return list(range(len(handwheel))) if all_rows else shown_positions(handwheel)


def _marks(run: Run, sides: Sequence[str]) -> Marks:
    """What stands for a missing value at each lock position: 'binds' where one of these corners does."""
    stands = np.logical_and.reduce([run.columns[f"steer_{side}_deg"].known for side in sides])
    return [TERMINAL.missing if ok else BINDS for ok in stands]


def _table(
    run: Run,
    positions: Sequence[int],
    columns: Sequence[GridColumn],
    shown: Sequence[Numbers],
    marks: Mapping[str, Marks],
) -> list[str]:
    told = [
        (column_values(column), decimals(column.name, column.unit), marks[column.name]) for column in shown
    ]
    handwheel = run.columns[HANDWHEEL].values.tolist()
    return lock_table(
        columns,
        handwheel,
        positions,
        lambda row: [number(values[row], digits, mark[row]) for values, digits, mark in told],
    )
