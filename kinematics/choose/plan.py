"""Figures of many bush pairs at once: the fast chain for one corner, the readable one for the rest.

Rows are bush pairs (n, 4) as in `box`; a side that stays as it is has one row. What a corner alone decides is
read off blocks of fast poses, every other figure off the whole kart, in blocks too, so that memory does not
grow with the number.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from kinematics.choose.box import with_row
from kinematics.corner.fast import pose_blocks
from kinematics.figures import wheel
from kinematics.figures.fast import FAST, block_of
from kinematics.figures.figure import Address, Given, Of
from kinematics.figures.read import GIVEN, Values, read
from kinematics.figures.scanning import CLOSER
from kinematics.figures.turn import handwheel_of, part_of
from kinematics.fitted import fitted
from kinematics.frames import FLAT_ROAD, Array, Mask, Road, mirrored_road
from kinematics.parts import Kart, LoadCase, Setting
from kinematics.rest import rest

SWEPT = 16384  # poses a block in the readable chain


@dataclass(frozen=True)
class Plan:
    """What is to be known of every candidate: a kart, a base that says everything but the bushes, figures."""

    kart: Kart
    base: Setting
    figures: tuple[Address, ...]
    given: Given = GIVEN
    cases: tuple[LoadCase, ...] = ()
    stand_at: tuple[float, ...] = ()
    """Handwheel angles, rad, at which the linkages must stand for any figure to be known."""
    stand_sides: tuple[str, ...] = ("left", "right")
    """Whose linkages must."""
    coarse: bool = False
    """Read what needs a whole turn off a few lock positions, to rank candidates by."""


def side_of(address: Address) -> str:
    """The corner that alone decides a figure, 'left' or 'right'; '' when the whole kart does."""
    return address.side if address.figure in FAST or address.figure is wheel.ROD_LENGTH else ""


def _group(address: Address) -> str:
    """How a figure is had: 'left' or 'right' fast poses of a corner, or '' the whole kart."""
    return address.side if address.figure in FAST else ""


def _corner(
    plan: Plan, side: str, road: Road, rows: Array, figures: Sequence[Address]
) -> tuple[Array, Mask, Mask]:
    """Fast figures of one corner for rows (n, 4): (n, figures), and where it stands at every position."""
    kart = fitted(plan.kart, plan.base.chassis)
    sign, facing = (1.0, road) if side == "left" else (-1.0, mirrored_road(road))
    asked = [figure.lock or 0.0 for figure in figures]
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
        block = block_of(corner, setting, len(rows), which, poses, kart.front_tyre, facing, sign)
        for column, (figure, position) in enumerate(zip(figures, at, strict=True)):
            values[which, column] = FAST[figure.figure](block, position)
            known[which, column] = poses.reach[:, 0] & poses.reach[:, position]
    return values, known, stands


def setting_of(base: Setting, left: Array, right: Array) -> Setting:
    """The base with these bush pairs (..., 4) fitted left and right."""
    return replace(base, left=with_row(base.left, left), right=with_row(base.right, right))


def _poses(plan: Plan, figures: Sequence[Address]) -> int:
    """About how many poses of a setting are held at a time for these figures."""
    locks = {figure.lock for figure in figures if figure.figure.of in (Of.LOCK, Of.CASE)}
    parts = {part_of(figure) for figure in figures if figure.figure.of in (Of.HELD, Of.SCAN, Of.AT_LOCK)}
    turned = sum(handwheel_of(plan.kart, part, [0.0], plan.coarse).size for part in parts)
    turned += sum(CLOSER[not plan.coarse]) * len([part for part in parts if part[0] is Of.SCAN])
    near = 4 * any(figure.figure.of is Of.NEAR for figure in figures)
    return len(locks) + turned + near + 1


def _whole_kart(plan: Plan, left: Array, right: Array, figures: Sequence[Address]) -> Values:
    """Any figures from the readable chain: (n, figures)."""
    size, step = max(len(left), len(right)), max(1, SWEPT // _poses(plan, figures))
    values, known = np.empty((size, len(figures))), np.empty((size, len(figures)), dtype=bool)
    cases = {case.name: case for case in plan.cases}
    for start in range(0, size, step):
        some = slice(start, start + step)
        pairs = (rows if len(rows) == 1 else rows[some] for rows in (left, right))
        setting = setting_of(plan.base, *pairs)
        found = read(plan.kart, setting, figures, cases, plan.given, plan.coarse)
        for column, (numbers, there) in enumerate(found):
            values[some, column], known[some, column] = numbers, there
    return values, known


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
        groups.setdefault(_group(plan.figures[index]), []).append(column)
    stands = np.ones(size, dtype=bool)
    road = rest(plan.kart, setting_of(plan.base, left, right)).road if any(groups) else FLAT_ROAD
    for way, places in groups.items():
        figures = [plan.figures[which[column]] for column in places]
        if way:
            rows = np.broadcast_to(left if way == "left" else right, (size, 4))
            values[:, places], known[:, places], reach = _corner(plan, way, road, rows, figures)
            stands &= reach if way in plan.stand_sides and plan.stand_at else True
        else:
            values[:, places], known[:, places] = _whole_kart(plan, left, right, figures)
    known &= stands[:, None]
    return np.where(known | stands[:, None], values, 0.0), known
