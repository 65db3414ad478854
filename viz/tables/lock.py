"""The tables through lock: the geometry of a setting, and how the kart stands in a load case."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from kinematics.figures.figure import Numbers
from scenarios.ask.run import CaseRun, Run
from scenarios.documents.run import column_values
from viz.tables.headline import NONE, number, side_of

BINDS, TIPS = "binds", "tips"
COLUMN_WIDTH = 7
Marks = list[str]


@dataclass(frozen=True)
class Group:
    """Neighbouring columns of a table under one heading."""

    heading: str
    unit: str
    columns: tuple[str, ...]
    decimals: int


def _pair(quantity: str, heading: str, unit: str, decimals: int) -> Group:
    return Group(heading, unit, tuple(f"{quantity}_{side}_{unit}" for side in ("left", "right")), decimals)


GEOMETRY = (
    Group("wheel", "deg", ("handwheel_deg",), 1),
    _pair("steer", "steer", "deg", 1),
    _pair("camber", "camber", "deg", 2),
    _pair("wheel_drop", "wheel drop", "mm", 2),
    _pair("caster_trail", "trail", "mm", 1),
    _pair("scrub", "scrub", "mm", 1),
    Group("lift", "mm", ("rigid_inside_rear_lift_mm",), 2),
    Group("ackm.", "%", ("ackermann_percent",), 0),
    Group("radius", "m", ("path_radius_m",), 1),
)
GEOMETRY_LEGEND = (
    "wheel: handwheel angle, + left. steer: of the road wheel, + left. camber: + top outward.",
    "wheel drop: support point lower than straight ahead, + down. trail, scrub: + axis ahead, + inboard.",
    "lift: inside rear above the plane of the other three wheels, rigid kart. ackm.: 100 is full",
    "Ackermann, - near straight. radius: path of the rear axle's middle, + left.",
)
STANDING = (
    GEOMETRY[0],
    Group("front load", "N", ("load_front_left_n", "load_front_right_n"), 0),
    Group("rear load", "N", ("load_rear_left_n", "load_rear_right_n"), 0),
    Group("lift", "mm", ("inside_rear_clearance_mm",), 2),
    Group("cross", "%", ("cross_weight_percent",), 1),
    Group("lat.", "g", ("lateral_acceleration_g",), 2),
    Group("roll", "deg", ("roll_deg",), 2),
    Group("twist", "deg", ("twist_deg",), 2),
    _pair("standing_camber", "camber", "deg", 2),
    Group("torque", "N·m", ("handwheel_torque_nm",), 1),
    Group("axle", "N·m", ("axle_yaw_moment_nm",), 0),
)
STANDING_LEGEND = (
    "lift: inside rear above the road. cross: share of the weight on front right and rear left.",
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


def geometry_table(run: Run, all_rows: bool = False) -> list[str]:
    """The geometry through lock; a corner that cannot stand there reads 'binds'."""
    rows = _rows(run, all_rows)
    marks = {
        name: _marks(run, (side,) if (side := side_of(name)) else ("left", "right"))
        for group in GEOMETRY
        for name in group.columns
    }
    table = _table(GEOMETRY, run.columns, marks, rows)
    count = len(run.columns["handwheel_deg"].values)
    thinned = [f"{len(rows)} of {count} lock positions; --all-rows shows every one"]
    return [*table, *(thinned if len(rows) < count else [])]


def standing_table(run: Run, case: CaseRun, all_rows: bool = False) -> list[str]:
    """How the kart stands through lock in a load case; 'tips' where it has no resting place."""
    binding = _marks(run, ("left", "right"))
    marks = [BINDS if mark == BINDS else TIPS for mark in binding]
    columns = {"handwheel_deg": run.columns["handwheel_deg"], **case.columns}
    return _table(STANDING, columns, dict.fromkeys(columns, marks), _rows(run, all_rows))


def _rows(run: Run, all_rows: bool) -> list[int]:
    handwheel = run.columns["handwheel_deg"].values
    straight = np.flatnonzero(handwheel == 0.0)
    middle = int(straight[0]) if straight.size else None
    return list(range(len(handwheel))) if all_rows else shown_rows(len(handwheel), middle)


def _marks(run: Run, sides: Sequence[str]) -> Marks:
    """What stands for a missing value at each lock position: 'binds' where one of these corners does."""
    stands = np.logical_and.reduce([run.columns[f"steer_{side}_deg"].known for side in sides])
    return [NONE if ok else BINDS for ok in stands]


def _table(
    groups: Sequence[Group], columns: Mapping[str, Numbers], marks: Mapping[str, Marks], rows: Sequence[int]
) -> list[str]:
    cells = [
        [
            number(v, group.decimals, mark)
            for v, mark in zip(column_values(columns[name]), marks[name], strict=True)
        ]
        for group in groups
        for name in group.columns
    ]
    body = ["".join(cell[row].rjust(COLUMN_WIDTH) for cell in cells) for row in rows]
    return [*_headings(groups), *body]


def _headings(groups: Sequence[Group]) -> list[str]:
    above = "".join(_over(g, g.heading) for g in groups)
    units = "".join(_over(g, g.unit) for g in groups)
    sides = "".join("".join(side_of(name).rjust(COLUMN_WIDTH) for name in g.columns) for g in groups)
    return [line.rstrip() for line in (above, units, sides)]


def _over(group: Group, text: str) -> str:
    width = COLUMN_WIDTH * len(group.columns)
    return text.rjust(width) if len(group.columns) == 1 else "  " + text.center(width - 2)
