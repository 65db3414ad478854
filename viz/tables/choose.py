"""What a search of the box found, as plain text at most 100 characters wide."""

from __future__ import annotations

from collections.abc import Sequence
from math import isfinite
from textwrap import wrap

from kinematics.choose.search import Candidate, verdict
from kinematics.choose.targets import Target
from kinematics.figures.figure import Figure
from scenarios import Scenario
from scenarios.ask.choose import Told
from scenarios.ask.fitting import parts, parts_text, work_steps
from scenarios.kit import PLACES, SIDES, bushes, work
from viz.tables.headline import DECIMALS, WIDTH, number

NUMBER, FIT, BUSH, VALUE, MISS = 4, 7, 13, 10, 8
MET = "met"
SIDE_WORDS = {
    "both": "Both corners alike",
    "each": "Each corner its own",
    "left": "The left corner alone",
    "right": "The right corner alone",
}
ROD_WORDS = {"reset": "tie rods re-set to the toe of now", "alone": "tie rods left alone"}
LEGEND = (
    "fit: weighted root mean square miss, counted in differences worth the work; 0 is all met. Beside",
    "each figure its miss: + too high, - too low. Bushes: rated size @ clock (0 forward, 90 outboard).",
)


def decimals_of(figure: Figure) -> int:
    """Decimals with which a figure is shown: one more than in a sweep's tables, up to two."""
    return min(DECIMALS.get(figure.unit.text, 2) + 1, 2)


def wanted_lines(targets: Sequence[Target], now: Sequence[float | None]) -> list[str]:
    """The targets numbered, each with its value now and what counts as reached."""
    lines = ["Wanted:"]
    for place, (target, value) in enumerate(zip(targets, now, strict=True), 1):
        unit = target.address.figure.unit.text
        at_now = number(value, decimals_of(target.address.figure), "none")
        said = f"{_shown(target)} {unit}{' or none' if target.or_none else ''}, now {at_now}"
        if target.low == target.high:
            said += f", met within {target.tolerance:g}"
        if target.weight != 1.0:
            said += f", weight {target.weight:g}"
        lines += wrap(f"{place}  {said}", WIDTH - 2, initial_indent="  ", subsequent_indent="     ")
    return lines


def _shown(target: Target) -> str:
    name, decimals = target.address.words, decimals_of(target.address.figure) + 1
    low, high = (f"{end:.{decimals}f}".rstrip("0").rstrip(".") for end in (target.low, target.high))
    if target.low == target.high:
        return f"{name} = {low}"
    if not isfinite(target.low):
        return f"{name} at most {high}" if isfinite(target.high) else f"{name} at any value"
    return f"{name} at least {low}" if not isfinite(target.high) else f"{name} in {low} to {high}"


def report(told: Told, now: Sequence[float | None]) -> list[str]:
    """Everything there is to say of a search but what to do next."""
    found, scenario = told.found, told.scenario
    lines = wrap(f"{scenario.title} ({scenario.source}), from {told.present}", WIDTH)
    lines += [f"{SIDE_WORDS[told.sides]}; {ROD_WORDS[told.rods]}."]
    lines += ["", *wanted_lines(found.targets, now), "", *wrap(verdict(found), WIDTH)]
    for title, numbers in _lists(told):
        lines += ["", *wrap(f"{title}:", WIDTH), *_table(told, numbers)]
    lines += ["", *LEGEND]
    if told.candidates:
        lines += ["", "Work and parts:"]
    for place, candidate in enumerate(told.candidates, 1):
        lines += _work_lines(told, place, candidate)
    return [*lines, "", *(line for note in found.notes for line in wrap(note, WIDTH))]


