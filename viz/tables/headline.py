"""The headline block and lists as plain text; nothing here prints."""

from __future__ import annotations

from collections.abc import Sequence
from math import degrees

from kinematics.figures.figure import Figure
from kinematics.figures.kart import BINDS_AT
from kinematics.parts import Kart
from scenarios import Scenario
from scenarios.ask.run import Run
from scenarios.documents.run import figure_value
from scenarios.kit import PLACES, SIDES, bushes
from viz.tables.grid import Grid, GridColumn, layout, shorten, under
from viz.words.numbers import number
from viz.words.width import filled

NAME = 17
"""How much of a setting's name stands over its columns."""
NOTES = (
    "toe: + is toe-in (much of the kart trade counts toe-out as positive). rigid jacking: rise of a rigid "
    "kart's inside rear per degree of road steer near straight ahead, turning left and turning right"
)


def headline(runs: Sequence[Run]) -> list[str]:
    """The headline block: a row for each figure, left and right beside each other for every setting."""
    columns = [GridColumn(text=True), GridColumn(text=True)]
    for run in runs:
        columns += under((shorten(run.name, NAME),), [GridColumn((side,)) for side in SIDES])
    told = (numbers.address.figure for numbers in runs[0].headline.values())
    rows = [_row(figure, runs) for figure in dict.fromkeys(told) if figure is not BINDS_AT]
    return [*layout(Grid(columns, rows, keys=2)), *filled(NOTES)]


def _row(figure: Figure, runs: Sequence[Run]) -> list[str | None]:
    """A figure's label, unit and both sides of every run; one of the whole kart runs over both."""
    row: list[str | None] = [figure.label, figure.unit.text]
    for run in runs:
        values = (figure_value(run.headline[figure.name(side)]) for side in figure.sides)
        row += [*(number(value, figure.digits) for value in values), None][:2]
    return row


def binding_line(run: Run, kart: Kart) -> str:
    """One line that says where a tie rod binds within the mechanical stop, or that none does."""
    stop = degrees(kart.column.stop)
    angles = [figure_value(run.headline[BINDS_AT.name(way)]) for way in SIDES]
    found = [
        f"{number(angle, BINDS_AT.digits)} deg"
        for angle in angles
        if angle is not None and abs(angle) <= stop
    ]
    if angles == [0.0, 0.0]:
        return "binds: a tie rod this long cannot be fitted, not even straight ahead"
    if not found:
        return f"binds: nowhere within the mechanical stop of ±{stop:g} deg"
    return f"binds: a tie rod, at {' and '.join(found)} of handwheel (mechanical stop ±{stop:g} deg)"


def fitted_line(scenario: Scenario, name: str, side: str) -> str:
    """One line for what a setting has fitted at a corner."""
    table, fitted = scenario.resolved["setting"][name][side], bushes(scenario.kit, scenario.settings[name])
    bush = {place: fitted[side, place] for place in PLACES}
    parts = [f"{place} {'concentric' if one.size.centred else one}" for place, one in bush.items()]
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
