"""Headline figures of a load case: what lock takes off the inside rear wheel, and where it leaves the road.

A turn to the left and one to the right are read apart, since a kart may be uneven. A case whose lateral
acceleration belongs to the other turn has no figures for this one.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from kinematics.columns import Figure
from kinematics.equilibrium import RL, RR, Stance
from kinematics.frames import Array
from kinematics.parts import Kart, LoadCase, Setting
from kinematics.stance import road_steer, stance, standing_corners
from kinematics.sweep import Mask, Sweep, sweep

NEAR = np.radians(0.1)
"""Jacking rates are read between this handwheel angle and twice it."""
SCAN_STEPS = 38
REFINE_STEPS = 33
WAYS = (("left", 1.0), ("right", -1.0))


@dataclass(frozen=True)
class Turn:
    """One way of turning, handwheel angles (N,) from straight ahead outward, and how the kart stands there.

    Everything is (N,): handwheel rad, + left; steer the mean road steer, rad, + in the turn; load N and
    clearance mm of the inside rear; camber rad of the outside front to the road.
    """

    handwheel: Array
    steer: Array
    load: Array
    clearance: Array
    camber: Array
    known: Mask


def turn(swept: Sweep, standing: Stance, way: float) -> Turn:
    """Read a stance of one setting as a turn, way = 1 to the left, -1 to the right."""
    corners = standing_corners(swept, standing)
    inside, outside = (RL, corners[1]) if way > 0.0 else (RR, corners[0])
    return Turn(
        swept.handwheel,
        way * road_steer(corners),
        standing.loads[..., inside],
        standing.clearance[..., inside],
        outside.camber,
        swept.reach & ~standing.tips & (way * standing.lateral_g >= 0.0),
    )


def jacking_figures(kart: Kart, setting: Setting) -> dict[str, Figure]:
    """How fast a rigid kart's inside rear rises near straight ahead, each way, mm per degree of steer."""
    swept = sweep(kart, setting, NEAR * np.array([1.0, 2.0, -1.0, -2.0]))
    steer = np.degrees(0.5 * (swept.left.steer - swept.right.steer))
    lift = swept.rigid_inside_rear_lift
    figures = []
    for (way, sign), near in zip(WAYS, (slice(0, 2), slice(2, 4)), strict=True):
        rise = _slope(sign * steer[near], lift[near])
        known = np.asarray(swept.reach[near].all())
        meaning = f"rise of a rigid kart's inside rear per degree of road steer near straight, to the {way}"
        figures.append(Figure(f"jacking_rate_{way}_mm_per_deg", "mm/deg", meaning, rise, known))
    return {figure.name: figure for figure in figures}


def turning(kart: Kart, setting: Setting, at: float) -> Sweep:
    """The sweep that case_figures reads: from straight ahead to the stop each way, then its probes.

    at (rad) is the lock at which the figures "at lock" are read, to either side. One sweep serves any
    number of load cases.
    """
    outward = np.linspace(0.0, kart.column.stop, SCAN_STEPS)
    one_way = np.concatenate([outward, [NEAR, 2.0 * NEAR, abs(at)]])
    return sweep(kart, setting, np.concatenate([one_way, -one_way]))


def case_figures(turned: Sweep, case: LoadCase) -> dict[str, Figure]:
    """Headline figures of a load case by name; turned is the setting's sweep from `turning`.

    The jacking rate in N is taken with the lateral acceleration held at its value straight ahead.
    """
    standing = stance(turned, case)
    held = stance(turned, replace(case, speed=None, lateral_g=0.0)) if case.speed is not None else standing
    count = turned.handwheel.size // 2
    figures: list[Figure] = []
    for (way, sign), start in zip(WAYS, (0, count), strict=True):
        part = slice(start, start + count)
        whole, near = _part(turn(turned, standing, sign), part), _part(turn(turned, held, sign), part)
        scan, there = _part(whole, slice(0, SCAN_STEPS)), _part(whole, slice(count - 1, count))
        found = _lift_off_at(turned, case, scan, sign)
        figures += _near_straight(way, _part(near, slice(SCAN_STEPS, SCAN_STEPS + 2)))
        figures += _lift_off(way, found)
        figures += _least_load(way, scan, found)
        figures += _at_lock(way, there)
    return {figure.name: figure for figure in figures}


