"""What a figure is: a row that says everything about it, the address of one of its numbers, and its numbers.

A figure belongs to a lock position, to the kart straight ahead, to a load case or to a whole turn in one. Its
name is spelled `stem_side_unit` in one place, here; nobody takes a name apart to learn its side or unit.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from enum import Enum
from math import degrees
from typing import Any, NamedTuple

from kinematics.drive.rear_axle import AxleGrip
from kinematics.frames import Array, Mask


class Unit(NamedTuple):
    """A unit as it is written, and as a name ends in it."""

    text: str
    ending: str


DEG, MM, M, G, PERCENT = (Unit(text, text) for text in ("deg", "mm", "m", "g", "percent"))
N, NM = Unit("N", "n"), Unit("N·m", "nm")
MM_PER_DEG, N_PER_DEG = Unit("mm/deg", "mm_per_deg"), Unit("N/deg", "n_per_deg")

FRONT = ("left", "right")
WHEELS = ("front_left", "front_right", "rear_left", "rear_right")


class Of(Enum):
    """What a figure belongs to."""

    LOCK = "a lock position"
    AHEAD = "the kart straight ahead"
    NEAR = "the rigid kart near straight ahead"
    CASE = "a lock position in a load case"
    HELD = "the turn near straight ahead in a load case"
    SCAN = "a whole turn in a load case"
    AT_LOCK = "a lock, named without its side, in a load case"

    @property
    def in_case(self) -> bool:
        """Whether a load case must be named for it."""
        return self not in (Of.LOCK, Of.AHEAD, Of.NEAR)

    @property
    def whole_turn(self) -> bool:
        """Whether it is read off a whole turn and so belongs to no lock position."""
        return self in (Of.HELD, Of.SCAN)


@dataclass(frozen=True)
class Given:
    """What figures take for granted besides kart and setting."""

    toe_diameter: float = 280.0
    """Where toe in mm is read, mm."""
    pneumatic_trail: float = 0.0
    """How far behind the support point the side force acts, mm."""
    grip: AxleGrip = field(default_factory=AxleGrip)
    """How the rear tyres hold the road lengthways."""


@dataclass(frozen=True, eq=False)
class Figure:
    """One row of the registry.

    read(source, side) gives its values in its unit; the source depends on what it belongs to. where(source,
    side) says where there is a value, besides the source's own word or, with its_own, instead of it. stem,
    meaning and whose may hold {side}; meaning may hold {diameter:g}.
    """

    stem: str
    unit: Unit
    meaning: str
    way: str
    """Which way is positive; '' where the meaning says it or nothing is to be said."""
    label: str
    """Heads a table's column."""
    digits: int
    """Decimals with which it is shown."""
    worth: float
    """Smallest difference worth a mechanic's work, in its unit: about what a careful workshop reads off its
    gauges (a choice, no source)."""
    read: Callable[[Any, str], Array]
    where: Callable[[Any, str], Mask] | None = None
    its_own: bool = False
    whose: str = ""
    of: Of = Of.LOCK
    sides: tuple[str, ...] = ("",)
    may_lack: bool = False
    """Whether it may be sure to have no value, which a target may count as met."""
    less_more: tuple[str, str] | None = None
    """The words for less and for more of it; None: a difference is told by its sign."""

    def name(self, side: str = "") -> str:
        """Its name, of this side where it has sides."""
        return f"{self.stem.format(side=side)}_{self.unit.ending}"

    def said(self, side: str, given: Given, when: str = "") -> str:
        """Its meaning in words; when says of which moment, as ', straight ahead'."""
        text = f"{self.meaning}{f', {self.way}' if self.way else ''}{when}{self.whose}"
        return text.format(side=side, diameter=given.toe_diameter)

    def at(self, side: str = "", lock: float | None = None, case: str | None = None) -> Address:
        """The address of one of its numbers; lock in rad."""
        return Address(self, side, lock, case)


@dataclass(frozen=True)
class Address:
    """One number of a kart: a figure, its side, the lock position in rad and the load case."""

    figure: Figure
    side: str = ""
    lock: float | None = None
    case: str | None = None

    @property
    def name(self) -> str:
        """The figure's name, with its side."""
        return self.figure.name(self.side)

    @property
    def lock_deg(self) -> float | None:
        """The lock position in deg, free of the noise of its way through rad."""
        return None if self.lock is None else round(degrees(self.lock), 9)

    @property
    def words(self) -> str:
        """In words: 'camber_left_deg at handwheel 30 deg in slow corner'."""
        at = "" if self.lock is None else f" at handwheel {degrees(self.lock):g} deg"
        return f"{self.name}{at}{'' if self.case is None else f' in {self.case}'}"

    @property
    def sideless(self) -> str:
        """In words, left and right and all lock positions taken together."""
        name = self.figure.stem.replace("_{side}", "") + f"_{self.figure.unit.ending}"
        return name if self.case is None else f"{name} in {self.case}"

    @property
    def stands_at(self) -> float:
        """Handwheel angle, rad, at which the linkages must stand for it; a turn has its side."""
        lock = self.lock or 0.0
        return -lock if self.figure.of is Of.AT_LOCK and self.side == "right" else lock

    def said(self, given: Given, when: str = "") -> str:
        """What it means; when says of which moment, as ', straight ahead'."""
        return self.figure.said(self.side, given, when)

    def __str__(self) -> str:
        """As it is typed: 'camber_left_deg@30@slow corner'; the catalog's `address` reads it back."""
        parts = (self.name, None if self.lock_deg is None else f"{self.lock_deg:.12g}", self.case)
        return "@".join(part for part in parts if part is not None)


Group = Sequence["Figure | tuple[Figure, ...]"]
"""Figures in the order in which they are told; of those in a tuple all of the left come first."""


def each(group: Group) -> Iterator[Address]:
    """Every figure of a group with each of its sides, in order."""
    for item in group:
        some = item if isinstance(item, tuple) else (item,)
        for side in some[0].sides:
            for figure in some:
                yield Address(figure, side)


@dataclass(frozen=True)
class Addressed:
    """A figure of which something is told, and what it means."""

    address: Address
    meaning: str

    @property
    def name(self) -> str:
        """The figure's name, with its side."""
        return self.address.name

    @property
    def unit(self) -> str:
        """Its unit as it is written."""
        return self.address.figure.unit.text


@dataclass(frozen=True)
class Numbers(Addressed):
    """A figure with its numbers, (..., N) through lock or (...); where known is False there is none."""

    values: Array
    known: Mask

    def first(self, meaning: str) -> Numbers:
        """The numbers at the first lock position alone, and what they then mean."""
        return Numbers(self.address, meaning, self.values[..., 0], self.known[..., 0])


def by_name(found: Iterable[Numbers]) -> dict[str, Numbers]:
    """Numbers by their names, in order."""
    return {numbers.name: numbers for numbers in found}
