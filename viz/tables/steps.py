"""What a usual step of every adjustment is worth: a few lines, and a table of a row a step, largest first."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from itertools import product
from math import degrees, isinf

from scenarios.ask.answer import TORQUE, outward
from scenarios.ask.levers import MOST_STEPS
from scenarios.ask.steps import STEPS, Stepped, UsualStep
from scenarios.schema.changes import BALLAST, NOT_MODELLED
from viz.tables.answer import not_standing
from viz.tables.effects import LOAD, TOLD, told_of
from viz.tables.grid import Grid, GridColumn, layout
from viz.words.numbers import PAGE, number, short, signed
from viz.words.sure import ALIKE, gain, kg, magnitude
from viz.words.width import laid, shortest

HEADS = (
    ("", "one usual step"),
    ("inside", "rear kg"),
    ("off the", "road °"),
    ("outside", "front °"),
    ("effort", "N·m"),
    ("", "min"),
    ("for 1°", "of bush"),
)


FIRST = "1"
"""The setting that the first of the steps makes, a degree of bush."""
LIFTS = TOLD[1]
MOST_TOLD = 5
"""Steps told one by one, at most."""
INSTEAD = 3
"""Steps told in place of a bush, at most."""
NEAR = 2.0
"""So many steps are not far from one."""


def moved(step: UsualStep, amount: float, digits: int = 3) -> str:
    """So much of an adjustment, in its unit: 'front hubs in about 5 mm'."""
    size = short(abs(amount) if step.back else amount, digits, PAGE)
    sign = "+" if amount > 0.0 and not step.back else ""
    return f"{step.towards(amount)} about {sign}{size} {step.unit}"


def steps_answer(found: Stepped) -> list[str]:
    """What is told first: which steps do most to the inside rear, what replaces a bush, what else they do."""
    corner = found.answer.corners[0]
    where = f"{corner.case.name}, {number(degrees(corner.at), 0)}° {corner.way}"
    title = (
        f"{found.answer.scenario.title}, {found.base}: one usual step, toe set back, inside rear ({where})"
    )
    if why := not_standing(found.answer, found.base, corner):
        return laid([f"{title}.", f"No numbers: {why}."])
    told = [name for name in found.ranked if _does(found, name)]
    if not told:
        return laid([f"{title}:", "  No step does anything to it that can be told."])

    def version(most: int, instead: int) -> list[str]:
        steps = [(found.steps[name], _does(found, name)) for name in told[:most]]
        return [
            f"{title}, largest first:",
            *(f"  {step.words}: {does}; {step.minutes} min." for step, does in steps),
            *_others(found, told, most),
            *_instead(found, told, instead),
            *_most(found),
            "± holds 95 of 100 karts measured like this one. Minutes: a guess, no source.",
        ]

    ways = product(range(MOST_TOLD, 1, -1), range(INSTEAD, 1, -1))
    return shortest(partial(version, *way) for way in ways)


def report(found: Stepped) -> list[str]:
    """The table with what it is of, what its columns are, and what is not in it."""
    corner = found.answer.corners[0]
    where = f"{corner.case.name}, {number(degrees(corner.at), 0)}° of handwheel to the {corner.way}"
    title = f"{found.answer.scenario.title}, {found.base}: one step of each, toe set back ({where})."
    columns = [GridColumn(heads, text=not place, name=not place) for place, heads in enumerate(HEADS)]
    table = layout(Grid(columns, [_row(found, name) for name in found.ranked]))
    why = not_standing(found.answer, found.base, corner)
    missing = [f"No numbers: {why}."] if why else []
    return [*laid([title, *missing]), "", *table, "", *laid(_legend())]


def _does(found: Stepped, name: str) -> str:
    """What a step does to the inside rear, in words: to its load, else to where it leaves the road."""
    worth = found.worth(name)
    for what, before in ((LOAD, ""), (LIFTS, "leaves the road ")):
        by = worth[what.short]
        if by.told_apart and by.value is not None and (isinf(by.value) or gain(by, what.scale) != ALIKE):
            below = by.value < 0.0
            if isinf(by.value):
                return "now leaves the road" if below else "now stays down"
            size = magnitude(by, what.unit, what.scale)
            return f"{before}{size} {what.below if below else what.above}"
    return ""


def _instead(found: Stepped, told: Sequence[str], most: int) -> list[str]:
    """What does the same to the load as the first step: of steps not far from one the least work first."""
    can: list[tuple[bool, int, float, str]] = []
    for name in told:
        step, count = found.steps[name], found.instead(name, FIRST)
        if (
            name == FIRST
            or count is None
            or abs(count) > MOST_STEPS
            or (count < 0.0 and step.key == BALLAST.key)
        ):
            continue
        can.append((abs(count) > NEAR, step.minutes, abs(count), moved(step, count * step.amount, 2)))
    some = [words for *_, words in sorted(can)[:most]]
    return [f"As much as {found.steps[FIRST].words}: {'; '.join(some)}."] if some else []


def _most(found: Stepped) -> list[str]:
    """Which step does most to the outside front and to the handwheel."""
    lines, corner = [], found.answer.corners[0]
    for what in TOLD[2:]:
        each = {name: told_of(found.answer, name, corner, what, True) for name in found.steps}
        name = max(each, key=lambda one: each[one][2])
        heading, size, value = each[name]
        if value > 0.0:
            words = heading.removeprefix(what.subject).strip()
            lines.append(f"{what.subject} most: {found.steps[name].words}, {size} {words}.")
    return lines


def _others(found: Stepped, told: Sequence[str], most: int) -> list[str]:
    """How many more do something to the inside rear, and which do nothing that can be told."""
    none = [step.name for name, step in found.steps.items() if name not in told]
    some = [*none[:INSTEAD], *([f"{len(none) - INSTEAD} more"] if len(none) > INSTEAD else [])]
    parts = [f"{len(told) - most} do less"] if len(told) > most else []
    parts += [f"nothing that can be told: {', '.join(some)}"] if none else []
    return [f"  {'; '.join(parts)}."] if parts else []


def _row(found: Stepped, name: str) -> list[str]:
    worth, step = found.worth(name), found.steps[name]
    caster, load = found.instead(name, FIRST), gain(worth["load"], kg, band=True)
    return [
        step.words,
        load,
        gain(worth["lifts"]),
        gain(worth["camber"]),
        gain(outward(worth[TORQUE], found.answer.corners[0])),
        str(step.minutes),
        ALIKE if caster is None or load == ALIKE else signed(caster, 1, hand=PAGE),
    ]


def _legend() -> list[str]:
    return [
        f"± holds 95 of 100 karts measured like this one; {ALIKE} is no difference that can be told.",
        "off the road: at how many degrees of handwheel the inside rear leaves it. effort: at the handwheel.",
        f"for 1° of bush: how many steps do to the inside rear what '{STEPS[0].words}' does.",
        "min: minutes of work with the toe set again, a guess of this program without a source.",
        f"Not modelled, which is not without effect: {'; '.join(NOT_MODELLED)}.",
    ]
