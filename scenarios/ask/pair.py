"""Two given bushes in one yoke: the clocks that give wanted angles, and which angles they reach at all."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import atan, degrees, radians

import numpy as np

from kinematics.choose.box import left_alone, tidy
from kinematics.corner.inverse import (
    PairClocks,
    Range,
    angle_in_reach,
    axis_for_angles,
    clocks_for_angles,
    clocks_on_step,
    other_angle_in_reach,
    tilt_vector,
)
from kinematics.frames import Array, Road
from kinematics.parts import Yoke

Angles = tuple[float, float]
"""Caster and kingpin inclination to the road, deg."""


@dataclass(frozen=True)
class Reach:
    """What two bushes reach, deg: an angle while the other is as asked for, and whatever the other is."""

    caster: Sequence[Range]
    inclination: Sequence[Range]
    any_caster: Range
    any_inclination: Range
    tilt: float
    """How far the axis asked for leans away from the yoke's own."""
    tilts: Range
    """How far the pair can lean it."""


@dataclass(frozen=True)
class Pair:
    """Two hole offsets (mm) in one yoke, in the left-hand convention."""

    yoke: Yoke
    road: Road
    top: float
    bottom: float

    def found(self, axis: Angles) -> PairClocks:
        """The clocks that give these angles, or come nearest."""
        caster, inclination = (radians(angle) for angle in axis)
        return clocks_for_angles(self.yoke, caster, inclination, self.top, self.bottom, self.road)

    def rows(self, axes: Sequence[Angles]) -> Array:
        """Bush pairs (n, 4) that give these angles, or come nearest."""
        clocks = []
        for found in map(self.found, axes):
            both = np.stack([found.top_clock, found.bottom_clock], axis=-1)
            clocks.append(both * (not found.together))
        return self._built(clocks)

    def stepped(self, axes: Sequence[Angles], step_deg: float, count: int) -> Array:
        """The nearest to these angles in clock steps, as many as there are answers."""
        clocks = (clocks_on_step(self._tilt(a), self.top, self.bottom, radians(step_deg)) for a in axes)
        return self._built([both[: count // len(axes)] for both in clocks])

    def _tilt(self, axis: Angles) -> Array:
        """The difference of the hole offsets (2,) in mm that these angles ask for."""
        caster, inclination = (radians(angle) for angle in axis)
        return tilt_vector(self.yoke, axis_for_angles(caster, inclination, self.road))

    def _built(self, clocks: Sequence[Array]) -> Array:
        """Bush pairs of clocks (n, 2), each kept once."""
        turned = np.concatenate(clocks)
        offsets = np.broadcast_to([self.top, self.bottom], turned.shape)
        rows = tidy(np.stack([offsets, turned], axis=-1).reshape(-1, 4))
        fresh = [i for i, row in enumerate(rows) if not left_alone(rows[:i], row).all(axis=-1).any()]
        return rows[fresh]

    def reach(self, axis: Angles) -> Reach:
        """What can be had of angles like these."""
        heading, left, yoke, road = self.road.heading, self.road.left, self.yoke, self.road
        caster, inclination = (radians(angle) for angle in axis)
        found = self.found(axis)
        wanted, least, most = float(found.wanted), float(found.least), float(found.most)
        any_caster, any_inclination = (angle_in_reach(yoke, most, free, road) for free in (heading, left))
        return Reach(
            _in_deg(other_angle_in_reach(yoke, (least, most), left, inclination, heading, road)),
            _in_deg(other_angle_in_reach(yoke, (least, most), heading, caster, left, road)),
            _in_deg([any_caster])[0],
            _in_deg([any_inclination])[0],
            degrees(atan(wanted / yoke.span)),
            (degrees(atan(least / yoke.span)), degrees(atan(most / yoke.span))),
        )


def _in_deg(ranges: Sequence[Range]) -> list[Range]:
    return [(degrees(low), degrees(high)) for low, high in ranges]
