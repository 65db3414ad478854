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
from viz.words.numbers import PAGE, short
from viz.words.width import headed, laid

SHOWN = 3
"""So many of the figures wanted are told of each candidate."""
MOST_WANTED = 5
"""So many of them are told as wanted."""
BACKWARD = {"out": "in", "up": "down", "stiffer": "softer", "forward": "rearward", "toe-in": "toe-out"}


def choose_answer(told: Told, now: Sequence[float | None], others: Levers | None) -> list[str]:
    """What is wanted, the verdict and what to do about it."""
    title = headed(told.scenario.title, told.scenario.source, f", from {told.present}:")
    lines = [*laid([title]), *_wanted(told, now), *laid([verdict(told.found)]), *_candidates(told)]
    if others is not None:
        lines += laid([_others(told, others)])
    bend = hidden_bend(told)
    return [*lines, *laid([bend] if bend else [])]


def _wanted(told: Told, now: Sequence[float | None]) -> list[str]:
    targets = told.found.targets
    if len(targets) == 1:
        return laid([f"Wanted: {wanted(targets[0], now[0])}."])
    pairs = list(zip(targets, now, strict=True))
    lines = [f"Wanted {n}: {wanted(*pair)}." for n, pair in enumerate(pairs[:MOST_WANTED], 1)]
    more = len(targets) - MOST_WANTED
    return laid([*lines, *([f"And {more} more wanted."] if more > 0 else [])])


def _candidates(told: Told) -> list[str]:
    """The candidates told first: what each figure comes to, the bushes, and the work."""
    if not told.first:
        return []
    targets = told.found.targets[:SHOWN]
    units = [target.address.figure.unit.text for target in targets]
    heads = units if len(told.found.targets) == 1 else [f"{n}: {unit}" for n, unit in enumerate(units, 1)]
    rows = [["#", *heads, "bushes and work"]]
    for n in told.first:
        values = [_value(*value_and_miss(t, told[n], place)) for place, t in enumerate(targets)]
        rows.append([str(n), *values, f"{_fitted(told, told[n])}; {_work(told, told[n])}"])
    return listing(rows, numbered=True)


def _value(value: str, miss: str) -> str:
    return value if miss == MET else f"{value} ({miss})"


def _fitted(told: Told, candidate: Candidate) -> str:
    """The bushes of a candidate: once where both corners have the same, else of the corners searched."""
    found = bushes(told.scenario.kit, candidate.setting)
    said = {
        side: ", ".join(f"{place} {found[side, place]}".replace(" deg", "") for place in PLACES)
        for side in SIDES
    }
    if said["left"] == said["right"]:
        return said["left"]
    return "; ".join(f"{side} {said[side]}" for side in SIDES if told.sides in (side, "both", "each"))


def _work(told: Told, candidate: Candidate) -> str:
    if not sum(candidate.work):
        return "as it is now"
    if told.sides in SIDES:
        return WORK[candidate.work[SIDES.index(told.sides)]]
    return work_words(candidate.work)


def _others(told: Told, others: Levers) -> str:
    """Which other adjustments could do it, from what is fitted now or from the nearest pair."""
    if not others.listed:
        return (
            f"No other adjustment alone would do it within {MOST_STEPS} usual steps, by straight-line"
            " reckoning."
        )
    start = "Bushes left as they are" if others.base is told.found.base else "On top of candidate 1"
    said = "; ".join(_lever(told, one) for one in others.listed)
    return f"{start}, by straight-line reckoning: {said}."


def _lever(told: Told, lever: Lever) -> str:
    words = lever.step.name.split()
    backward = [BACKWARD.get(word, word) for word in words]
    size = short(lever.amount, 3, PAGE)
    if backward != words:
        words, size = (backward if lever.amount < 0.0 else words), short(abs(lever.amount), 3)
    elif lever.amount > 0.0:
        size = f"+{size}"
    said = f"{' '.join(words)} about {size} {lever.step.unit}"
    spoilt = miss_words(told.found.targets, lever.missed)
    return f"{said} (which then misses {spoilt})" if spoilt else said
