"""The first answer of a search: what is wanted, what in the box does it with least work, what else could."""

from __future__ import annotations

from collections.abc import Sequence

from kinematics.choose.box import WORK
from kinematics.choose.search import Candidate, verdict
from kinematics.choose.words import miss_words, work_words
from scenarios.ask.choose import Told, hidden_bend
from scenarios.ask.levers import MOST_STEPS, Lever, Levers
from scenarios.kit import PLACES, SIDES, bushes
from viz.tables.choose import MET, value_and_miss, wanted
from viz.tables.grid import listing
from viz.tables.steps import moved
from viz.words.width import MOST_LINES, headed, laid

SHOWN = 3
"""So many of the figures wanted are told of each candidate."""
VERSIONS = [
    *((5, shown, True) for shown in (3, 2, 1)),
    *((wants, 1, False) for wants in (5, 3, 2, 1)),
]
"""From the longest to the shortest: how many figures wanted and how many candidates are told, and whether
the sentence before them says of the first what its line says."""


def choose_answer(
    told: Told, now: Sequence[float | None], others: Levers | None, after: int = 0
) -> list[str]:
    """What is wanted, the verdict and what to do about it; as short as the lines that come after it need."""
    title = laid([headed(told.scenario.title, told.scenario.source, f", from {told.present}:")])
    bend = hidden_bend(told)
    tail = laid([*([_others(told, others)] if others is not None else []), *([bend] if bend else [])])
    lines: list[str] = []
    for wants, shown, whole in VERSIONS:
        lines = [
            *title,
            *_wanted(told, now, wants),
            *laid([_verdict(told, whole)]),
            *_candidates(told, shown),
        ]
        if len(lines) + len(tail) + after <= MOST_LINES:
            break
    return [*lines, *tail]


def _verdict(told: Told, whole: bool) -> str:
    """What is said of the search; the first candidate's work, or what it misses, may be left to its line."""
    said = verdict(told.found)
    if whole or not told.first:
        return said
    return f"{said.partition(';')[0]}; {'least work first' if told.found.easiest else 'nearest'}:"


def _wanted(told: Told, now: Sequence[float | None], most: int) -> list[str]:
    targets = told.found.targets
    if len(targets) == 1:
        return laid([f"Wanted: {wanted(targets[0], now[0])}."])
    pairs = list(zip(targets, now, strict=True))
    most = most if len(pairs) > most + 1 else len(pairs)  # a line that says so would take its place
    lines = [f"Wanted {n}: {wanted(*pair)}." for n, pair in enumerate(pairs[:most], 1)]
    more = len(pairs) - most
    return laid([*lines, *([f"And {more} more wanted."] if more > 0 else [])])


def _candidates(told: Told, most: int) -> list[str]:
    """The candidates told first: what each figure comes to, the bushes, and the work."""
    if not told.first:
        return []
    targets = told.found.targets[:SHOWN]
    units = [target.address.figure.unit.text for target in targets]
    heads = units if len(told.found.targets) == 1 else [f"{n}: {unit}" for n, unit in enumerate(units, 1)]
    rows = [["#", *heads, "bushes and work"]]
    for n in told.first[:most]:
        values = [_value(*value_and_miss(t, told[n], place)) for place, t in enumerate(targets)]
        rows.append([str(n), *values, _done(told, told[n])])
    return listing(rows, numbered=True)


def _value(value: str, miss: str) -> str:
    return value if miss == MET else f"{value} ({miss})"


def _done(told: Told, candidate: Candidate) -> str:
    """The bushes of a candidate and the work: once where both corners have the same, else of each."""
    found = bushes(told.scenario.kit, candidate.setting)
    said = {
        side: ", ".join(f"{place} {found[side, place]}".replace(" deg", "") for place in PLACES)
        for side in SIDES
    }
    if told.sides in SIDES:
        only = said[told.sides] if said["left"] == said["right"] else f"{told.sides} {said[told.sides]}"
        return f"{only}; {_work(told, candidate)}"
    if said["left"] == said["right"]:
        return f"{said['left']}; {_work(told, candidate)}"
    done = zip(SIDES, candidate.work, strict=True)
    return "; ".join(
        f"{side} {said[side]} ({WORK[level]})" if level else f"{side} {WORK[0]}" for side, level in done
    )


def _work(told: Told, candidate: Candidate) -> str:
    if not sum(candidate.work):
        return "as it is now"
    if told.sides in SIDES:
        return WORK[candidate.work[SIDES.index(told.sides)]]
    return work_words(candidate.work)


def does_alone(told: Told, others: Levers | None) -> bool:
    """Whether an adjustment does what the box cannot, with the bushes left as they are."""
    return others is not None and bool(others.listed) and others.base is told.found.base


def _others(told: Told, others: Levers) -> str:
    """Which other adjustments could do it, from what is fitted now or from the nearest pair."""
    if not others.listed:
        return f"No other adjustment alone would do it within {MOST_STEPS} usual steps, reckoned straight."
    start = "Bushes left as they are" if does_alone(told, others) else "On top of candidate 1"
    said = "; ".join(_lever(told, one) for one in others.listed)
    return f"{start}, by straight-line reckoning: {said}."


def _lever(told: Told, lever: Lever) -> str:
    said = moved(lever.step, lever.amount)
    spoilt = miss_words(told.found.targets, lever.missed)
    return f"{said} (which then misses {spoilt})" if spoilt else said
