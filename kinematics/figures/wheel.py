"""Figures of one front wheel: to the road that the sweep is on, through lock and straight ahead."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial

import numpy as np

from kinematics.corner.pose import CornerSweep
from kinematics.figures.figure import DEG, FRONT, MM, Figure, Given, Of
from kinematics.frames import Array, Mask
from kinematics.lock import Sweep


@dataclass(frozen=True)
class ThroughLock:
    """The source of figures that lock alone decides: a sweep (..., N)."""

    sweep: Sweep
    given: Given

    def corner(self, side: str) -> CornerSweep:
        """The left or the right corner."""
        corner: CornerSweep = getattr(self.sweep, side)
        return corner

    def known(self, side: str) -> Mask:
        """Where the corner stands, or both do (..., N)."""
        return self.corner(side).reach if side else self.sweep.reach


def _deg(angle: str, sign: float = 1.0) -> Callable[[ThroughLock, str], Array]:
    return lambda source, side: np.degrees(sign * getattr(source.corner(side), angle))


def _mm(length: str) -> Callable[[ThroughLock, str], Array]:
    return lambda source, side: getattr(source.corner(side), length)


def turned_left(side: str) -> float:
    """Sign that makes a turn of the left-hand convention one of the kart, + to the left."""
    return -1.0 if side == "right" else 1.0


def _steer(source: ThroughLock, side: str) -> Array:
    return np.degrees(source.corner(side).steer) * turned_left(side)


def _rod(source: ThroughLock, side: str) -> Array:
    return source.corner(side).linkage.rod_length


AHEAD, INBOARD = (f"axis meets the road {way} of the contact centre" for way in ("ahead", "inboard"))
LOWER = "support point lower than straight ahead"

wheel = partial(Figure, sides=FRONT, whose="; {side} front")
STEER = wheel("steer_{side}", DEG, "steer angle on the road", "+ left", "steer", 1, 0.2, _steer)
CAMBER = wheel("camber_{side}", DEG, "camber to the road", "+ top outward", "camber", 2, 0.1, _deg("camber"))
GAIN = "camber less that straight ahead"
CAMBER_GAIN = wheel("camber_gain_{side}", DEG, GAIN, "", "camber gain", 2, 0.1, _deg("camber_gain"))
TOE = wheel("toe_{side}", DEG, "toe of the wheel", "+ toe-in", "toe", 2, 0.05, _deg("steer", -1.0))
WHEEL_DROP = wheel("wheel_drop_{side}", MM, LOWER, "+ down", "wheel drop", 2, 0.2, _mm("wheel_drop"))
CASTER_TRAIL = wheel("caster_trail_{side}", MM, AHEAD, "+", "trail", 1, 0.5, _mm("trail"))
SCRUB = wheel("scrub_{side}", MM, INBOARD, "+", "scrub", 1, 0.5, _mm("scrub"))
THROUGH_LOCK = (STEER, CAMBER, CAMBER_GAIN, TOE, WHEEL_DROP, CASTER_TRAIL, SCRUB)

ahead = partial(wheel, of=Of.AHEAD)
CASTER, KINGPIN_INCLINATION = (
    ahead(f"{stem}_{{side}}", DEG, f"{what} to the road", way, stem.replace("_", " "), 2, 0.1, _deg(stem))
    for stem, what, way in (
        ("caster", "caster angle", "+ top rearward"),
        ("kingpin_inclination", "kingpin inclination", "+ top inboard"),
    )
)
ROD_LENGTH = ahead("rod_length_{side}", MM, "tie-rod length between joints", "", "tie rod", 1, 0.2, _rod)
STRAIGHT_AHEAD = (CASTER, KINGPIN_INCLINATION, ROD_LENGTH, CAMBER, TOE, CASTER_TRAIL, SCRUB)
