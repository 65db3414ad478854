"""What weight, inertia, side forces and drive add to the standing kart's energy: slope and curvature."""

from __future__ import annotations

from typing import NamedTuple

from kinematics.frames import Array, Number
from kinematics.stance.slopes import Rotations
from kinematics.stance.springs import Springs
from kinematics.stance.states import States


class Inertia(NamedTuple):
    """Slope and curvature of weight, inertia and side forces by height, pitch and roll of the three parts."""

    g_z: Number
    g_p: Array
    g_roll: Array
    g_front: Array
    g_rear: Array
    h_pp: Array
    h_pr: Array
    h_rr: Array
    h_front: Array
    h_rear: Array
    h_pitch_rear: Array


def body(springs: Springs, t: Rotations, states: States) -> Inertia:
    """Weight and inertia at the centre of gravity, side and drive forces at the floor.

    Side forces act at the mid-plane of the front and rear parts, on the floor of each, shared so that yaw
    balances; the drive or brake force acts on that of the rear part.
    """
    x, y, zeta = springs.cog
    weight, lateral, forward = springs.weight, states.lateral, states.forward
    share = x / springs.wheelbase
    sp, cp = t.sin_pitch, t.cos_pitch
    up, across = t.sin_roll * y + t.cos_roll * zeta, t.cos_roll * y - t.sin_roll * zeta
    front_side, rear_side = share * states.floor_front * lateral, (1.0 - share) * states.floor_rear * lateral
    drive = states.floor_rear * forward
    return Inertia(
        weight,
        weight * (forward * (cp * up - sp * x) - cp * x - sp * up + drive * cp * t.cos_rear),
        weight * ((cp + forward * sp) * across - lateral * up),
        -weight * front_side * t.cos_front,
        -weight * (rear_side * t.cos_rear + drive * sp * t.sin_rear),
        -weight * (cp * up - sp * x + forward * (cp * x + sp * up) + drive * sp * t.cos_rear),
        weight * (forward * cp - sp) * across,
        -weight * ((cp + forward * sp) * up + lateral * across),
        weight * front_side * t.sin_front,
        weight * (rear_side * t.sin_rear - drive * sp * t.cos_rear),
        -weight * drive * cp * t.sin_rear,
    )
