"""Figures of many bush pairs at once: the fast path for one corner, the readable chain for the rest.

Rows are bush pairs (n, 4) as in `search_box`; a side that stays as it is has one row. What a corner alone
decides is read off blocks of fast poses; whole-kart figures come from `sweep`, those of load cases from the
plug for the four-wheel figures or off a turn, in blocks too, so that memory does not grow with the number.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from re import fullmatch

import numpy as np

from kinematics.choose.box import with_row
from kinematics.choose.targets import Figure, FourWheels
from kinematics.choose.turns import jacking_of, poses_in_turn, turned
from kinematics.corner.bush import steering_axis
from kinematics.corner.fast import Poses, pose_blocks, support_height, take
from kinematics.corner.wheel import axis_angles
from kinematics.figures.columns import columns, headline
from kinematics.figures.turn import JACKING
from kinematics.frames import Array, Road, dot
from kinematics.lock import Mask, mirrored_road, reference_road, sweep
from kinematics.parts import Kart, Setting

Values = tuple[Array, Mask]
SWEPT = 16384  # poses a block in the readable chain


@dataclass(frozen=True)
class Plan:
    """What is to be known of every candidate: a kart, a base that says everything but the bushes, figures."""

    kart: Kart
    base: Setting
    figures: tuple[Figure, ...]
    toe_diameter: float
    wheels: FourWheels | None = None
    stand_at: tuple[float, ...] = ()
    """Handwheel angles, rad, at which the linkages must stand for any figure to be known."""
    stand_sides: tuple[str, ...] = ("left", "right")
    """Whose linkages must."""
    coarse: bool = False
    """Read what needs a whole turn off a few lock positions, to rank candidates by."""


@dataclass(frozen=True)
class _Block:
    """Poses of a block of settings of a corner; position 0 is straight ahead. Axis and foot in road axes."""

    poses: Poses
    height: Array
    k: Array
    """(3 of ahead, left, up, settings)."""
    foot: Array
    angles: tuple[Array, Array]
    sign: float


def _axis_arm(block: _Block, at: int) -> tuple[Array, Array]:
    """From contact centre to axis–road point, ahead and left, mm."""
    poses = block.poses
    along = (poses.contact_z[:, at] - block.foot[2]) / block.k[2]
    ahead = block.foot[0] + along * block.k[0] - poses.contact_x[:, at]
    return ahead, block.foot[1] + along * block.k[1] - poses.contact_y[:, at]


def _trail(block: _Block, at: int) -> Array:
    (ahead, left), steer = _axis_arm(block, at), block.poses.steer[:, at]
    trail: Array = ahead * np.cos(steer) + left * np.sin(steer)
    return trail


def _scrub(block: _Block, at: int) -> Array:
    (ahead, left), steer = _axis_arm(block, at), block.poses.steer[:, at]
    scrub: Array = ahead * np.sin(steer) - left * np.cos(steer)
    return scrub


CORNER_FAST: dict[str, Callable[[_Block, int], Array]] = {
    "caster_deg": lambda b, _: np.degrees(b.angles[0]),
    "kingpin_inclination_deg": lambda b, _: np.degrees(b.angles[1]),
    "steer_deg": lambda b, at: b.sign * np.degrees(b.poses.steer[:, at]),
    "camber_deg": lambda b, at: np.degrees(b.poses.camber[:, at]),
    "camber_gain_deg": lambda b, at: np.degrees(b.poses.camber[:, at] - b.poses.camber[:, 0]),
    "toe_deg": lambda b, at: -np.degrees(b.poses.steer[:, at]),
    "wheel_drop_mm": lambda b, at: b.height[:, 0] - b.height[:, at],
    "caster_trail_mm": _trail,
    "scrub_mm": _scrub,
}
"""Columns and headline figures of a corner that the fast path gives, without their side."""


def side_of(figure: Figure) -> str | None:
    """The corner that alone decides a figure, 'left' or 'right'; None when the whole kart does."""
    named = fullmatch(r"(.+)_(left|right)_(deg|mm)", figure.name)
    if figure.case is None and named and f"{named[1]}_{named[3]}" in {*CORNER_FAST, "rod_length_mm"}:
        return named[2]
    return None


def _quick(figure: Figure) -> str:
    """The fast path's name of a figure, '' when it has none."""
    side = side_of(figure)
    name = "" if side is None else figure.name.replace(f"_{side}_", "_")
    return name if name in CORNER_FAST else ""


