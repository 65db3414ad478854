"""Settings against a base as plain text: figures, what is upset, work, lock."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

import numpy as np

from kinematics.change.change import Difference, Differences
from kinematics.figures import kart, standing, wheel
from kinematics.figures.figure import each
from scenarios.ask.compare import WAY_WORDS, WAYS, Against, Compared, one
from scenarios.kit import SIDES
from viz.tables.cases import FIGURES as CASE_FIGURES
from viz.tables.cases import LEGEND as CASE_LEGEND
from viz.tables.cases import any_known, case_cells, case_columns, digits
from viz.tables.grid import Grid, GridColumn, layout, shorten, under
from viz.tables.headline import NAME, fitted_line
from viz.tables.lock import WHEELS, lock_table, parts_of, shown_positions
from viz.tables.work import work_lines
from viz.words.cautions import WITH_WORK
from viz.words.numbers import number, short, signed
from viz.words.ways import Value, told
from viz.words.width import filled, laid

APART = (standing.RIDE_HEIGHT, kart.FRONT_TRACK, kart.WHEELBASE, standing.LOAD, standing.CROSS_WEIGHT)
"""What is told among what is upset and not among the headline figures."""
UPSET = tuple(each((wheel.TOE, kart.TOE_TOTAL_MM, wheel.CAMBER, *APART)))
UNTOLD = (*APART, kart.BINDS_AT, kart.HALF_TRACK, kart.WHEEL_HEIGHT)
UPSET_LEGEND = (
    "Straight ahead. Loads, cross weight (front right and rear left) and ride height (+ frame higher than "
    "as measured) with the kart standing, driver seated. toe: + is toe-in."
)
CHANGES = (
    "change of lifts: - earlier, + later; of a load: - lighter, + heavier; none: one of both stays down."
)
POSITIONS = 6
"""Steps through lock in the tables of differences, at most."""


def report(compared: Compared, way: str) -> Iterator[str]:
    """All that is told of a comparison; way is how the kart is left in the tables of figures."""
    scenario = compared.scenario
    yield from filled(f"{scenario.title} ({scenario.source}), against {compared.base}")
    yield from ["", *headline(compared, way)]
    for against in compared.settings:
        yield from ["", *_one_setting(compared, against)]
    yield from ["", *filled(UPSET_LEGEND)]
    if compared.cases:
        yield from ["", *case_summary(compared, way), "", *filled(f"{CASE_LEGEND} {CHANGES}")]
    yield from ["", *filled(" ".join(WITH_WORK))]


def headline(compared: Compared, way: str) -> list[str]:
    """Headline figures: the base, then each setting with its difference."""
    names = [against.name for against in compared.settings]
    found = [against.ways[way].figures for against in compared.settings]
    rows = [[figures[name] for figures in found] for name in _shown(found[0])]
    return [*filled(f"Headline figures, {WAY_WORDS[way]}:"), *_against_base("", compared.base, names, rows)]


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
    lines = filled(said)
    lines += laid(fitted_line(compared.scenario, against.name, side) for side in ("left", "right"))
    lines += ["", *upset_table(compared, against), "", *work_lines(compared.scenario, against.work)]
    for way in ("alone", "reset"):
        title = f"Through lock, {WAY_WORDS[way]}, {against.name} less {compared.base}:"
        lines += ["", *filled(title), *differences_table(compared, against, way)]
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
        *filled(f"Inside rear load (N), {WAY_WORDS[way]}: now, and less {compared.base}"),
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
    title = f"Load cases, {WAY_WORDS[way]}:"
    keys = [
        GridColumn(("load case", ""), name=True),
        GridColumn(("lock", ""), text=True),
        GridColumn(("setting", ""), name=True),
    ]
    rows = [row for case in compared.cases for row in _case_rows(compared, case, way)]
    return [title, *layout(Grid([*keys, *case_columns()], rows, len(keys)))]


def _case_rows(compared: Compared, case: str, way: str) -> Iterator[list[str]]:
    """The base, then each setting and its change: once, or once for each way of turning."""
    found = [against.ways[way].case_figures[case] for against in compared.settings]
    if not any(any_known(figures) for figures in found):
        return
    by_lock = {side: _case_values(found, side) for side in SIDES}
    size = len(CASE_FIGURES)
    for lock, values in told(by_lock, digits() * (1 + 2 * len(found))).items():
        base, *rest = (values[i : i + size] for i in range(0, len(values), size))
        at = short(compared.locks_deg[case])
        yield [case, lock, compared.base, *case_cells(base, at, number)]
        for against, now, change in zip(compared.settings, rest[::2], rest[1::2], strict=True):
            yield ["", "", against.name, *case_cells(now, at, number)]
            yield ["", "", "  change", *case_cells(change, "", signed)]


def _case_values(found: Sequence[Mapping[str, Difference]], side: str) -> list[Value]:
    """Every figure of a case, lock to one side: of the base, then of each setting, now and change."""
    triples = [[one(figures[figure.name(side)]) for figure in CASE_FIGURES] for figures in found]
    whiches = [(triples[0], 0), *((some, which) for some in triples for which in (1, 2))]
    return [triple[which] for some, which in whiches for triple in some]
