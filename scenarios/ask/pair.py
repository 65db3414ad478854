"""Two given bushes in one yoke: the clocks that give wanted angles, and which angles they reach at all."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
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


ROUNDS = 12
"""A bush leans the frame, and with it the road, by a twentieth of what it leans the axis: so many rounds at
most until clocks are those for the road on which their own setting stands."""
SAME_ROAD = 1e-10
"""A road that turns by less (rad) ends the rounds."""


@dataclass(frozen=True)
class Pair:
    """Two hole offsets (mm) in one yoke, in the left-hand convention."""

    yoke: Yoke
    road: Road
    """The road under the setting of now (3,), as this corner sees it."""
    stands: Callable[[Array], Road]
    """The road (n, 3) on which the kart stands with each of these bush pairs (n, 4)."""
    top: float
    bottom: float
    _roads: dict[Angles, Road] = field(default_factory=dict, init=False)
    """Those of angles that were asked for before."""

    def found(self, axis: Angles) -> PairClocks:
        """The clocks that give these angles, or come nearest: each answer (2,) on its own road."""
        return self._clocks(axis, self._own_roads(axis))

    def _clocks(self, axis: Angles, road: Road) -> PairClocks:
        caster, inclination = (radians(angle) for angle in axis)
        return clocks_for_angles(self.yoke, caster, inclination, self.top, self.bottom, road)

    def _own_roads(self, axis: Angles) -> Road:
        """The road (2, 3) on which each answer stands."""
        if axis not in self._roads:
            road = _twice(self.road)
            for _ in range(0 if self._clocks(axis, self.road).together else ROUNDS):
                before, road = road, self.stands(self._pairs(self._clocks(axis, road)))
                if _turned(before, road) < SAME_ROAD:
                    break
            self._roads[axis] = road
        return self._roads[axis]

    def _pairs(self, found: PairClocks) -> Array:
        """Bush pairs (2, 4): the first answer on the first road, the second on the second."""
        both = np.stack([np.diagonal(found.top_clock), np.diagonal(found.bottom_clock)], axis=-1)
        clocks = both * ~found.together[:, None]
        offsets = np.broadcast_to([self.top, self.bottom], clocks.shape)
        return tidy(np.stack([offsets, clocks], axis=-1).reshape(-1, 4))

    def rows(self, axes: Sequence[Angles]) -> Array:
        """Bush pairs (n, 4) that give these angles, or come nearest."""
        return _once(np.concatenate([self._pairs(self.found(axis)) for axis in axes]))

    def stepped(self, axes: Sequence[Angles], step_deg: float, count: int) -> Array:
        """The nearest to these angles in clock steps, as many as there are answers."""
        clocks = (clocks_on_step(self._tilt(a), self.top, self.bottom, radians(step_deg)) for a in axes)
        turned = np.concatenate([both[: count // len(axes)] for both in clocks])
        offsets = np.broadcast_to([self.top, self.bottom], turned.shape)
        return _once(tidy(np.stack([offsets, turned], axis=-1).reshape(-1, 4)))

    def _tilt(self, axis: Angles) -> Array:
        """The difference (2,) of the hole offsets in mm that these angles ask for, on the first's road."""
        caster, inclination = (radians(angle) for angle in axis)
        road = _first(self._own_roads(axis))
        return tilt_vector(self.yoke, axis_for_angles(caster, inclination, road))

    def reach(self, axis: Angles) -> Reach:
        """What can be had of angles like these, each end on the road on which the kart then stands."""
        caster, inclination = (radians(angle) for angle in axis)
        found = self.found(axis)
        wanted, least, most = (float(np.max(size)) for size in (found.wanted, found.least, found.most))
        ring = (least, most)

        def casters(road: Road, held: float = inclination) -> list[Range]:
            return other_angle_in_reach(self.yoke, ring, road.left, held, road.heading, road)

        def inclinations(road: Road, held: float = caster) -> list[Range]:
            return other_angle_in_reach(self.yoke, ring, road.heading, held, road.left, road)

        def any_caster(road: Road) -> list[Range]:
            return [angle_in_reach(self.yoke, most, road.heading, road)]

        def any_inclination(road: Road) -> list[Range]:
            return [angle_in_reach(self.yoke, most, road.left, road)]

        return Reach(
            self._ends(casters, lambda end, _: (end, inclination)),
            self._ends(inclinations, lambda end, _: (caster, end)),
            self._ends(any_caster, lambda end, road: (end, _touched(inclinations(road, end * INWARD))))[0],
            self._ends(any_inclination, lambda end, road: (_touched(casters(road, end * INWARD)), end))[0],
            degrees(atan(wanted / self.yoke.span)),
            (degrees(atan(least / self.yoke.span)), degrees(atan(most / self.yoke.span))),
        )

    def _ends(
        self, ranges: Callable[[Road], Sequence[Range]], axis: Callable[[float, Road], Angles]
    ) -> list[Range]:
        """Ranges in deg; axis says both angles (rad) at an end of one."""
        found = []
        for which in range(len(ranges(self.road))):
            low, high = (self._end(ranges, axis, which, end) for end in (0, 1))
            found.append((degrees(low), degrees(high)))
        return found

    def _end(
        self,
        ranges: Callable[[Road], Sequence[Range]],
        axis: Callable[[float, Road], Angles],
        which: int,
        end: int,
    ) -> float:
        road, value = self.road, ranges(self.road)[which][end]
        for _ in range(ROUNDS):
            at = axis(value, road)
            pairs = self._pairs(self._clocks((degrees(at[0]), degrees(at[1])), _twice(road)))
            before, road = road, _first(self.stands(pairs))
            now = ranges(road)
            if which >= len(now):
                break  # two ranges that touch are one on another road
            value = now[which][end]
            if _turned(before, road) < SAME_ROAD:
                break
        return value


INWARD = 1.0 - 1e-9
"""Just short of the last angle that can be had, where the other still has a value."""


def _twice(road: Road) -> Road:
    """The same road (3,) for both answers."""
    return Road(*(np.broadcast_to(v, (2, 3)) for v in (road.normal, road.heading)))


def _first(roads: Road) -> Road:
    """The first answer's road (3,) of both (2, 3)."""
    return Road(roads.normal[0], roads.heading[0])


def _turned(before: Road, road: Road) -> float:
    """How far a road has turned, rad; of several the furthest."""
    return float(np.max(np.abs(road.normal - before.normal)))


def _touched(ranges: Sequence[Range]) -> float:
    """The one angle left where a range has shrunk to a point."""
    return float(np.mean(ranges)) if ranges else 0.0


def _once(rows: Array) -> Array:
    """Bush pairs (n, 4), each kept once."""
    return rows[[i for i, row in enumerate(rows) if not left_alone(rows[:i], row).all(axis=-1).any()]]
