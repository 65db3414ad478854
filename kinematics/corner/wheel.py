"""Angles of the wheel and of the steering axis to the road, in the left-hand convention, rad."""

from __future__ import annotations

import numpy as np

from kinematics.frames import Array, Road, dot


def steer_angle(spin: Array, road: Road) -> Array:
    """Angle in the road from vehicle x to the wheel-plane trace (...), + to the left.

    spin (..., 3) is the unit spin axis outboard; the trace is square to it in the road.
    """
    return np.arctan2(-dot(spin, road.heading), dot(spin, road.left))


def camber_angle(spin: Array, road: Road) -> Array:
    """Inclination of the wheel plane to the road's normal (...), + top outward (ISO 8855:2011 7.1.17)."""
    return np.arctan2(-dot(spin, road.normal), np.hypot(dot(spin, road.heading), dot(spin, road.left)))


def axis_angles(k: Array, road: Road) -> tuple[Array, Array]:
    """Caster angle and kingpin inclination of the unit axis k (..., 3) to the road, each (...).

    Both are projected angles, in side and in front view (ISO 8855:2011 7.2.2 and 7.2.5); + top rearward,
    + top inboard.
    """
    up = dot(k, road.normal)
    return np.arctan2(-dot(k, road.heading), up), np.arctan2(-dot(k, road.left), up)
