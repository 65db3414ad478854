"""A bush pair typed on the command line, in words of its own: `top=2@180,bottom=1.5mm@0,hub=5`.

Each part is WORD=NUMBER, a bush also @CLOCK. The result has the keys of a setting's corner table in a
scenario file, so that one place checks and converts both.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from math import isfinite
from typing import Any

from scenarios.errors import Refusal, exact, nearest, pointed
from scenarios.schema.changes import AT_A_CORNER

Tables = dict[str, Any]

AS_GIVEN = "as given"
BUSHES = ("top", "bottom")
LENGTHS = {**{change.word: change.key for change in AT_A_CORNER}, "rod": "tie_rod_length_mm"}
TOE = {"toe": "tie_rod_toe_deg"}
WORDS = (*BUSHES, *LENGTHS, *TOE)
SYNTAX = "top=2@180,bottom=1.5mm@0,spacer=2,hub=5,toe=0.1"

HELP = f"""\
A corner is typed as parts with commas between them, for example
  {SYNTAX}
top, bottom   a bush: rated size, '@', clock. The size is in deg (2 or 2deg) or the offset of
              its hole in mm (2mm). The clock says where the hole is, seen along the kingpin
              from above: 0 forward, 90 outboard, 180 rearward, 270 inboard, the same reading
              on both corners. 0 is a concentric bush and needs no clock.
spacer        stub axle moved up along the kingpin, mm (lowers the front of the frame)
hub           wheel moved outward, mm
arm, spade    tie rod's outer joint moved along the steering arm, + away from the kingpin, and its
              inner one along the spade, + away from the column, mm
rod, toe      tie rod of this length, mm, or re-set to this toe of the wheel, deg, + toe-in;
              without either the tie rod is kept as it was
What is not typed is concentric, unmoved and kept, or as in the setting named by --based-on."""

_SIZE = re.compile(r"[-+]?[\d.]+(?:[eE][-+]?\d+)?")


def corner_text(text: str) -> Tables:
    """The corner table of a typed corner."""
    table: Tables = {}
    for word, value in parts_of(text, WORDS, SYNTAX):
        keys = _part(word, value)
        if table.keys() & keys.keys():
            raise Refusal(f"'{word}' stands twice in '{text}'")
        table |= keys
    if {"tie_rod_length_mm", "tie_rod_toe_deg"} <= table.keys():
        raise Refusal(f"'{text}' gives the tie rod a length and a toe: give one of them")
    return table


def parts_of(text: str, words: Sequence[str], example: str) -> Iterator[tuple[str, str]]:
    """The parts of what is typed, each a word of these and what stands behind its '='."""
    plain = text.replace(" ", "")
    if hint := pointed(plain):
        raise Refusal(f"'{text}': commas stand between parts{hint}")
    for part in plain.split(","):
        word, equals, value = part.partition("=")
        if not equals or word not in words:
            hint = nearest(word, words, 0.5) or f"; write it like {example}"
            raise Refusal(f"'{part}' in '{text}' is not one of {', '.join(words)}{hint}")
        yield word, value


def table_text(table: Tables) -> str:
    """A corner table as it is typed; `corner_text` reads it back, number for number."""
    said = {word: _said(word, table) for word in WORDS}
    return ",".join(f"{word}={value}" for word, value in said.items() if value)


def _said(word: str, table: Tables) -> str:
    if word in BUSHES:
        clock = table.get(f"{word}_clock_deg")
        at = "" if clock is None else f"@{exact(clock)}"
        sizes = {"": table.get(f"{word}_rated_deg"), "mm": table.get(f"{word}_offset_mm")}
        return "".join(f"{exact(size)}{unit}{at}" for unit, size in sizes.items() if size is not None)
    key = LENGTHS.get(word) or TOE[word]
    return exact(table[key]) if key in table else ""


def size_text(text: str) -> Tables:
    """A bush's size typed on its own, under the key of a bush in a kit."""
    plain = text.replace(" ", "")
    if hint := pointed(plain):
        raise Refusal(f"'{text}' is not a number{hint}")
    number, unit = sized(text, plain)
    return _size("size", number, unit)


def _part(word: str, value: str) -> Tables:
    before, at, clock = value.partition("@")
    size, unit = sized(f"{word}={value}", before)
    if word in BUSHES:
        return _bush(word, size, unit, clock if at else None)
    key = LENGTHS.get(word) or TOE[word]
    right_unit = key.rpartition("_")[2]
    if at:
        raise Refusal(f"{word}={value}: only a bush has a clock")
    if unit not in ("", right_unit):
        raise Refusal(f"{word}={value}: the unit is {right_unit}")
    return {key: size}


def sized(what: str, text: str) -> tuple[float, str]:
    """A number and the unit typed behind it."""
    match = _SIZE.match(text)
    if match is None:
        raise Refusal(f"{what}: '{text}' does not start with a number")
    return finite(match[0], what.partition("=")[0]), text[match.end() :]


def _size(word: str, size: float, unit: str) -> Tables:
    if unit not in ("", "deg", "mm"):
        raise Refusal(f"{word}: '{unit}' is not deg or mm")
    return {"offset_mm" if unit == "mm" else "rated_deg": size}


def _bush(word: str, size: float, unit: str, clock: str | None) -> Tables:
    keys = {f"{word}_{key}": number for key, number in _size(word, size, unit).items()}
    if clock is None and size != 0.0:
        raise Refusal(f"{word}={size:g}{unit} needs its clock, for example {word}={size:g}@180")
    return keys if clock is None else {**keys, f"{word}_clock_deg": finite(clock, f"{word} clock")}


def finite(text: str, what: str = "") -> float:
    """A finite number as typed; a refusal says first what it was for."""
    place = f"{what}: " if what else ""
    try:
        number = float(text)
    except ValueError:
        raise Refusal(f"{place}'{text}' is not a number{pointed(text)}") from None
    if not isfinite(number):
        raise Refusal(f"{place}{text} is not a finite number")
    return number


def typed_setting(
    base: Tables | None,
    both: Tables | None,
    left: Tables | None,
    right: Tables | None,
    whole: Tables | None = None,
) -> Tables:
    """A setting table of the corners and of the whole kart as typed, laid over a resolved base setting."""
    start: Tables = {"left": {}, "right": {}} if base is None else base
    sides = {
        side: _laid_over(_laid_over(start[side], both or {}), own or {})
        for side, own in (("left", left), ("right", right))
    }
    kept = {key: value for key, value in start.items() if key not in ("left", "right", "note")}
    return {**kept, **(whole or {}), "note": "typed on the command line", **sides}


def _laid_over(under: Tables, over: Tables) -> Tables:
    said = {_subject(key) for key in over}
    return {**{key: value for key, value in under.items() if _subject(key) not in said}, **over}


def _subject(key: str) -> str:
    """What a key speaks of: a bush with size and clock, the tie rod, a spacer."""
    return "tie_rod" if key.startswith("tie_rod") else key.split("_")[0]
