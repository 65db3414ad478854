"""A tyre as the stance solver reads it: a torus between two shoulder circles, on a spring."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from kinematics.batches import refuse_unless
from kinematics.frames import Array, Number
from kinematics.parts import FLATTEST_CROWN, Tyre

RIGID_TYRE = 1e9
"""N/mm; a tyre stiffer than this is taken as this stiff: it gives 1e-6 mm under a kart."""


class Tread(NamedTuple):
    """The profile of one tyre, or of (n,) tyres; mm, N/mm."""

    stiffness: Number
    top: Number
    """Loaded radius in the wheel plane."""
    ring: Number
    """Radius of the circle on which the crown's centres lie (negative: beyond the wheel's axis)."""
    edge: Number
    """Loaded radius of the shoulder circles."""
    half: Number
    """Distance of a shoulder circle from the wheel plane."""
    turn: Number
    """Sine of the camber at which the support point reaches the shoulder; inf when it never does."""


class Profile(NamedTuple):
    """Depth of the lowest tread point below the wheel centre, its slope and curvature with the sine."""

    depth: Array
    slope: Array
    curve: Array


def tread_of(tyre: Tyre) -> Tread:
    """The tyre's profile for the solver; a ValueError refuses a flat tread, which cannot be stood on."""
    half, crown = np.multiply(0.5, tyre.tread_width), np.asarray(tyre.crown_radius, float)
    disc, most = half == 0.0, np.multiply(FLATTEST_CROWN, tyre.tread_width)
    stands = disc | (crown <= most * (1.0 + 1e-9))
    allowed = "a tread {} mm wide stands on a crown of {} mm at most, not of {} mm"
    refuse_unless(stands, allowed, tyre.tread_width, most, tyre.crown_radius)
    crown = np.where(disc, 1.0, crown)
    edge = tyre.radius - half * half / (crown + np.sqrt(np.maximum(crown * crown - half * half, 0.0)))
    ring = np.where(disc, tyre.radius, tyre.radius - crown)
    turn = np.where(half < crown, half / crown, np.inf)
    stiffness = np.minimum(tyre.stiffness, RIGID_TYRE)
    return Tread(*(value[()] for value in map(np.asarray, (stiffness, tyre.radius, ring, edge, half, turn))))


def profile(tread: Tread, sine: Array) -> Profile:
    """Profile of a tread at the sine of its camber (...), even in it; many treads broadcast with it."""
    square = np.minimum(sine * sine, 0.999)  # an attitude tried on the way may lay a wheel down
    root = np.sqrt(1.0 - square)
    drop = square / (1.0 + root)
    ratio = sine / root
    cube = 1.0 / (root * (1.0 - square))
    if np.ndim(tread.turn) == 0 and not 0.0 < tread.turn < 1.0:  # a thin disc, or a crown without shoulders
        return Profile(tread.top - tread.ring * drop, -tread.ring * ratio, -tread.ring * cube)
    size = np.abs(sine)
    inside = size < tread.turn
    radius = np.where(inside, tread.ring, tread.edge)
    side = np.where(inside, 0.0, tread.half)
    depth = np.where(inside, tread.top, tread.edge) - radius * drop + side * size
    slope = np.copysign(side, sine) - radius * ratio
    return Profile(depth, slope, -radius * cube)
