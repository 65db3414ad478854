"""Where in a scenario the numbers stand that may be uncertain, and which of them are each other's sides."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import Any

from scenarios.sure.usual import USUAL

Tables = Mapping[str, Any]
Where = tuple[str | int, ...]
"""Keys and a place in a list that lead to a number of the resolved tables."""
FRONT_AND_REAR = ("front", "rear")
CORNER = ("yoke", "stub", "tie_rod")
ACROSS: Where = ("kart", "cog_y_mm")
"""A number that has the other sign on a kart's mirror image."""


def every() -> Iterator[Where]:
    """Where all numbers that may be uncertain can stand, in an order that never changes."""
    for row in USUAL:
        table, _, key = row.rpartition(".")
        homes = FRONT_AND_REAR if table == "front" else (table,) if table else ()
        for home in homes or ("",):
            yield from _numbers((home, key) if home else (key,))
    for row in USUAL:
        if row.startswith(CORNER):
            yield from _numbers(("right", *row.split(".")))


def _numbers(where: Where) -> Iterator[Where]:
    """Those of a point but for the y of the column's foot, which lies in the mid-plane."""
    if not row_of(where).endswith(("centre_mm", "arm_end_mm", "joint_mm", "foot_mm")):
        yield where
        return
    yield from ((*where, n) for n in range(3) if where != ("column", "foot_mm") or n != 1)


def row_of(where: Where) -> str:
    """Under what name the tables of ranges and of usual ways have the number at a place."""
    parts = [str(part) for part in where if isinstance(part, str) and part != "right"]
    return ".".join(["front" if part == "rear" and len(parts) > 1 else part for part in parts])


def value_at(tables: Tables, where: Where) -> Any:
    """What stands at a place, None where there is nothing; a word in a point's place is of all three."""
    found: Any = tables
    for part in where:
        if isinstance(part, str):
            found = found.get(part) if isinstance(found, Mapping) else None
        elif isinstance(found, list | tuple):
            found = found[part]
    return found


def opposite(where: Where) -> Where:
    """The place of the same number of the other side; where a number has no side there is nothing."""
    if where[0] == "right":
        return where[1:]
    words = tuple(other_side(part) if isinstance(part, str) else part for part in where)
    return words if words != where else ("right", *where)


def other_side(text: str) -> str:
    """The text with left and right changed over."""
    return re.sub("left|right", lambda side: {"left": "right", "right": "left"}[side[0]], text)
