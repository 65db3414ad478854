"""The summary of a setting's load cases: a line for each case, or one for each way of turning."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from kinematics.figures import turn
from kinematics.figures.figure import Numbers
from scenarios.ask.run import CaseRun, Run
from scenarios.documents.run import figure_value
from scenarios.kit import SIDES
from viz.tables.grid import Grid, GridColumn, layout, under
from viz.words.numbers import number, short
from viz.words.ways import Value, told

if TYPE_CHECKING:
    from kinematics.change.change import Difference

FIGURES = (
    turn.JACKING,
    turn.LIFT_OFF,
    turn.LIFT_OFF_STEER,
    turn.LEAST_LOAD,
    turn.LEAST_LOAD_AT,
    turn.LOAD_AT_LOCK,
    turn.CLEARANCE_AT_LOCK,
    turn.CAMBER_AT_LOCK,
)
"""What is told of a case, turning each way."""
LEGEND = (
    "lock: to the left, to the right, or either where both read alike. jacking: load off the inside rear "
    "per degree of road steer near straight. lifts: handwheel and road steer (deg) at which the inside "
    "rear leaves the road, - it stays down. least: its least load up to the stop, and where. at lock: the "
    "handwheel angle at which the corner is driven; load and air of the inside rear and camber of the "
    "outside front there."
)


def digits() -> list[int]:
    """With how many decimals each of them is shown."""
    return [figure.digits for figure in FIGURES]


def case_columns() -> list[GridColumn]:
    """The columns of the figures, before those at lock where that is."""
    jacking, _, _, least, _, *at_lock = (GridColumn((figure.label, figure.unit.text)) for figure in FIGURES)
    return [
        jacking,
        *under((turn.LIFT_OFF.label,), [GridColumn(("hand-", "wheel")), GridColumn(("", "steer"))]),
        *under(("",), [least, GridColumn((turn.LEAST_LOAD_AT.label, "hand-", "wheel"))]),
        *under(("at lock",), [GridColumn(("deg",)), *at_lock]),
    ]


def any_known(figures: Mapping[str, Numbers] | Mapping[str, Difference]) -> bool:
    """Whether a case tells anything."""
    return any(bool(figures[figure.name(way)].known) for figure in FIGURES for way in SIDES)


def case_cells(values: Sequence[Value], lock: str, write: Callable[[Value, int], str]) -> list[str]:
    """The cells of a case's figures, the lock before those that are read there."""
    cells = [write(value, shown) for value, shown in zip(values, digits(), strict=True)]
    place = FIGURES.index(turn.LOAD_AT_LOCK)
    return [*cells[:place], lock, *cells[place:]]


def case_summary(run: Run) -> list[str]:
    """Headline figures of every load case of a run."""
    columns = [
        GridColumn(("load case", ""), name=True),
        GridColumn(("lock", ""), text=True),
        *case_columns(),
    ]
    return layout(Grid(columns, [row for case in run.cases for row in _rows(case)], keys=2))


def _rows(case: CaseRun) -> Iterator[list[str]]:
    if any_known(case.headline):
        by_way = {way: [figure_value(case.headline[f.name(way)]) for f in FIGURES] for way in SIDES}
        for way, values in told(by_way, digits()).items():
            yield [case.name, way, *case_cells(values, short(case.at_deg), number)]
