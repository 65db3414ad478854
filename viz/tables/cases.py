"""The summary of a setting's load cases: a line for each case and way of turning."""

from __future__ import annotations

from scenarios.ask.run import CaseRun, Run
from scenarios.documents.run import figure_value
from viz.tables.headline import number, shorten

NAME, WAY = 24, 7
COLUMNS = (
    ("jacking_rate_{}_n_per_deg", "jacking", "N/deg", 1),
    ("lift_off_handwheel_{}_deg", "lifts", "wheel", 1),
    ("lift_off_steer_{}_deg", "lifts", "steer", 1),
    ("least_inside_rear_load_{}_n", "least", "N", 0),
    ("least_inside_rear_load_at_{}_deg", "at", "wheel", 1),
    ("inside_rear_load_at_lock_{}_n", "load", "N", 0),
    ("inside_rear_clearance_at_lock_{}_mm", "lift", "mm", 1),
    ("outside_front_camber_at_lock_{}_deg", "camber", "deg", 2),
)
LEGEND = (
    "jacking: load off the inside rear per degree of road steer near straight. lifts: handwheel and road",
    "steer (deg) at which the inside rear leaves the road, - it stays down. least: its least load up to",
    "the stop, and where. load, lift: of the inside rear. camber: of the outside front.",
)
CELL = 8


def case_summary(run: Run, at_deg: float) -> list[str]:
    """Headline figures of every load case of a run, at most 100 characters wide."""
    at = f"at {at_deg:g} deg of handwheel"
    lines = [
        " " * (NAME + WAY + 5 * CELL) + at.center(3 * CELL).rstrip(),
        f"{'load case':<{NAME}}{'turn':<{WAY}}" + "".join(above.rjust(CELL) for _, above, _, _ in COLUMNS),
        " " * (NAME + WAY) + "".join(unit.rjust(CELL) for _, _, unit, _ in COLUMNS),
    ]
    for case in run.cases:
        lines += [_line(case, way) for way in ("left", "right") if _turns(case, way)]
    return lines


def _turns(case: CaseRun, way: str) -> bool:
    return any(bool(case.headline[name.format(way)].known) for name, *_ in COLUMNS)


def _line(case: CaseRun, way: str) -> str:
    figures = (figure_value(case.headline[name.format(way)]) for name, *_ in COLUMNS)
    cells = (number(f, decimals) for f, (*_, decimals) in zip(figures, COLUMNS, strict=True))
    return f"{shorten(case.name, NAME - 1):<{NAME}}{way:<{WAY}}" + "".join(cell.rjust(CELL) for cell in cells)
