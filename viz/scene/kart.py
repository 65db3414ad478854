"""Frame, column with spade and handwheel, rear axle, road and marks as painted meshes, neutral frame axes."""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from kinematics.corner.joints import column_axis
from kinematics.frames import Array, cross, mirror, unit
from kinematics.parts import Column, Kart
from viz.scene.bodies import BALL, UNDER, wheel
from viz.scene.meshes import (
    Mesh,
    Solid,
    axes_along,
    ball,
    bar,
    diamond,
    lug,
    merge,
    paint,
    pipe,
    placed,
    rod,
    tubes,
)

TUBE = 14.0
"""Radius of the frame's tubes."""
RAIL_HEIGHT = 48.0
SHAFT = 9.0
AXLE = 20.0
SHAFT_LENGTH = 430.0


def frame(kart: Kart, holds: tuple[Array, Array], behind: float) -> Mesh:
    """A ladder of tubes that carries the yokes, the column's foot and its upper support.

    holds are the points (3,) on the backs of the left and the right yoke; behind is how far the ladder
    runs rearward of the front axle, mm.
    """
    both = rails(holds, behind)
    tubing = [tubes(list(rail), TUBE) for rail in both]
    for x in (both[0][0, 0], _crossing(kart), both[0][-1, 0]):
        tubing.append(tubes([rail_point(rail, x) for rail in both], TUBE))
    for rail, hold in zip(both, holds, strict=True):
        tubing.append(tubes([rail_point(rail, hold[0]), hold], 11.0))
    return paint("frame", *(s for group in (*tubing, *supports(kart, both)) for s in group))


def rails(holds: tuple[Array, Array], behind: float) -> list[Array]:
    """Corners (3, xyz) of the left and the right rail."""
    left, right = holds
    return [_rail(left, behind), mirror(_rail(mirror(right), behind))]


def _rail(hold: Array, behind: float) -> Array:
    """Corners (3, xyz) of the left rail from its nose to its tail."""
    x, y = hold[0], hold[1] - 62.0
    spots = [(x + 190.0, 0.62 * y), (x, y), (x - behind, 0.86 * y)]
    return np.array([(px, py, RAIL_HEIGHT) for px, py in spots])


def rail_point(rail: Array, x: float) -> Array:
    """The point of a rail at x, or its nearest end (3,)."""
    y = np.interp(x, rail[::-1, 0], rail[::-1, 1])
    return np.array([np.clip(x, rail[-1, 0], rail[0, 0]), y, RAIL_HEIGHT])


def _crossing(kart: Kart) -> float:
    """x of the tube ahead of the column's foot."""
    return kart.column.foot[0] + 75.0


def supports(kart: Kart, both: list[Array]) -> list[list[Solid]]:
    """The bearing under the column's foot with its strut, and the two legs of the column's upper support."""
    axis, foot = column_axis(kart.column), np.asarray(kart.column.foot, float)
    upper = foot + 0.62 * SHAFT_LENGTH * axis
    cup = rod(foot - 16.0 * axis, foot - 3.0 * axis, SHAFT + 6.0)
    strut = tubes([foot - 13.0 * axis, (_crossing(kart), 0.0, RAIL_HEIGHT)], 8.0)
    hoop = [pipe(upper - 11.0 * axis, upper + 11.0 * axis, SHAFT + 8.0, SHAFT + 0.6)]
    for rail, side in zip(both, (1.0, -1.0), strict=True):
        start = upper + side * np.array([0.0, SHAFT + 10.0, 0.0])
        hoop += tubes([start, rail_point(rail, upper[0] - 60.0)], 8.0)[:-1]
    return [[cup, *strut], hoop]


def column(kart: Kart) -> Mesh:
    """Column shaft, spade with both inner joints, and handwheel, straight ahead."""
    axis, foot = column_axis(kart.column), np.asarray(kart.column.foot, float)
    end = foot + SHAFT_LENGTH * axis
    shaft = paint("column", rod(foot - 2.5 * axis, end, SHAFT))
    joints = [np.asarray(kart.left.inner_joint, float), mirror(kart.right.inner_joint)]
    return merge(shaft, _handwheel(end, axis), *(_spade_half(kart.column, joint) for joint in joints))


def _spade_half(part: Column, joint: Array) -> Mesh:
    """The spade's plate from the column out to one joint, with the joint's bolt and ball."""
    axis, foot = column_axis(part), np.asarray(part.foot, float)
    seat = joint + UNDER * axis
    root = foot + ((seat - foot) @ axis) * axis
    plate = lug(root, seat, axis, 9.0, 6.0)
    boss = rod(root - 9.0 * axis, root + 9.0 * axis, SHAFT + 4.0)
    bolt = rod(joint - 9.0 * axis, seat + 6.0 * axis, 3.5)
    head = rod(seat + 3.0 * axis, seat + 8.0 * axis, 6.0, 6)
    return merge(paint("column", plate, boss), paint("steel", bolt, head, ball(joint, BALL)))


