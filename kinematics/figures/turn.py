"""Figures of a load case's turn: what lock takes off the inside rear wheel, and where it leaves the road.

Lock to the left and to the right are read apart, since a kart may be uneven; on opposite lock the inside is
that of the turn and not of the lock. Numbers are (...), one for each setting of a batch.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property, partial

import numpy as np
import numpy.typing as npt

from kinematics.figures.figure import DEG, FRONT, MM, N_PER_DEG, Address, Figure, N, Of
from kinematics.figures.kart import NEAR, TWO, binds, slope
from kinematics.figures.lift_off import LiftOff, lift_off
from kinematics.figures.scanning import ScannedTurn, closer
from kinematics.figures.turning import (
    COARSE_SCAN,
    SCAN_STEPS,
    Pulse,
    Turn,
    at,
    silent,
    turn,
)
from kinematics.frames import Array, Mask
from kinematics.lock import Sweep, positions, sweep
from kinematics.parts import Kart, LoadCase, Setting
from kinematics.standing.stand import stand

WAYS = {"left": 1.0, "right": -1.0}
Part = tuple[Of, str]
"""What is read of a turn, and which way it goes."""
EVERY_PART: tuple[Part, ...] = tuple((of, way) for way in WAYS for of in (Of.SCAN, Of.HELD, Of.AT_LOCK))


def held_case(case: LoadCase) -> LoadCase:
    """The case with a lateral acceleration that follows the path held at its value straight ahead."""
    return case if case.asked_g is not None else replace(case, speed=None, lateral_g=0.0)


@dataclass(frozen=True)
class Turns:
    """One sweep of a setting, or of a batch, for all that is read off turns in any number of load cases."""

    swept: Sweep
    parts: Mapping[Part, slice]
    """Lock positions of each part."""
    asked: Mapping[LoadCase, Collection[Part]]
    coarse: bool = False
    """Read scanned figures off a few lock positions, to rank candidates by."""
    own_lock: Mapping[LoadCase, int] = field(default_factory=dict)
    """Which position of the part at lock is a case's own; the first where nothing is said."""
    pulse: Pulse = silent

    @cached_property
    def read(self) -> dict[tuple[LoadCase, Part], Turn]:
        """Every part of every case as a turn."""
        return {
            (case, part): one
            for case, parts in self.asked.items()
            for part, one in self._of_case(case, parts)
        }

    def _of_case(self, case: LoadCase, parts: Collection[Part]) -> list[tuple[Part, Turn]]:
        """Near straight ahead the lateral acceleration is held, so that a speed does not count as jacking."""
        held, found = held_case(case), []
        for of_held in (True, False):
            some = [part for part in self.parts if part in parts and (part[0] is Of.HELD) is of_held]
            if some:
                found += self._stood(held if of_held else case, some)
        return found

    def _stood(self, case: LoadCase, parts: Collection[Part]) -> list[tuple[Part, Turn]]:
        counts = [self._places(case, part) for part in parts]
        swept = positions(self.swept, np.concatenate(counts))
        ways = np.concatenate([np.full(n.size, WAYS[way]) for (_, way), n in zip(parts, counts, strict=True)])
        standing = stand(swept, case, ways)
        self.pulse()
        whole = turn(swept, standing, ways, case.opposite_lock)
        ends = np.cumsum([0, *(count.size for count in counts)]).tolist()
        return [(part, whole.part(slice(*ends[at : at + 2]))) for at, part in enumerate(parts)]

    def _places(self, case: LoadCase, part: Part) -> npt.NDArray[np.intp]:
        """The lock positions of a part that are read in this case."""
        places = np.arange(self.swept.handwheel.shape[-1])[self.parts[part]]
        own = self.own_lock.get(case, 0)
        return places[own : own + 1] if part[0] is Of.AT_LOCK else places

    @cached_property
    def scans(self) -> dict[tuple[LoadCase, str], ScannedTurn]:
        """What is scanned to the stop, by case and way, looked at closely where that matters."""
        found = {
            (case, way): ScannedTurn(case, WAYS[way], one, binds(self.swept, way))
            for (case, (of, way)), one in self.read.items()
            if of is Of.SCAN
        }
        near = closer(self.swept.kart, self.swept.setting, list(found.values()), not self.coarse, self.pulse)
        return dict(zip(found, near, strict=True))

    @cached_property
    def lift_offs(self) -> dict[tuple[LoadCase, str], LiftOff]:
        """Where the inside rear leaves the road, by case and way, where that is asked for."""
        return {one: lift_off(scan.turn) for one, scan in self.scans.items()}

    def of(self, case: LoadCase) -> TurnOf:
        """The source of the figures of one case."""
        return TurnOf(self, case)


