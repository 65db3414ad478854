"""How a body has moved, from points marked on it, and the axis about which it turns."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from kinematics.estimate.slopes import spread_of, with_slopes
from kinematics.estimate.squares import Estimate, estimate
from kinematics.frames import Array

Complex = npt.NDArray[np.complex128]
LEAST_TURN = np.radians(3.0)
"""Turned by less than this a body does not show its axis."""


class PointMotion(NamedTuple):
    """moved = scale · rotation · point + shift."""

    rotation: Array
    """(d, d)."""
    scale: float
    shift: Array
    """(d,)."""


def motion(points: Array, moved: Array, scaled: bool = False) -> PointMotion:
    """The motion of points (n, d) to where they are then (n, d), in least squares; scaled: seen larger, too.

    Umeyama, IEEE PAMI 13(4) (1991) 376-380, eqs. (40)-(42).
    """
    middle, then = points.mean(axis=0), moved.mean(axis=0)
    off, gone = points - middle, moved - then
    left, singular, right = np.linalg.svd(gone.T @ off)
    sign = np.ones(points.shape[1])
    if np.linalg.det(left) * np.linalg.det(right) < 0.0:
        sign[-1] = -1.0
    rotation: Array = (left * sign) @ right
    scale = float(singular @ sign / np.sum(off**2)) if scaled else 1.0
    return PointMotion(rotation, scale, then - scale * rotation @ middle)


class Axis(NamedTuple):
    """An axis of turning through points (..., 3) seen at several turns."""

    direction: Array
    """(3,) unit, upward."""
    foot: Array
    """(3,) mm, the point of the axis nearest to the middle of all points."""
    turns: Array
    """(P,) rad from the first, + as the thumb of the right hand along the axis says."""
    covariance: Array
    """(6, 6) of direction and foot together, of a point's spread as stated."""
    scatter: float
    """Size of a miss over the stated spread: about 1 where that is right."""
    freedom: int


def axis_of(points: Array, spread: float) -> Axis:
    """The axis about which points (P, n, 3) turn, seen in P >= 3 positions, each to within a spread in mm.

    Raises ValueError where there are too few, or they turn too little to show it.
    """
    count, marks = points.shape[:2]
    if count < 3 or marks < 2:
        raise ValueError(f"{count} positions of {marks} points: an axis takes 3 of 2 at least")
    direction, foot, turns = _first(points)
    if np.ptp(turns) < LEAST_TURN:
        raise ValueError(f"turned by {np.degrees(np.ptp(turns)):.1f} deg in all: too little to show an axis")
    side = np.cross(direction, [1.0, 0.0, 0.0])
    side /= np.linalg.norm(side)
    frame = np.stack([side, np.cross(direction, side)])

    def parts(values: Complex) -> tuple[Complex, Complex]:
        leaning = direction + values[0] * frame[0] + values[1] * frame[1]
        return leaning / np.sqrt(np.sum(leaning**2)), foot + values[2] * frame[0] + values[3] * frame[1]

    def missed(values: Complex) -> Complex:
        along, through = parts(values)
        angles = np.concatenate([np.zeros(1), values[4 : 3 + count]])
        bodies = values[3 + count :].reshape(marks, 3)
        seen = through + _turned(bodies - through, along, angles)
        return ((seen - points) / spread).ravel()

    start = np.concatenate([np.zeros(4), turns[1:], points[0].ravel()])
    found: Estimate = estimate(with_slopes(missed), [start], fine=1e-12)
    whole, slopes = with_slopes(lambda values: np.concatenate(parts(values)))(found.values)
    covariance = spread_of(slopes, found.covariance)
    angles = np.concatenate([[0.0], found.values[4 : 3 + count]])
    scatter = found.scatter if found.freedom else 1.0
    return Axis(whole[:3], whole[3:], angles, covariance, scatter, found.freedom)


def _turned(points: Complex, along: Complex, angles: Complex) -> Complex:
    """Points (n, 3) turned about an axis through the origin by each angle (P,): (P, n, 3)."""
    cos, sin = np.cos(angles)[:, None, None], np.sin(angles)[:, None, None]
    level = points @ along
    crossed = np.stack(
        [
            along[1] * points[:, 2] - along[2] * points[:, 1],
            along[2] * points[:, 0] - along[0] * points[:, 2],
            along[0] * points[:, 1] - along[1] * points[:, 0],
        ],
        axis=-1,
    )
    found: Complex = points * cos + crossed * sin + (level[:, None] * along) * (1.0 - cos)
    return found


def _pull(rotation: Array) -> Array:
    """Twice the axis (3,) of a rotation (3, 3) times the sine of its angle."""
    r = rotation
    return np.array([r[2, 1] - r[1, 2], r[0, 2] - r[2, 0], r[1, 0] - r[0, 1]])


def _first(points: Array) -> tuple[Array, Array, Array]:
    """A first axis: from the two positions furthest apart, then each position's turn about it."""
    motions = [motion(points[0], one) for one in points]
    pulls = [_pull(rotation) for rotation, _, _ in motions]
    far = max(
        ((one, other) for one in range(len(points)) for other in range(one)),
        key=lambda pair: float(np.linalg.norm(pulls[pair[0]] - pulls[pair[1]])),
    )
    rotation, _, shift = motion(points[far[1]], points[far[0]])
    pull = _pull(rotation)
    size = float(np.linalg.norm(pull))
    if size < 1e-9:
        raise ValueError("the points have not turned")
    direction = pull / size * (1.0 if pull[2] >= 0.0 else -1.0)
    foot = np.linalg.lstsq(np.eye(3) - rotation, shift, rcond=1e-6)[0]
    middle = points.mean(axis=(0, 1))
    foot = middle + (np.eye(3) - np.outer(direction, direction)) @ (foot - middle)
    turns = np.array([0.5 * float(pull @ direction) for pull in pulls])
    return direction, foot, np.arcsin(np.clip(turns, -1.0, 1.0))
