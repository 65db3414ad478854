"""Keys of a scenario file's tables by what they hold: a name, a number, a point, clocks."""

from __future__ import annotations

from typing import Any

from scenarios.errors import unit_of
from scenarios.ranges import RANGES
from scenarios.schema.kinds import NEEDED, Count, Items, Key, KeyTable, Measure, Words

A_NAME = "starts with a letter or digit, then letters, digits, space, . _ + or -"
NAME = Words(1, 60, r"[A-Za-z0-9][A-Za-z0-9 _.+-]*", A_NAME)
MARK = Words(1, 16, r"[^\x00-\x1f\x7f()]+", "must be a few words, without brackets")
LINE = Words(1, 120, r"[^\x00-\x1f\x7f]+", "must be one line of text")
NOTE = Words(0, 600)


def number(place: str, told: str = "", default: Any = NEEDED) -> Key:
    """A number; its range stands in the table of ranges under the place."""
    name = place.rpartition(".")[2]
    return Key(name, Measure(RANGES[place], unit_of(name)), told, default)


def whole(place: str, told: str = "", default: Any = NEEDED) -> Key:
    """A whole number."""
    name = place.rpartition(".")[2]
    return Key(name, Count(RANGES[place], unit_of(name)), told, default)


def point(place: str, told: str) -> Key:
    """A point of three numbers."""
    return Key(place.rpartition(".")[2], Items(number(place).kind, 3, 3), told)


def several(place: str, least: int, most: int, told: str = "", default: Any = NEEDED) -> Key:
    """So many numbers."""
    return Key(place.rpartition(".")[2], Items(number(place).kind, least, most), told, default)


def override(table: KeyTable) -> KeyTable:
    """The same table with no key needed: what a bent corner may say anew."""
    keys = (key._replace(default=None) for key in table.keys.values())
    return KeyTable(f"{table.name}Override", table.told, *keys)
