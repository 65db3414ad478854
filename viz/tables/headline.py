"""The headline block and lists as plain text, at most 100 characters wide; nothing here prints."""

from __future__ import annotations

from collections.abc import Sequence
from math import degrees

from kinematics.figures.figure import Numbers
from kinematics.parts import Kart
from scenarios import Scenario
from scenarios.ask.run import Run
from scenarios.documents.run import figure_value
from scenarios.kit import PLACES, SIDES, bushes
from viz.tables.grid import Grid, GridColumn, layout, shorten, under
from viz.words.numbers import decimals, number

NAME = 17
"""How much of a setting's name stands over its columns."""
SUFFIXES = {"N": "n", "N·m": "nm", "N/deg": "n_per_deg", "mm/deg": "mm_per_deg"}
"""How a unit is written at the end of a name, where not as it is."""
NOTES = (
    "toe: + is toe-in (much of the kart trade counts toe-out as positive). jacking rate: rise of a rigid",
    "kart's inside rear per degree of road steer near straight ahead, turning left and turning right",
)


def side_of(name: str) -> str:
    """'left' or 'right' when a column's name says a side, else ''."""
    return next((side for side in SIDES if f"_{side}_" in name), "")


def headline(runs: Sequence[Run]) -> list[str]:
    """The headline block: a row for each figure, left and right beside each other for every setting."""
    columns = [GridColumn(text=True), GridColumn(text=True)]
    for run in runs:
        columns += under((shorten(run.name, NAME),), [GridColumn((side,)) for side in SIDES])
    rows: dict[str, list[str | None]] = {}
    for figure in runs[0].headline.values():
        quantity = figure.name.replace("_left_", "_SIDE_").replace("_right_", "_SIDE_")
        if quantity not in rows and not figure.name.startswith("binds_at"):
            rows[quantity] = _row(figure, quantity, runs)
    return [*layout(Grid(columns, list(rows.values()), keys=2)), *NOTES]


def _row(figure: Numbers, quantity: str, runs: Sequence[Run]) -> list[str | None]:
    """A figure's label, unit and both sides of every run; one of the whole kart runs over both."""
    names = dict.fromkeys(quantity.replace("_SIDE_", f"_{side}_") for side in SIDES)
    row: list[str | None] = [label(quantity.replace("_SIDE", ""), figure.unit), figure.unit]
    for run in runs:
        told = (figure_value(run.headline[name]) for name in names)
        cells = [number(value, decimals(figure.name, figure.unit)) for value in told]
        row += [*cells, None][:2]
    return row


def label(name: str, unit: str) -> str:
    """A figure's name in words, without its unit."""
    return name.removesuffix(f"_{SUFFIXES.get(unit, unit)}").replace("_", " ")


def binding_line(run: Run, kart: Kart) -> str:
    """One line that says where a tie rod binds within the mechanical stop, or that none does."""
    stop = degrees(kart.column.stop)
    angles = [figure_value(run.headline[f"binds_at_{way}_lock_deg"]) for way in SIDES]
    digits = decimals("binds_at_lock_deg", "deg")
    found = [f"{number(angle, digits)} deg" for angle in angles if angle is not None and abs(angle) <= stop]
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
