"""A steering axis from points marked on a stub axle, and the bushes that it means."""

from __future__ import annotations

import csv
from collections.abc import Sequence
from dataclasses import dataclass
from math import degrees
from pathlib import Path

import numpy as np

from kinematics.corner.bush import seat_axes
from kinematics.corner.inverse import hole_vector
from kinematics.estimate.motion import Axis, axis_of
from kinematics.estimate.slopes import spread_of, with_slopes
from kinematics.frames import Array
from scenarios.errors import Refusal, ScenarioError, complaint, refusing
from scenarios.kit import Bush, Size
from scenarios.ranges import RANGES
from scenarios.reading import text_at
from scenarios.records import Scenario

COLUMNS = ("position", "point", "x_mm", "y_mm", "z_mm")
MOST = 2000
"""Lines of a file of points."""
WITHIN = 3.0
"""Standard uncertainties within which a pair of bushes may be the one that is fitted."""
LISTED = 4
STEP_DEG = 15.0
"""Of clocks that are tried where the box lets a bush stand at any."""


@dataclass(frozen=True)
class Measured:
    """A number and its standard uncertainty."""

    value: float
    sure: float


@dataclass(frozen=True)
class MeasuredAxis:
    """The axis of one corner, in the workshop's angles."""

    side: str
    axis: Axis
    caster: Measured
    """deg, + top rearward."""
    inclination: Measured
    """deg, + top inboard."""
    floor: tuple[Measured, Measured]
    """mm, where it meets the floor: ahead of the rear axle, and outboard of the mid-plane."""
    tilt: tuple[Measured, Measured]
    """mm by which the top hole stands ahead, and outboard, of the bottom one, against concentric bushes."""
    pairs: Sequence[tuple[Bush, Bush]]
    """Top and bottom bushes of the box that it may be, fewest off centre first."""


def points_of(path: Path) -> Array:
    """Points (P, n, 3) in mm of a CSV file: a line a point in a position, every point in every position.

    Raises ScenarioError, one line.
    """
    try:
        lines = [line for line in text_at(path).splitlines() if line.strip() and not line.startswith("#")]
    except FileNotFoundError:
        raise ScenarioError(f"{path}: no such file") from None
    rows = list(csv.DictReader(lines))
    if not rows or tuple(rows[0]) != COLUMNS or len(rows) > MOST:
        raise ScenarioError(
            f"{path}: must have the columns {','.join(COLUMNS)} and 1 to {MOST} lines of points"
        )
    found: dict[str, dict[str, list[float]]] = {}
    for n, row in enumerate(rows, 1):
        there = found.setdefault(row["position"], {})
        if row["point"] in there:
            raise ScenarioError(
                f"{path}: line {n}: point {row['point']} stands twice in position {row['position']}"
            )
        there[row["point"]] = [_number(path, n, key, row[key]) for key in COLUMNS[2:]]
    names = list(next(iter(found.values())))
    for position, there in found.items():
        if set(there) != set(names):
            raise ScenarioError(f"{path}: position {position} has not the same points as the first one")
    return np.array([[there[name] for name in names] for there in found.values()])


def _number(path: Path, n: int, key: str, cell: str | None) -> float:
    allowed = RANGES["yoke.centre_mm"]
    try:
        value = float(cell or "")
    except ValueError:
        value = float("nan")
    if not allowed.holds(value):
        wrong = complaint(f"line {n}.{key}", cell, f"must be {allowed.told('mm')}")
        raise ScenarioError(f"{path}: {wrong}")
    return value


def steering_axis(points: Array, spread: float, side: str, scenario: Scenario) -> MeasuredAxis:
    """The axis about which points (P, n, 3) turn, each to within a spread in mm, and the bushes it means.

    Points are in the axes of a kart whose frame does not move: x ahead of the rear axle, y to the left, z up.
    Raises Refusal, one line.
    """
    outward = points if side == "left" else points * [1.0, -1.0, 1.0]
    with refusing("points"):
        axis = axis_of(outward, spread)
    yoke = getattr(scenario.kart, side).yoke
    neutral, forward, outboard = (np.asarray(one, float) for one in seat_axes(yoke))

    def angles(whole: Array) -> Array:
        k, foot = whole[:3], whole[3:]
        down = foot[2] / k[2]
        found: Array = np.array(
            [
                np.arctan(-k[0] / k[2]) * 180.0 / np.pi,
                np.arctan(-k[1] / k[2]) * 180.0 / np.pi,
                foot[0] - down * k[0],
                foot[1] - down * k[1],
                yoke.span * (k @ forward) / (k @ neutral),
                yoke.span * (k @ outboard) / (k @ neutral),
            ]
        )
        return found

    whole = np.concatenate([axis.direction, axis.foot])
    values, slopes = with_slopes(angles)(whole)  # type: ignore[arg-type]
    sure = np.sqrt(np.diag(spread_of(slopes, axis.covariance))) * max(1.0, axis.scatter)
    told = [Measured(float(value), float(one)) for value, one in zip(values, sure, strict=True)]
    tilt = told[4], told[5]
    return MeasuredAxis(side, axis, told[0], told[1], (told[2], told[3]), tilt, _pairs(scenario, tilt))


def _pairs(scenario: Scenario, tilt: tuple[Measured, Measured]) -> list[tuple[Bush, Bush]]:
    """Bushes of the box whose holes differ by such a tilt, to within what is not known of it."""
    kit = scenario.kit
    step = kit.clock_step_deg or STEP_DEG
    bushes = [bush for size in kit.sizes for bush in _stood(size, step)]
    vectors = np.array([hole_vector(b.size.offset, np.radians(b.clock_deg)) for b in bushes])
    gone = vectors[:, None] - vectors[None] - [one.value for one in tilt]
    miss = np.sqrt(np.sum((gone / [max(one.sure, 1e-3) for one in tilt]) ** 2, axis=-1))
    off = np.array([not bush.size.centred for bush in bushes], dtype=int)
    cost = off[:, None] + off[None] + 1e-3 * miss
    order = np.argsort(np.where(miss < WITHIN, cost, np.inf), axis=None)[:LISTED]
    found = [np.unravel_index(place, miss.shape) for place in order]
    return [(bushes[top], bushes[bottom]) for top, bottom in found if miss[top, bottom] < WITHIN]


def _stood(size: Size, step: float) -> list[Bush]:
    if size.centred:
        return [Bush(size, 0.0)]
    clocks = size.clocks_deg or np.arange(0.0, 360.0 - 1e-9, step).tolist()
    return [Bush(size, float(clock)) for clock in clocks]


def check_spread(spread: float) -> float:
    """A spread of points that there can be."""
    if not 0.001 <= spread <= 50.0:
        raise Refusal(f"--within {spread:g} mm: must be at least 0.001 and at most 50 mm")
    return spread


def degrees_turned(axis: Axis) -> float:
    """From the first position to the last in turn, deg."""
    return degrees(float(np.ptp(axis.turns)))
