"""Where the wheel meets the road: contact centre, support point, axis–road point, trail and scrub.

Vectors are (..., 3) in mm in the same axes as the road given; left-hand convention, so outboard = left.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from kinematics.frames import Array, Number, Road, cross, dot, unit
from kinematics.parts import Tyre

_FLAT = 1e12  # mm; a crown this flat differs from a cylinder by less than 1e-8 mm over any tread


def tread_offset(tyre: Tyre, sine: npt.ArrayLike) -> Array:
    """How far the lowest point of the tread lies from the wheel plane, mm, + outboard.

    sine (...) is sin(camber), + top outward. The crown's own lowest point is used until the shoulder
    edge is reached; a flat tread (infinite crown) rests on its edge at any camber but zero.
    """
    half = 0.5 * tyre.tread_width
    offset: Array = np.clip(np.minimum(tyre.crown_radius, _FLAT) * np.asarray(sine, float), -half, half)
    return offset


def tread_radius(tyre: Tyre, offset: npt.ArrayLike) -> Array:
    """Radius of the loaded tread (...) in mm at a distance from the wheel plane (...) in mm."""
    u, crown = np.asarray(offset, float), np.minimum(tyre.crown_radius, _FLAT)
    radius: Array = tyre.radius - u * u / (crown + np.sqrt(np.maximum(crown * crown - u * u, 0.0)))
    return radius


def support_depth(tyre: Tyre, sine: npt.ArrayLike) -> Array:
    """Depth of the lowest tread point below the wheel centre, square to the road, mm.

    sine (...) is sin(camber) = -spin·normal; the depth is the same for either sign. For a thin disc it is
    R·cos(camber), for a sphere-like tyre R; both follow from the tread's profile.
    """
    sine = np.asarray(sine, float)
    u = tread_offset(tyre, sine)
    depth: Array = u * sine + tread_radius(tyre, u) * np.sqrt(1.0 - sine * sine)
    return depth


def wheel_up(spin: npt.ArrayLike, road: Road) -> Array:
    """Unit vector in the wheel plane, square to its trace in the road, pointing up (..., 3)."""
    spin = np.asarray(spin, float)
    return unit(road.normal - dot(road.normal, spin)[..., None] * spin)


def contact_centre(centre: npt.ArrayLike, spin: npt.ArrayLike, radius: Number, road: Road) -> Array:
    """Contact centre at the loaded radius (ISO 8855:2011, contact centre): (..., 3) in mm."""
    point: Array = np.asarray(centre, float) - np.asarray(radius)[..., None] * wheel_up(spin, road)
    return point


def support_point(centre: npt.ArrayLike, spin: npt.ArrayLike, tyre: Tyre, road: Road) -> Array:
    """Lowest point of the tyre towards the road: (..., 3) in mm."""
    spin = np.asarray(spin, float)
    u = tread_offset(tyre, -dot(spin, road.normal))
    drop = tread_radius(tyre, u)[..., None] * wheel_up(spin, road)
    point: Array = np.asarray(centre, float) + u[..., None] * spin - drop
    return point


def axis_road_point(k: npt.ArrayLike, foot: npt.ArrayLike, contact: npt.ArrayLike, road: Road) -> Array:
    """Where the steering axis through foot along k meets the road plane through the contact centre, mm."""
    k, foot = np.asarray(k, float), np.asarray(foot, float)
    along = dot(np.asarray(contact, float) - foot, road.normal) / dot(k, road.normal)
    point: Array = foot + along[..., None] * k
    return point


def trail_and_scrub(axis_point: Array, contact: Array, spin: Array, road: Road) -> tuple[Array, Array]:
    """Caster (mechanical) trail and kingpin offset at ground (scrub radius), mm, each (...).

    Trail > 0 when the axis meets the road ahead of the contact centre; scrub > 0 when it meets the road
    inboard of it (ISO 8855:2011 7.2.3 and 7.2.6).
    """
    heading = unit(cross(spin, road.normal))
    arm = axis_point - contact
    return dot(arm, heading), -dot(arm, cross(road.normal, heading))
