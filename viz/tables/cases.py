"""The summary of a setting's load cases: a line for each case and way of turning."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from kinematics.figures import turn
from kinematics.figures.figure import Numbers
from scenarios.ask.run import CaseRun, Run
from scenarios.documents.run import figure_value
from scenarios.kit import SIDES
from viz.tables.grid import Grid, GridColumn, layout, under
from viz.words.numbers import number

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
    "jacking: load off the inside rear per degree of road steer near straight. lifts: handwheel and road",
    "steer (deg) at which the inside rear leaves the road, - it stays down. least: its least load up to",
    "the stop, and where. load, air: of the inside rear. camber: of the outside front.",
)


def case_columns(at: str = "") -> list[GridColumn]:
    """The columns of the figures; `at` says over those at lock where that is."""
    jacking, _, _, least, _, *at_lock = (GridColumn((figure.label, figure.unit.text)) for figure in FIGURES)
    return [
        jacking,
        *under((turn.LIFT_OFF.label,), [GridColumn(("hand-", "wheel")), GridColumn(("", "steer"))]),
        least,
        GridColumn((turn.LEAST_LOAD_AT.label, "hand-", "wheel")),
        *(under((at,), at_lock) if at else at_lock),
    ]


def turns(figures: Mapping[str, Numbers] | Mapping[str, Difference]) -> list[str]:
    """The ways of turning of which a case tells anything."""
    return [way for way in SIDES if any(bool(figures[figure.name(way)].known) for figure in FIGURES)]


def case_summary(run: Run, at_deg: float) -> list[str]:
    """Headline figures of every load case of a run."""
    columns = [
        GridColumn(("load case", ""), name=True),
        GridColumn(("turn", ""), text=True),
        *case_columns(f"at {at_deg:g} deg of handwheel"),
    ]
    rows = [[case.name, way, *_cells(case, way)] for case in run.cases for way in turns(case.headline)]
    return layout(Grid(columns, rows, keys=2))


def _cells(case: CaseRun, way: str) -> list[str]:
    values = (figure_value(case.headline[figure.name(way)]) for figure in FIGURES)
    return [number(value, figure.digits) for figure, value in zip(FIGURES, values, strict=True)]
