"""The frame as a ladder that can twist, the rear axle bare of its tyres, load arrows: neutral frame axes.

The ladder is a front part, a tube at the seat station and a rear part, each rigid, and four pieces of rail
between them; all are made once and moved by matrices.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from kinematics.corner.joints import column_axis
from kinematics.frames import Array
from kinematics.parts import Kart
from viz.scene import bodies
from viz.scene.kart import AXLE, RAIL_HEIGHT, SHAFT_LENGTH, TUBE, rail_point, rails, supports
from viz.scene.meshes import Mesh, bar, cone, merge, paint, pipe, rod, tubes

ARM = 11.0
TAIL = 70.0
"""How far ahead of the rear axle the rear part of the ladder ends, mm."""
HEAD = 40.0
"""Height of an arrow's head, mm."""
SEAT_LIMITS = (0.2, 0.8)
"""Where on the rails the seat station may be drawn, in shares from the rear."""


@dataclass(frozen=True, eq=False)
class Ladder:
    """Meshes of the ladder by name, and the ends (3,) of the pieces that bend."""

    front: Mesh
    seat: Mesh
    rear: Mesh
    pieces: dict[str, tuple[Mesh, Array, Array]]
    """Rail pieces by name, with their rear and their front end."""
    arms: dict[str, tuple[Mesh, Array, Array]]
    """Arms from rail to yoke by side, with their inner and their outer end."""


@lru_cache(maxsize=8)
def ladder(kart: Kart, held: tuple[tuple[float, ...], ...], axle_height: float) -> Ladder:
    """The ladder that holds the yokes at two points, and the rear axle at a height, mm."""
    left, right = (np.array(point) for point in held)
    both = rails((left, right), kart.wheelbase + 60.0)
    ahead, back = _front_start(kart), TAIL
    share = float(np.clip(1.0 - kart.frame.front_share, *SEAT_LIMITS))
    at_seat = back + share * (ahead - back)
    pieces = {}
    for rail, side in zip(both, ("left", "right"), strict=True):
        spots = [rail_point(rail, x) for x in (back, at_seat, ahead)]
        pieces[f"rail_rear_{side}"] = (_tube(spots[0], spots[1]), spots[0], spots[1])
        pieces[f"rail_front_{side}"] = (_tube(spots[1], spots[2]), spots[1], spots[2])
    arms = {}
    for rail, hold, side in zip(both, (left, right), ("left", "right"), strict=True):
        inner = rail_point(rail, hold[0])
        arms[side] = (paint("frame", rod(inner, hold, ARM, 20)), inner, hold)
    seat = paint("frame", *tubes([rail_point(rail, at_seat) for rail in both], TUBE))
    return Ladder(_front(kart, both, ahead), seat, _rear(both, axle_height), pieces, arms)


def _front_start(kart: Kart) -> float:
    """x at which the rigid front part of the ladder starts: behind the legs of the column's support."""
    upper = kart.column.foot[0] + 0.62 * SHAFT_LENGTH * column_axis(kart.column)[0]
    return float(np.clip(upper - 85.0, 0.4 * kart.wheelbase, 0.85 * kart.wheelbase))


def _tube(start: Array, end: Array) -> Mesh:
    return paint("frame", *tubes([start, end], TUBE))


def _front(kart: Kart, both: list[Array], start: float) -> Mesh:
    tubing = []
    for rail in both:
        tubing += tubes([rail[0], rail[1], rail_point(rail, start)], TUBE)
    for x in (both[0][0, 0], kart.column.foot[0] + 75.0, start):
        tubing += tubes([rail_point(rail, x) for rail in both], TUBE)
    return paint("frame", *tubing, *(s for group in supports(kart, both) for s in group))


def _rear(both: list[Array], axle_height: float) -> Mesh:
    """The rails' tails, a tube across them, and the hangers of the axle."""
    y, solids = np.array([0.0, 1.0, 0.0]), []
    for rail in both:
        solids += tubes([rail[-1], rail_point(rail, TAIL)], TUBE)
        at = np.array([0.0, rail_point(rail, 0.0)[1], axle_height])
        solids.append(pipe(at - 14.0 * y, at + 14.0 * y, AXLE + 16.0, AXLE + 0.5))
        foot = np.array([at[0], at[1], RAIL_HEIGHT + TUBE - 2.0])
        solids.append(bar(at - [0.0, 0.0, AXLE + 8.0], foot, 44.0, 10.0, y))
    solids += tubes([rail[-1] for rail in both], TUBE)
    return paint("frame", *solids)


@lru_cache(maxsize=8)
def rear_axle(kart: Kart, height: float) -> Mesh:
    """The rear axle at a height, mm, with both rims."""
    y, at = np.array([0.0, 1.0, 0.0]), 0.5 * kart.rear_track
    left, right = np.array([0.0, at, height]), np.array([0.0, -at, height])
    axle = paint("steel", rod(left + 50.0 * y, right - 50.0 * y, AXLE))
    sides = ((left, 1.0, "left"), (right, -1.0, "right"))
    return merge(axle, *(bodies.rim(kart.rear_tyre, c, s * y, role, AXLE + 0.3) for c, s, role in sides))


@lru_cache(maxsize=1)
def shaft() -> Mesh:
    """An arrow's shaft of unit height, stood on the origin."""
    return paint("load", rod((0.0, 0.0, 0.0), (0.0, 0.0, 1.0), 8.0))


@lru_cache(maxsize=1)
def head() -> Mesh:
    """An arrow's head of unit height, stood on the origin."""
    return paint("load", cone((0.0, 0.0, 0.0), (0.0, 0.0, 1.0), 21.0))


@lru_cache(maxsize=8)
def foot(reach: float) -> Mesh:
    """A flat bar on the road from the origin to an arrow at y = reach, mm, with a plate under the arrow."""
    end = (0.0, reach, 0.6)
    plate = rod((0.0, reach, 0.2), (0.0, reach, 3.0), 24.0)
    return paint("load", bar((0.0, 0.0, 0.6), end, 9.0, 1.2, (0.0, 0.0, 1.0)), plate)


@lru_cache(maxsize=1)
def gap() -> Mesh:
    """A post of unit height on the origin: the air under a wheel."""
    return paint("scale", rod((0.0, 0.0, 0.0), (0.0, 0.0, 1.0), 5.0))
