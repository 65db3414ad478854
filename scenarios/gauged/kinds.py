"""What can be read of a standing kart, and what each instrument should show: one table.

A kind is told by its unit, where it is read, how sure it is in a careful workshop, and the minutes it takes
once the kart stands ready; all of these are choices of this program, no source is known. Signs are those of
the program: toe-in and a top that leans outward are +, a wheel turned to the left is +, on both sides alike.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

import numpy as np

from kinematics.frames import Array
from kinematics.parts import GRAVITY
from kinematics.standing.arranged import Instruments
from scenarios.ranges import Allowed

SIDES = ("left", "right")
WHEELS = ("front_left", "front_right", "rear_left", "rear_right")
BOTH, FRAME = ("both",), ("frame",)
OF_NUMBER = "number"
PULL = "pull_kg"


class ReadOff(NamedTuple):
    """What a kind is read off: what is shown at some lock positions, and which place of it."""

    shown: Instruments
    place: int
    toe_diameter: float


class ReadingKind(NamedTuple):
    """One kind of reading."""

    name: str
    unit: str
    what: str
    places: tuple[str, ...]
    spread: float
    """Standard uncertainty of one reading, in its unit."""
    why: str
    minutes: float
    allowed: Allowed
    read: Callable[[ReadOff], Array]
    """(..., N) in its own unit."""
    how: str
    """How it is taken, in a sentence or two."""
    held: bool = False
    """Whether it can be read with the frame held level."""

    @property
    def decimals(self) -> int:
        """As finely as it is read."""
        return 1 if self.spread >= 0.2 else 2


def _angle(name: str) -> Callable[[ReadOff], Array]:
    return lambda told: np.degrees(getattr(told.shown, name)[..., told.place])


def _toe(told: ReadOff) -> Array:
    """Of one wheel, deg, + toe-in: the left one to the right, the right one to the left."""
    sign = (-1.0, 1.0)[told.place]
    return np.degrees(sign * told.shown.steer[..., told.place])


def _toe_gap(told: ReadOff) -> Array:
    """Gap of the marks behind less that in front, mm, both wheels together, + toe-in."""
    steer = told.shown.steer
    found: Array = told.toe_diameter * (np.sin(steer[..., 1]) - np.sin(steer[..., 0]))
    return found


ANGLE = Allowed(-60, 60, "a wheel that still rolls")
LOCK = Allowed(-90, 90, "as far as a wheel turns")
LOAD = Allowed(0, 300, "a scale for karts ends below")
HEIGHT = Allowed(0, 2000, "a kart on trestles")
KINDS: dict[str, ReadingKind] = {
    kind.name: kind
    for kind in (
        ReadingKind(
            *("scale_kg", "kg", "load under a wheel", WHEELS, 0.5),
            "a driver does not sit down twice alike, nor are four scales quite level",
            *(1.0, LOAD, lambda told: told.shown.loads[..., told.place] / GRAVITY),
            "Four scales level with each other, driver seated, hands on the wheel, nobody leaning on it.",
        ),
        ReadingKind(
            *("camber_deg", "deg", "camber of a front wheel, + top outward", SIDES, 0.2),
            "a tenth read, on an edge that lies as well as it can",
            *(1.0, ANGLE, _angle("camber")),
            "Angle gauge on a straight edge across the rim, upright, against a level floor.",
            True,
        ),
        ReadingKind(
            *("toe_deg", "deg", "toe of one front wheel, + toe-in", SIDES, 0.05),
            "a quarter of a millimetre over 280 mm",
            *(2.0, ANGLE, _toe),
            "Chalk line along the kart, inboard, to the marks in front (a) and behind (b), at hub height, "
            "D apart: 57.3 × (b − a) / D.",
            True,
        ),
        ReadingKind(
            *("toe_mm", "mm", "toe of both front wheels together, + toe-in", BOTH, 0.5),
            "half a millimetre between two scribed marks",
            *(1.0, Allowed(-300, 300, "wheels that still roll"), _toe_gap),
            "Tape between the marks behind the wheels (B), less the same in front of them (A).",
            True,
        ),
        ReadingKind(
            *("steer_deg", "deg", "a front wheel's turn plate, + turned left", SIDES, 0.3),
            "a scale of degrees under a wheel that creeps a little",
            *(0.5, LOCK, _angle("steer")),
            "Turn plate under the wheel, its pin pulled, zero with the wheel straight ahead in the frame.",
            True,
        ),
        ReadingKind(
            *("caster_deg", "deg", "lean of a kingpin seen from the side, + top rearward", SIDES, 0.2),
            "a tenth read, on a bar as straight as the kingpin",
            *(2.0, ANGLE, _angle("caster")),
            "Angle gauge on a straight bar through both bushes, seen from the side.",
            True,
        ),
        ReadingKind(
            *("inclination_deg", "deg", "lean of a kingpin seen from the front, + top inboard", SIDES, 0.2),
            "a tenth read, on a bar as straight as the kingpin",
            *(2.0, ANGLE, _angle("kingpin_inclination")),
            "Angle gauge on a straight bar through both bushes, seen from the front.",
            True,
        ),
        ReadingKind(
            *("height_mm", "mm", "height of a wheel's centre over the floor", WHEELS, 1.0),
            "a square on a floor that is not quite level",
            *(1.0, HEIGHT, lambda told: told.shown.wheel_height[..., told.place]),
            "Square on the floor against the middle of the wheel, driver seated.",
        ),
        ReadingKind(
            *("gap_mm", "mm", "gap under a wheel that is in the air", WHEELS, 1.0),
            "feeler or tape under a tread that moves a little",
            *(1.0, HEIGHT, lambda told: told.shown.clearance[..., told.place]),
            "Tape from what it stood on to the lowest point of the tread; 0 while it touches.",
        ),
        ReadingKind(
            *("torsion_deg", "deg", "twist of the frame, + front left side up against the rear", FRAME, 0.1),
            "two angle gauges, a tenth each",
            *(2.0, ANGLE, lambda told: np.degrees(told.shown.twist)),
            "Angle gauge across the frame at the front stubs, less the same across the rear axle's bearings.",
        ),
        ReadingKind(
            *(PULL, "kg", "pull upward at a hub that just takes its wheel off the floor", WHEELS, 1.0),
            "a hanging scale read where paper under the tyre comes free",
            *(2.0, LOAD, lambda told: told.shown.loads[..., told.place] / GRAVITY),
            "Hanging scale straight up at the hub; read it when paper under the tyre comes free. "
            "Straight back, two people, nobody's foot under the wheel.",
        ),
    )
}
