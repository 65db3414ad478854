"""A file of readings still to be taken, TOML or CSV: what comes back filled in is read as it is."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from scenarios.gauged.file import COLUMNS
from scenarios.gauged.kinds import WHEELS
from scenarios.gauged.record import Reading
from scenarios.quoting import toml_string

HEAD = (
    "Readings of {title}. Write what you read behind value, and leave out what you could not read.",
    "Each is of the setting named, handwheel where it says (deg, + to the left), driver seated unless noted.",
    "Toe-in is +, a top that leans outward is +, a wheel turned to the left is +, on both sides alike.",
    "The kart stands still, engine off; no hand goes under it unless it is on stands that cannot roll.",
)


def by_setup(readings: Iterable[Reading]) -> list[Reading]:
    """Readings in the order in which they are taken: all of one setup together, what comes first first, and
    numbers of the scenario last."""
    told = list(readings)
    places = {one.setup: n for n, one in reversed(list(enumerate(told)))}
    return sorted(told, key=lambda one: (one.of_number, places[one.setup]))


def row_of(reading: Reading) -> dict[str, Any]:
    """A reading as its file has it: what says nothing is left out."""
    found: dict[str, Any] = {"what": reading.what, "where": reading.where, "setting": reading.setting}
    if reading.plate:
        found[f"{reading.plate[0]}_plate_deg"] = reading.plate[1]
    elif not reading.of_number:
        found["handwheel_deg"] = reading.handwheel_deg
    found |= {f"under_{wheel}_mm": high for wheel, high in zip(WHEELS, reading.under_mm, strict=True) if high}
    if reading.hung:
        at = zip("xyz", reading.hung.at_mm, strict=True)
        found |= {"weight_kg": reading.hung.kg} | {f"weight_{axis}_mm": place for axis, place in at}
    found |= {key: getattr(reading, key) for key in ("lateral_g", "longitudinal_g") if getattr(reading, key)}
    if reading.held:
        found["frame_held"] = True
    for key in ("value", "uncertainty"):
        if getattr(reading, key) is not None:
            found[key] = getattr(reading, key)
    return found | ({"note": reading.note} if reading.note else {})


def as_toml(readings: Sequence[Reading], title: str) -> str:
    """Readings as TOML; one that is not taken has its value to be written."""
    lines = [f"# {line.format(title=title)}" for line in HEAD]
    for number, reading in enumerate(readings, 1):
        unit = "" if reading.of_number else f", {reading.kind.unit}"
        lines += ["", f"# {number}: {reading.words}{unit}", "[[reading]]"]
        lines += [f"{key} = {_toml(value)}" for key, value in row_of(reading).items()]
        if reading.value is None:
            lines.append("# value = ")
    return "\n".join(lines) + "\n"


def _toml(value: object) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    return toml_string(value) if isinstance(value, str) else repr(float(value))  # type: ignore[arg-type]


def as_csv(readings: Sequence[Reading], title: str) -> str:
    """Readings as CSV, a line a reading; the column value is to be filled in."""
    rows = [row_of(reading) for reading in readings]
    used = {key for row in rows for key in row} | {"value", "note"}
    columns = [column for column in COLUMNS if column in used]
    out = io.StringIO()
    out.writelines(f"# {line.format(title=title)}\n" for line in HEAD)
    writer = csv.DictWriter(out, columns, lineterminator="\n")
    writer.writeheader()
    writer.writerows(_cells(row) for row in rows)
    return out.getvalue()


def _cells(row: Mapping[str, Any]) -> dict[str, Any]:
    return {key: "yes" if value is True else value for key, value in row.items()}
