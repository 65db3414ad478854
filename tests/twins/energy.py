"""The potential energy of the standing kart in its readable form: whole rotations, points, support depths."""

from __future__ import annotations

import numpy as np

from kinematics.frames import X_FORWARD, Y_LEFT, Z_UP, Array, turn
from kinematics.stance.slopes import Attitude, Wheels
from kinematics.stance.springs import Springs
from kinematics.stance.states import States
from kinematics.stance.tread import profile


def on_the_road(v: Array, pitch: Array, roll: Array) -> Array:
    """Turn a vector (..., 3) of the frame into road axes (zero yaw): first roll, then pitch, (...) each."""
    return turn(turn(v, X_FORWARD, roll), Y_LEFT, pitch)


def wheel_vectors(springs: Springs, wheels: Wheels, rear_zeta: Array) -> tuple[Array, Array]:
    """Centre and spin axis of the four wheels, (4, n, 3), from the torsion axis at x = 0."""
    count = np.shape(rear_zeta)[0]
    centre, spin = np.zeros((4, count, 3)), np.zeros((4, count, 3))
    centre[:2] = np.stack([wheels.x, wheels.y, wheels.zeta], axis=-1)
    spin[:2] = np.stack([wheels.ux, wheels.uy, wheels.uz], axis=-1)
    centre[2:, :, 1] = springs.half_rear_track * np.array([[1.0], [-1.0]])
    centre[2:, :, 2], spin[2:, :, 1] = rear_zeta, 1.0
    return centre, spin


def compressions(springs: Springs, wheels: Wheels, rear_zeta: Array, at: Attitude) -> Array:
    """Compression of the four tyres (4, n) in mm, + on the road, - clear of it."""
    centre, spin = wheel_vectors(springs, wheels, rear_zeta)
    front, rear = at.roll + at.twist_front, at.roll + at.twist_rear
    roll = np.stack([front, front, rear, rear])
    height = at.height + on_the_road(centre, at.pitch, roll)[..., 2]
    sine = on_the_road(spin, at.pitch, roll)[..., 2]
    depth = np.concatenate([profile(springs.front, sine[:2]).depth, profile(springs.rear, sine[2:]).depth])
    compression: Array = springs.travel - (height - depth)
    return compression


def energy(springs: Springs, states: States, at: Attitude) -> Array:
    """Potential energy (n,) in N·mm of states (n,) at an attitude."""
    lateral, forward = states.lateral, states.forward
    tyres = np.maximum(compressions(springs, states.wheels, states.rear_zeta, at), 0.0)
    total = 0.5 * np.sum(springs.stiffnesses * tyres**2, axis=0)
    twists = (at.twist_front, at.twist_rear)
    for twist, compliance, preload in zip(twists, springs.compliance, springs.preload, strict=True):
        soft = np.asarray(compliance) > 0.0
        bent = 0.5 * twist**2 / np.where(soft, compliance, 1.0) + preload * twist
        total = total + np.where(soft, bent, 0.0)
    cog = on_the_road(np.stack(np.broadcast_arrays(*springs.cog), axis=-1), at.pitch, at.roll)
    total = total + springs.weight * (at.height + cog[..., 2] + lateral * cog[..., 1] + forward * cog[..., 0])
    front = on_the_road(_below(states.floor_front), at.pitch, at.roll + at.twist_front)
    rear = on_the_road(_below(states.floor_rear), at.pitch, at.roll + at.twist_rear)
    share = springs.cog[0] / springs.wheelbase
    side = share * front[..., 1] + (1.0 - share) * rear[..., 1]
    potential: Array = total - springs.weight * (lateral * side + forward * rear[..., 0])
    return potential


def _below(depth: Array) -> Array:
    """The point (n, 3) so far (n,) below the torsion axis."""
    return -depth[:, None] * Z_UP
