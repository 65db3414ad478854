"""The first answer of a change: what a setting does against another, in plain words and how sure that is."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial
from itertools import chain
from math import degrees

from kinematics.figures.figure import FRONT
from scenarios.ask.answer import FirstAnswer
from viz.tables.answer import NOT_JOINED, by_case, not_standing, straight_number
from viz.tables.effects import Detail, effects, joined
from viz.tables.work import rod_flats, rod_words
from viz.words.cautions import BRIEF
from viz.words.numbers import number
from viz.words.sure import kg, magnitude, shift
from viz.words.width import laid, shortest

TRAIL = ("trail", 0, "mm")
PARTS = ("caster", 1, "°"), ("camber", 1, "°"), TRAIL
"""What is told straight ahead, with how many decimals, and its unit."""
TOE = ("toe", 2, "°")
"""Told as well where it is not set back."""


def compare_answer(told: FirstAnswer, name: str, sure: bool = True) -> list[str]:
    """What a setting does against the base, toe set back; one of another kart as it is."""
    base = told.found.base
    if any(told.found.of(one, told.straight("toe", told.first)).value is None for one in (base, name)):
        return laid([f"{name} against {base}: {NOT_JOINED}"])

    def version(detail: Detail) -> list[str]:
        said = effects(told, name, sure, detail)
        middle = map(joined, said) if detail.joined else chain(*said)
        head = [*_geometry(told, name, detail), *_without_numbers(told, name)]
        tail = [*(_two_karts(told, detail) if told.two_karts else _reset(told, name, detail))]
        lines = [*head, *middle, *tail, *_check(told, name, sure)]
        return [_titled(told, name, detail), *(f"  {one}" for one in lines)]

    fewer = range(len(by_case(told)) - 1, 0, -1)
    brief = [Detail(True, most, vague) for most in (None, *fewer) for vague in (True, False)]
    terse = [Detail(True, most, False, True) for most in (None, *fewer)]
    return shortest(partial(version, detail) for detail in (Detail(), *brief, *terse))


def _titled(told: FirstAnswer, name: str, detail: Detail) -> str:
    base = told.found.base
    left = "each as its file has it" if told.two_karts else f"toe set back to that of {base}"
    if detail.terse:
        return f"{name} against {base}{'' if told.two_karts else ', toe set back'}:"
    return f"{name} against {base}, {left}:"


def _parts(told: FirstAnswer) -> tuple[tuple[str, int, str], ...]:
    return (*PARTS, TOE) if told.two_karts else PARTS


def _geometry(told: FirstAnswer, name: str, detail: Detail) -> Iterator[str]:
    changed = [side for side in told.sides if not _same_angles(told, name, [side])]
    before = _unmoved(told)
    if not changed:
        yield f"Caster, camber{', trail and toe' if told.two_karts else ' and trail'} {before}."
        return
    parts = [part for part in _parts(told) if part != TRAIL or not detail.terse]
    said = "; ".join(_moved(told, name, changed, *part) for part in parts)
    if len(changed) == len(told.sides):
        yield f"{said.capitalize()}."
    else:
        [other] = set(told.sides) - set(changed)
        yield f"{changed[0].capitalize()} {said}; {other} {before}."


def _unmoved(told: FirstAnswer) -> str:
    return "alike" if told.two_karts else "as before"


def _moved(told: FirstAnswer, name: str, sides: Sequence[str], short: str, places: int, unit: str) -> str:
    """How far an angle or a length moves, from what to what; of sides that differ each, and only how far."""
    ends = [[straight_number(told, one, short, side) for one in (told.found.base, name)] for side in sides]
    if all(round(was, places) == round(now, places) for was, now in ends):
        return f"{short} {_unmoved(told)}"
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


def _without_numbers(told: FirstAnswer, name: str) -> Iterator[str]:
    """Where one of the two cannot be compared, and why; what is alike turned both ways is told once."""
    found: dict[tuple[str, str], list[str]] = {}
    for case, corners in by_case(told).items():
        for one in (told.found.base, name):
            why = {corner.way: not_standing(told, one, corner) for corner in corners}
            alike = len(set(why.values())) == 1
            for way, said in list(why.items())[: 1 if alike else None]:
                found.setdefault((one, said), []).append(case if alike else f"{case} {way}")
    yield from (f"{', '.join(where)}, {one}: {said}." for (one, said), where in found.items() if said)


def _reset(told: FirstAnswer, name: str, detail: Detail) -> Iterator[str]:
    rods = told.rods(name)
    sides = sorted(FRONT, key=lambda side: side != told.first)
    each = [getattr(rods, side) for side in sides]
    one, other = (rod_words(rod) for rod in each)
    if one == other:
        yield f"To set toe back: each tie rod, {one}."
    elif detail.joined and all(bool(rod.known) for rod in each):
        flats = ", ".join(f"{side} {rod_flats(rod)}" for side, rod in zip(sides, each, strict=True))
        yield f"To set toe back, flats of the tie rods: {flats}."
    else:
        yield f"To set toe back: {sides[0]} tie rod, {one}; {sides[1]}, {other}."


def _two_karts(told: FirstAnswer, detail: Detail) -> Iterator[str]:
    """How the two are made one to compare."""
    turned = {case: number(degrees(corners[0].at), 0) for case, corners in by_case(told).items()}
    if detail.joined:
        alike = "numbers the same in both files are off alike, others apart"
        yield f"{'both turned alike; ' if turned else ''}{alike}.".capitalize()
        return
    if turned:
        yield f"Both turned alike: {', '.join(f'{case} {at}°' for case, at in turned.items())}."
    yield "Numbers that are the same in both files are taken to be off alike, the others each by itself."


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
            f"To check it: standing, {at}° {side}, {side} rear scale shows "
            f"{magnitude(by, 'kg', kg, sure)} {way}."
        )
    yield BRIEF