def _part(whole: Turn, part: slice) -> Turn:
    return Turn(*(value[part] for value in vars(whole).values()))


def _slope(steer: Array, values: Array) -> Array:
    step = steer[1] - steer[0]
    slope: Array = (values[1] - values[0]) / (step if step else np.inf)
    return slope


def _near_straight(way: str, near: Turn) -> Iterator[Figure]:
    relief, known = -_slope(np.degrees(near.steer), near.load), np.asarray(near.known.all())
    meaning = f"load that leaves the inside rear per degree of road steer near straight, to the {way}"
    yield Figure(f"jacking_rate_{way}_n_per_deg", "N/deg", meaning, relief, known)


def _lift_off_at(turned: Sweep, case: LoadCase, scan: Turn, way: float) -> tuple[float, float] | None:
    """Handwheel and road steer angle (rad) at which the inside rear leaves the road; None: it stays down."""
    up = np.logical_and.accumulate(scan.known) & (scan.clearance > 0.0)
    if not up.any():
        return None
    first = int(np.argmax(up))
    if first == 0:
        return 0.0, float(scan.steer[0])
    between = np.linspace(scan.handwheel[first - 1], scan.handwheel[first], REFINE_STEPS)
    swept = sweep(turned.kart, turned.setting, between)
    fine = turn(swept, stance(swept, case), way)
    return _where_load_ends(fine)


def _where_load_ends(fine: Turn) -> tuple[float, float]:
    """Handwheel and road steer angle (rad) where the load, carried on in a straight line, comes to zero."""
    up = max(int(np.argmax(fine.clearance > 0.0)), 2)
    before, last = fine.load[up - 2], fine.load[up - 1]
    share = np.clip(last / (before - last), 0.0, 1.0) if before > last else 0.0
    handwheel, steer = (a[up - 1] + share * (a[up] - a[up - 1]) for a in (fine.handwheel, fine.steer))
    return float(handwheel), float(steer)


def _lift_off(way: str, found: tuple[float, float] | None) -> Iterator[Figure]:
    known, angles = np.asarray(found is not None), np.degrees(found or (0.0, 0.0))
    says = f"at which the inside rear leaves the road, turning {way}; none: it stays down to the stop"
    yield Figure(f"lift_off_handwheel_{way}_deg", "deg", f"handwheel angle {says}", angles[0], known)
    yield Figure(
        f"lift_off_steer_{way}_deg", "deg", f"mean road steer, + in the turn, {says}", angles[1], known
    )


def _least_load(way: str, scan: Turn, lifts: tuple[float, float] | None) -> Iterator[Figure]:
    known, load = np.asarray(scan.known.any()), np.where(scan.known, scan.load, np.inf)
    least = int(np.argmin(load))
    value = np.where(known, scan.load[least], 0.0)
    angle = np.degrees(scan.handwheel[least] if lifts is None else lifts[0])
    where = f"between straight ahead and the stop, turning {way}"
    meaning = f"least load on the inside rear {where}"
    yield Figure(f"least_inside_rear_load_{way}_n", "N", meaning, value, known)
    meaning = f"handwheel angle of the least load on the inside rear {where}"
    yield Figure(f"least_inside_rear_load_at_{way}_deg", "deg", meaning, angle, known)


def _at_lock(way: str, there: Turn) -> Iterator[Figure]:
    where, known = f"at the lock asked for, turning {way}", there.known[0]
    meaning = f"inside rear above the road {where}, 0 on it"
    yield Figure(f"inside_rear_clearance_at_lock_{way}_mm", "mm", meaning, there.clearance[0], known)
    meaning = f"load on the inside rear {where}"
    yield Figure(f"inside_rear_load_at_lock_{way}_n", "N", meaning, there.load[0], known)
    meaning = f"camber of the outside front to the road {where}, + top outward"
    yield Figure(
        f"outside_front_camber_at_lock_{way}_deg", "deg", meaning, np.degrees(there.camber[0]), known
    )
