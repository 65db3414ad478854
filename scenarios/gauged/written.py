"""A fit written back into the scenario's own text: numbers and how sure they are, comments kept."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from copy import deepcopy
from math import floor, isfinite, log10
from pathlib import Path
from typing import Any

from scenarios.bundled import NAMES, builtin_text
from scenarios.errors import Refusal
from scenarios.gauged.fit import Fit, FittedNumber
from scenarios.loading import from_mapping
from scenarios.reading import is_json, text_at
from scenarios.records import Scenario
from scenarios.sure.places import Where, value_at
from scenarios.sure.stated import STATED, Input
from scenarios.sure.ways import MEASURED, OTHERS, TOGETHER

LEAST_TIED = 0.05
"""Of a correlation, what is worth a line."""
SAYS_NOTHING = 0.98
"""Of what was not known of a number before, what readings leave that say nothing of it."""


def rewritten(found: Fit) -> str:
    """The scenario's text, TOML, with the numbers that readings speak of, how sure they are and their ties.

    Raises Refusal, one line, for a scenario that is not TOML.
    """
    import tomlkit  # only who writes waits for it

    document = tomlkit.parse(_source(found.scenario.source))
    there = document.unwrap()
    _put_all(document, found, lambda place: value_at(there, place) is not None)
    if ties := list(_ties(found)):
        rows = tomlkit.array()
        for tie in ties:
            rows.add_line(tie)
        rows.add_line(indent="")
        document["sure"][TOGETHER] = rows
    return tomlkit.dumps(document)


def refitted(found: Fit) -> Scenario:
    """The scenario with the numbers that were found, to be asked anything."""
    tables = deepcopy(found.scenario.resolved)
    _put_all(tables, found, lambda place: True)
    if ties := list(_ties(found)):
        tables["sure"][TOGETHER] = ties
    return from_mapping(tables, found.scenario.source, found.scenario.name)


def _put_all(tables: Any, found: Fit, stands: Callable[[Where], bool]) -> None:
    """Write every number told to its places, the right side's where that stands there, and how sure it is."""
    inputs = {one.name: one for one in found.space.inputs}
    for number in told(found):
        one = inputs[number.name]
        value = round(number.value, _decimals(number.sure))
        first, *others = one.places
        for place in (first, *(other for other in others if stands(other))):
            _put(tables, place, value, found.scenario.resolved)
        _put_sure(tables, one, float(f"{number.sure:.3g}"), found)


def told(found: Fit) -> list[FittedNumber]:
    """The numbers that the readings say something of."""
    return [one for one in found.numbers if one.kept < SAYS_NOTHING and isfinite(one.sure)]


def _source(source: str) -> str:
    if source in NAMES:
        return builtin_text(source)
    path = Path(source)
    if is_json(path):
        raise Refusal(f"{source}: a fit is written into a TOML file, with its comments; this is JSON")
    return text_at(path)


def _decimals(sure: float) -> int:
    """Decimals that leave a number as sure as it is: a hundredth of its uncertainty."""
    return max(0, 2 - floor(log10(sure))) if sure > 0.0 else 6


def _put(tables: Any, place: Where, value: float, resolved: Mapping[str, Any]) -> None:
    """Write a number to its place; tables on the way are made, a point that is not there is written whole."""
    *way, key = (part for part in place if isinstance(part, str))
    table = _inner(tables, way)
    if isinstance(place[-1], str):
        table[key] = value
        return
    if key not in table:
        table[key] = list(value_at(resolved, (*way, key)))
    table[key][place[-1]] = value


def _inner(tables: Any, way: Sequence[str]) -> Any:
    """The table at the end of a way, which is made where it lacks; a word in its place speaks for its
    others."""
    for key in way:
        if isinstance(tables.get(key), str):
            tables[key] = {OTHERS: str(tables[key])}
        elif key not in tables:
            tables[key] = {}
        tables = tables[key]
    return tables


def _put_sure(tables: Any, one: Input, sure: float, found: Fit) -> None:
    """Write a number's standard uncertainty to [sure]; of a point, what is said of its other axes stays."""
    *way, key = (part for part in one.places[0] if isinstance(part, str))
    table, axis = _inner(tables, ["sure", *way]), one.places[0][-1]
    if isinstance(axis, str):
        table[key] = sure
        return
    if not isinstance(table.get(key), list):
        by_place = {each.places[0]: each for each in found.space.inputs}
        axes = [by_place.get((*one.places[0][:-1], at)) for at in range(3)]
        table[key] = [_said(each) for each in axes]
    table[key][axis] = sure


def _said(one: Input | None) -> str | float:
    """What holds of an axis of which nothing was found."""
    if one is None:
        return MEASURED
    return one.uncertain.spread if one.how == STATED else one.how


def _ties(found: Fit) -> Iterator[list[str | float]]:
    """Names and correlations of numbers that the readings have tied together."""
    names = [number.name for number in told(found)]
    for row, one in enumerate(names):
        for other in names[:row]:
            number = found.correlation(one, other)
            if abs(number) >= LEAST_TIED:
                yield [other, one, max(-0.999, min(0.999, round(number, 3)))]
