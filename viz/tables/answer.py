"""The first answer of a setting in a dozen lines: what it does, in plain words and how sure that is."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import partial
from math import degrees, inf, isinf
from typing import NamedTuple

from kinematics.figures.verdict import BINDS, ON_TWO, STANDS, TIPS
from kinematics.tolerance.band import band, differences
from scenarios.ask.answer import DrivenCorner, FirstAnswer
from scenarios.likely.bands import Banded
from viz.words.numbers import PAGE, number
from viz.words.sure import kg, magnitude, plain
from viz.words.width import MOST_LINES, laid, shortest

NOT_JOINED = "Its tie rods cannot be joined straight ahead: nothing can be said of it."
NOT_STANDING = {
    BINDS: "a tie rod binds before it",
    ON_TWO: "the kart rests on two wheels ('on 2') and has no numbers",
    TIPS: "the kart falls over ('tips')",
    STANDS: "there is no number",
}
DOWN = "stays down"
CAUSES = 2
"""How many of the numbers a figure hangs on are named."""
LEAST_SHARE = 0.05


def sweep_answer(told: FirstAnswer, name: str, sure: bool = True) -> list[str]:
    """What a setting is and what steering does with it, below a title of one line."""
    if told.found.of(name, told.straight("toe", told.first)).value is None:
        return laid([NOT_JOINED])
    head, tail = [_straight(told, name), *_relief(told, name, sure)], [*_sure(told, name, sure)]
    corners = [_told_once(told, each, name, sure) for each in by_case(told).values()]
    fewer = range(len(corners), 0, -1)
    versions = [partial(_each, corners), *(partial(_least, corners, most) for most in fewer)]

    def version(said: Callable[[], list[str]]) -> list[str]:
        return [*head, *_headed(told, said()), *tail]

    return shortest((partial(version, one) for one in versions), MOST_LINES - 1)


def straight_number(told: FirstAnswer, name: str, short: str, side: str) -> float:
    """A figure straight ahead as a number, 0 where there is none."""
    return told.found.of(name, told.straight(short, side)).value or 0.0


def _straight(told: FirstAnswer, name: str) -> str:
    def said(short: str, how: Callable[[float], str], tail: str = "") -> str:
        each = [how(straight_number(told, name, short, side)) for side in told.sides]
        if len(set(each)) == 1:
            return f"{short} {each[0]}{tail}"
        return f"{short} {', '.join(map(' '.join, zip(told.sides, each, strict=True)))}{tail}"

    def tilted(value: float) -> str:
        return f"{number(value, 1, hand=PAGE)}°"

    def faced(value: float) -> str:
        return f"{number(abs(value), 2)}° {'in' if value > 0.0 else 'out'}"

    parts = said("caster", tilted), said("camber", tilted), said("toe", faced, " a wheel")
    return f"Straight ahead: {(', ' if len(told.sides) == 1 else '; ').join(parts)}."


def by_case(told: FirstAnswer) -> dict[str, list[DrivenCorner]]:
    """The corners told of each load case, that turned the answer's first way leading."""
    found: dict[str, list[DrivenCorner]] = {}
    for corner in told.corners:
        found.setdefault(corner.case.name, []).append(corner)
    return found


def alike(figures: Sequence[Banded], sure: bool) -> bool:
    """Whether a figure turned one way is that of the other way: by less than is worth it, or can be told.

    What can be told is asked of both on the same karts, where what they have in common cancels.
    """
    if len(figures) == 1:
        return True
    one, other = figures
    if one.value is None or other.value is None:
        return one.value is other.value
    if one.value == other.value:
        return True
    if (
        not (isinf(one.value) or isinf(other.value))
        and abs(one.value - other.value) < one.address.figure.worth
    ):
        return True
    return sure and not bool(band(*differences(one.values, other.values)).told_apart)


def _relief(told: FirstAnswer, name: str, sure: bool) -> Iterator[str]:
    relief, before = told.relief(name), told.found.of(name, told.ahead)
    if relief.value is None or before.value is None:
        return
    does, where = ("takes", "off") if relief.value < 0.0 else ("puts", "on")
    size, after = magnitude(relief, "kg", kg, sure), before.value + relief.value
    was, now = (number(kg(value), 1) for value in (before.value, after))
    weighed, way = number(abs(degrees(told.weighed)), 0), told.first
    turned, wheel = ("of handwheel", "inside") if told.even else (way, way)
    yield f"Standing, {weighed}° {turned} {does} {size} {where} the {wheel} rear ({was} → {now})."


