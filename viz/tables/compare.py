"""Settings against a base as plain text: figures, what is upset, work, lock."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from textwrap import wrap

import numpy as np

from kinematics.change.change import Difference, Differences
from kinematics.figures import kart, standing, wheel
from kinematics.figures.figure import each
from scenarios.ask.compare import WAY_WORDS, WAYS, Against, Compared, one
from scenarios.kit import SIDES
from viz.tables.cases import FIGURES as CASE_FIGURES
from viz.tables.cases import LEGEND as CASE_LEGEND
from viz.tables.cases import case_columns, turns
from viz.tables.grid import WIDTH, Grid, GridColumn, layout, shorten, under
from viz.tables.headline import NAME, fitted_line
from viz.tables.lock import WHEELS, lock_table, parts_of, shown_positions
from viz.tables.work import work_lines
from viz.words.cautions import WITH_WORK
from viz.words.numbers import number, signed

APART = (standing.RIDE_HEIGHT, kart.FRONT_TRACK, kart.WHEELBASE, standing.LOAD, standing.CROSS_WEIGHT)
"""What is told among what is upset and not among the headline figures."""
UPSET = tuple(each((wheel.TOE, kart.TOE_TOTAL_MM, wheel.CAMBER, *APART)))
UNTOLD = (*APART, kart.BINDS_AT, kart.HALF_TRACK, kart.WHEEL_HEIGHT)
UPSET_LEGEND = (
    "Straight ahead. Loads, cross weight (front right and rear left) and ride height (+ frame higher than",
    "as measured) with the kart standing, driver seated. toe: + is toe-in.",
)
POSITIONS = 6
"""Steps through lock in the tables of differences, at most."""


def report(compared: Compared, way: str) -> Iterator[str]:
    """All that is told of a comparison; way is how the kart is left in the tables of figures."""
    scenario = compared.scenario
    yield from wrap(f"{scenario.title} ({scenario.source}), against {compared.base}", WIDTH)
    yield from ["", *headline(compared, way)]
    for against in compared.settings:
        yield from ["", *_one_setting(compared, against)]
    yield from ["", *UPSET_LEGEND]
    if compared.cases:
        yield from ["", *case_summary(compared, way), "", *CASE_LEGEND]
    yield from ["", *wrap(" ".join(WITH_WORK), WIDTH)]


def headline(compared: Compared, way: str) -> list[str]:
    """Headline figures: the base, then each setting with its difference."""
    names = [against.name for against in compared.settings]
    found = [against.ways[way].figures for against in compared.settings]
    rows = [[figures[name] for figures in found] for name in _shown(found[0])]
    return [f"Headline figures, {WAY_WORDS[way]}:", *_against_base("", compared.base, names, rows)]


def _shown(figures: Differences) -> Iterator[str]:
    """Names of the headline figures."""
    return (name for name, figure in figures.items() if figure.address.figure not in UNTOLD)


def _against_base(
    corner: str, base: str, names: Sequence[str], rows: Iterable[Sequence[Difference]]
) -> list[str]:
    """A row for each figure: the base, then its value and difference in each of the named columns."""
    columns = [GridColumn((corner,), text=True), GridColumn(text=True), GridColumn((shorten(base, NAME),))]
    columns += [column for name in names for column in _pair(name)]
    return layout(Grid(columns, [_figure_row(figures) for figures in rows], keys=3))


def _figure_row(figures: Sequence[Difference]) -> list[str]:
    address, told = figures[0].address, [one(figure) for figure in figures]
    digits = address.figure.digits
    label = f"{address.figure.label} {address.side.replace('_', ' ')}".rstrip()
    base = next((base for base, _, _ in told if base is not None), None)
    pairs = (cell for _, now, change in told for cell in (number(now, digits), signed(change, digits)))
    return [label.replace("inclination", "incl."), figures[0].unit, number(base, digits), *pairs]


def _one_setting(compared: Compared, against: Against) -> list[str]:
    fitted = compared.scenario.resolved["setting"][against.name]
    said = f"{against.name}: {fitted['note']}" if fitted["note"] else against.name
    lines = wrap(said, WIDTH) + [
        fitted_line(compared.scenario, against.name, side) for side in ("left", "right")
    ]
    lines += ["", *upset_table(compared, against), "", *work_lines(compared.scenario, against.work)]
    for way in ("alone", "reset"):
        title = f"Through lock, {WAY_WORDS[way]}, {against.name} less {compared.base}:"
        lines += ["", *wrap(title, WIDTH), *differences_table(compared, against, way)]
    if compared.cases:
        lines += ["", *case_lock_table(compared, against, "reset")]
    return lines


def upset_table(compared: Compared, against: Against) -> list[str]:
    """What the change upsets, in all three ways of leaving the kart."""
    names = ("rods alone", "toe re-set", "spacers + toe")
    rows = [[against.ways[way].figures[one.name] for way in WAYS] for one in UPSET]
    return _against_base("What it upsets", compared.base, names, rows)


def at(difference: Difference, row: int) -> tuple[float | None, float | None]:
    """Now and change of a column at a lock position, None where there is none."""
    known = bool(np.broadcast_to(difference.known, difference.now.shape)[row])
    return (float(difference.now[row]), float(difference.change[row])) if known else (None, None)


def differences_table(compared: Compared, against: Against, way: str) -> list[str]:
    """Differences of the geometry at some lock positions."""
    addresses, columns = parts_of(WHEELS)
    curves = [against.ways[way].curves[one.name] for one in addresses]
    positions = shown_positions(compared.handwheel_deg, POSITIONS)
    return lock_table(
        columns, compared.handwheel_deg, positions, lambda row: [_cells(c, row)[1] for c in curves]
    )


def case_lock_table(compared: Compared, against: Against, way: str) -> list[str]:
    """The inside rear's load at some lock positions in each load case, and its difference."""
    loads = [against.ways[way].cases[case][standing.INSIDE_REAR_LOAD.name()] for case in compared.cases]
    columns = [column for case in compared.cases for column in _pair(case)]
    positions = shown_positions(compared.handwheel_deg, POSITIONS)
    return [
        f"Inside rear load (N), {WAY_WORDS[way]}: now, and less {compared.base}",
        *lock_table(
            columns,
            compared.handwheel_deg,
            positions,
            lambda row: [cell for load in loads for cell in _cells(load, row)],
        ),
    ]


