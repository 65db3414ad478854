"""The first answer of a change: what a setting does against another, in plain words and how sure that is."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import degrees, isinf
from typing import NamedTuple

from kinematics.figures.figure import FRONT
from scenarios.ask.answer import TORQUE, DrivenCorner, FirstAnswer
from viz.tables.answer import NOT_JOINED, angle, by_case, not_standing, straight_number
from viz.tables.work import rod_words
from viz.words.cautions import BRIEF
from viz.words.numbers import number
from viz.words.sure import Scale, kg, magnitude, plain, shift
from viz.words.width import laid

PARTS = ("caster", 1, "°"), ("camber", 1, "°"), ("trail", 0, "mm")
"""What is told straight ahead, with how many decimals, and its unit."""
TOE = ("toe", 2, "°")
"""Told as well where it is not set back."""


def compare_answer(told: FirstAnswer, name: str, sure: bool = True) -> list[str]:
    """What a setting does against the base, toe set back; one of another kart as it is."""
    base = told.found.base
    if any(told.found.of(one, told.straight("toe", told.first)).value is None for one in (base, name)):
        return laid([f"{name} against {base}: {NOT_JOINED}"])
    lines = [*_geometry(told, name), *_without_numbers(told, name), *_differences(told, name, sure)]
    lines += [*(_two_karts(told) if told.two_karts else _reset(told, name)), *_check(told, name, sure)]
    left = "each as its file has it" if told.two_karts else f"toe set back to that of {base}"
    return [
        *laid([f"{name} against {base}, {left}:"]),
        *laid(f"  {line}" for line in lines),
    ]


def _parts(told: FirstAnswer) -> tuple[tuple[str, int, str], ...]:
    return (*PARTS, TOE) if told.two_karts else PARTS


def _geometry(told: FirstAnswer, name: str) -> Iterator[str]:
    changed = [side for side in told.sides if not _same_angles(told, name, [side])]
    before = "alike" if told.two_karts else "as before"
    if not changed:
        yield f"Caster, camber{', trail and toe' if told.two_karts else ' and trail'} {before}."
        return
    said = "; ".join(_moved(told, name, changed, *part) for part in _parts(told))
    if len(changed) == len(told.sides):
        yield f"{said.capitalize()}."
    else:
        [other] = set(told.sides) - set(changed)
        yield f"{changed[0].capitalize()} {said}; {other} {before}."


def _moved(told: FirstAnswer, name: str, sides: Sequence[str], short: str, places: int, unit: str) -> str:
    """How far an angle or a length moves, from what to what; of sides that differ each, and only how far."""
    ends = [[straight_number(told, one, short, side) for one in (told.found.base, name)] for side in sides]
    whole = [shift(was, now, places, unit) for was, now in ends]
    far = [one.partition(" (")[0] for one in whole]
    if len(set(whole)) == 1:
        return f"{short} {whole[0]}"
    if len(set(far)) == 1:
        return f"{short} {far[0]}"
    return f"{short} {', '.join(f'{side} {by}' for side, by in zip(sides, far, strict=True))}"


def _same_angles(told: FirstAnswer, name: str, sides: Sequence[str]) -> bool:
    """Whether a setting leaves caster, camber and trail of these sides as they are, to the figures shown."""
    return all(
        round(straight_number(told, name, short, side), places)
        == round(straight_number(told, told.found.base, short, side), places)
        for short, places, _ in _parts(told)
        for side in sides
    )


class Effect(NamedTuple):
    """A difference as it is told: its short name, the words for one below 0 and for one above, its unit."""

    short: str
    below: str
    above: str
    unit: str
    scale: Scale = plain
    largest: bool = False
    """Whether only the corner where it is largest is told."""


TOLD = (
    Effect("load", "The inside rear lighter", "The inside rear heavier", "kg", kg),
    Effect("lifts", "It leaves the road earlier", "It leaves the road later", "°"),
    Effect("camber", "Outside front more negative", "Outside front less negative", "°", largest=True),
    Effect(TORQUE, "Handwheel heavier to hold", "Handwheel lighter to hold", "N·m", largest=True),
)


def _without_numbers(told: FirstAnswer, name: str) -> Iterator[str]:
    """Where one of the two cannot be compared, and why; what is alike turned both ways is told once."""
    for case, corners in by_case(told).items():
        for one in (told.found.base, name):
            why = {corner.way: not_standing(told, one, corner) for corner in corners}
            alike = len(set(why.values())) == 1
            for way, said in list(why.items())[: 1 if alike else None]:
                where = case if alike else f"{case} {way}"
                if said:
                    yield f"{where}, {one}: {said}."


def _differences(told: FirstAnswer, name: str, sure: bool) -> Iterator[str]:
    """A line for each thing that changes: in which corners, and by how much; and where nothing does."""
    for what in TOLD:
        groups: dict[str, list[Said]] = {}
        largest = 0.0
        for way, corner in _which(told, name, what, sure):
            heading, size = _difference(told, name, corner, what, sure)
            value = abs(told.found.change(name, corner.addresses[what.short]).value or 0.0)
            if heading and not (what.largest and value <= largest):
                groups = {} if what.largest else groups
                largest = max(value, largest)
                groups.setdefault(heading, []).append(Said(corner.case.name, way, size))
        yield from (f"{heading}: {_listed(said)}." for heading, said in groups.items())


class Said(NamedTuple):
    """How large a difference is in a corner turned one way, '' for either."""

    case: str
    way: str
    size: str


def _listed(said: Sequence[Said]) -> str:
    """Each corner once with what is said of its turns, those together of which the same is said."""
    tails: dict[str, list[str]] = {}
    for case in dict.fromkeys(one.case for one in said):
        ways = [one for one in said if one.case == case]
        if len({one.size for one in ways}) == 1:
            tail, way = ways[0].size, "" if len(ways) > 1 else ways[0].way
            tails.setdefault(tail, []).append(f"{case} {way}".strip())
        else:
            tails.setdefault(", ".join(f"{one.way} {one.size}" for one in ways), []).append(case)
    return "; ".join(f"{', '.join(where)} {tail}".strip() for tail, where in tails.items())


def _which(told: FirstAnswer, name: str, what: Effect, sure: bool) -> Iterator[tuple[str, DrivenCorner]]:
    """The turns to tell of a change, one of those ('') where it does the same turning either way."""
    for corners in by_case(told).values():
        if _same(told, name, corners, what, sure):
            yield "", corners[0]
        else:
            ways = sorted(corners, key=lambda corner: FRONT.index(corner.way))
            yield from ((corner.way, corner) for corner in ways)


def _same(told: FirstAnswer, name: str, corners: Sequence[DrivenCorner], what: Effect, sure: bool) -> bool:
    """Whether a change does the same each way, to what is worth telling or can be told."""
    headings = {_difference(told, name, corner, what, sure)[0] for corner in corners}
    by = [told.found.change(name, corner.addresses[what.short]) for corner in corners]
    sizes = [abs(one.value or 0.0) for one in by]
    if isinf(sizes[0]):  # the heading says it all
        return len(headings) == 1
    enough = by[0].address.figure.worth
    if sure:
        enough = max(enough, 0.5 * (float(by[0].band.high) - float(by[0].band.low)))
    return len(headings) == 1 and max(sizes) - min(sizes) < enough


def _difference(
    told: FirstAnswer, name: str, corner: DrivenCorner, what: Effect, sure: bool
) -> tuple[str, str]:
    """Under which heading a difference is told, '' for none, and its size."""
    address = corner.addresses[what.short]
    by, now = told.found.change(name, address), told.found.of(name, address)
    if by.value is None or now.value is None or by.value == 0.0:
        return "", ""
    it, before = ("It", "alike") if told.two_karts else ("It now", "as before")
    if isinf(by.value):
        gone = by.value > 0.0
        return (f"{it} stays down", "") if gone else (f"{it} leaves the road", f"at {angle(now, sure)}")
    if abs(by.value) < address.figure.worth:
        return (f"The inside rear {before}", "") if what.short == "load" else ("", "")
    if sure and not by.told_apart:
        return ("Cannot be told apart, inside rear", "") if what.short == "load" else ("", "")
    below = by.value < 0.0
    if what.short == TORQUE:  # its sign says to which side
        below = below is not (now.value > 0.0)
    return (what.below if below else what.above), magnitude(by, what.unit, what.scale, sure)


def _reset(told: FirstAnswer, name: str) -> Iterator[str]:
    rods = told.rods(name)
    left, right = (rod_words(getattr(rods, side)) for side in FRONT)
    if left == right:
        yield f"To set toe back: each tie rod, {left}."
    else:
        yield f"To set toe back: left tie rod, {left}; right, {right}."


def _two_karts(told: FirstAnswer) -> Iterator[str]:
    """How the two are made one to compare."""
    turned = {case: number(degrees(corners[0].at), 0) for case, corners in by_case(told).items()}
    if turned:
        yield f"Both turned alike: {', '.join(f'{case} {at}°' for case, at in turned.items())}."
    yield "What is mismeasured or assumed is taken to be off alike on both karts."


def _check(told: FirstAnswer, name: str, sure: bool) -> Iterator[str]:
    by = told.found.change(name, told.turned)
    if by.value is not None and abs(by.value) < told.turned.figure.worth:
        what = "differs" if told.two_karts else "was changed"
        gauge = (
            f"measure what {what}" if _same_angles(told, name, told.sides) else "measure caster and camber"
        )
        yield f"To check it: {gauge}; scales would not show it."
    elif by.value is not None:
        way, side = "less" if by.value < 0.0 else "more", told.first
        at = number(abs(degrees(told.weighed)), 0)
        yield (
            f"To check it: standing, {at}° {side}, the {side} rear scale shows "
            f"{magnitude(by, 'kg', kg, sure)} {way}."
        )
    yield BRIEF
