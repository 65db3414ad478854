"""Bands as a table: every figure of the first answer, or its change, and the ends between which it lies."""

from __future__ import annotations

from collections.abc import Iterator
from math import degrees, isinf

from kinematics.figures.figure import Address
from scenarios.ask.answer import STILL, FirstAnswer
from scenarios.likely.bands import Banded
from viz.tables.grid import Grid, GridColumn, layout
from viz.words.numbers import number
from viz.words.width import filled

NEVER = "never"
LEGEND = f"{NEVER}: the inside rear stays down; of a change, it does so before or after it."
HEADS = ("", "figure", "unit", "value", "from", "to")


def bands_table(told: FirstAnswer, name: str, changes: bool = False) -> list[str]:
    """Every figure of a setting with its band, or with changes what it does to them against the base."""
    of = told.found.change if changes else told.found.of
    columns = [GridColumn((head,), text=at < 3, name=at == 0) for at, head in enumerate(HEADS)]
    rows = [_row(_where(told, one), of(name, one)) for one in told.found.addresses]
    against = f" less {told.found.base}" if changes else ""
    head = f"{name}{against}, 95 of 100 likely karts between:"
    return [*filled(head), *layout(Grid(columns, list(_once(rows)), keys=2)), *filled(LEGEND)]


def _once(rows: list[list[str]]) -> Iterator[list[str]]:
    """The rows, where they are of said once of those that follow each other."""
    before = None
    for where, *rest in rows:
        yield ["" if where == before else where, *rest]
        before = where


def _row(where: str, one: Banded) -> list[str]:
    figure = one.address.figure
    ends = (float(one.band.low), float(one.band.high)) if float(one.band.known) > 0.0 else (None, None)
    said = [_written(value, figure.digits) for value in (one.value, *ends)]
    return [where, figure.label, figure.unit.text, *said]


def _written(value: float | None, digits: int) -> str:
    return NEVER if value is not None and isinf(value) else number(value, digits)


def _where(told: FirstAnswer, address: Address) -> str:
    """Of which moment a figure is: straight ahead, on the scales, or in a corner."""
    if address.case is None:
        return f"straight ahead, {address.side}" if address.side else "straight ahead"
    if address.case == STILL.name:
        return f"standing, {number(degrees(address.lock or 0.0), 0)}°"
    corner = next(one for one in told.corners if address in one.addresses.values())
    return f"{address.case} {corner.way}, {number(degrees(corner.at), 0)}°"