def _way(figure: Figure) -> str:
    """How a figure is had: 'left' or 'right' fast poses of a corner, the whole 'kart', a 'case', a 'turn'."""
    if figure.of_turn:
        return "turn"
    if figure.case is not None:
        return "case"
    if figure.name in JACKING:
        return "jacking"
    return (side_of(figure) or "kart") if _quick(figure) else "kart"


def _road_parts(road: Road, vector: Array) -> Array:
    return np.stack([dot(vector, axis) for axis in (road.heading, road.left, road.normal)])


def _corner(plan: Plan, side: str, rows: Array, figures: Sequence[Figure]) -> tuple[Array, Mask, Mask]:
    """Fast figures of one corner for rows (n, 4): (n, figures), and where it stands at every position."""
    kart, road = plan.kart, reference_road(plan.kart, plan.base)
    sign, facing = (1.0, road) if side == "left" else (-1.0, mirrored_road(road))
    asked = [figure.handwheel or 0.0 for figure in figures]
    locks, place = np.unique(np.array([0.0, *asked, *plan.stand_at]), return_inverse=True)
    first = int(place[0])
    order = [first, *(i for i in range(locks.size) if i != first)]
    at = [order.index(int(p)) for p in place[1 : 1 + len(figures)]]
    corner, setting = getattr(kart, side), with_row(getattr(plan.base, side), rows)
    values, known = np.empty((len(rows), len(figures))), np.empty((len(rows), len(figures)), dtype=bool)
    stands = np.empty(len(rows), dtype=bool)
    blocks = pose_blocks(corner, setting, kart.column, kart.front_tyre, facing, sign * locks[order])
    for which, poses in blocks:
        stands[which] = poses.reach.all(axis=-1)
        axis = steering_axis(corner.yoke, take(setting, len(rows), which))
        height, k = support_height(poses, kart.front_tyre), _road_parts(facing, axis.k)
        foot, angles = _road_parts(facing, axis.bottom), axis_angles(axis.k, facing)
        block = _Block(poses, height, k, foot, angles, sign)
        for column, (figure, position) in enumerate(zip(figures, at, strict=True)):
            values[which, column] = CORNER_FAST[_quick(figure)](block, position)
            known[which, column] = poses.reach[:, 0] & poses.reach[:, position]
    return values, known, stands


def setting_of(base: Setting, left: Array, right: Array) -> Setting:
    """The base with these bush pairs (..., 4) fitted left and right."""
    return replace(base, left=with_row(base.left, left), right=with_row(base.right, right))


def _swept(plan: Plan, left: Array, right: Array, figures: Sequence[Figure]) -> Values:
    """Any figures but those of load cases, from the readable chain: (n, figures)."""
    locks = np.array(sorted({figure.handwheel or 0.0 for figure in figures}))
    setting = setting_of(plan.base, left, right)
    full = sweep(plan.kart, setting, locks)
    ahead = headline(full, sweep(plan.kart, setting, 0.0), plan.toe_diameter)
    at_lock = columns(full, plan.toe_diameter)
    found = []
    for figure in figures:
        if figure.handwheel is None:
            found.append((ahead[figure.name].value, ahead[figure.name].known))
        else:
            column, at = at_lock[figure.name], int(np.searchsorted(locks, figure.handwheel))
            found.append((column.values[..., at], column.known[..., at]))
    return _stacked(found, max(len(left), len(right)))


