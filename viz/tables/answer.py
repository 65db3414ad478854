"""The first answer in a dozen lines: what a setting does, or a change, in plain words and how sure it is."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import degrees, isinf
from textwrap import wrap
from typing import NamedTuple

from kinematics.figures.figure import FRONT
from scenarios.ask.answer import TORQUE, DrivenCorner, FirstAnswer
from scenarios.ask.bands import Banded
from viz.tables.work import rod_words
from viz.words.cautions import BRIEF
from viz.words.numbers import PAGE, number
from viz.words.sure import Scale, kg, magnitude, plain, shift

NARROW = 80
NOT_JOINED = "Its tie rods cannot be joined straight ahead: nothing can be said of it."
CAUSES = 2
"""How many of the numbers a figure hangs on are named."""
LEAST_SHARE = 0.05


def sweep_answer(told: FirstAnswer, name: str, sure: bool = True) -> list[str]:
    """What a setting is and what steering does with it, in lines of at most 80 columns."""
    if told.found.of(name, told.straight("toe", FRONT[0])).value is None:
        return laid([NOT_JOINED])
    lines = [_straight(told, name), *_relief(told, name, sure)]
    lines += [*_corner_lines(told, name, sure), *_sure(told, name, sure)]
    return laid(lines)


def laid(lines: Iterable[str]) -> list[str]:
    """Lines wrapped to a narrow terminal, what goes on set in."""
    return [part for line in lines for part in wrap(line, NARROW, subsequent_indent="    ")]


def _number(told: FirstAnswer, name: str, short: str, side: str = FRONT[0]) -> float:
    return told.found.of(name, told.straight(short, side)).value or 0.0


def _straight(told: FirstAnswer, name: str) -> str:
    def said(side: str) -> str:
        caster, camber, toe = (_number(told, name, short, side) for short in ("caster", "camber", "toe"))
        way = "in" if toe > 0.0 else "out"
        return (
            f"caster {number(caster, 1, hand=PAGE)}°, camber {number(camber, 1, hand=PAGE)}°, "
            f"toe-{way} {number(abs(toe), 2)}° a wheel"
        )

    left, *right = (said(side) for side in (FRONT[:1] if told.even else FRONT))
    if right in ([], [left]):
        return f"Straight ahead: {left}."
    return f"Straight ahead: left {left}; right {right[0]}."


def _relief(told: FirstAnswer, name: str, sure: bool) -> Iterator[str]:
    relief, before = told.relief(name), told.found.of(name, told.ahead)
    if relief.value is None or before.value is None:
        return
    does, where = ("takes", "off") if relief.value < 0.0 else ("puts", "on")
    size, after = magnitude(relief, "kg", kg, sure), before.value + relief.value
    yield (
        f"Standing still, {number(degrees(told.weighed), 0)}° of handwheel {does} {size} {where} "
        "the inside rear: "
        f"its scale goes from {number(kg(before.value), 1)} to {number(kg(after), 1)} kg."
    )


def _by_case(told: FirstAnswer) -> dict[str, list[DrivenCorner]]:
    """The corners told of each load case."""
    found: dict[str, list[DrivenCorner]] = {}
    for corner in told.corners:
        found.setdefault(corner.case.name, []).append(corner)
    return found


def _corner(told: FirstAnswer, corner: DrivenCorner, name: str, sure: bool) -> str:
    of = {short: told.found.of(name, address) for short, address in corner.addresses.items()}
    load, lifts = of["load"], of["lifts"]
    if load.value is None:
        return "the kart does not stand"
    if of["air"].value:
        up = magnitude(of["air"], "mm", plain, sure)
        return f"the inside rear is {up} off the road, from {_angle(lifts, sure)} on"
    carries = f"{magnitude(load, 'kg', kg, sure)} on the inside rear"
    if lifts.value is None or isinf(lifts.value):
        lifting = 100.0 * (1.0 - float(lifts.band.never))
        doubt = f" (in {number(lifting, 0)} of 100 likely karts it lifts)" if sure and lifting > 2.5 else ""
        return f"{carries}; stays down{doubt}"
    return f"{carries}; leaves the road at {_angle(lifts, sure)}"


def _corner_lines(told: FirstAnswer, name: str, sure: bool) -> Iterator[str]:
    for case, corners in _by_case(told).items():
        said = [_corner(told, corner, name, sure) for corner in corners]
        if len(said) > 1:
            said = [f"to the {c.way} {text}" for c, text in zip(corners, said, strict=True)]
        yield f"{case}, {number(degrees(corners[0].at), 0)}°: {'; '.join(said)}."


def _angle(lifts: Banded, sure: bool) -> str:
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


def compare_answer(told: FirstAnswer, name: str, sure: bool = True) -> list[str]:
    """What a setting does against the base, toe set back, in lines of at most 80 columns."""
    base = told.found.base
    if any(told.found.of(one, told.straight("toe", FRONT[0])).value is None for one in (base, name)):
        return laid([f"{name} against {base}: {NOT_JOINED}"])
    lines = [*_geometry(told, name), *_differences(told, name, sure)]
    lines += [*_reset(told, name), *_check(told, name, sure)]
    return [
        *laid([f"{name} against {base}, toe set back to that of {base}:"]),
        *laid(f"  {line}" for line in lines),
    ]


def _geometry(told: FirstAnswer, name: str) -> Iterator[str]:
    base, sides = told.found.base, FRONT[:1] if told.even else FRONT

    def moved(short: str, side: str, places: int, unit: str) -> str:
        was, now = (_number(told, one, short, side) for one in (base, name))
        return f"{short} {shift(was, now, places, unit)}"

    parts = ("caster", 1, "°"), ("camber", 1, "°"), ("trail", 0, "mm")
    said = [", ".join(moved(short, side, places, unit) for short, places, unit in parts) for side in sides]
    if len(set(said)) == 1:
        yield f"Straight ahead: {said[0]}."
    else:
        yield from (f"Straight ahead, {side}: {text}." for side, text in zip(FRONT, said, strict=True))


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


def _differences(told: FirstAnswer, name: str, sure: bool) -> Iterator[str]:
    """A line for each thing that changes: in which corners, and by how much."""
    for what in TOLD:
        groups: dict[str, dict[str, list[str]]] = {}
        largest = 0.0
        for corner in told.corners:
            heading, size = _difference(told, name, corner, what, sure)
            value = abs(told.found.change(name, corner.addresses[what.short]).value or 0.0)
            if heading and not (what.largest and value <= largest):
                groups = {} if what.largest else groups
                largest = max(value, largest)
                groups.setdefault(heading, {}).setdefault(size, []).append(_which(told, corner))
        for heading, sizes in groups.items():
            said = (f"{', '.join(where)} {size}".strip() for size, where in sizes.items())
            yield f"{heading}: {'; '.join(said)}."


def _which(told: FirstAnswer, corner: DrivenCorner) -> str:
    return corner.case.name if told.even else f"{corner.case.name} {corner.way}"


def _difference(
    told: FirstAnswer, name: str, corner: DrivenCorner, what: Effect, sure: bool
) -> tuple[str, str]:
    """Under which heading a difference is told, '' for none, and its size."""
    address = corner.addresses[what.short]
    by, now = told.found.change(name, address), told.found.of(name, address)
    if by.value is None or now.value is None or by.value == 0.0:
        return "", ""
    if isinf(by.value):
        gone = by.value > 0.0
        return ("It now stays down", "") if gone else ("It now leaves the road", f"at {_angle(now, sure)}")
    if abs(by.value) < address.figure.worth:
        return ("The inside rear as before", "") if what.short == "load" else ("", "")
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


def _check(told: FirstAnswer, name: str, sure: bool) -> Iterator[str]:
    by = told.found.change(name, told.turned)
    if by.value is not None and abs(by.value) < told.turned.figure.worth:
        yield "To check it: measure caster and camber; scales would not show it."
    elif by.value is not None:
        way = "less" if by.value < 0.0 else "more"
        yield (
            f"To check it: standing, {number(degrees(told.weighed), 0)}° left, the left rear scale shows "
            f"{magnitude(by, 'kg', kg, sure)} {way}."
        )
    yield BRIEF
