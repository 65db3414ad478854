"""What a change does in the corners, a line for each thing that changes: how it is told, and where."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import inf, isinf
from typing import NamedTuple

from scenarios.ask.answer import TORQUE, DrivenCorner, FirstAnswer, outward
from viz.tables.answer import alike, angle, by_case
from viz.words.sure import Scale, kg, magnitude, plain


class Effect(NamedTuple):
    """A difference as it is told: its short name, of what it is, one below 0 and one above it in words."""

    short: str
    subject: str
    below: str
    above: str
    unit: str
    scale: Scale = plain
    largest: bool = False
    """Whether only the corner where it is largest is told."""


TOLD = (
    Effect("load", "The inside rear", "lighter", "heavier", "kg", kg),
    Effect("lifts", "It leaves the road", "earlier", "later", "°"),
    Effect("camber", "Outside front", "more negative", "less negative", "°", largest=True),
    Effect(TORQUE, "Handwheel", "heavier to hold", "lighter to hold", "N·m", largest=True),
)
LOAD = TOLD[0]
WAYS = 2
"""In how many ways a thing is told to change where there is little room."""
SAME, UNTOLD, NOTHING = -2.0, -1.0, -3.0
VAGUE = "Cannot be told apart, inside rear"


class Said(NamedTuple):
    """A difference in a corner turned one way, '' for either: its heading and its size."""

    heading: str
    case: str
    way: str
    size: str
    value: float
    """Without its sign, inf of a wheel that now leaves the road or stays down, below 0 for none."""


class Detail(NamedTuple):
    """How fully a change is told."""

    joined: bool = False
    """Whether what belongs together stands in one line."""
    most: int | None = None
    """Of how many corners each thing is told."""
    vague: bool = True
    """Whether corners are told as well in which the inside rear is as before or cannot be told apart."""
    terse: bool = False
    """Whether what is told of only one corner is told without it, and of anything no more than two ways."""


def effects(told: FirstAnswer, name: str, sure: bool, detail: Detail) -> Iterator[list[str]]:
    """Sentences on what changes, those that belong together in a list."""
    unsaid: dict[str, list[Said]] = {}
    prices: list[str] = []
    for what in TOLD:
        groups: dict[str, list[Said]] = {}
        for said in _largest(told, name, what, sure) if what.largest else _corners(told, name, what, sure):
            (groups if said.value >= 0.0 else unsaid).setdefault(said.heading, []).append(said)
        lines = [f"{heading}: {_listed(said, detail.most)}." for heading, said in groups.items()]
        if what is LOAD and unsaid and detail.vague:
            lines.append(_unsaid(unsaid, detail.most))
        if detail.terse and what.largest:
            prices += [_at_most(what, said) for [said] in groups.values()]
        elif lines:
            yield (
                [*lines[:WAYS], f"{len(lines) - WAYS} more."] if detail.terse and len(lines) > WAYS else lines
            )
    if prices:
        yield [f"{'; '.join([prices[0], *(one[0].lower() + one[1:] for one in prices[1:])])}."]


def _at_most(what: Effect, said: Said) -> str:
    """A difference without its corner: 'Handwheel up to 2.2 ± 1.4 N·m heavier'."""
    words = said.heading.removeprefix(what.subject).removesuffix("to hold").strip()
    return f"{what.subject} up to {said.size} {words}"


def joined(sentences: Sequence[str]) -> str:
    """Sentences on one thing in a line, which names it once."""
    first, *rest = sentences
    subject = next((f"{one.subject} " for one in TOLD if first.startswith(one.subject)), "")
    cut = (one.removeprefix(subject) for one in rest)
    return " ".join([first, *(f"{one[0].upper()}{one[1:]}" for one in cut)])


def _unsaid(groups: dict[str, list[Said]], most: int | None) -> str:
    """Where the inside rear is as before or cannot be told apart, in one sentence."""
    both = [f"{heading}: {_listed(groups[heading], most)}" for heading in sorted(groups)]
    return f"{'; '.join([both[0], *(one.replace('The inside rear ', '') for one in both[1:])])}."


def _largest(told: FirstAnswer, name: str, what: Effect, sure: bool) -> list[Said]:
    """What is told of the corner where a difference is largest."""
    found = list(_corners(told, name, what, sure))
    most = max((one.value for one in found), default=0.0)
    return [one for one in found if one.value == most][:1]


def _corners(told: FirstAnswer, name: str, what: Effect, sure: bool) -> Iterator[Said]:
    """What is told of each corner: of both turns, or once where they do the same or cannot be told apart."""
    for corners in by_case(told).values():
        said = [_difference(told, name, corner, what, sure) for corner in corners]
        by = [told.found.change(name, one.addresses[what.short]) for one in corners]
        if what.short == TORQUE:
            by = [outward(*one) for one in zip(by, corners, strict=True)]
        if alike(by, sure):
            ways = sorted(said, key=lambda one: (_weight(one.value), one.way == told.first))
            said = [ways[-1]._replace(way="")]
        yield from (one for one in said if one.heading)


def _weight(value: float) -> float:
    """What is told before what, the same for all differences that are one."""
    return value if isinf(value) else min(value, 0.0)


def _difference(told: FirstAnswer, name: str, corner: DrivenCorner, what: Effect, sure: bool) -> Said:
    """A difference in a corner; without a heading where there is nothing to say."""
    heading, size, value = told_of(told, name, corner, what, sure)
    return Said(heading, corner.case.name, corner.way, size, value)


def told_of(
    told: FirstAnswer, name: str, corner: DrivenCorner, what: Effect, sure: bool
) -> tuple[str, str, float]:
    """The heading of a difference, its size in words, and how large it is without its sign."""
    address = corner.addresses[what.short]
    by, now = told.found.change(name, address), told.found.of(name, address)
    if by.value is None or now.value is None or by.value == 0.0:
        return "", "", NOTHING
    it, before = ("It", "alike") if told.two_karts else ("It now", "as before")
    if isinf(by.value):
        gone = by.value > 0.0
        return (
            (f"{it} stays down", "", inf)
            if gone
            else (f"{it} leaves the road", f"at {angle(now, sure)}", inf)
        )
    if abs(by.value) < address.figure.worth:
        return f"The inside rear {before}" if what is LOAD else "", "", SAME
    if sure and not by.told_apart:
        return VAGUE if what is LOAD else "", "", UNTOLD
    below = by.value < 0.0
    if what.short == TORQUE:  # its sign says to which side
        below = below is not (now.value > 0.0)
    heading = f"{what.subject} {what.below if below else what.above}"
    return heading, magnitude(by, what.unit, what.scale, sure), abs(by.value)


def _listed(said: Sequence[Said], most: int | None) -> str:
    """Each corner once with what is said of its turns, those together of which the same is said.

    Of more corners than so many those are told where the difference is largest.
    """
    cases = list(dict.fromkeys(one.case for one in said))
    shown = sorted(cases, key=lambda case: -max(one.value for one in said if one.case == case))[:most]
    tails: dict[str, list[str]] = {}
    for case in (case for case in cases if case in shown):
        ways = [one for one in said if one.case == case]
        if len({one.size for one in ways}) == 1:
            tail, way = ways[0].size, "" if len(ways) > 1 else ways[0].way
            tails.setdefault(tail, []).append(f"{case} {way}".strip())
        else:
            tails.setdefault(", ".join(f"{one.way} {one.size}" for one in ways), []).append(case)
    more = [f"{len(cases) - len(shown)} more"] if len(cases) > len(shown) else []
    return "; ".join([*(f"{', '.join(where)} {tail}".strip() for tail, where in tails.items()), *more])