@dataclass(frozen=True)
class TurnOf:
    """The source of figures of one load case's turn."""

    turns: Turns
    case: LoadCase

    def part(self, of: Of, way: str) -> Turn:
        """Lock positions of one kind, turning one way."""
        return self.turns.read[self.case, (of, way)]

    def scan(self, way: str) -> Turn:
        """The whole turn, scanned."""
        return self.turns.scans[self.case, way].turn

    def found(self, way: str) -> LiftOff:
        """Where the inside rear leaves the road."""
        return self.turns.lift_offs[self.case, way]

    def known(self, _: str) -> Mask:
        """Where both linkages stand in the whole turn; each figure of a turn has a word of its own."""
        return np.asarray(self.turns.swept.reach.all(axis=-1))


def handwheel_of(kart: Kart, part: Part, at_lock: Sequence[float], coarse: bool = False) -> Array:
    """Handwheel angles, rad, of a part of a turn; at_lock (rad, either sign) are the locks asked for."""
    of, way = part
    scan = np.linspace(0.0, kart.column.stop, COARSE_SCAN if coarse else SCAN_STEPS)
    outward = {Of.SCAN: scan, Of.HELD: NEAR * TWO, Of.AT_LOCK: np.abs(at_lock)}[of]
    angles: Array = WAYS[way] * outward
    return angles


def turns(
    kart: Kart,
    setting: Setting,
    asked: Mapping[LoadCase, Collection[Part]],
    at_lock: float | Mapping[LoadCase, float] = 0.0,
    coarse: bool = False,
    pulse: Pulse = silent,
) -> Turns:
    """Sweep what is asked of each case, no more; at_lock (rad) is where figures at lock are read.

    It may say so case by case; one that has none is read straight ahead. pulse is called as cases are stood.
    """
    own = dict.fromkeys(asked, at_lock) if isinstance(at_lock, float) else at_lock
    locks = list(dict.fromkeys(own.get(case, 0.0) for case in asked))
    parts = [part for part in EVERY_PART if any(part in some for some in asked.values())]
    angles = [handwheel_of(kart, part, locks, coarse) for part in parts]
    ends = np.cumsum([0, *(some.size for some in angles)]).tolist()
    slices = {part: slice(*ends[i : i + 2]) for i, part in enumerate(parts)}
    places = {case: locks.index(own.get(case, 0.0)) for case in asked}
    return Turns(sweep(kart, setting, np.concatenate(angles)), slices, asked, coarse, places, pulse)


def part_of(address: Address) -> Part:
    """What of a turn a figure is read off."""
    return address.figure.of, address.side


def _near(source: TurnOf, way: str) -> Turn:
    return source.part(Of.HELD, way)


def _relief(source: TurnOf, way: str) -> Array:
    near = _near(source, way)
    return -slope(np.degrees(near.steer), near.load)


def _least(source: TurnOf, way: str) -> tuple[Turn, npt.NDArray[np.intp]]:
    """The scan, and at which of its positions the load is least (...)."""
    scan = source.scan(way)
    return scan, np.asarray(np.argmin(np.where(scan.known, scan.load, np.inf), axis=-1), dtype=np.intp)


def _least_load(source: TurnOf, way: str) -> Array:
    scan, least = _least(source, way)
    return np.where(scan.known.any(axis=-1), at(scan.load, least), 0.0)


def _least_load_at(source: TurnOf, way: str) -> Array:
    """Where the wheel leaves the road, if it does."""
    (scan, least), found = _least(source, way), source.found(way)
    return np.degrees(np.abs(np.where(found.lifts, found.handwheel, at(scan.handwheel, least))))


