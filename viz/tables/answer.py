"""The first answer of a setting in a dozen lines: what it does, in plain words and how sure that is."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from math import degrees, isinf

from kinematics.figures.figure import FRONT
from kinematics.figures.verdict import BINDS, ON_TWO, STANDS, TIPS
from scenarios.ask.answer import DrivenCorner, FirstAnswer
from scenarios.likely.bands import Banded
from viz.words.numbers import PAGE, number
from viz.words.sure import kg, magnitude, plain
from viz.words.width import laid

NOT_JOINED = "Its tie rods cannot be joined straight ahead: nothing can be said of it."
NOT_STANDING = {
    BINDS: "a tie rod binds before it",
    ON_TWO: "the kart rests on two wheels ('on 2') and has no numbers",
    TIPS: "the kart falls over ('tips')",
    STANDS: "there is no number",
}
CAUSES = 2
"""How many of the numbers a figure hangs on are named."""
LEAST_SHARE = 0.05


def sweep_answer(told: FirstAnswer, name: str, sure: bool = True) -> list[str]:
    """What a setting is and what steering does with it."""
    if told.found.of(name, told.straight("toe", told.first)).value is None:
        return laid([NOT_JOINED])
    lines = [_straight(told, name), *_relief(told, name, sure)]
    lines += [*_corner_lines(told, name, sure), *_sure(told, name, sure)]
    return laid(lines)


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


def by_case(told: FirstAnswer) -> dict[str, list[DrivenCorner]]:
    """The corners told of each load case."""
    found: dict[str, list[DrivenCorner]] = {}
    for corner in told.corners:
        found.setdefault(corner.case.name, []).append(corner)
    return found


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
        return carries, f"stays down{doubt}"
    return carries, f"leaves the road at {angle(lifts, sure)}"


def not_standing(told: FirstAnswer, name: str, corner: DrivenCorner) -> str:
    """Why a setting has no numbers in a corner, '' where it has."""
    load = told.found.of(name, corner.addresses["load"])
    return NOT_STANDING[told.stands(name, corner)] if load.value is None else ""


def _corner_lines(told: FirstAnswer, name: str, sure: bool) -> Iterator[str]:
    if told.corners:
        yield "The inside rear in each corner, at the handwheel angle driven there:"
    for case, corners in by_case(told).items():
        corners = sorted(corners, key=lambda corner: FRONT.index(corner.way))
        said = [_corner(told, corner, name, sure) for corner in corners]
        yield f"  {case}, {number(degrees(corners[0].at), 0)}°: {_both(said, [c.way for c in corners])}."


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
