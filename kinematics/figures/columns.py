"""Named columns of a sweep, each with its unit and meaning: `quantity_corner_unit`.

The table below is the one place where a column is defined: tables, JSON, CSV and the list of columns all
read it. Inside rad and mm; here degrees and the unit the name says. Left and right are the kart's.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np

from kinematics.frames import Array
from kinematics.lock import CornerSweep, Mask, Sweep

STRAIGHT = 1e-9  # 1/mm; a path flatter than this (a radius of 1000 km) is straight and has no radius


@dataclass(frozen=True)
class Column:
    """One column. values is (..., N); where known is False there is no value to show."""

    name: str
    unit: str
    meaning: str
    values: Array
    known: Mask


@dataclass(frozen=True)
class Quantity:
    """How a column of one corner is read: name, unit, meaning, value of a corner in the unit named.

    mirrored marks a turn, whose sign in the left-hand convention is opposite to the kart's at the right.
    """

    name: str
    unit: str
    meaning: str
    of: Callable[[CornerSweep], Array]
    mirrored: bool = False


CORNER_QUANTITIES = (
    Quantity("steer", "deg", "steer angle on the road, + left", lambda c: np.degrees(c.steer), True),
    Quantity("camber", "deg", "camber to the road, + top outward", lambda c: np.degrees(c.camber)),
    Quantity("camber_gain", "deg", "camber less that straight ahead", lambda c: np.degrees(c.camber_gain)),
    Quantity("toe", "deg", "toe of the wheel, + toe-in", lambda c: np.degrees(-c.steer)),
    Quantity("wheel_drop", "mm", "support point lower than straight ahead, + down", lambda c: c.wheel_drop),
    Quantity("caster_trail", "mm", "axis meets the road ahead of the contact centre, +", lambda c: c.trail),
    Quantity("scrub", "mm", "axis meets the road inboard of the contact centre, +", lambda c: c.scrub),
)


def _corners(sweep: Sweep) -> Iterator[Column]:
    for quantity in CORNER_QUANTITIES:
        for side, corner, sign in (("left", sweep.left, 1.0), ("right", sweep.right, -1.0)):
            values = quantity.of(corner) * (sign if quantity.mirrored else 1.0)
            name = f"{quantity.name}_{side}_{quantity.unit}"
            yield Column(name, quantity.unit, f"{quantity.meaning}; {side} front", values, corner.reach)


def _whole_kart(sweep: Sweep, toe_diameter: float) -> Iterator[Column]:
    reach = sweep.reach
    toe_left, toe_right = -sweep.left.steer, -sweep.right.steer
    yield Column(
        "toe_total_deg",
        "deg",
        "toe of both wheels together, + toe-in",
        np.degrees(toe_left + toe_right),
        reach,
    )
    at_diameter = toe_diameter * (np.sin(toe_left) + np.sin(toe_right))
    meaning = f"total toe measured across {toe_diameter:g} mm diameter, + toe-in"
    yield Column("toe_total_mm", "mm", meaning, at_diameter, reach)
    ackermann = 100.0 * sweep.ackermann
    meaning = "100 is full Ackermann geometry, 0 parallel steer; none within 1 deg of straight"
    yield Column("ackermann_percent", "percent", meaning, ackermann, reach & sweep.ackermann_known)
    bent = np.abs(sweep.path_curvature) > STRAIGHT
    radius = 1e-3 / np.where(bent, sweep.path_curvature, 1.0)
    meaning = "path radius at the middle of the rear axle without slip, + left; none when straight"
    yield Column("path_radius_m", "m", meaning, radius, reach & bent)
    meaning = "inside rear above the plane of the other three support points, rigid kart, + in the air"
    yield Column("rigid_inside_rear_lift_mm", "mm", meaning, sweep.rigid_inside_rear_lift, reach)


def columns(sweep: Sweep, toe_diameter: float) -> dict[str, Column]:
    """Every column of a sweep by name, in table order; toe_diameter in mm is where toe in mm is read."""
    theta = np.degrees(sweep.handwheel)
    first = Column("handwheel_deg", "deg", "handwheel angle, + left", theta, np.ones(theta.shape, dtype=bool))
    every = (first, *_corners(sweep), *_whole_kart(sweep, toe_diameter))
    return {column.name: column for column in every}


@dataclass(frozen=True)
class Figure:
    """One headline figure: a number (...) with its unit; known is False where there is none."""

    name: str
    unit: str
    meaning: str
    value: Array
    known: Mask


CORNER_FIGURES: tuple[Quantity, ...] = (
    Quantity("caster", "deg", "caster angle to the road, + top rearward", lambda c: np.degrees(c.caster)),
    Quantity(
        "kingpin_inclination",
        "deg",
        "kingpin inclination to the road, + top inboard",
        lambda c: np.degrees(c.kingpin_inclination),
    ),
    Quantity("rod_length", "mm", "tie-rod length between joints", lambda c: c.linkage.rod_length),
)
AHEAD = ("camber", "toe", "caster_trail", "scrub")


def _corner_figures(side: str, corner: CornerSweep, ahead: CornerSweep) -> Iterator[Figure]:
    reach = ahead.reach[..., 0]
    for quantity in CORNER_FIGURES:
        name = f"{quantity.name}_{side}_{quantity.unit}"
        yield Figure(name, quantity.unit, f"{quantity.meaning}; {side} front", quantity.of(corner), reach)
    for quantity in CORNER_QUANTITIES:
        if quantity.name in AHEAD:
            name = f"{quantity.name}_{side}_{quantity.unit}"
            meaning = f"{quantity.meaning}, straight ahead; {side} front"
            yield Figure(name, quantity.unit, meaning, quantity.of(ahead)[..., 0], reach)


def headline(sweep: Sweep, ahead: Sweep, toe_diameter: float) -> dict[str, Figure]:
    """Headline figures by name. ahead is the same sweep at the single handwheel angle 0."""
    figures: list[Figure] = []
    for side, corner, straight in (("left", sweep.left, ahead.left), ("right", sweep.right, ahead.right)):
        figures += _corner_figures(side, corner, straight)
    for name in ("toe_total_deg", "toe_total_mm"):
        column = columns(ahead, toe_diameter)[name]
        meaning = f"{column.meaning}, straight ahead"
        figures.append(Figure(name, column.unit, meaning, column.values[..., 0], column.known[..., 0]))
    bind_left, bind_right = sweep.left.linkage.bind, sweep.right.linkage.bind
    below = np.maximum(bind_left[..., 0], -bind_right[..., 1])
    above = np.minimum(bind_left[..., 1], -bind_right[..., 0])
    for name, angle, way in (
        ("binds_at_left_lock_deg", above, "left"),
        ("binds_at_right_lock_deg", below, "right"),
    ):
        finite = np.isfinite(angle)
        meaning = f"handwheel angle at which a tie rod binds on the way to the {way}; none: never"
        figures.append(Figure(name, "deg", meaning, np.degrees(np.where(finite, angle, 0.0)), finite))
    return {figure.name: figure for figure in figures}