def _lifts_at(angle: str) -> Callable[[TurnOf, str], Array]:
    def read(source: TurnOf, way: str) -> Array:
        """In deg; inf where the inside rear is sure to stay down."""
        found = source.found(way)
        there = getattr(found, angle)
        return np.where(found.stays, np.inf, np.degrees(np.abs(there) if angle == "handwheel" else there))

    return read


def _at_lock(read: Callable[[Turn], Array]) -> Callable[[TurnOf, str], Array]:
    return lambda source, way: read(source.part(Of.AT_LOCK, way))[..., 0]


def _known_near(source: TurnOf, way: str) -> Mask:
    return np.asarray(_near(source, way).known.all(axis=-1))


def _known_somewhere(source: TurnOf, way: str) -> Mask:
    return np.asarray(source.scan(way).known.any(axis=-1))


def _known_there(source: TurnOf, way: str) -> Mask:
    return source.part(Of.AT_LOCK, way).known[..., 0]


def _lifts(source: TurnOf, way: str) -> Mask:
    return source.found(way).lifts


row = partial(Figure, sides=FRONT, its_own=True)
near = partial(row, of=Of.HELD, where=_known_near)
scanned = partial(row, of=Of.SCAN, where=_known_somewhere)
leaves = partial(row, of=Of.SCAN, where=_lifts, may_lack=True, less_more=("earlier", "later"))
there = partial(row, of=Of.AT_LOCK, where=_known_there)
OFF = "load that leaves the inside rear per degree of road steer near straight, to the {side}"
JACKING = near("jacking_rate_{side}", N_PER_DEG, OFF, "", "jacking", 1, 0.1, _relief)
LEAVES = "at which the inside rear leaves the road, turning {side}; none: it stays down to the stop"
ANGLE, STEER = f"handwheel angle, without sign, {LEAVES}", f"mean road steer, + that way, {LEAVES}"
LIFT_OFF = leaves("lift_off_handwheel_{side}", DEG, ANGLE, "", "lifts", 1, 0.5, _lifts_at("handwheel"))
LIFT_OFF_STEER = leaves("lift_off_steer_{side}", DEG, STEER, "", "lifts", 1, 0.2, _lifts_at("steer"))
WAY = "on the inside rear between straight ahead and the stop, turning {side}"
LEAST = "least_inside_rear_load_{side}"
WEIGHT = ("lighter", "heavier")
LEAST_LOAD = scanned(LEAST, N, f"least load {WAY}", "", "least", 0, 5.0, _least_load, less_more=WEIGHT)
LEAST_AT = "least_inside_rear_load_at_{side}"
OF_LEAST = f"handwheel angle, without sign, of the least load {WAY}"
LEAST_LOAD_AT = scanned(LEAST_AT, DEG, OF_LEAST, "", "at", 1, 1.0, _least_load_at)
THERE = "at the lock asked for, turning {side}"
AIR, ABOVE = "inside_rear_clearance_at_lock_{side}", f"inside rear above the road {THERE}, 0 on it"
_air = _at_lock(lambda turn: turn.clearance)
CLEARANCE_AT_LOCK = there(AIR, MM, ABOVE, "", "air", 1, 0.5, _air, less_more=("lower", "higher"))
LOAD, ON = "inside_rear_load_at_lock_{side}", f"load on the inside rear {THERE}"
_load = _at_lock(lambda turn: turn.load)
LOAD_AT_LOCK = there(LOAD, N, ON, "", "load", 0, 5.0, _load, less_more=WEIGHT)
LEAN, TO = "outside_front_camber_at_lock_{side}", f"camber of the outside front to the road {THERE}"
_camber = _at_lock(lambda turn: np.degrees(turn.camber))
CAMBER_AT_LOCK = there(LEAN, DEG, TO, "+ top outward", "camber", 2, 0.1, _camber)
OF_TURN = (
    (
        *(JACKING, LIFT_OFF, LIFT_OFF_STEER, LEAST_LOAD, LEAST_LOAD_AT),
        *(CLEARANCE_AT_LOCK, LOAD_AT_LOCK, CAMBER_AT_LOCK),
    ),
)
