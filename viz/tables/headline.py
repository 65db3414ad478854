"""The headline block and lists as plain text, at most 100 characters wide; nothing here prints."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import degrees
from textwrap import wrap

from kinematics.figures.figure import Numbers
from kinematics.parts import Kart
from scenarios import Scenario
from scenarios.ask.run import Run
from scenarios.documents.run import figure_value
from scenarios.kit import PLACES, bushes

WIDTH = 100
NONE = "-"
DECIMALS = {"deg": 2, "mm": 1, "percent": 0, "m": 1, "mm/deg": 2, "N/deg": 1, "N": 0, "N·m": 1}
SUFFIXES = {"N": "n", "N·m": "nm", "N/deg": "n_per_deg", "mm/deg": "mm_per_deg"}
"""How a unit is written at the end of a name, where not as it is."""
LABEL, CELL = 28, 9
SETTINGS_ABREAST = (WIDTH - LABEL) // (2 * CELL)
NOTES = (
    "toe: + is toe-in (much of the kart trade counts toe-out as positive). jacking rate: rise of a rigid",
    "kart's inside rear per degree of road steer near straight ahead, turning left and turning right",
)


def number(value: float | None, decimals: int, missing: str = NONE) -> str:
    """A number with fixed decimals and no negative zero; missing where there is none."""
    if value is None:
        return missing
    text = f"{value:.{decimals}f}"
    return text.lstrip("-") if float(text) == 0.0 else text


def side_of(name: str) -> str:
    """'left' or 'right' when a column's name says a side, else ''."""
    return next((side for side in ("left", "right") if f"_{side}_" in name), "")


def headline(runs: Sequence[Run]) -> list[str]:
    """The headline block: a row for each figure, left and right beside each other for every setting."""
    lines: list[str] = []
    for start in range(0, len(runs), SETTINGS_ABREAST):
        abreast = runs[start : start + SETTINGS_ABREAST]
        lines += ["", *_headline_block(abreast)] if lines else _headline_block(abreast)
    return [*lines, *NOTES]


def _headline_block(runs: Sequence[Run]) -> list[str]:
    names = "".join(shorten(run.name, 2 * CELL - 2).center(2 * CELL) for run in runs)
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


def _headline_row(figure: Numbers, quantity: str, runs: Sequence[Run]) -> str:
    stem = quantity.removesuffix(f"_{SUFFIXES.get(figure.unit, figure.unit)}").removesuffix("_SIDE")
    row = f"{stem.replace('_', ' '):<{LABEL - 8}}{figure.unit:<8}"
    for run in runs:
        names = dict.fromkeys(quantity.replace("_SIDE_", f"_{side}_") for side in ("left", "right"))
        cells = [number(figure_value(run.headline[n]), DECIMALS.get(figure.unit, 2)) for n in names]
        row += cells[0].center(2 * CELL + 1) if len(cells) == 1 else "".join(c.rjust(CELL) for c in cells)
    return row.rstrip()


def shorten(text: str, width: int) -> str:
    """The text, cut with an ellipsis where it is longer than width."""
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


def entries(rows: Iterable[tuple[str, str, str]], width: int = WIDTH) -> list[str]:
    """A list of names with unit and meaning, the meaning wrapped under itself."""
    rows = list(rows)
    wide = max(len(name) for name, _, _ in rows) + 2
    lines: list[str] = []
    for name, unit, meaning in rows:
        first, *rest = wrap(meaning, width - wide - 9) or [""]
        lines.append(f"{name:<{wide}}{unit:<9}{first}".rstrip())
        lines += [" " * (wide + 9) + line for line in rest]
    return lines
