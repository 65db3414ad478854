"""Headline figures of a load case: what lock takes off the inside rear wheel, and where it leaves the road.

A turn to the left and one to the right are read apart, since a kart may be uneven. A case whose lateral
acceleration belongs to the other turn has no figures for this one. A figure is (...), a number for each
setting of a batch.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import replace

import numpy as np

from kinematics.figures.columns import Figure
from kinematics.figures.turning import (
    COARSE_REFINE,
    COARSE_SCAN,
    REFINE_STEPS,
    SCAN_STEPS,
    LiftOff,
    Turn,
    at,
    lift_off,
    positions,
    turn,
)
from kinematics.frames import Array
from kinematics.lock import Sweep, sweep
from kinematics.parts import Kart, LoadCase, Setting
from kinematics.stance.standing import stance

NEAR = np.radians(0.1)
"""Jacking rates are read between this handwheel angle and twice it."""
TWO = np.array([1.0, 2.0])
WAYS = (("left", 1.0), ("right", -1.0))
JACKING = tuple(f"jacking_rate_{way}_mm_per_deg" for way, _ in WAYS)
"""Names of the figures that a rigid kart has in no load case."""
NEAR_STRAIGHT = tuple(f"jacking_rate_{way}_n_per_deg" for way, _ in WAYS)
LIFT_OFF = tuple(f"lift_off_{angle}_{way}_deg" for way, _ in WAYS for angle in ("handwheel", "steer"))
LEAST_LOAD = tuple(
    f"least_inside_rear_load_{what}" for way, _ in WAYS for what in (f"{way}_n", f"at_{way}_deg")
)
AT_LOCK = tuple(
    name
    for way, _ in WAYS
    for name in (
        f"inside_rear_clearance_at_lock_{way}_mm",
        f"inside_rear_load_at_lock_{way}_n",
        f"outside_front_camber_at_lock_{way}_deg",
    )
)
"""Names of the figures that are read at the lock asked for."""
SCANNED = (*LIFT_OFF, *LEAST_LOAD)
"""Names of the figures for which the whole turn is scanned."""
WHOLE_TURN = (*NEAR_STRAIGHT, *SCANNED)
"""Names of the figures of a load case that belong to no lock position."""


def jacking_figures(kart: Kart, setting: Setting) -> dict[str, Figure]:
    """How fast a rigid kart's inside rear rises near straight ahead, each way, mm per degree of steer."""
    swept = sweep(kart, setting, NEAR * np.concatenate([TWO, -TWO]))
    steer = np.degrees(0.5 * (swept.left.steer - swept.right.steer))
    lift, figures = swept.rigid_inside_rear_lift, []
    for name, (way, sign), near in zip(JACKING, WAYS, (slice(0, 2), slice(2, 4)), strict=True):
        rise = _slope(sign * steer[..., near], lift[..., near])
        known = np.asarray(swept.reach[..., near].all(axis=-1))
        meaning = f"rise of a rigid kart's inside rear per degree of road steer near straight, to the {way}"
        figures.append(Figure(name, "mm/deg", meaning, rise, known))
    return {figure.name: figure for figure in figures}


def turning(kart: Kart, setting: Setting, at_lock: float) -> Sweep:
    """The sweep that case_figures reads: from straight ahead to the stop each way, then its probes.

    at_lock (rad) is the lock at which the figures "at lock" are read, to either side. One sweep serves any
    number of load cases.
    """
    outward = np.linspace(0.0, kart.column.stop, SCAN_STEPS)
    one_way = np.concatenate([outward, [NEAR, 2.0 * NEAR, abs(at_lock)]])
    return sweep(kart, setting, np.concatenate([one_way, -one_way]))


def case_figures(turned: Sweep, case: LoadCase) -> dict[str, Figure]:
    """Headline figures of a load case by name; turned is the sweep from `turning`, of any batch shape.

    The jacking rate in N is taken with the lateral acceleration held at its value straight ahead.
    """
    standing = stance(turned, case)
    held = stance(turned, held_case(case)) if case.speed is not None else standing
    count = turned.handwheel.size // 2
    figures: list[Figure] = []
    for (way, sign), start in zip(WAYS, (0, count), strict=True):
        part = slice(start, start + count)
        whole = turn(turned, case, standing, sign).part(part)
        near = turn(turned, held_case(case), held, sign).part(part)
        scan, there = whole.part(slice(0, SCAN_STEPS)), whole.part(slice(count - 1, count))
        found = lift_off(turned.kart, turned.setting, case, scan, sign)
        figures += near_straight(way, near.part(slice(SCAN_STEPS, SCAN_STEPS + 2)))
        figures += lift_off_figures(way, found)
        figures += least_load(way, scan, found)
        figures += figures_at_lock(way, there)
    return {figure.name: figure for figure in figures}


def held_case(case: LoadCase) -> LoadCase:
    """The case with its lateral acceleration held at its value straight ahead."""
    return case if case.speed is None else replace(case, speed=None, lateral_g=0.0)


Asked = Mapping[LoadCase, Collection[str]]


