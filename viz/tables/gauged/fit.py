"""A fit in words: what is surer now, what cannot be told apart, what does not fit; and as tables."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial
from itertools import combinations
from math import isfinite

from scenarios.gauged.fit import COVERED, Fit, FittedNumber
from scenarios.gauged.suspects import Suspect
from scenarios.gauged.told import FitTold
from scenarios.gauged.written import told as spoken_of
from scenarios.likely.bands import Banded
from viz.tables.grid import Grid, GridColumn, layout
from viz.words.numbers import PAGE, number, signed
from viz.words.sure import decimals, ends
from viz.words.width import MOST_LINES, laid, shortest

TIES = 8
"""Pairs of numbers that are told, of those most tied together."""
SURER = 0.8
"""Of what was not known before, what is left of a number that is told as surer now."""
AGREE, HARDLY, TOO_WELL = 0.05, 0.001, 0.999
"""How often chance would leave so large a sum of misses, where it is told in other words."""


def report(told: FitTold, tables: bool, after: Sequence[str] = ()) -> list[str]:
    """The first answer with lines that stand after it, and with tables every number and reading."""
    versions = [partial(_answer, told, most) for most in (4, 3, 2, 1)]
    answer = shortest(versions, MOST_LINES - len(after))
    found = told.fit
    return [
        *answer,
        *after,
        *(["", *_numbers(found), "", *_ties(found), "", *_readings(found)] if tables else []),
    ]


def _answer(told: FitTold, most: int) -> list[str]:
    found = told.fit
    without = f", {told.left_out} without a value left out" if told.left_out else ""
    count = len(found.readings)
    head = f"{found.scenario.title}: {count} reading{'s'[: count != 1]}{without}."
    return [
        head,
        *_surer(found, most),
        *_together(found, 1 + (most > 3)),
        *_sides(told, most),
        _agreement(found),
        *_wrong(told, max(1, most - 2)),
        *_figures(told),
    ]


def answer(told: FitTold, most: int) -> list[str]:
    """How the readings agree, what is surer now and what is told only together, a line each, for a page that
    draws the readings and the bands itself; most is of the numbers told."""
    found = told.fit
    lines = [_agreement(found), *_upside_down(told), *_surer(found, most), *_together(found, 1)]
    return [line.strip() for line in lines]


def _surer(found: Fit, most: int) -> Iterator[str]:
    """The numbers that are told best, and of how many nothing is said."""
    told = sorted(spoken_of(found), key=lambda one: one.kept)
    best = [one for one in told if one.kept < SURER][:most]
    for one in best:
        was = f" (was {_sure(one.was, one.was_sure)})" if isfinite(one.was_sure) else ""
        yield f"  {one.name} {_sure(one.value, one.sure)} {one.unit}".rstrip() + f"{was}."
    less, nothing = len(told) - len(best), len(found.numbers) - len(told)
    more = [f"a little of {less} more" if best else f"little of {less} numbers"] if less else []
    none = [f"nothing of {nothing}"] if nothing else []
    if more or none:
        yield f"  The readings say {' and '.join([*more, *none])}."


def _sure(value: float, spread: float) -> str:
    half = COVERED * spread
    places = decimals(half, 4)
    return f"{number(value, places, hand=PAGE)} ± {number(half, places)}"


def _together(found: Fit, most: int) -> Iterator[str]:
    groups = found.together
    if not groups:
        return
    said = [" with ".join(found.names_of(one)[:3]) for one in groups[:most]]
    more = f", and {len(groups) - most} more" if len(groups) > most else ""
    yield f"  Told only together, not apart: {'; '.join(said)}{more}."


def _sides(told: FitTold, most: int) -> Iterator[str]:
    if not told.sides:
        return
    bent = [one for one in told.sides if one.beyond]
    if not bent:
        yield "  Left and right differ by no more than the readings' error."
    for one in bent[: max(1, most - 2)]:
        again = (
            f" or measured wrong: take {one.first.line}, {one.first.words}, again first" if one.first else ""
        )
        by = f"left {_apart(one.value, one.sure)} {one.unit} more than right"
        yield f"  {one.name}: {by}: a bent part{again}."
    if len(bent) > max(1, most - 2):
        yield f"  {len(bent) - max(1, most - 2)} more numbers differ beyond error."


def _apart(value: float, spread: float) -> str:
    places = decimals(COVERED * spread, 3)
    return f"{signed(value, places, hand=PAGE)} ± {number(COVERED * spread, places)}"


def _agreement(found: Fit) -> str:
    if not found.found.sharp:
        return "  The search came to no end: these numbers are no answer. Fewer numbers, or more readings."
    chance, of = found.chance, f"chi-square {number(found.chi_square, 0)}, {found.freedom} expected"
    if chance < HARDLY:
        return f"  They do not agree with one kart ({of}): a reading is wrong, or surer than it is."
    if chance < AGREE:
        return f"  They hardly agree with one kart ({of}): look at the worst."
    if chance > TOO_WELL:
        return f"  They agree better than they are said to be sure ({of})."
    return f"  They agree with one kart ({of})."


def _wrong(told: FitTold, most: int) -> Iterator[str]:
    yield from _upside_down(told)
    for suspect in told.suspects[:most]:
        yield _suspected(suspect)
    if len(told.suspects) > most:
        yield f"  {len(told.suspects) - most} more do not fit: --tables."


def _upside_down(told: FitTold) -> Iterator[str]:
    for one in told.upside_down[:1]:
        yield f"  Clocks of {one.setting} were read from below? Turned over, its readings fit much better."


def _suspected(suspect: Suspect) -> str:
    one = suspect.reading
    return f"  {one.line}, {one.words}: {verdict(suspect)}"


def verdict(suspect: Suspect) -> str:
    """What a reading that does not fit says, what the others say, and what may have gone wrong."""
    one = suspect.reading
    unit = "" if one.of_number else f" {one.kind.unit}"
    may = f": {' or '.join(suspect.reasons[:2])}?" if suspect.reasons else ": read it again."
    places = decimals(COVERED * suspect.sure, 3)
    value, should_be = (number(v, places, hand=PAGE) for v in (one.value, suspect.should_be))
    return f"{value}{unit}, the others say {should_be}{may}"


def _figures(told: FitTold) -> Iterator[str]:
    for before, after in zip(told.before, told.after, strict=True):
        unit = before.address.figure.unit.text
        yield f"  {before.address.words}: {band(before)} {unit} before, {band(after)} now."


def band(one: Banded) -> str:
    """A figure with its band: '306 (286 to 326)'."""
    low, high = float(one.band.low), float(one.band.high)
    if one.value is None:
        return "none"
    places = decimals(0.5 * (high - low), 2)
    return f"{number(one.value, places, hand=PAGE)} ({ends(low, high, places)})"


def _numbers(found: Fit) -> list[str]:
    heads = ("number", "was", "±", "is", "±", "unit")
    columns = [GridColumn((head,), text=at in (0, 5), name=not at) for at, head in enumerate(heads)]
    return layout(Grid(columns, [_number_row(one) for one in found.numbers]))


def _number_row(one: FittedNumber) -> list[str]:
    places = decimals(COVERED * one.sure, 4) if isfinite(one.sure) else 2
    was = [number(one.was, places), number(COVERED * one.was_sure, places) if isfinite(one.was_sure) else "-"]
    now = (
        [number(one.value, places), number(COVERED * one.sure, places)] if isfinite(one.sure) else ["-", "-"]
    )
    return [one.name, *was, *now, one.unit]


def _ties(found: Fit) -> list[str]:
    """The pairs of numbers that the readings tie together most."""
    names = [one.name for one in found.numbers if isfinite(one.sure)]
    pairs = [(found.correlation(one, other), one, other) for one, other in combinations(names, 2)]
    strongest = sorted(pairs, key=lambda pair: -abs(pair[0]))[:TIES]
    columns = [GridColumn(("tied",)), GridColumn(("number",), text=True), GridColumn(("with",), text=True)]
    return layout(Grid(columns, [[signed(tie, 2), one, other] for tie, one, other in strongest]))


def _readings(found: Fit) -> list[str]:
    heads = (("", "reading"), ("", "read"), ("should", "be"), ("miss over", "its error"), ("", "counts"))
    columns = [GridColumn(head, text=not at, name=not at) for at, head in enumerate(heads)]
    order: Sequence[int] = sorted(range(len(found.readings)), key=lambda at: -abs(float(found.tests[at])))
    return [
        *layout(Grid(columns, [_reading_row(found, at) for at in order])),
        "",
        *laid(["miss over its error: beyond 3 is no chance; counts: 1 in full, less where it fits badly."]),
    ]


def _reading_row(found: Fit, at: int) -> list[str]:
    one = found.readings[at]
    places = decimals(COVERED * float(found.sigmas[at]), 3)
    return [
        f"{one.line} {one.words}",
        number(one.value, places),
        number(float(found.foretold[at]), places),
        signed(float(found.tests[at]), 1),
        number(float(found.weights[at]), 2),
    ]
