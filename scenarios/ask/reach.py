"""The map of a box as the command asks for it: points in caster and camber, and what is marked among them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from kinematics.choose.reachable import CASE_LIMIT, Points, Reachable, reachable
from kinematics.choose.scan import Sides
from kinematics.choose.search import Progress
from kinematics.choose.targets import Target
from kinematics.figures import wheel
from kinematics.figures.figure import Address
from kinematics.frames import Array, Mask
from kinematics.parts import Setting
from scenarios import Scenario
from scenarios.ask.choose import RODS, box_of, run_search
from scenarios.ask.compare import WAY_WORDS
from scenarios.ask.run import check_stands

MAPPED: Mapping[str, Sides] = {"both": "alike", "each": "alike", "left": "left", "right": "right"}
MAP_LIMIT = 20000
"""Points of a map at most; more would only lie on each other."""


@dataclass(frozen=True)
class Spots:
    """Points of the map that can be shown, each (n,): caster and camber in deg, the figure, its mask."""

    caster: Array
    camber: Array
    value: Array
    known: Mask
    stands: Mask


@dataclass(frozen=True)
class Mark:
    """One setting marked on the map."""

    name: str
    kind: str
    """'present', 'setting' or 'candidate'."""
    caster: float
    camber: float
    value: float | None


@dataclass(frozen=True)
class Mapped:
    """A map with its marks; rows are the bush pairs of its points."""

    scenario: Scenario
    address: Address
    corner: str
    sides: str
    rods: str
    spots: Spots
    rows: Array
    total: int
    marks: Sequence[Mark]
    missing: Sequence[str]
    """Names of marked settings that cannot stand straight ahead."""

    @property
    def fitted(self) -> str:
        """At which corners the pairs are fitted, and what is done with the tie rods, in words."""
        alone = self.sides in ("left", "right")
        where = f"{self.corner} corner alone" if alone else "both corners alike"
        return f"{where}, {WAY_WORDS['reset' if self.rods == 'reset' else 'alone']}"

    @property
    def unit(self) -> str:
        """Unit of the colouring figure."""
        return self.address.figure.unit.text


def map_box(
    scenario: Scenario,
    present: str,
    address: Address,
    marks: Sequence[str],
    wanted: Sequence[Target],
    sides: str,
    rods: str,
    limit: int,
    progress: Progress | None = None,
) -> Mapped:
    """Map the scenario's box around the present setting, mark settings and the best for what is wanted."""
    check_stands(scenario, present)
    named = [(name, "setting", scenario.settings[name]) for name in marks]
    if wanted:
        told = run_search(scenario, present, wanted, sides, rods, limit, progress)
        named += [(f"candidate {n}", "candidate", told[n].setting) for n in told.best]
    corner = "right" if sides == "right" else "left"
    most = CASE_LIMIT if address.case is not None else MAP_LIMIT
    settings = [setting for *_, setting in named]
    found, camber = (
        _reached(scenario, present, f, settings, sides, rods, most, progress)
        for f in (address, wheel.CAMBER.at(corner))
    )
    spots = _spots(found.points, camber.points)
    placed = [*_placed(_spots(found.present, camber.present), [(present, "present")])]
    placed += _placed(_spots(found.marked, camber.marked), [(name, kind) for name, kind, _ in named])
    shown = [mark for mark in placed if mark is not None]
    every = [present, *(name for name, *_ in named)]
    missing = [name for name, mark in zip(every, placed, strict=True) if mark is None]
    return Mapped(
        scenario, address, found.corner, sides, rods, spots, found.rows, found.total, shown, missing
    )


def _reached(
    scenario: Scenario,
    present: str,
    address: Address,
    marked: Sequence[Setting],
    sides: str,
    rods: str,
    limit: int,
    progress: Progress | None,
) -> Reachable:
    return reachable(
        scenario.kart,
        scenario.settings[present],
        box_of(scenario),
        address,
        marked,
        sides=MAPPED[sides],
        rods=RODS[rods],
        given=scenario.given,
        cases=scenario.load_cases,
        limit=limit,
        progress=progress,
    )


def _spots(points: Points, camber: Points) -> Spots:
    """Points of a map whose third figure is another with those of the same map whose third is camber."""
    return Spots(points.caster_deg, camber.value, points.value, points.known, points.stands & camber.known)


def _placed(spots: Spots, names: Sequence[tuple[str, str]]) -> list[Mark | None]:
    return [
        Mark(
            name,
            kind,
            float(spots.caster[i]),
            float(spots.camber[i]),
            float(spots.value[i]) if spots.known[i] else None,
        )
        if spots.stands[i]
        else None
        for i, (name, kind) in enumerate(names)
    ]
