"""A sheet to take to the kart: readings to be taken, as the file of them has them, with boxes to write in."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from itertools import groupby

from scenarios import Scenario
from scenarios.gauged.candidates import way_of
from scenarios.gauged.kinds import KINDS
from scenarios.gauged.record import Reading
from scenarios.gauged.space import uncertain_inputs
from scenarios.sure.stated import Input
from viz.sheet.blocks import BLANK, Block, Card, Cards, Line, Number, Para, Section, Sheet, Steps, Table
from viz.sheet.content import footer
from viz.sheet.gauges import gauge_drawing
from viz.sheet.stances import heading, ready, stance_drawing, wheels_of
from viz.words.cautions import BEFORE_READING, READING
from viz.words.numbers import PAGE, short

TITLE = "Readings to take"
MOST_WHOLE, BEGUN_MM = 20, 110.0
"""Readings of a group that one page holds, and the room in which a longer one begins."""
NUMBERS = "Numbers of the kart, read directly"
SIGNS = (
    "Signs count alike on both sides. Handwheel and turn plates: to the left is +. Read twice where there is "
    "time, with everything put up anew; what could not be read stays empty."
)
HEAD = ("No.", "What", "Where", "Handwheel", "Unit", "Read", "Read again")
SHARES = (0.7, 3.8, 2.65, 2.05, 0.8, 2.0, 2.0)
NUMBER_HEAD = ("No.", "Key in the file", "By", "Unit", "Read", "Read again")
NUMBER_SHARES = (0.8, 4.4, 2.4, 1.2, 2.3, 2.3)
Numbered = Sequence[tuple[int, Reading]]
"""Readings with their numbers, as 'reading[n]' of the file."""


def blank_sheet(
    scenario: Scenario, readings: Sequence[Reading], again: str, fit: str, on: date | None = None
) -> Sheet:
    """The sheet of readings still to be taken, in their order; again is the command line that writes their
    file, fit the one that reads it when filled in."""
    groups = [list(group) for _, group in groupby(enumerate(readings, 1), key=_stands)]
    kinds = Section("Where each gauge goes", tuple(_gauges(scenario, readings)))
    several = len({one.setting for one in readings}) > 1
    stands = (_section(scenario, n, group, several) for n, group in enumerate(groups, 1))
    sections = (_first(), *([kinds] if kinds.blocks else []), *stands, _back(again, fit))
    tab = f"{scenario.title} · {TITLE}"
    return Sheet(TITLE, tab, _facts(scenario, readings, on or date.today()), sections, footer(scenario))


def _stands(numbered: tuple[int, Reading]) -> tuple[object, ...]:
    """What readings of one part of the sheet have in common."""
    return numbered[1].of_number, *numbered[1].setup


def _facts(scenario: Scenario, readings: Sequence[Reading], on: date) -> tuple[tuple[str, Line], ...]:
    settings = ", ".join(dict.fromkeys(one.setting for one in readings))
    return (
        ("Kart", (scenario.title,)),
        ("Setting", (settings,)),
        ("To take", (Number("readings", len(readings), f"{len(readings)}"), " readings")),
        ("Scenario", (scenario.source,)),
        ("Printed", (on.isoformat(),)),
        ("Taken on", BLANK),
        ("Taken by", BLANK),
    )


def _first() -> Section:
    cautions = Para((" ".join((READING, *BEFORE_READING)),), "caution")
    return Section("Before anything is read", (cautions, Para((SIGNS,), "note")))


def _gauges(scenario: Scenario, readings: Sequence[Reading]) -> Iterator[Block]:
    """How each kind is taken, once."""
    names = dict.fromkeys(one.what for one in readings if not one.of_number)
    if names:
        yield Cards(tuple(_gauge(scenario, name) for name in names))


def _gauge(scenario: Scenario, name: str) -> Card:
    kind = KINDS[name]
    lines: list[Line] = [(f"{kind.what[0].upper()}{kind.what[1:]}, in {kind.unit}.",), (kind.how,)]
    if name == "toe_mm":
        across = scenario.toe_diameter_mm
        lines.append(("Marks at hub height, ", _number("toe_diameter_mm", across, "mm"), " apart."))
    return Card(name, tuple(lines), gauge_drawing(name))


def _section(scenario: Scenario, n: int, group: Numbered, several: bool) -> Section:
    """A group of readings that are taken as the kart then stands."""
    first, whole = group[0][1], len(group) <= MOST_WHOLE
    if first.of_number:
        return Section(f"{n}. {NUMBERS}", (_of_numbers(scenario, group),), together=whole)
    words, readings = heading(first), [one for _, one in group]
    title = f"{n}. {words}, {first.setting}" if several else f"{n}. {words}"
    made_ready = Card(
        "Make ready", tuple(ready(f"setup_{n}", readings)), stance_drawing(scenario.kart, readings)
    )
    return Section(title, (Cards((made_ready,)), _table(group)), together=whole, least_mm=BEGUN_MM)


def _table(group: Numbered) -> Table:
    rows = tuple(
        (
            _first_cell(n),
            (_what(one),),
            (_where(one.where),),
            _handwheel(n, one),
            (one.kind.unit,),
            BLANK,
            BLANK,
        )
        for n, one in group
    )
    return Table(_caption(group), HEAD, rows, SHARES, roomy=True)


def _caption(group: Numbered) -> str:
    first, last = group[0][0], group[-1][0]
    return f"Reading {first}" if first == last else f"Readings {first} to {last}"


def _first_cell(n: int) -> Line:
    return (Number(f"reading_{n}", n, f"{n}"),)


def _what(reading: Reading) -> str:
    """The kind as its file has it, with its sign, and the remark that the reading carries."""
    sign = reading.kind.what.partition(", ")[2]
    return ", ".join(filter(None, (reading.what, sign, reading.note)))


def _where(where: str) -> str:
    wheels = [str(n + 1) for n in wheels_of(where)]
    if not wheels:
        return where
    return f"{where.replace('_', ' ')} (wheel{'s' if len(wheels) > 1 else ''} {', '.join(wheels)})"


def _handwheel(n: int, reading: Reading) -> Line:
    """Where the handwheel is held, or the turn plate that says where."""
    if reading.plate:
        side, angle = reading.plate
        return (_turned(f"reading_{n}_{side}_plate_deg", angle), f" on the {side} plate")
    turned = _turned(f"reading_{n}_handwheel_deg", reading.handwheel_deg)
    way = f", {'left' if reading.handwheel_deg > 0.0 else 'right'}" if reading.handwheel_deg else ""
    return (turned, way)


def _turned(key: str, angle: float) -> Number:
    said = f"{'+' if angle > 0.0 else ''}{short(angle, 6, PAGE)} deg" if angle else "straight ahead"
    return Number(key, angle, said)


def _number(key: str, value: float, unit: str) -> Number:
    return Number(key, value, f"{short(value, 6, PAGE)} {unit}")


def _of_numbers(scenario: Scenario, group: Numbered) -> Table:
    known: Mapping[str, Input] = {one.name: one for one in uncertain_inputs(scenario.resolved, apart=True)}
    rows = []
    for n, reading in group:
        one = known[reading.where]
        rows.append((_first_cell(n), (one.name,), (way_of(one),), (one.unit,), BLANK, BLANK))
    return Table(_caption(group), NUMBER_HEAD, tuple(rows), NUMBER_SHARES, roomy=True)


def _back(again: str, fit: str) -> Section:
    """How what was written comes back into the program."""
    steps: tuple[Line, ...] = (
        ("Write the file of these readings, in this order, numbered from the top: ", again),
        ("Type what was read into the column value, or behind value in a .toml file, with its sign.",),
        ("Leave empty what was not read. What was read again is a line of its own, a copy of the first.",),
        ("Find the kart that they mean: ", fit),
    )
    return Section("Back at the desk", (Steps(steps),), together=True)
