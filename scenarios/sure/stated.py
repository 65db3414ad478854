"""What a scenario says of how sure its numbers are, number by number: its uncertain inputs."""

from __future__ import annotations

from dataclasses import dataclass
from math import inf

from kinematics.tolerance.uncertain import Uncertain
from scenarios.errors import ScenarioError, complaint, nearest, unit_of
from scenarios.ranges import RANGES
from scenarios.sure.places import (
    ACROSS,
    CORNER,
    Tables,
    Where,
    every,
    opposite,
    row_of,
    value_at,
)
from scenarios.sure.usual import USUAL
from scenarios.sure.ways import ASSUMED, MEASURED, OTHERS, TOGETHER, WAYS

STATED = "stated"
AXES = "xyz"
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
    reflected: bool
    """Whether it is drawn from the other end of its place."""
    places: tuple[Where, ...]
    """Where it stands in the resolved tables: twice where it serves both corners."""

    @property
    def unit(self) -> str:
        """Its unit as it is written."""
        return unit_of(self.name.partition(" ")[0])


def inputs(resolved: Tables, turned: bool = False) -> tuple[Input, ...]:
    """The uncertain numbers of a scenario's resolved tables; those known exactly are left out.

    A number of the right corner is its own where it differs from the left one's, or where [sure.right] speaks
    of it; else one number serves both corners. turned is whether the sides are changed over in the draw: each
    is drawn as the other one would be.
    """
    sure = resolved.get("sure", {})
    columns = {where: column for column, where in enumerate(every())}
    found = (_input(resolved, sure, columns, where, turned) for where in columns)
    return tuple(one for one in found if one is not None)


def check_tied(resolved: Tables) -> None:
    """Refuse, one line, a tie between numbers one of which there is not."""
    known = [_name(where) for where in every()]
    for n, (*names, _) in enumerate(resolved.get("sure", {}).get(TOGETHER, []), 1):
        for name in names:
            if name not in known:
                wrong = f"no number of the kart{nearest(name, known)}"
                raise ScenarioError(complaint(f"sure.together[{n}]", name, wrong))


def _input(
    resolved: Tables, sure: Tables, columns: dict[Where, int], where: Where, turned: bool
) -> Input | None:
    value, twin, row = value_at(resolved, where), ("right", *where), row_of(where)
    own = _is_own(resolved, sure, where[1:]) if where[0] == "right" else True
    if value is None or not own:
        return None
    said = said_of(sure, where)
    if row in OF_NOTHING and value == 0.0 and value_at(sure, where) is None:
        return None
    uncertain, how, why = _uncertain(value, said, row)
    if not uncertain.spread:
        return None
    both = where[0] in CORNER and not _is_own(resolved, sure, where)
    column = columns[where]
    if turned and not both:
        column = columns.get(opposite(where), column)
    places = (where, twin) if both else (where,)
    return Input(_name(where), uncertain, how, why, column, turned and where == ACROSS, places)


def _is_own(resolved: Tables, sure: Tables, where: Where) -> bool:
    """Whether the right corner has a number, or point, of its own at a place of the left one's tables."""
    key = where[:2]
    said = value_at(sure, ("right", *key)) is not None
    return said or value_at(resolved, ("right", *key)) != value_at(resolved, key)


def said_of(sure: Tables, where: Where) -> str | float:
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