def _corner(told: FirstAnswer, corner: DrivenCorner, name: str, sure: bool) -> tuple[str, str]:
    """What the inside rear carries in a corner, or how far it is up, and where it leaves the road."""
    of = {short: told.found.of(name, address) for short, address in corner.addresses.items()}
    load, lifts = of["load"], of["lifts"]
    if load.value is None:
        return not_standing(told, name, corner), ""
    if of["air"].value:
        return f"{magnitude(of['air'], 'mm', plain, sure)} in the air", f"from {angle(lifts, sure)} on"
    carries = magnitude(load, "kg", kg, sure)
    if lifts.value is None or isinf(lifts.value):
        lifting = 100.0 * (1.0 - float(lifts.band.never))
        doubt = f" ({number(lifting, 0)} in 100 lift)" if sure and lifting > 2.5 else ""
        return carries, f"{DOWN}{doubt}"
    return carries, f"leaves the road at {angle(lifts, sure)}"


def not_standing(told: FirstAnswer, name: str, corner: DrivenCorner) -> str:
    """Why a setting has no numbers in a corner, '' where it has."""
    load = told.found.of(name, corner.addresses["load"])
    return NOT_STANDING[told.stands(name, corner)] if load.value is None else ""


class InCorner(NamedTuple):
    """What is said of a corner: how the wheel stands in each turn told, and where it leaves the road."""

    case: str
    at: str
    ways: Sequence[str]
    said: Sequence[tuple[str, str]]
    room: float
    """By how much the wheel is down, N, below 0 where it is up: the least of its turns."""

    @property
    def stays(self) -> bool:
        """Whether one thing is said of it, and that the wheel stays down without a doubt."""
        return len(self.said) == 1 and self.said[0][1] == DOWN


def _told_once(told: FirstAnswer, corners: Sequence[DrivenCorner], name: str, sure: bool) -> InCorner:
    """Both turns; where they cannot be told apart, that in which the wheel is nearer to lifting."""
    at = f"{number(degrees(corners[0].at), 0)}°"
    found = [[told.found.of(name, corner.addresses[one]) for corner in corners] for one in ("load", "lifts")]
    room = {corner.way: _room(told, corner, name) for corner in corners}
    if all(alike(figures, sure) for figures in found):
        first = sorted(corners, key=lambda one: (room[one.way], one.way != told.first))
        corners = first[:1]
    said = [_corner(told, corner, name, sure) for corner in corners]
    return InCorner(corners[0].case.name, at, [one.way for one in corners], said, min(room.values()))


def _room(told: FirstAnswer, corner: DrivenCorner, name: str) -> float:
    load, air = (told.found.of(name, corner.addresses[one]).value for one in ("load", "air"))
    return -inf if load is None else -air if air else load


def _headed(told: FirstAnswer, lines: Sequence[str]) -> list[str]:
    where = "at the handwheel angle driven there" if told.even else "either way unless said, at its handwheel"
    return [f"The inside rear in each corner, {where}:", *lines] if lines else []


def _each(corners: Sequence[InCorner]) -> list[str]:
    """A line for each corner."""
    return [f"  {one.case}, {one.at}: {_both(one.said, one.ways)}." for one in corners]


def _least(corners: Sequence[InCorner], most: int) -> list[str]:
    """So many corners at most, nearest to lifting first chosen; in one line where the wheel stays down."""
    told = sorted(corners, key=lambda one: one.room)[:most]
    lines = _each([one for one in corners if one in told and not one.stays])
    if down := [f"{one.case} {one.at} {one.said[0][0]}" for one in corners if one in told and one.stays]:
        lines.append(f"  {DOWN}: {'; '.join(down)}.")
    left_out = len(corners) - len(told)
    return [*lines, *([f"  {left_out} in which it carries more: --tables."] if left_out else [])]


def _both(said: Sequence[tuple[str, str]], ways: Sequence[str]) -> str:
    """What is said of a corner, of each way it is turned where they differ."""
    loads, tails = zip(*said, strict=True)
    if len(said) == 1:
        return "; ".join(filter(None, said[0]))
    if len(set(tails)) == 1:
        return "; ".join(filter(None, (", ".join(map(" ".join, zip(ways, loads, strict=True))), tails[0])))
    return "; ".join(f"{way} {', '.join(filter(None, one))}" for way, one in zip(ways, said, strict=True))


def angle(lifts: Banded, sure: bool) -> str:
    """Handwheel angle at which the inside rear leaves the road."""
    return magnitude(lifts, "°", plain, sure)


def _sure(told: FirstAnswer, name: str, sure: bool) -> Iterator[str]:
    if not sure:
        return
    first = told.corners[0].addresses["load"] if told.corners else told.turned
    yield f"± holds 95 of 100 karts measured like this one.{_hangs(told, name, told.found.of(name, first))}"


def _hangs(told: FirstAnswer, name: str, figure: Banded) -> str:
    causes = [one for one in told.found.causes(name, figure)[:CAUSES] if one.share >= LEAST_SHARE]
    if not causes:
        return ""
    named = " and ".join(f"{one.name} ({number(100.0 * one.share, 0)} %)" for one in causes)
    return f" Most of the doubt: {named}."
