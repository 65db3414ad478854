"""Axes, rotations and the left/right mirror.

A vector is the last axis of an array, always (..., 3) in x, y, z; every other axis is a batch axis and
broadcasts. Nothing here writes to its arguments.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]
Mask = npt.NDArray[np.bool_]
Vector = tuple[float, float, float]
Number = float | Array
"""One number, or a batch of them (...)."""

X_FORWARD: Array = np.array([1.0, 0.0, 0.0])
Y_LEFT: Array = np.array([0.0, 1.0, 0.0])
Z_UP: Array = np.array([0.0, 0.0, 1.0])


def dot(u: npt.ArrayLike, v: npt.ArrayLike) -> Array:
    """Scalar product over the last axis: (..., 3), (..., 3) -> (...)."""
    u, v = np.asarray(u, dtype=float), np.asarray(v, dtype=float)
    product: Array = u[..., 0] * v[..., 0] + u[..., 1] * v[..., 1] + u[..., 2] * v[..., 2]
    return product


def cross(u: npt.ArrayLike, v: npt.ArrayLike) -> Array:
    """Vector product over the last axis, right-handed: (..., 3), (..., 3) -> (..., 3)."""
    u, v = np.asarray(u, dtype=float), np.asarray(v, dtype=float)
    ux, uy, uz = u[..., 0], u[..., 1], u[..., 2]
    vx, vy, vz = v[..., 0], v[..., 1], v[..., 2]
    return np.stack([uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx], axis=-1)


def unit(v: npt.ArrayLike) -> Array:
    """The vector (..., 3) scaled to length one; a zero vector is the caller's error."""
    v = np.asarray(v, dtype=float)
    scaled: Array = v / np.sqrt(dot(v, v))[..., None]
    return scaled


def turn(v: npt.ArrayLike, axis: npt.ArrayLike, angle: npt.ArrayLike) -> Array:
    """Turn v (..., 3) about the unit axis (..., 3) by angle (...) in rad, right-handed (Rodrigues)."""
    v, axis, angle = np.asarray(v, float), np.asarray(axis, float), np.asarray(angle, float)
    c, s = np.cos(angle)[..., None], np.sin(angle)[..., None]
    along = dot(axis, v)[..., None] * axis
    turned: Array = along + c * (v - along) + s * cross(axis, v)
    return turned


def tilt(v: npt.ArrayLike, k_from: npt.ArrayLike, k_to: npt.ArrayLike) -> Array:
    """Turn v (..., 3) by the smallest rotation that carries the unit vector k_from to k_to.

    Written without an angle, so that no tilt at all is exact; k_to = -k_from has no smallest rotation and
    cannot occur between two upright axes.
    """
    v, k_from, k_to = np.asarray(v, float), np.asarray(k_from, float), np.asarray(k_to, float)
    w = cross(k_from, k_to)
    cosine = dot(k_from, k_to)[..., None]
    tilted: Array = cosine * v + cross(w, v) + w * (dot(w, v)[..., None] / (1.0 + cosine))
    return tilted


def mirror(v: npt.ArrayLike) -> Array:
    """Mirror points or directions (..., 3) in the mid-plane: y -> -y."""
    mirrored: Array = np.asarray(v, dtype=float) * np.array([1.0, -1.0, 1.0])
    return mirrored


def axis_direction(caster: npt.ArrayLike, kingpin_inclination: npt.ArrayLike) -> Array:
    """Unit vector up a left steering axis from its projected angles in rad.

    Caster > 0 leans the top rearward (-x), kingpin inclination > 0 leans it inboard (-y): ISO 8855:2011
    7.2.2 and 7.2.5. The angles are those seen in side view and in front view. Shape: theirs + (3,).
    """
    c, s = np.broadcast_arrays(np.asarray(caster, float), np.asarray(kingpin_inclination, float))
    return unit(np.stack([-np.tan(c), -np.tan(s), np.ones_like(c)], axis=-1))


@dataclass(frozen=True)
class Road:
    """A flat road as seen from the frame: its up-normal and the vehicle x-direction laid in it.

    normal and heading are unit vectors (..., 3), square to each other; left = normal x heading.
    """

    normal: Array
    heading: Array

    @property
    def left(self) -> Array:
        """Unit vector in the road, square to the heading, to the left (..., 3)."""
        return cross(self.normal, self.heading)


def mirrored_road(road: Road) -> Road:
    """The road as the right corner sees it in the left-hand convention."""
    return Road(mirror(road.normal), mirror(road.heading))


FLAT_ROAD = Road(Z_UP, X_FORWARD)