def _stood(plan: Plan, left: Array, right: Array, figures: Sequence[Figure]) -> Values:
    """Figures of load cases from the plug: (n, figures)."""
    wheels = _wheels(plan, figures)
    locks = np.array(sorted({figure.handwheel or 0.0 for figure in figures}))
    full = sweep(plan.kart, setting_of(plan.base, left, right), locks)
    by_case = {case: wheels.of(case, full) for case in sorted({str(f.case) for f in figures})}
    found = []
    for figure in figures:
        column, at = (
            by_case[str(figure.case)][figure.name],
            int(np.searchsorted(locks, figure.handwheel or 0.0)),
        )
        found.append((column.values[..., at], column.known[..., at]))
    return _stacked(found, max(len(left), len(right)))


def _wheels(plan: Plan, figures: Sequence[Figure]) -> FourWheels:
    if plan.wheels is None:
        raise ValueError(f"{figures[0]} needs the four-wheel figures, and no way to have them is given")
    return plan.wheels


def _jacked(plan: Plan, left: Array, right: Array, figures: Sequence[Figure]) -> Values:
    """Jacking rates of the rigid kart: (n, figures)."""
    found = jacking_of(plan.kart, setting_of(plan.base, left, right), figures)
    return _stacked(found, max(len(left), len(right)))


def _turned(plan: Plan, left: Array, right: Array, figures: Sequence[Figure]) -> Values:
    """Figures of load cases read off a turn: (n, figures)."""
    wheels, setting = _wheels(plan, figures), setting_of(plan.base, left, right)
    return _stacked(turned(plan.kart, setting, wheels, figures, plan.coarse), max(len(left), len(right)))


def _stacked(found: Sequence[Values], size: int) -> Values:
    values = np.stack([np.broadcast_to(value, (size,)) for value, _ in found], axis=-1)
    return values, np.stack([np.broadcast_to(known, (size,)) for _, known in found], axis=-1)


def _in_blocks(
    of: Callable[[Plan, Array, Array, Sequence[Figure]], Values],
    plan: Plan,
    left: Array,
    right: Array,
    figures: Sequence[Figure],
) -> Values:
    locks = (
        poses_in_turn(figures, plan.coarse)
        if of in (_jacked, _turned)
        else len({f.handwheel for f in figures})
    )
    size, step = max(len(left), len(right)), max(1, SWEPT // locks)
    parts = []
    for start in range(0, size, step):
        some_left, some_right = (s if len(s) == 1 else s[start : start + step] for s in (left, right))
        parts.append(of(plan, some_left, some_right, figures))
    return np.concatenate([value for value, _ in parts]), np.concatenate([known for _, known in parts])


_CHAIN = {"kart": _swept, "case": _stood, "jacking": _jacked, "turn": _turned}


def figures_of(plan: Plan, left: Array, right: Array, which: Sequence[int] | None = None) -> Values:
    """Values (n, figures) of bush pairs left (n or 1, 4) and right, in the figures' units, and where known.

    Where it is sure that there is no value (a wheel that stays down has no lift-off) it is inf and not known.
    which names some of the plan's figures by their place; the others are not worked out.
    """
    which = range(len(plan.figures)) if which is None else which
    size = max(len(left), len(right))
    values, known = np.zeros((size, len(which))), np.zeros((size, len(which)), dtype=bool)
    groups: dict[str, list[int]] = {side: [] for side in plan.stand_sides if plan.stand_at}
    for column, index in enumerate(which):
        groups.setdefault(_way(plan.figures[index]), []).append(column)
    stands = np.ones(size, dtype=bool)
    for way, places in groups.items():
        figures = [plan.figures[which[column]] for column in places]
        if way in ("left", "right"):
            values[:, places], known[:, places], reach = _corner(
                plan, way, left if way == "left" else right, figures
            )
            stands &= reach if way in plan.stand_sides and plan.stand_at else True
        else:
            values[:, places], known[:, places] = _in_blocks(_CHAIN[way], plan, left, right, figures)
    known &= stands[:, None]
    return np.where(known | stands[:, None], values, 0.0), known
