"""A file of readings, TOML or CSV: the same keys in both, refused in one line."""

from __future__ import annotations

import csv
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

from scenarios.errors import ScenarioError, complaint, nearest, suggestion
from scenarios.gauged.kinds import KINDS, OF_NUMBER, SIDES, WHEELS
from scenarios.gauged.record import Hung, Reading
from scenarios.gauged.space import uncertain_inputs
from scenarios.ranges import RANGES, Allowed
from scenarios.reading import tables_at, text_at
from scenarios.records import Scenario
from scenarios.schema.keys import NAME, number
from scenarios.schema.kinds import Fault, Items, Key, KeyTable, Measure, Switch, Words
from scenarios.schema.refusal import one_line

MOST = 400
"""Readings that a file may hold."""
ANY = Allowed(-1e6, 1e6, "its kind says more")
READING = KeyTable(
    "ReadingTable",
    "[[reading]]: one reading of the kart.",
    Key("what", Words(1, 40), "What was read"),
    Key("where", Words(1, 80), "A side, a wheel or a number's name"),
    Key("setting", NAME, "What was fitted; left out: the default setting", None),
    number("reading.handwheel_deg", "Where the handwheel was held", 0.0),
    number("reading.left_plate_deg", "Or where the left wheel's turn plate was", None),
    number("reading.right_plate_deg", "Or where the right wheel's turn plate was", None),
    *(number(f"reading.under_{wheel}_mm", "Shim or block under the wheel", 0.0) for wheel in WHEELS),
    number("reading.weight_kg", "A known weight on the kart", None),
    *(number(f"reading.weight_{axis}_mm", "Where it is", None) for axis in "xyz"),
    number("reading.lateral_g", "How hard it corners meanwhile, into the turn", 0.0),
    number("reading.longitudinal_g", "+ speeding up, - braking", 0.0),
    Key("frame_held", Switch(), "Frame held level, wheels free", False),
    Key("value", Measure(ANY, ""), "What was read; left out: not taken yet", None),
    Key("uncertainty", Measure(Allowed(1e-6, 1e6, "above 0"), ""), "Standard uncertainty", None),
    Key("note", Words(0, 200), "A remark", ""),
)
FILE = KeyTable("ReadingsFile", "A file of readings.", Key("reading", Items(READING, 1, MOST), ""))
COLUMNS = tuple(READING.keys)


def readings_of(path: Path, scenario: Scenario) -> list[Reading]:
    """The readings of a file, of a scenario's settings and uncertain numbers; those not taken are kept.

    Raises ScenarioError, one line.
    """
    try:
        tables = csv_tables(text_at(path), path) if path.suffix.lower() == ".csv" else tables_at(path)
    except FileNotFoundError:
        raise ScenarioError(f"{path}: no such file") from None
    return readings_in(tables, path, scenario)


def readings_in(tables: Mapping[str, Any], source: Path | str, scenario: Scenario) -> list[Reading]:
    """The readings of tables as a file has them; the source is named where they are refused.

    Raises ScenarioError, one line.
    """
    names = [one.name for one in uncertain_inputs(scenario.resolved, apart=True)]
    faults: list[Fault] = []
    found = FILE.read(tables, (), faults)
    if faults:
        raise ScenarioError(f"{source}: {one_line(faults, FILE)}")
    return [_reading(source, n, table, scenario, names) for n, table in enumerate(found["reading"], 1)]


