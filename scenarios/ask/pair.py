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

        kept_inclination, kept_caster, [in_all], [of_all] = self._ends(
            (casters, lambda end, _: (end, inclination)),
            (inclinations, lambda end, _: (caster, end)),
            (any_caster, lambda end, road: (end, _touched(inclinations(road, end * INWARD)))),
            (any_inclination, lambda end, road: (_touched(casters(road, end * INWARD)), end)),
        )
        return Reach(
            kept_inclination,
            kept_caster,
            in_all,
            of_all,
            degrees(atan(wanted / self.yoke.span)),
            (degrees(atan(least / self.yoke.span)), degrees(atan(most / self.yoke.span))),
        )

    def _ends(self, *kinds: tuple[_Ranges, _Axis]) -> list[list[Range]]:
        """Ranges of each kind in deg, every end on the road on which the kart then stands: all at once."""
        numbered = [(kind, which) for kind in kinds for which in range(len(kind[0](self.road)))]
        ends = [_End(*kind, which, end, self.road) for kind, which in numbered for end in (0, 1)]
        for _ in range(ROUNDS):
            going = [one for one in ends if not one.settled]
            if not going:
                break
            clocks = (self._clocks(one.angles, _twice(one.road)) for one in going)
            roads = self.stands(np.concatenate([self._pairs(found)[:1] for found in clocks]))
            for one, normal, heading in zip(going, roads.normal, roads.heading, strict=True):
                one.stand(Road(normal, heading))
        found = [
            (degrees(low.value), degrees(high.value)) for low, high in zip(ends[::2], ends[1::2], strict=True)
        ]
        return [[one for one, (of, _) in zip(found, numbered, strict=True) if of is kind] for kind in kinds]


_Ranges = Callable[[Road], Sequence[Range]]
"""What an angle can be on a road, rad."""
_Axis = Callable[[float, Road], Angles]
"""Both angles, rad, where that one is at an end of its range on a road."""


@dataclass
class _End:
    """One end of one range, as it is found on the road on which the kart stands there."""

    ranges: _Ranges
    axis: _Axis
    which: int
    end: int
    road: Road
    settled: bool = False
    value: float = field(init=False)
    """rad."""

    def __post_init__(self) -> None:
        self.value = self.ranges(self.road)[self.which][self.end]

    @property
    def angles(self) -> Angles:
        """Caster and inclination at the end, deg."""
        caster, inclination = self.axis(self.value, self.road)
        return degrees(caster), degrees(inclination)

    def stand(self, road: Road) -> None:
        """Look at it on the next road; two ranges that touch may be one there, and it stays as it was."""
        now, gone_on = self.ranges(road), _turned(self.road, road) >= SAME_ROAD
        self.road, self.settled = road, not gone_on or self.which >= len(now)
        if self.which < len(now):
            self.value = now[self.which][self.end]


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
