"""The summary of a setting's load cases: a line for each case and way of turning."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from kinematics.figures.figure import Numbers
from scenarios.ask.run import CaseRun, Run
from scenarios.documents.run import figure_value
from scenarios.kit import SIDES
from viz.tables.grid import Grid, GridColumn, layout, under
from viz.words.numbers import decimals, number

if TYPE_CHECKING:
    from kinematics.change.change import Difference

FIGURES = (
    "jacking_rate_{}_n_per_deg",
    "lift_off_handwheel_{}_deg",
    "lift_off_steer_{}_deg",
    "least_inside_rear_load_{}_n",
    "least_inside_rear_load_at_{}_deg",
    "inside_rear_load_at_lock_{}_n",
    "inside_rear_clearance_at_lock_{}_mm",
    "outside_front_camber_at_lock_{}_deg",
)
"""What is told of a case, by name without the way of turning."""
LEGEND = (
    "jacking: load off the inside rear per degree of road steer near straight. lifts: handwheel and road",
    "steer (deg) at which the inside rear leaves the road, - it stays down. least: its least load up to",
    "the stop, and where. load, air: of the inside rear. camber: of the outside front.",
)


def case_columns(at: str = "") -> list[GridColumn]:
    """The columns of the figures; `at` says over those at lock where that is."""
    at_lock = [GridColumn(heads) for heads in (("load", "N"), ("air", "mm"), ("camber", "deg"))]
    return [
        GridColumn(("jacking", "N/deg")),
        *under(("lifts",), [GridColumn(("hand-", "wheel")), GridColumn(("", "steer"))]),
        GridColumn(("least", "N")),
        GridColumn(("at", "hand-", "wheel")),
        *(under((at,), at_lock) if at else at_lock),
    ]


def turns(figures: Mapping[str, Numbers] | Mapping[str, Difference]) -> list[str]:
    """The ways of turning of which a case tells anything."""
    return [way for way in SIDES if any(bool(figures[name.format(way)].known) for name in FIGURES)]


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
    figures = [case.headline[name.format(way)] for name in FIGURES]
    return [number(figure_value(figure), decimals(figure.name, figure.unit)) for figure in figures]
