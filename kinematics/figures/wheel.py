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


def _of(read: Callable[[CornerSweep], Array]) -> Callable[[ThroughLock, str], Array]:
    return lambda source, side: read(source.corner(side))


def turned_left(side: str) -> float:
    """Sign that makes a turn of the left-hand convention one of the kart, + to the left."""
    return -1.0 if side == "right" else 1.0


wheel = partial(Figure, sides=FRONT, whose="; {side} front")
STEER = wheel(
    "steer_{side}",
    DEG,
    "steer angle on the road",
    lambda s, side: np.degrees(s.corner(side).steer) * turned_left(side),
    "steer",
    1,
    0.2,
    way="+ left",
)
CAMBER = wheel(
    "camber_{side}",
    DEG,
    "camber to the road",
    _of(lambda c: np.degrees(c.camber)),
    "camber",
    2,
    0.1,
    way="+ top outward",
)
CAMBER_GAIN = wheel(
    "camber_gain_{side}",
    DEG,
    "camber less that straight ahead",
    _of(lambda c: np.degrees(c.camber_gain)),
    "camber gain",
    2,
    0.1,
)
TOE = wheel(
    "toe_{side}",
    DEG,
    "toe of the wheel",
    _of(lambda c: np.degrees(-c.steer)),
    "toe",
    2,
    0.05,
    way="+ toe-in",
)
WHEEL_DROP = wheel(
    "wheel_drop_{side}",
    MM,
    "support point lower than straight ahead",
    _of(lambda c: c.wheel_drop),
    "wheel drop",
    2,
    0.2,
    way="+ down",
)
CASTER_TRAIL = wheel(
    "caster_trail_{side}",
    MM,
    "axis meets the road ahead of the contact centre",
    _of(lambda c: c.trail),
    "trail",
    1,
    0.5,
    way="+",
)
SCRUB = wheel(
    "scrub_{side}",
    MM,
    "axis meets the road inboard of the contact centre",
    _of(lambda c: c.scrub),
    "scrub",
    1,
    0.5,
    way="+",
)
THROUGH_LOCK = (STEER, CAMBER, CAMBER_GAIN, TOE, WHEEL_DROP, CASTER_TRAIL, SCRUB)

ahead = partial(wheel, of=Of.AHEAD)
CASTER = ahead(
    "caster_{side}",
    DEG,
    "caster angle to the road",
    _of(lambda c: np.degrees(c.caster)),
    "caster",
    2,
    0.1,
    way="+ top rearward",
)
KINGPIN_INCLINATION = ahead(
    "kingpin_inclination_{side}",
    DEG,
    "kingpin inclination to the road",
    _of(lambda c: np.degrees(c.kingpin_inclination)),
    "kingpin inclination",
    2,
    0.1,
    way="+ top inboard",
)
ROD_LENGTH = ahead(
    "rod_length_{side}",
    MM,
    "tie-rod length between joints",
    _of(lambda c: c.linkage.rod_length),
    "tie-rod length",
    1,
    0.2,
)
STRAIGHT_AHEAD = (CASTER, KINGPIN_INCLINATION, ROD_LENGTH, CAMBER, TOE, CASTER_TRAIL, SCRUB)
