"""What a scenario says of how sure its numbers are, number by number: its uncertain inputs."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import inf
from typing import Any

from kinematics.tolerance.uncertain import Uncertain
from scenarios.errors import unit_of
from scenarios.ranges import RANGES
from scenarios.sure.usual import USUAL
from scenarios.sure.ways import ASSUMED, MEASURED, WAYS

Tables = Mapping[str, Any]
Where = tuple[str | int, ...]
"""Keys and a place in a list that lead to a number of the resolved tables."""
OTHERS = "others"
STATED = "stated"
AXES = "xyz"
FRONT_AND_REAR = ("front", "rear")
CORNER = ("yoke", "stub", "tie_rod")
OF_NOTHING = ("stub.wheel_forward_shift_mm", "stub.wheel_outward_shift_mm", "front.tread_width_mm")
"""At 0 these are known exactly, unless the file says more: no bend (wheelbase and track have uncertainties of
their own) and a thin disc."""


@dataclass(frozen=True)
class Input:
    """One uncertain number of a scenario, in its own unit."""

    name: str
    """As its key is written in the file, with the axis of a point: 'yoke.centre_mm y'."""
    uncertain: Uncertain
    how: str
    """A way of measuring, 'assumed', or 'stated' where the file gives the uncertainty itself."""
    why: str
    """The reason of the standard uncertainty, '' where the file gives it."""
    column: int
    """Its place among all numbers that there can be: samples of it are the same whatever others there are."""
    places: tuple[Where, ...]
    """Where it stands in the resolved tables: twice where it serves both corners."""

    @property
    def unit(self) -> str:
        """Its unit as it is written."""
        return unit_of(self.name.partition(" ")[0])


def inputs(resolved: Tables) -> tuple[Input, ...]:
    """The uncertain numbers of a scenario's resolved tables; those known exactly are left out.

    A number of the right corner is its own where it differs from the left one's, or where [sure.right] speaks
    of it; else one number serves both corners.
    """
    sure = resolved.get("sure", {})
    found = (_input(resolved, sure, column, where) for column, where in enumerate(every()))
    return tuple(one for one in found if one is not None)


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


def _input(resolved: Tables, sure: Tables, column: int, where: Where) -> Input | None:
    value, twin, row = value_at(resolved, where), ("right", *where), row_of(where)
    own = _is_own(resolved, sure, where[1:]) if where[0] == "right" else True
    if value is None or not own:
        return None
    said = _said(sure, where)
    if row in OF_NOTHING and value == 0.0 and value_at(sure, where) is None:
        return None
    uncertain, how, why = _uncertain(value, said, row)
    if not uncertain.spread:
        return None
    both = where[0] in CORNER and not _is_own(resolved, sure, where)
    return Input(_name(where), uncertain, how, why, column, (where, twin) if both else (where,))


def _is_own(resolved: Tables, sure: Tables, where: Where) -> bool:
    """Whether the right corner has a number, or point, of its own at a place of the left one's tables."""
    key = where[:2]
    said = value_at(sure, ("right", *key)) is not None
    return said or value_at(resolved, ("right", *key)) != value_at(resolved, key)


def _said(sure: Tables, where: Where) -> str | float:
    """What is said of a number: of itself, of the others of its table, or of all others.

    What is not said of the right corner is said of the left one.
    """
    left = where[1:] if where[0] == "right" else where
    places: list[Where] = [] if left is where else [where, (*where[:2], OTHERS), ("right", OTHERS)]
    places += [left, (left[0], OTHERS), (OTHERS,)]
    found = (value_at(sure, place) for place in places)
    return next((one for one in found if isinstance(one, str | float)), MEASURED)


def _uncertain(value: float, said: str | float, row: str) -> tuple[Uncertain, str, str]:
    usual, hard = USUAL[row], RANGES[row]
    how = usual.way if said == MEASURED else said if isinstance(said, str) else STATED
    spread = usual.assumed if how == ASSUMED else WAYS.get(how)
    amount = said if isinstance(said, float) else spread.of(value) if spread else 0.0
    low, high = (hard.low, hard.high) if hard.low < hard.high else (-inf, inf)
    return Uncertain(value, amount, low, high, usual.by_ratio), how, spread.why if spread else ""


def _name(where: Where) -> str:
    text = ".".join(part for part in where if isinstance(part, str))
    return f"{text} {AXES[where[-1]]}" if isinstance(where[-1], int) else text
