"""What a scenario takes on trust, in words: bands of headline figures, what is assumed, what to measure."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import degrees, inf, isinf

from scenarios import Scenario
from scenarios.likely.bands import Banded
from scenarios.likely.doubts import LEAST_SHARE, Doubt, Doubts
from viz.tables.grid import Grid, GridColumn, layout
from viz.words.numbers import number, short
from viz.words.sure import kg, magnitude
from viz.words.width import filled, laid, width

NEVER = "never"


COSTLY, COST = 3, 0.05
"""So many assumed numbers are told first, at most, and what one costs at least that is told of."""


def check_answer(scenario: Scenario, found: Doubts, warnings: int) -> list[str]:
    """What is told first of a file: whether it holds, how sure its figures are, what to measure for more."""
    holds = f"{warnings} warning{'' if warnings == 1 else 's'}" if warnings else "no warnings"
    lines = [
        f"{scenario.source}: {scenario.title}: no errors, {holds}; from {scenario.default_setting}:",
        *(f"  {line}" for line in _told_first(found.figures)),
        "± holds 95 of 100 karts that the file can mean.",
        *_costly(found.assumed),
        *_worth(found),
    ]
    return laid(lines)


def _told_first(figures: Sequence[Banded]) -> Iterator[str]:
    """The inside rear in a corner, how fast it unloads, and where it leaves the road."""
    load, jacking, lifts = figures
    at = "" if load.address.lock is None else f", {number(degrees(abs(load.address.lock)), 0)}°"
    carries = "has no number" if load.value is None else f"carries {magnitude(load, 'kg', kg)}"
    yield f"{load.address.case}{at} {load.address.side}: the inside rear {carries}."
    if jacking.value is not None:
        yield f"Near straight ahead it loses {magnitude(jacking, 'N')} a degree of road steer."
    if lifts.value is None:
        yield f"{lifts.address.case} {lifts.address.side}: where it leaves the road has no number."
        return
    never = float(lifts.band.never)
    doubt = f"; {number(100.0 * never, 0)} in 100 never" if 0.005 < never < 1.0 else ""
    said = "it stays down" if isinf(lifts.value) else f"it leaves the road at {magnitude(lifts, '°')}"
    yield f"{lifts.address.case} {lifts.address.side}: {said}{doubt}."


def _costly(assumed: Sequence[Doubt]) -> Iterator[str]:
    """How many numbers are assumed, and which of them cost most."""
    if not assumed:
        yield "No number of the kart is assumed."
        return
    costly = [one for one in assumed if one.cost >= COST][:COSTLY]
    named = ", ".join(f"{one.input.name} ({number(100.0 * one.cost, 0)} %)" for one in costly)
    count = "1 number is assumed" if len(assumed) == 1 else f"{len(assumed)} numbers are assumed"
    yield f"{count}; they add {f'most to the doubt: {named}' if costly else 'next to nothing to the doubt'}."


def doubt_lines(found: Doubts) -> list[str]:
    """All of it, as lines of the width there is."""
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
