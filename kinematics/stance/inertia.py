"""What weight, inertia, side forces and drive add to the standing kart's energy: slope and curvature."""

from __future__ import annotations

from typing import NamedTuple

from kinematics.frames import Array
from kinematics.stance.slopes import Rotations
from kinematics.stance.springs import Springs


class Inertia(NamedTuple):
    """Slope and curvature of weight, inertia and side forces by height, pitch and roll of the three parts."""

    g_z: float
    g_p: Array
    g_roll: Array
    g_front: Array
    g_rear: Array
    h_pp: Array
    h_pr: Array
    h_rr: Array


def body(springs: Springs, t: Rotations, lateral: Array, forward: Array) -> Inertia:
    """Weight and inertia at the centre of gravity, side and drive forces at the floor (accelerations in g).

    Side forces act at the mid-plane, at the reference floor level of the front and rear parts, shared so
    that yaw balances; the drive or brake force acts there on the rear part.
    """
    x, y, zeta = springs.cog
    weight, floor = springs.weight, springs.axis_height
    sp, cp = t.sin_pitch, t.cos_pitch
    up, across = t.sin_roll * y + t.cos_roll * zeta, t.cos_roll * y - t.sin_roll * zeta
    front_side, drive = x / springs.wheelbase * floor * lateral, floor * forward
    rear_side = floor * lateral - front_side
    return Inertia(
        weight,
        weight * (forward * (cp * up - sp * x) - cp * x - sp * up + drive * cp * t.cos_rear),
        weight * ((cp + forward * sp) * across - lateral * up),
        -weight * front_side * t.cos_front,
        -weight * (rear_side * t.cos_rear + drive * sp * t.sin_rear),
        -weight * (up + forward * x),
        weight * forward * across,
        -weight * (up + lateral * across),
    )
