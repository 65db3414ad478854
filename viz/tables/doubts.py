"""What a scenario takes on trust, in words: bands of headline figures, what is assumed, what to measure."""

from __future__ import annotations

from collections.abc import Sequence
from math import inf

from scenarios.likely.bands import Banded
from scenarios.likely.doubts import LEAST_SHARE, Doubt, Doubts
from viz.tables.grid import Grid, GridColumn, layout
from viz.words.numbers import number, short
from viz.words.width import filled, width

NEVER = "never"


def doubt_lines(found: Doubts) -> list[str]:
    """As lines of the width there is."""
    heads = ["How sure: 19 in 20 of the karts that the file can mean lie between"]
    figures = [line for figure in found.figures for line in _figure(figure)]
    return [*heads, *figures, *_assumed(found), *_worth(found)]


def _figure(one: Banded) -> list[str]:
    band, unit = one.band, one.address.figure.unit.text
    value, low, high = (_written(one, v) for v in (one.value, float(band.low), float(band.high)))
    share = float(band.never)
    never = f"; {number(100.0 * share, 0)} % of them {NEVER}" if 0.0 < share < 1.0 else ""
    between = f"{value} {unit}, {low} to {high}{never}" if float(band.known) else "no such kart has it"
    text = f"{one.address.words}: {between}"
    return filled(f"  {text}", "    ")


def _written(one: Banded, value: float | None) -> str:
    if value is not None and abs(value) == inf:
        return NEVER
    return number(value, one.address.figure.digits)


def _assumed(found: Doubts) -> list[str]:
    if not found.assumed:
        return ["No number of the kart is assumed."]
    some = [one for one in found.assumed if one.cost >= LEAST_SHARE]
    less = len(found.assumed) - len(some)
    said = f"{len(found.assumed)} numbers are assumed; what each adds to a band, largest first:"
    heads = ("number", "as", "+/-", "adds")
    columns = [GridColumn((head,), text=at in (0, 3)) for at, head in enumerate(heads)]
    rows = [_row(one, [figure.address.figure.label for figure in found.figures]) for one in some]
    table = layout(Grid(columns, rows, len(columns)), width() - 2) if rows else []
    more = [f"  {less} {'more ' if some else ''}below 1 %"] if less else []
    return [said, *(f"  {line}" for line in table), *more]


def _row(one: Doubt, labels: Sequence[str]) -> list[str]:
    known, unit = one.input.uncertain, one.input.unit
    label = labels[one.shares.index(one.cost)]
    adds = f"{number(100.0 * one.cost, 0)} % of {label}"
    return [one.input.name, f"{short(known.value)} {unit}".rstrip(), short(2.0 * known.spread, 2), adds]


def _worth(found: Doubts) -> list[str]:
    if not found.worth:
        return []
    names = ", ".join(f"{one.name} ({number(100.0 * one.share, 0)} %)" for one in found.worth)
    return filled(f"Worth measuring better: {names}.", "  ")
