"""The potential energy of the standing kart.

Over heave, roll and pitch of the seat station and the twists of the front and rear part,

    U = sum of 1/2 k c² + 1/2 K_f phi_f² + 1/2 K_r phi_r² + preload terms + weight x height of its centre
        - work of inertia and of the side and drive forces

with c >= 0 the compression of each tyre (a wheel may leave the road), K_f and K_r the frame's stiffness
ahead of and behind the seat, the preload what the reference loads put through the frame while it counts as
untwisted, inertia at the centre of gravity, and the forces in the mid-plane on the floor of each part. The
kart rests at its minimum. Here in component arrays, without derivatives: the rescue of hard states goes down
on it. The tests hold it and the solver's slopes to a readable form of it, made of whole rotations and points.
"""

from __future__ import annotations

import numpy as np

from kinematics.frames import Array, Number
from kinematics.stance.slopes import Attitude
from kinematics.stance.springs import Springs
from kinematics.stance.states import States
from kinematics.stance.tread import Tread, profile

_BOTH_WAYS = np.array([[1.0], [-1.0]])


def energy(springs: Springs, states: States, at: Attitude) -> tuple[Array, Array]:
    """Potential energy (n,) in N·mm of states (n,) at an attitude, and the tyres' compressions (4, n), mm.

    A wheel in the air has a negative one.
    """
    wheels, (x, y, zeta) = states.wheels, springs.cog
    rolls = at.roll + at.twist_front, at.roll + at.twist_rear
    sp, cp = np.sin(at.pitch), np.cos(at.pitch)
    (s_front, s_rear), (c_front, c_rear) = map(np.sin, rolls), map(np.cos, rolls)
    sine = cp * (s_front * wheels.uy + c_front * wheels.uz) - sp * wheels.ux
    above = cp * (s_front * wheels.y + c_front * wheels.zeta) - sp * wheels.x
    front = springs.travel[:2] + profile(springs.front, sine).depth - at.height - above
    above = cp * (s_rear * (springs.half_rear_track * _BOTH_WAYS) + c_rear * states.rear_zeta)
    rear = springs.travel[2:] + profile(springs.rear, cp * s_rear).depth - at.height - above
    up, across = _turned(at.roll, y, zeta)
    ahead = x * cp + sp * (up + states.floor_rear * c_rear)
    share = x / springs.wheelbase
    side = share * states.floor_front * s_front + (1.0 - share) * states.floor_rear * s_rear
    raised = at.height + cp * up - sp * x + states.lateral * (across - side) + states.forward * ahead
    pressed = _pressed(springs.front, front) + _pressed(springs.rear, rear)
    total: Array = pressed + springs.weight * raised + _bent(springs, at)
    return total, np.concatenate([front, rear])


def _turned(roll: Array, y: Number, zeta: Number) -> tuple[Array, Array]:
    """How high and how far to the left a point of the seat station is, mm, before it is pitched."""
    s, c = np.sin(roll), np.cos(roll)
    return s * y + c * zeta, c * y - s * zeta


def _pressed(tread: Tread, compression: Array) -> Array:
    """Energy (n,) of an axle's two tyres by their compression (2, n)."""
    squares = np.maximum(compression, 0.0) ** 2
    pressed: Array = 0.5 * tread.stiffness * (squares[0] + squares[1])
    return pressed


def _bent(springs: Springs, at: Attitude) -> Array | float:
    """Energy (n,) of the frame's twist; a rigid part has none."""
    total: Array | float = 0.0
    twists = (at.twist_front, at.twist_rear)
    for twist, compliance, preload in zip(twists, springs.compliance, springs.preload, strict=True):
        soft = np.asarray(compliance) > 0.0
        bent = 0.5 * twist**2 / np.where(soft, compliance, 1.0) + preload * twist
        total = total + np.where(soft, bent, 0.0)
    return total