def _handwheel(centre: Array, axis: Array) -> Mesh:
    """Rim, two spokes, a hub and a mark at the top of the rim."""
    from trimesh import creation

    up = unit(np.array([0.0, 0.0, 1.0]) - axis[2] * axis)
    side = cross(up, axis)
    rim = placed(
        creation.torus(major_radius=135.0, minor_radius=12.0, major_sections=72, minor_sections=20),
        centre,
        axes_along(axis, up),
    )
    spokes = [
        bar(centre, centre + r * d, 22.0, 6.0, axis) for r, d in ((126.0, side), (126.0, -side), (126.0, -up))
    ]
    hub = rod(centre - 14.0 * axis, centre + 8.0 * axis, 24.0)
    top = centre + 135.0 * up
    return merge(
        paint("handwheel", rim),
        paint("column", *spokes, hub),
        paint("rim", rod(top - 11.0 * side, top + 11.0 * side, 13.2)),
    )


def rear_end(kart: Kart, centres: tuple[Array, Array], holds: tuple[Array, Array], behind: float) -> Mesh:
    """Rear axle and both rear wheels about their centres (3,), left and right, hung from the rails."""
    left, right = centres
    y = np.array([0.0, 1.0, 0.0])
    axle = rod(left + 50.0 * y, right - 50.0 * y, AXLE)
    hangers = []
    for rail in rails(holds, behind):
        at = np.array([left[0], rail_point(rail, left[0])[1], left[2]])
        hangers.append(pipe(at - 14.0 * y, at + 14.0 * y, AXLE + 16.0, AXLE + 0.5))
        foot = np.array([at[0], at[1], RAIL_HEIGHT + TUBE - 2.0])
        hangers.append(bar(at - [0.0, 0.0, AXLE + 8.0], foot, 44.0, 10.0, y))
    sides = ((left, 1.0, "left"), (right, -1.0, "right"))
    wheels = (wheel(kart.rear_tyre, c, s * y, role, AXLE + 0.3) for c, s, role in sides)
    return merge(paint("steel", axle), paint("frame", *hangers), *wheels)


@lru_cache(maxsize=8)
def axis_line(length: float) -> Mesh:
    """A dashed line up z from the origin: the steering axis beyond the metal, down to the road."""
    starts = np.arange(0.0, length, 16.0)
    return paint("axis", *(rod((0, 0, s), (0, 0, min(s + 10.0, length)), 1.7, 10) for s in starts))


@lru_cache(maxsize=1)
def contact_mark() -> Mesh:
    """A ball at the origin on a cross in the x-y plane: x along the wheel's trace, y across it."""
    arms = [
        bar((-200.0, 0, 0), (200.0, 0, 0), 4.0, 1.2, (0, 0, 1)),
        bar((0, -95.0, 0), (0, 95.0, 0), 4.0, 1.2, (0, 0, 1)),
    ]
    return paint("contact", ball((0.0, 0.0, 0.0), 7.0), *arms)


@lru_cache(maxsize=1)
def axis_point_mark() -> Mesh:
    """A diamond at the origin."""
    return paint("axis_point", diamond((0.0, 0.0, 0.0), 10.0))


@lru_cache(maxsize=8)
def road_tile(low: tuple[float, float], high: tuple[float, float]) -> Mesh:
    """The road as a thin tile whose top face is z = 0, from corner low to corner high (x, y), mm."""
    from trimesh import creation

    size = (high[0] - low[0], high[1] - low[1], 4.0)
    tile = creation.box(extents=size)
    return paint("road", placed(tile, (0.5 * (low[0] + high[0]), 0.5 * (low[1] + high[1]), -2.2), np.eye(3)))


@lru_cache(maxsize=8)
def road_grid(low: tuple[float, float], high: tuple[float, float], step: float = 100.0) -> Mesh:
    """Lines every step on the road, and a scale bar of 200 mm in four fields at its near corner."""
    xs = np.arange(np.ceil(low[0] / step), np.floor(high[0] / step) + 1.0) * step
    ys = np.arange(np.ceil(low[1] / step), np.floor(high[1] / step) + 1.0) * step
    along = [bar((low[0], y, -0.1), (high[0], y, -0.1), 1.6, 0.2, (0, 0, 1)) for y in ys]
    over = [bar((x, low[1], -0.1), (x, high[1], -0.1), 1.6, 0.2, (0, 0, 1)) for x in xs]
    return merge(paint("grid", *along, *over), *_scale_bar(scale_start(low, high)))


def scale_start(low: tuple[float, float], high: tuple[float, float]) -> Array:
    """Left end of the scale bar on the road (3,)."""
    return np.array([high[0] - 90.0, -80.0, 0.0])


def _scale_bar(start: Array) -> list[Mesh]:
    fields = []
    for i in range(4):
        a, b = start - [0.0, 50.0 * i, -1.5], start - [0.0, 50.0 * (i + 1), -1.5]
        fields.append(paint("scale" if i % 2 == 0 else "grid", bar(a, b, 14.0, 3.0, (0, 0, 1))))
    return fields
