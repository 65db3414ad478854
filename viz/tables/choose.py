"""What a search of the box found, as plain text."""

from __future__ import annotations

from collections.abc import Sequence
from math import isfinite

from kinematics.choose.search import Candidate, verdict
from kinematics.choose.targets import Target
from scenarios import Scenario
from scenarios.ask.choose import Told
from scenarios.ask.fitting import parts, parts_text, work_steps
from scenarios.kit import PLACES, SIDES, bushes, work
from viz.tables.grid import Grid, GridColumn, layout, listing, under
from viz.words.numbers import TERMINAL, number, short
from viz.words.width import filled, width

MET = "met"
SIDE_WORDS = {
    "both": "Both corners alike",
    "each": "Each corner its own",
    "left": "The left corner alone",
    "right": "The right corner alone",
}
ROD_WORDS = {"reset": "tie rods re-set to the toe of now", "alone": "tie rods left alone"}
LEGEND = (
    "fit: weighted root mean square miss, counted in differences worth the work; 0 is all met. Beside "
    "each figure its miss: + too high, - too low. Bushes: rated size @ clock (0 forward, 90 outboard)."
)


def wanted_lines(targets: Sequence[Target], now: Sequence[float | None]) -> list[str]:
    """The targets numbered, each with its value now and what counts as reached."""
    pairs = zip(targets, now, strict=True)
    rows = [(str(place), wanted(target, value)) for place, (target, value) in enumerate(pairs, 1)]
    return ["Wanted:", *(f"  {line}" for line in listing(rows, width() - 4, numbered=True))]


def wanted(target: Target, now: float | None) -> str:
    """A target with its value now and what counts as reached."""
    figure = target.address.figure
    unit, at_now = figure.unit.text, number(now, figure.digits, "none")
    said = f"{_shown(target)} {unit}{' or none' if target.or_none else ''}, now {at_now}"
    if target.low == target.high:
        said += f", met within {target.tolerance:g}"
    return said if target.weight == 1.0 else f"{said}, weight {target.weight:g}"


def _shown(target: Target) -> str:
    name, low, high = target.address.words, short(target.low, 5), short(target.high, 5)
    if target.low == target.high:
        return f"{name} = {low}"
    if not isfinite(target.low):
        return f"{name} at most {high}" if isfinite(target.high) else f"{name} at any value"
    return f"{name} at least {low}" if not isfinite(target.high) else f"{name} in {low} to {high}"


def report(told: Told, now: Sequence[float | None]) -> list[str]:
    """Everything there is to say of a search but what to do next."""
    found, scenario = told.found, told.scenario
    lines = filled(f"{scenario.title} ({scenario.source}), from {told.present}")
    lines += [f"{SIDE_WORDS[told.sides]}; {ROD_WORDS[told.rods]}."]
    lines += ["", *wanted_lines(found.targets, now), "", *filled(verdict(found))]
    for title, numbers in _lists(told):
        lines += ["", *filled(f"{title}:"), *_table(told, numbers)]
    lines += ["", *filled(LEGEND)]
    if told.candidates:
        rows = [(str(n), _work(told, candidate)) for n, candidate in enumerate(told.candidates, 1)]
        lines += ["", "Work and parts:", *listing(rows, numbered=True)]
    return [*lines, "", *(line for note in found.notes for line in filled(note))]


def _lists(told: Told) -> list[tuple[str, Sequence[int]]]:
    trade = f"Trade-off, each the best in its way between {' and '.join(told.found.objectives)}"
    lists = [
        ("Meets all that is wanted; least work first, usual clocks before odd ones", told.easiest),
        ("Best fit first", told.best),
        ("Least work first, each better than all with less", told.by_work),
    ]
    if len(told.found.objectives) > 1:
        lists.append((_cut(trade, told.between, told.found.between), told.between))
    if told.found.best and not told.found.best[0].reached:
        lists[1] = ("None reaches every target; nearest first", told.best)
    lists[0] = (_cut(lists[0][0], told.easiest, told.found.easiest), told.easiest)
    lists[1] = (_cut(lists[1][0], told.best, told.found.best), told.best)
    return [(title, numbers) for title, numbers in lists if numbers]


def _cut(title: str, shown: Sequence[int], every: Sequence[Candidate]) -> str:
    return (
        title if len(shown) == len(every) else f"{title} ({len(shown)} of {len(every)}; --limit shows more)"
    )


def _table(told: Told, numbers: Sequence[int]) -> list[str]:
    """Candidates by number: fit, bushes (once where both corners have the same), each target's value."""
    alike = all(_alike(told.scenario, told[n]) for n in numbers)
    sides = {"left": "both"} if alike else {side: side for side in SIDES}
    columns = [GridColumn(("#",)), GridColumn(("fit",))]
    columns += [GridColumn((f"{where} {place}",)) for where in sides.values() for place in PLACES]
    for n, target in enumerate(told.found.targets, 1):
        columns += under((str(n),), [GridColumn((target.address.figure.unit.text,)), GridColumn(("miss",))])
    return layout(Grid(columns, [_row(told, n, list(sides)) for n in numbers]))


def _row(told: Told, number_: int, sides: Sequence[str]) -> list[str]:
    candidate = told[number_]
    fitted = bushes(told.scenario.kit, candidate.setting)
    row = [str(number_), number(candidate.fit if isfinite(candidate.fit) else None, 2)]
    row += [str(fitted[side, place]).replace(" deg", "") for side in sides for place in PLACES]
    for place, target in enumerate(told.found.targets):
        row += value_and_miss(target, candidate, place)
    return row


def value_and_miss(target: Target, candidate: Candidate, place: int) -> tuple[str, str]:
    """A candidate's value of its target and its signed miss, as text; a miss never reads 0."""
    value, missed = float(candidate.values[place]), float(candidate.missed[place])
    if not isfinite(missed):
        return TERMINAL.missing, "none"
    if not isfinite(value):
        return "none", MET
    digits = target.address.figure.digits
    if missed <= target.tolerance:
        return number(value, digits), MET
    sign, seen = "+" if value > target.high else "-", number(missed, digits)
    return number(value, digits), sign + (seen if float(seen) else short(missed, 1))


def _alike(scenario: Scenario, candidate: Candidate) -> bool:
    found = bushes(scenario.kit, candidate.setting)
    return all(work(found["left", place], found["right", place]) == "leave" for place in PLACES)


def _work(told: Told, candidate: Candidate) -> str:
    before = told.scenario.settings[told.present]
    steps = work_steps(told.scenario, before, candidate.setting)
    needed = parts_text(parts(told.scenario, before, candidate.setting))
    return f"{'; '.join(steps) if steps else 'leave every bush as it is'}. Parts: {needed}."