def csv_tables(text: str, source: Path | str) -> dict[str, Any]:
    """The tables of a CSV text: empty cells are left out, lines that start with # skipped.

    Raises ScenarioError, one line that names the source.
    """
    lines = [line for line in text.splitlines() if line.strip() and not line.startswith("#")]
    try:
        rows = list(csv.reader(lines, strict=True))
    except csv.Error as error:
        raise ScenarioError(f"{source}: broken CSV: {error}") from None
    if not rows:
        raise ScenarioError(f"{source}: holds no reading")
    head = [cell.strip() for cell in rows[0]]
    for cell in head:
        if cell not in COLUMNS:
            raise ScenarioError(f"{source}: column '{cell[:60]}' is unknown{nearest(cell[:60], COLUMNS)}")
    for n, row in enumerate(rows[1:], 1):
        if len(row) != len(head):
            raise ScenarioError(f"{source}: reading[{n}] has {len(row)} cells, the first line {len(head)}")
    return {
        "reading": [
            {key: _typed(key, cell.strip()) for key, cell in zip(head, row, strict=True) if cell.strip()}
            for row in rows[1:]
        ]
    }


TEXT = ("what", "where", "setting", "note")
YES = {"yes": True, "true": True, "no": False, "false": False}


def _typed(key: str, cell: str) -> Any:
    """A cell as TOML would have it; what is no number stays text, which is refused with its key."""
    if key in TEXT:
        return cell
    if key == "frame_held":
        return YES.get(cell.lower(), cell)
    try:
        return float(cell)
    except ValueError:
        return cell


def _reading(
    source: Path | str, n: int, table: Mapping[str, Any], scenario: Scenario, names: Sequence[str]
) -> Reading:
    def refuse(key: str, value: object, allowed: str) -> ScenarioError:
        return ScenarioError(f"{source}: {complaint(f'reading[{n}].{key}', value, allowed)}")

    what, where, setting = table["what"], table["where"], table.get("setting", scenario.default_setting)
    if what not in (*KINDS, OF_NUMBER):
        known = f"; there are: {', '.join((*KINDS, OF_NUMBER))}"
        raise refuse("what", what, f"no such kind of reading{nearest(what, KINDS) or known}")
    if setting not in scenario.settings:
        raise refuse("setting", setting, f"no such setting{suggestion(setting, scenario.settings)}")
    places = names if what == OF_NUMBER else KINDS[what].places
    if where not in places:
        there = nearest(where, places) if what == OF_NUMBER else suggestion(where, places)
        raise refuse("where", where, f"{what} is not read there{there}")
    value = table.get("value")
    allowed = RANGES.get(what) if what == OF_NUMBER else KINDS[what].allowed
    if value is not None and allowed is not None and not allowed.holds(value):
        raise refuse("value", value, f"{what} must be {allowed.told(KINDS[what].unit)}")
    if table["frame_held"] and not (what != OF_NUMBER and KINDS[what].held):
        raise refuse("frame_held", True, f"{what} is read of a kart that stands on its wheels")
    return Reading(
        what,
        where,
        setting,
        value,
        table.get("uncertainty"),
        table["handwheel_deg"],
        next(_plates(table, refuse), None),
        tuple(table[f"under_{wheel}_mm"] for wheel in WHEELS),
        _hung(table, refuse),
        table["lateral_g"],
        table["longitudinal_g"],
        table["frame_held"],
        table["note"],
        f"reading[{n}]",
    )


def _plates(table: Mapping[str, Any], refuse: Any) -> Iterator[tuple[str, float]]:
    given = [(side, table[f"{side}_plate_deg"]) for side in SIDES if f"{side}_plate_deg" in table]
    if len(given) > 1 or (given and table["handwheel_deg"]):
        raise refuse(f"{given[0][0]}_plate_deg", given[0][1], "one of handwheel, left plate, right plate")
    yield from given


def _hung(table: Mapping[str, Any], refuse: Any) -> Hung | None:
    at: list[Any] = [table.get(f"weight_{axis}_mm") for axis in "xyz"]
    if "weight_kg" not in table:
        if any(one is not None for one in at):
            raise refuse("weight_kg", None, "missing, needed in kg where a place is given")
        return None
    if any(one is None for one in at):
        raise refuse("weight_kg", table["weight_kg"], "needs weight_x_mm, weight_y_mm and weight_z_mm")
    return Hung(table["weight_kg"], (at[0], at[1], at[2]))