def _lists(told: Told) -> list[tuple[str, Sequence[int]]]:
    trade = f"Trade-off, each the best in its way between {' and '.join(told.found.objectives)}"
    lists = [
        ("Best fit first", told.best),
        ("Least work first, each better than all with less", told.by_work),
    ]
    if len(told.found.objectives) > 1:
        lists.append((_cut(trade, told.between, told.found.between), told.between))
    if told.found.best and not told.found.best[0].reached:
        lists[0] = ("None reaches every target; nearest first", told.best)
    lists[0] = (_cut(lists[0][0], told.best, told.found.best), told.best)
    return [(title, numbers) for title, numbers in lists if numbers]


def _cut(title: str, shown: Sequence[int], every: Sequence[Candidate]) -> str:
    return (
        title if len(shown) == len(every) else f"{title} ({len(shown)} of {len(every)}; --limit shows more)"
    )


def _table(told: Told, numbers: Sequence[int]) -> list[str]:
    alike = all(_alike(told.scenario, told[n]) for n in numbers)
    sides = ("left",) if alike else SIDES
    left = NUMBER + FIT + BUSH * len(PLACES) * len(sides)
    count = len(told.found.targets)
    first = max(1, (WIDTH - left) // (VALUE + MISS))
    more = (WIDTH - NUMBER) // (VALUE + MISS)
    lines = _block(told, numbers, sides, range(min(first, count)))
    for start in range(first, count, more):
        lines += ["", *_block(told, numbers, (), range(start, min(start + more, count)))]
    return lines


def _block(told: Told, numbers: Sequence[int], sides: Sequence[str], targets: range) -> list[str]:
    where = {1: "both", 2: ""}.get(len(sides), "")
    above = "#".rjust(NUMBER)
    if sides:
        above += "fit".rjust(FIT)
        above += "".join(f"{where or side} {place}".rjust(BUSH) for side in sides for place in PLACES)
    for target in targets:
        unit = told.found.targets[target].address.figure.unit.text
        above += f"{target + 1}, {unit}".rjust(VALUE) + "miss".rjust(MISS)
    return [above, *(_row(told, n, sides, targets) for n in numbers)]


def _row(told: Told, number_: int, sides: Sequence[str], targets: range) -> str:
    candidate = told[number_]
    row = str(number_).rjust(NUMBER)
    if sides:
        fitted = bushes(told.scenario.kit, candidate.setting)
        row += number(candidate.fit if isfinite(candidate.fit) else None, 2).rjust(FIT)
        row += "".join(str(fitted[s, p]).replace(" deg", "").rjust(BUSH) for s in sides for p in PLACES)
    for place in targets:
        value, miss = value_and_miss(told.found.targets[place], candidate, place)
        row += value.rjust(VALUE) + miss.rjust(MISS)
    return row


def value_and_miss(target: Target, candidate: Candidate, place: int) -> tuple[str, str]:
    """A candidate's value of its target and its signed miss, as text."""
    value, missed = float(candidate.values[place]), float(candidate.missed[place])
    if not isfinite(missed):
        return "-", "none"
    if not isfinite(value):
        return "none", MET
    decimals = decimals_of(target.address.figure)
    if missed <= target.tolerance:
        return number(value, decimals), MET
    return number(value, decimals), f"{missed if value > target.high else -missed:+.{decimals}f}"


def _alike(scenario: Scenario, candidate: Candidate) -> bool:
    found = bushes(scenario.kit, candidate.setting)
    return all(work(found["left", place], found["right", place]) == "leave" for place in PLACES)


def _work_lines(told: Told, place: int, candidate: Candidate) -> list[str]:
    before = told.scenario.settings[told.present]
    steps = work_steps(told.scenario, before, candidate.setting)
    needed = parts_text(parts(told.scenario, before, candidate.setting))
    said = "; ".join(steps) if steps else "leave every bush as it is"
    text = f"{said}. Parts: {needed}."
    return wrap(
        f"{place:>{NUMBER}}  {text}",
        WIDTH,
        initial_indent="",
        subsequent_indent=" " * (NUMBER + 2),
        drop_whitespace=True,
    )