def _pair(name: str) -> list[GridColumn]:
    """Columns for a value and its difference under a name."""
    return under((shorten(name, NAME),), [GridColumn(), GridColumn()])


def _cells(difference: Difference, row: int) -> tuple[str, str]:
    """A column's value and difference at a lock position."""
    now, change = at(difference, row)
    digits = difference.address.figure.digits
    return number(now, digits), signed(change, digits)


def case_summary(compared: Compared, way: str) -> list[str]:
    """Headline figures of every load case: the base, each setting, and each setting's difference."""
    title = f"Load cases, {WAY_WORDS[way]}; load, air and camber at {compared.at_deg:g} deg of handwheel:"
    keys = [
        GridColumn(("load case", ""), name=True),
        GridColumn(("turn", ""), text=True),
        GridColumn(("setting", ""), name=True),
    ]
    rows = [row for case in compared.cases for row in _case_rows(compared, case, way)]
    return [title, *layout(Grid([*keys, *case_columns()], rows, len(keys)))]


def _case_rows(compared: Compared, case: str, way: str) -> Iterator[list[str]]:
    found = [against.ways[way].case_figures[case] for against in compared.settings]
    told = {turn for figures in found for turn in turns(figures)}
    for turn in (side for side in SIDES if side in told):
        yield [case, turn, compared.base, *_case_cells(found[0], turn, 0)]
        for against, figures in zip(compared.settings, found, strict=True):
            yield ["", "", against.name, *_case_cells(figures, turn, 1)]
            yield ["", "", "  change", *_case_cells(figures, turn, 2)]


def _case_cells(figures: Mapping[str, Difference], turn: str, which: int) -> list[str]:
    """Base (0), now (1) or change (2) of every figure of a case."""
    write = signed if which == 2 else number
    return [write(one(figures[figure.name(turn)])[which], figure.digits) for figure in CASE_FIGURES]
