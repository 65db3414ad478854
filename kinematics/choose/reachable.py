"""Everything the box can reach: caster and kingpin inclination of every pair, with a figure's value each.

Data for a map, nothing drawn. Angles in degrees, relative to the road, of one corner; where both corners
are fitted alike it is the left one that is mapped.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from kinematics.change.rods import Rods, with_own_rods
from kinematics.choose.box import FREE_STEP, Box, Ints, dial_of, on_hand, row_of
from kinematics.choose.plan import Plan, figures_of
from kinematics.choose.scan import Sides, Task, both_sides, grid_of, most_at_once
from kinematics.choose.search import Progress
from kinematics.figures import wheel
from kinematics.figures.catalog import check
from kinematics.figures.figure import Address, Given
from kinematics.figures.read import GIVEN, Values
from kinematics.frames import Array, Mask
from kinematics.parts import Kart, LoadCase, Setting

CASE_LIMIT = 4000
"""Pairs mapped when each takes a stance."""
EDGES = 32
"""Directions in which a thinned map keeps its outermost point."""


@dataclass(frozen=True)
class Points:
    """Points of the map, each (n,): where they lie, whether the kart can be steered, the figure's value."""

    caster_deg: Array
    kingpin_inclination_deg: Array
    value: Array
    """In the unit that the figure's name ends in; 0 where it is not known."""
    known: Mask
    stands: Mask
    """Where the linkage can be assembled straight ahead; elsewhere there is no point to show."""


@dataclass(frozen=True)
class Reachable:
    """A map: every pair of the box as a point, the setting as it is, and the settings to be marked."""

    figure: Address
    corner: Literal["left", "right"]
    """The corner whose angles are mapped."""
    points: Points
    present: Points
    marked: Points
    rows: Array
    """(n, 4) the pair of each point: top offset mm, top clock rad, bottom offset, bottom clock."""
    total: int
    """Pairs that the box allows, at the clocks looked at."""

    @property
    def thinned(self) -> bool:
        """Whether only some of the pairs are mapped, evenly over the map."""
        return len(self.rows) < self.total


def _points(values: Array, known: Mask) -> Points:
    """Points from caster, inclination and figure (n, 3)."""
    stands = known[:, 0] & known[:, 1]
    valued = stands & known[:, 2]
    return Points(values[:, 0], values[:, 1], np.where(valued, values[:, 2], 0.0), valued, stands)


def spread(caster: Array, inclination: Array, limit: int) -> Ints:
    """At most `limit` of the points (n,): the outermost, one from each cell of a grid over the map, others.

    The others fill what is left of the limit, at even intervals. A limit below EDGES is not kept.
    """
    if len(caster) <= limit:
        return np.arange(len(caster))
    points = (
        np.stack([caster, inclination]) / np.maximum(np.ptp([caster, inclination], axis=-1), 1e-12)[:, None]
    )
    way = np.linspace(0.0, 2.0 * np.pi, EDGES, endpoint=False)
    edge = (np.stack([np.cos(way), np.sin(way)], axis=-1) @ points).argmax(axis=-1)
    side = max(1, int(np.sqrt(max(limit - EDGES, 1))))
    cell = np.minimum(side * (points - points.min(axis=-1, keepdims=True)), side - 1).astype(np.int64)
    _, first = np.unique(cell[0] * side + cell[1], return_index=True)
    chosen = np.unique(np.concatenate([edge, first]))
    others = np.setdiff1d(np.arange(len(caster)), chosen)
    more = others[np.linspace(0, len(others) - 1, max(limit - len(chosen), 0)).astype(np.int64)]
    return np.unique(np.concatenate([chosen, more]))


def reachable(
    kart: Kart,
    base: Setting,
    box: Box,
    figure: Address,
    marked: Sequence[Setting] = (),
    *,
    sides: Sides = "alike",
    rods: Rods = "reset",
    given: Given = GIVEN,
    cases: Sequence[LoadCase] = (),
    free_step: float = FREE_STEP,
    limit: int | None = None,
    progress: Progress | None = None,
) -> Reachable:
    """Map what the box can reach at both corners alike or at one, with a figure's value at every point.

    Only the bushes change; the tie rods are re-set to the base's toe, or kept. marked are settings to be
    shown among the points, each one setting (candidates of a search, say) whose own tie rods are used.
    limit thins the map; without it, figures of load cases are mapped at CASE_LIMIT pairs and others at all.
    progress(done, total) is told of every batch of pairs. A figure that does not exist or an empty box raises
    ValueError.
    """
    check(figure, [case.name for case in cases], kart.column.stop)
    rows = row_of(base.left), row_of(base.right)
    fixed = with_own_rods(kart, base, rods)
    corner: Literal["left", "right"] = "right" if sides == "right" else "left"
    axis = (wheel.CASTER.at(corner), wheel.KINGPIN_INCLINATION.at(corner))
    plan = Plan(kart, fixed, (*axis, figure), given, tuple(cases))
    stock = on_hand(box, rows)
    task = Task(plan, (), stock, dial_of(stock, box.clock_step or free_step), 0, *rows)
    held = rows[0] if sides == "right" else rows[1]
    grid = grid_of(task, sides, held)
    pairs = grid.rows(slice(None))
    limit = CASE_LIMIT if limit is None and figure.case is not None else limit
    if limit is not None and len(pairs):
        angles, _ = of_pairs(replace(plan, figures=axis), sides, pairs, held, progress)
        pairs = pairs[spread(angles[:, 0], angles[:, 1], limit)]
    points = _points(*of_pairs(plan, sides, pairs, held, progress))
    here = _points(*figures_of(plan, rows[0][None], rows[1][None]))
    return Reachable(figure, corner, points, here, _marks(plan, marked), pairs, len(grid.pairs))


def of_pairs(plan: Plan, sides: Sides, pairs: Array, held: Array, progress: Progress | None) -> Values:
    """The plan's figures (n, figures) of pairs (n, 4) at the sides, worked out in batches that are told."""
    step = most_at_once(plan.figures)
    found = []
    for start in range(0, max(len(pairs), 1), step):
        found.append(figures_of(plan, *both_sides(sides, pairs[start : start + step], held)))
        if progress is not None:
            progress(min(start + step, len(pairs)), len(pairs))
    values, known = zip(*found, strict=True)
    return np.concatenate(values), np.concatenate(known)


def _marks(plan: Plan, marked: Sequence[Setting]) -> Points:
    each = [
        _points(*figures_of(replace(plan, base=one), row_of(one.left)[None], row_of(one.right)[None]))
        for one in marked
    ]
    none = np.zeros(0)
    empty = Points(none, none, none, none.astype(bool), none.astype(bool))
    return Points(*(np.concatenate([getattr(p, name) for p in [empty, *each]]) for name in vars(empty)))
