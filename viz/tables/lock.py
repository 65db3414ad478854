"""The tables through lock: the geometry of a setting, and how the kart stands in a load case."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from kinematics.figures import kart, standing, wheel
from kinematics.figures.figure import PERCENT, Address, Figure, Numbers
from kinematics.figures.verdict import BINDS, STANDS
from scenarios.ask.run import CaseRun, Run
from scenarios.documents.run import column_values
from scenarios.kit import SIDES
from viz.tables.grid import Grid, GridColumn, layout, under
from viz.words.numbers import TERMINAL, number
from viz.words.width import laid

Marks = list[str]


@dataclass(frozen=True)
class Heading:
    """Figures side by side under one heading, each with its own side below."""

    heads: tuple[str, ...]
    addresses: tuple[Address, ...]

    @property
    def columns(self) -> list[GridColumn]:
        """The columns of the grid."""
        if len(self.addresses) == 1:
            return [GridColumn(self.heads)]
        return under(self.heads, [GridColumn((one.side.split("_")[-1],)) for one in self.addresses])


def heading(figure: Figure, label: str = "", sides: Sequence[str] = ()) -> Heading:
    """A figure with some or all of its sides under its label, or another one, and its unit."""
    addresses = tuple(figure.at(side) for side in sides or figure.sides)
    words, unit = label or figure.label, "%" if figure.unit is PERCENT else figure.unit.text
    return Heading((words, unit) if len(addresses) > 1 else (*words.split(), unit), addresses)


WHEELS = (
    *(heading(figure) for figure in (wheel.STEER, wheel.CAMBER, wheel.WHEEL_DROP)),
    *(heading(figure) for figure in (wheel.CASTER_TRAIL, wheel.SCRUB, kart.RIGID_LIFT)),
)
GEOMETRY = (*WHEELS, heading(kart.ACKERMANN, "ackm."), heading(kart.PATH_RADIUS))
GEOMETRY_LEGEND = (
    "handwheel: its angle, + left. steer: of the road wheel, + left. camber: + top outward. "
    "wheel drop: support point lower than straight ahead, + down. trail, scrub: + axis ahead, + inboard. "
    "rigid lift: inside rear above the plane of the other three wheels, rigid kart. ackm.: 100 is full "
    "Ackermann, - near straight. radius: path of the rear axle's middle, + left."
)
STANDING = (
    heading(standing.LOAD, "front load", ("front_left", "front_right")),
    heading(standing.LOAD, "rear load", ("rear_left", "rear_right")),
    *(heading(figure) for figure in (standing.INSIDE_REAR_CLEARANCE, standing.CROSS_WEIGHT)),
    *(heading(figure) for figure in (standing.LATERAL_G, standing.ROLL, standing.TWIST)),
    heading(standing.STANDING_CAMBER),
    *(heading(figure) for figure in (standing.HANDWHEEL_TORQUE, standing.AXLE_YAW_MOMENT)),
)
STANDING_LEGEND = (
    "air: between the inside rear and the road. cross: share of the weight on front right and rear left. "
    "lat.: lateral acceleration. roll: of the seat, twist: of the frame, + left (front left) side up. "
    "camber: to the road as the kart stands. torque: held at the handwheel, + left. axle: yaw moment of "
    "the one-piece rear axle, + left, a model: it opposes the turn until the inside rear is unloaded."
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
    least = kart.HANDWHEEL.digits
    apart = (d for d in range(least, 9) if len({number(angle, d) for angle in angles}) == len(angles))
    digits = next(apart, least)
    rows = [[number(handwheel_deg[row], digits), *cells(row)] for row in positions]
    return layout(Grid([GridColumn(("hand-", "wheel", "deg")), *columns], rows))


def parts_of(shown: Sequence[Heading]) -> tuple[list[Address], list[GridColumn]]:
    """Addresses and grid columns of all that is shown, in order."""
    return [a for some in shown for a in some.addresses], [c for some in shown for c in some.columns]


def geometry_table(run: Run, all_rows: bool = False) -> list[str]:
    """The geometry through lock; a corner that cannot stand there reads 'binds'."""
    addresses, _ = parts_of(GEOMETRY)
    marks = [_marks(run, (one.side,) if one.side else SIDES) for one in addresses]
    shown, count = len(_positions(run, all_rows)), len(run.handwheel_deg)
    thinned = [f"{shown} of {count} lock positions; --all-rows shows every one"]
    table = _table(run, GEOMETRY, run.columns, marks, all_rows)
    return [*table, *(thinned if shown < count else [])]


def standing_table(run: Run, case: CaseRun, all_rows: bool = False) -> list[str]:
    """How the kart stands through lock in a load case.

    Where it rests on two wheels, held up by wide treads, it reads 'on 2'; where it falls over, 'tips'.
    """
    mark = [TERMINAL.missing if word == STANDS else word for word in case.stands]
    addresses, _ = parts_of(STANDING)
    table = _table(run, STANDING, case.columns, [mark for _ in addresses], all_rows)
    return [*table, *laid([*_twice(run, case), *_falls(case)])]


def _twice(run: Run, case: CaseRun) -> list[str]:
    """At how many lock positions it has two resting places, if at any."""
    twice, count = len(case.rests_twice_at_deg), len(run.handwheel_deg)
    told = "told is the one that it comes to from straight ahead"
    return [f"two resting places at {twice} of {count} lock positions: {told}"] if twice else []


def _falls(case: CaseRun) -> list[str]:
    """Where one resting place ends and the kart falls into another one, if it does."""
    angles = " and ".join(f"{number(angle, kart.HANDWHEEL.digits)} deg" for angle in case.falls_at_deg)
    said = f"falls: turned from straight ahead it falls over to another resting place at {angles}"
    return [said] if angles else []


def _positions(run: Run, all_rows: bool) -> list[int]:
    return list(range(len(run.handwheel_deg))) if all_rows else shown_positions(run.handwheel_deg)


def _marks(run: Run, sides: Sequence[str]) -> Marks:
    """What stands for a missing value at each lock position: 'binds' where one of these corners does."""
    stands = np.logical_and.reduce([run.columns[wheel.STEER.name(side)].known for side in sides])
    return [TERMINAL.missing if ok else BINDS for ok in stands]


def _table(
    run: Run,
    shown: Sequence[Heading],
    found: Mapping[str, Numbers],
    marks: Sequence[Marks],
    all_rows: bool,
) -> list[str]:
    addresses, columns = parts_of(shown)
    values = [column_values(found[one.name]) for one in addresses]
    told = list(zip(values, (one.figure.digits for one in addresses), marks, strict=True))
    return lock_table(
        columns,
        run.handwheel_deg,
        _positions(run, all_rows),
        lambda row: [number(some[row], digits, mark[row]) for some, digits, mark in told],
    )
