"""What a usual step of every adjustment is worth: a table of a row a step, the largest first."""

from __future__ import annotations

from math import degrees

from scenarios.ask.answer import TORQUE
from scenarios.ask.steps import STEPS, Stepped
from scenarios.schema.changes import NOT_MODELLED
from viz.tables.answer import not_standing
from viz.tables.grid import Grid, GridColumn, layout
from viz.words.numbers import PAGE, number, signed
from viz.words.sure import ALIKE, gain, kg
from viz.words.width import laid

HEADS = (
    ("", "one usual step"),
    ("inside", "rear kg"),
    ("off the", "road °"),
    ("outside", "front °"),
    ("effort", "N·m"),
    ("", "min"),
    ("for 1°", "of bush"),
)


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


def _row(found: Stepped, name: str) -> list[str]:
    worth, step = found.worth(name), found.steps[name]
    caster, load = found.instead(name, "1"), gain(worth["load"], kg, band=True)
    return [
        step.words,
        load,
        gain(worth["lifts"]),
        gain(worth["camber"]),
        gain(worth[TORQUE]),
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