def some_case_figures(
    kart: Kart, setting: Setting, asked: Asked, at_lock: float = 0.0, coarse: bool = False
) -> dict[LoadCase, dict[str, Figure]]:
    """Those of `case_figures` that are asked for by name, case by case, no more worked out than they need.

    Others may come with them. Where the inside rear is sure to stay down, the figures of lift-off are not
    known and their value is inf: there is none. coarse reads the scanned figures off a few lock positions,
    to rank candidates by.
    """
    scan = np.linspace(0.0, kart.column.stop, COARSE_SCAN if coarse else SCAN_STEPS)
    outward = {NEAR_STRAIGHT: NEAR * TWO, AT_LOCK: np.array([abs(at_lock)]), SCANNED: scan}
    found: dict[LoadCase, dict[str, Figure]] = {case: {} for case in asked}
    for way, sign in WAYS:
        needs = {
            case: [kind for kind in outward if any(n in kind and f"_{way}_" in n for n in names)]
            for case, names in asked.items()
        }
        kinds = [kind for kind in outward if any(kind in some for some in needs.values())]
        if not kinds:
            continue
        swept = sweep(kart, setting, sign * np.concatenate([outward[kind] for kind in kinds]))
        ends = np.cumsum([0, *(outward[kind].size for kind in kinds)]).tolist()
        parts = {kind: slice(*ends[i : i + 2]) for i, kind in enumerate(kinds)}
        for case, some in needs.items():
            for kind in some:
                figures = _READ[kind](positions(swept, parts[kind]), case, way, sign, coarse)
                found[case].update({figure.name: figure for figure in figures})
    return found


def _near(swept: Sweep, case: LoadCase, way: str, sign: float, _: bool) -> Iterator[Figure]:
    held = held_case(case)
    return near_straight(way, turn(swept, held, stance(swept, held), sign))


def _there(swept: Sweep, case: LoadCase, way: str, sign: float, _: bool) -> Iterator[Figure]:
    return figures_at_lock(way, turn(swept, case, stance(swept, case), sign))


def _scanned(swept: Sweep, case: LoadCase, way: str, sign: float, coarse: bool) -> Iterator[Figure]:
    """Figures of lift-off, inf where there is sure to be none, and of the least load."""
    scan, steps = turn(swept, case, stance(swept, case), sign), COARSE_REFINE if coarse else REFINE_STEPS
    found = lift_off(swept.kart, swept.setting, case, scan, sign, steps)
    for figure in lift_off_figures(way, found):
        yield replace(figure, value=np.where(found.stays, np.inf, figure.value))
    yield from least_load(way, scan, found)


_READ = {NEAR_STRAIGHT: _near, AT_LOCK: _there, SCANNED: _scanned}


def _slope(steer: Array, values: Array) -> Array:
    step = steer[..., 1] - steer[..., 0]
    slope: Array = (values[..., 1] - values[..., 0]) / np.where(step == 0.0, np.inf, step)
    return slope


def near_straight(way: str, near: Turn) -> Iterator[Figure]:
    """The jacking rate, from a turn of two positions near straight ahead."""
    relief, known = -_slope(np.degrees(near.steer), near.load), np.asarray(near.known.all(axis=-1))
    meaning = f"load that leaves the inside rear per degree of road steer near straight, to the {way}"
    yield Figure(f"jacking_rate_{way}_n_per_deg", "N/deg", meaning, relief, known)


def lift_off_figures(way: str, found: LiftOff) -> Iterator[Figure]:
    """Where the inside rear leaves the road."""
    says = f"at which the inside rear leaves the road, turning {way}; none: it stays down to the stop"
    handwheel, steer = np.degrees(found.handwheel), np.degrees(found.steer)
    yield Figure(f"lift_off_handwheel_{way}_deg", "deg", f"handwheel angle {says}", handwheel, found.lifts)
    meaning = f"mean road steer, + in the turn, {says}"
    yield Figure(f"lift_off_steer_{way}_deg", "deg", meaning, steer, found.lifts)


def least_load(way: str, scan: Turn, found: LiftOff) -> Iterator[Figure]:
    """The least load on the inside rear, and where: where it leaves the road, if it does."""
    known, load = np.asarray(scan.known.any(axis=-1)), np.where(scan.known, scan.load, np.inf)
    least = np.asarray(np.argmin(load, axis=-1))
    value = np.where(known, at(scan.load, least), 0.0)
    angle = np.degrees(np.where(found.lifts, found.handwheel, at(scan.handwheel, least)))
    where = f"between straight ahead and the stop, turning {way}"
    meaning = f"least load on the inside rear {where}"
    yield Figure(f"least_inside_rear_load_{way}_n", "N", meaning, value, known)
    meaning = f"handwheel angle of the least load on the inside rear {where}"
    yield Figure(f"least_inside_rear_load_at_{way}_deg", "deg", meaning, angle, known)


def figures_at_lock(way: str, there: Turn) -> Iterator[Figure]:
    """Figures at the lock asked for, from a turn of that one position."""
    where, known = f"at the lock asked for, turning {way}", there.known[..., 0]
    meaning = f"inside rear above the road {where}, 0 on it"
    clearance = there.clearance[..., 0]
    yield Figure(f"inside_rear_clearance_at_lock_{way}_mm", "mm", meaning, clearance, known)
    meaning = f"load on the inside rear {where}"
    yield Figure(f"inside_rear_load_at_lock_{way}_n", "N", meaning, there.load[..., 0], known)
    meaning = f"camber of the outside front to the road {where}, + top outward"
    camber = np.degrees(there.camber[..., 0])
    yield Figure(f"outside_front_camber_at_lock_{way}_deg", "deg", meaning, camber, known)
