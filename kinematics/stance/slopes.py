"""Energy of the standing kart, its slope and its curvature, in component arrays.

Each function adds up one share of the potential energy of `energy` and returns the first and second
derivatives that a Newton step needs, exact both. Arrays are (n,) states, or (2, n) for an axle's two wheels.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from kinematics.frames import Array, Mask
from kinematics.stance.springs import Springs
from kinematics.stance.tread import Profile, Tread, profile

_BOTH_WAYS = np.array([[1.0], [-1.0]])


class Attitude(NamedTuple):
    """Where the frame stands: height of the torsion axis at x = 0, pitch, roll, twist of both parts."""

    height: Array
    pitch: Array
    roll: Array
    twist_front: Array
    twist_rear: Array


class Rotations(NamedTuple):
    """Height, and sine and cosine of pitch, of the seat station's roll and of the rolls of both parts."""

    height: Array
    sin_pitch: Array
    cos_pitch: Array
    sin_roll: Array
    cos_roll: Array
    sin_front: Array
    cos_front: Array
    sin_rear: Array
    cos_rear: Array


def turns(at: Attitude) -> Rotations:
    """The turns of an attitude; angles stay within a right angle, so a cosine is a root."""
    pitch, roll = np.sin(at.pitch), np.sin(at.roll)
    front, rear = np.sin(at.roll + at.twist_front), np.sin(at.roll + at.twist_rear)

    def cosine(sine: Array) -> Array:
        root: Array = np.sqrt(1.0 - sine * sine)
        return root

    return Rotations(
        at.height, pitch, cosine(pitch), roll, cosine(roll), front, cosine(front), rear, cosine(rear)
    )


class Wheels(NamedTuple):
    """Both front wheels, (2, n) each: centre x, y, height from the torsion axis; unit spin axis."""

    x: Array
    y: Array
    zeta: Array
    ux: Array
    uy: Array
    uz: Array


class Axle(NamedTuple):
    """An axle's energy by height Z, pitch p and roll a of its part: slope g and curvature h, (n,) each.

    compression (2, n) falls by dZ + lift_p dp + lift_a da.
    """

    compression: Array
    lift_p: Array
    lift_a: Array
    g_z: Array
    g_p: Array
    g_a: Array
    h_zz: Array
    h_zp: Array
    h_za: Array
    h_pp: Array
    h_pa: Array
    h_aa: Array


def pressed(axle: Axle, height: Array, pitch: Array, roll: Array) -> Array:
    """Compression (2, n) of an axle's tyres in mm after a small change of its part's attitude."""
    after: Array = axle.compression - (height + axle.lift_p * pitch + axle.lift_a * roll)
    return after


def _axle(
    tread: Tread,
    p: Profile,
    gap: Array,
    lift: tuple[Array, Array],
    swing: tuple[Array, Array, Array],
    s: tuple[Array, Array],
    held: Mask | None,
) -> Axle:
    """Sum the two wheels of an axle.

    gap (2, n): compression, + on the road; lift: its derivatives by pitch and roll; swing: the second ones by
    pitch, by both and by roll, but for what the tread's curvature adds to them; s: derivatives of the sine.
    """
    (h_p, h_a), (swing_pp, swing_pa, swing_aa), (sine_p, sine_a) = lift, swing, s
    k = tread.stiffness * (gap > 0.0 if held is None else held)
    load = k * gap
    bend = p.curve
    k_p, k_a = k * h_p, k * h_a
    g_p, g_a = load * h_p, load * h_a
    return Axle(
        gap,
        h_p,
        h_a,
        -(load[0] + load[1]),
        -(g_p[0] + g_p[1]),
        -(g_a[0] + g_a[1]),
        k[0] + k[1],
        k_p[0] + k_p[1],
        k_a[0] + k_a[1],
        _both(k_p * h_p + load * (bend * sine_p * sine_p + swing_pp)),
        _both(k_p * h_a + load * (bend * sine_p * sine_a + swing_pa)),
        _both(k_a * h_a + load * (bend * sine_a * sine_a + swing_aa)),
    )


def _both(wheels: Array) -> Array:
    total: Array = wheels[0] + wheels[1]
    return total


def front_axle(springs: Springs, wheels: Wheels, t: Rotations, held: Mask | None = None) -> Axle:
    """The front axle's share; held (2, n) says which tyres press on the road, whatever their compression."""
    x, y, zeta, ux, uy, uz = wheels
    up, across = t.sin_front * y + t.cos_front * zeta, t.cos_front * y - t.sin_front * zeta
    spin_up, spin_across = t.sin_front * uy + t.cos_front * uz, t.cos_front * uy - t.sin_front * uz
    sine = t.cos_pitch * spin_up - t.sin_pitch * ux
    sine_p, sine_a = -(t.cos_pitch * ux + t.sin_pitch * spin_up), t.cos_pitch * spin_across
    p = profile(springs.front, sine)
    gap = springs.travel[:2] + p.depth - (t.height - t.sin_pitch * x + t.cos_pitch * up)
    leaned, sideways = up - p.slope * spin_up, across - p.slope * spin_across
    ahead = x - p.slope * ux
    lift = -(t.cos_pitch * ahead + t.sin_pitch * leaned), t.cos_pitch * sideways
    swing = t.cos_pitch * leaned - t.sin_pitch * ahead, t.sin_pitch * sideways, t.cos_pitch * leaned
    return _axle(springs.front, p, gap, lift, swing, (sine_p, sine_a), held)


def rear_axle(springs: Springs, zeta: Array, t: Rotations, held: Mask | None = None) -> Axle:
    """The rear axle's share: one level axle at x = 0, its centre zeta (n,) above the torsion axis."""
    y = springs.half_rear_track * _BOTH_WAYS
    sine, sine_a = t.cos_pitch * t.sin_rear, t.cos_pitch * t.cos_rear
    sine_p = -t.sin_pitch * t.sin_rear
    p = profile(springs.rear, sine)
    up, across = t.sin_rear * y + t.cos_rear * zeta, t.cos_rear * y - t.sin_rear * zeta
    gap = springs.travel[2:] + p.depth - (t.height + t.cos_pitch * up)
    leaned, sideways = up - p.slope * t.sin_rear, across - p.slope * t.cos_rear
    lift = -t.sin_pitch * leaned, t.cos_pitch * sideways
    down = t.cos_pitch * leaned
    return _axle(springs.rear, p, gap, lift, (down, t.sin_pitch * sideways, down), (sine_p, sine_a), held)
