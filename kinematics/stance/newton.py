"""One Newton step of the stance, for a block of states.

The twists are local to their part, so they are eliminated by hand; what remains is a symmetric 3 by 3
system in height, pitch and roll. Written with the frame's compliance, so that a rigid frame (compliance
0) is an ordinary case.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from kinematics.frames import Array, Mask, Number
from kinematics.stance.inertia import body
from kinematics.stance.slopes import (
    Attitude,
    Axle,
    Rotations,
    front_axle,
    rear_axle,
    turns,
)
from kinematics.stance.springs import Springs
from kinematics.stance.states import States

_FLOOR = 1e-3
"""N/mm and N·mm/rad; no kart that rests is softer, and a step against less would lead nowhere."""


class Part(NamedTuple):
    """A part with its twist eliminated: what it adds to the 3 by 3 system, and how its twist follows."""

    zz: Array
    zp: Array
    za: Array
    pp: Array
    pa: Array
    aa: Array
    rhs_z: Array
    rhs_p: Array
    rhs_a: Array
    twist: tuple[Array, Array, Array, Array]
    """Change of twist: constant, by height, by pitch, by roll."""
    sound: Mask
    """Where the part's own curvature is positive: its twist rests in a minimum."""


def _part(axle: Axle, side: Array, twist: Array, compliance: Number, preload: Number) -> Part:
    """Eliminate a part's twist; side (n,) is the slope by its roll that the side force adds."""
    slope = axle.g_a + side
    stiffer = 1.0 + compliance * axle.h_aa
    give = 1.0 / np.maximum(stiffer, _FLOOR)
    rest = give * (twist + compliance * (slope + preload))
    lead_z, lead_p = give * axle.h_za, give * axle.h_pa
    return Part(
        axle.h_zz - compliance * lead_z * axle.h_za,
        axle.h_zp - compliance * lead_z * axle.h_pa,
        lead_z,
        axle.h_pp - compliance * lead_p * axle.h_pa,
        lead_p,
        give * axle.h_aa,
        axle.h_za * rest - axle.g_z,
        axle.h_pa * rest - axle.g_p,
        axle.h_aa * rest - slope,
        (-rest, -compliance * lead_z, -compliance * lead_p, -compliance * give * axle.h_aa),
        stiffer > 0.0,
    )


class Step(NamedTuple):
    """A Newton step: the change of attitude, the axles it was made from, and where it leads to a minimum."""

    change: Attitude
    sound: Mask
    front: Axle
    rear: Axle


def step(
    springs: Springs,
    states: States,
    at: Attitude,
    held: Mask | None = None,
    damping: Array | None = None,
) -> Step:
    """The Newton step from an attitude (n,).

    held (4, n) says which tyres press on the road, whatever their compression; damping (n,) stiffens all
    tyres by that share of themselves, which shortens the step.
    """
    t = turns(at)
    press = (None, None) if held is None else (held[:2], held[2:])
    front = front_axle(springs, states.wheels, t, press[0])
    rear = rear_axle(springs, states.rear_zeta, t, press[1])
    if damping is None:
        return Step(*_solve(springs, t, at, front, rear, states), front, rear)
    stiff = _damped(front, springs, damping), _damped(rear, springs, damping)
    return Step(*_solve(springs, t, at, *stiff, states), front, rear)


def _damped(axle: Axle, springs: Springs, damping: Array) -> Axle:
    more = damping * (springs.front.stiffness + springs.rear.stiffness)
    return axle._replace(
        h_zz=axle.h_zz + more,
        h_pp=axle.h_pp + more * springs.wheelbase**2,
        h_aa=axle.h_aa + more * springs.half_rear_track**2,
    )


def moved(at: Attitude, change: Attitude) -> Attitude:
    """The attitude (n,) after a step."""
    return Attitude(*(value + by for value, by in zip(at, change, strict=True)))


def _solve(
    springs: Springs, t: Rotations, at: Attitude, front: Axle, rear: Axle, states: States
) -> tuple[Attitude, Mask]:
    b = body(springs, t, states)
    front = front._replace(h_aa=front.h_aa + b.h_front)
    rear = rear._replace(h_pa=rear.h_pa + b.h_pitch_rear, h_aa=rear.h_aa + b.h_rear)
    f = _part(front, b.g_front, at.twist_front, springs.compliance[0], springs.preload[0])
    r = _part(rear, b.g_rear, at.twist_rear, springs.compliance[1], springs.preload[1])
    zz, zp, za = f.zz + r.zz, f.zp + r.zp, f.za + r.za
    pp, pa, aa = f.pp + r.pp + b.h_pp, f.pa + r.pa + b.h_pr, f.aa + r.aa + b.h_rr
    rhs_z, rhs_p, rhs_a = f.rhs_z + r.rhs_z - b.g_z, f.rhs_p + r.rhs_p - b.g_p, f.rhs_a + r.rhs_a - b.g_roll
    by_z = 1.0 / np.maximum(zz, _FLOOR)
    low_p, low_a = zp * by_z, za * by_z
    pivot_p = pp - low_p * zp
    cross = pa - low_p * za
    sound = f.sound & r.sound & (pivot_p > _FLOOR)
    pivot_p = np.maximum(pivot_p, _FLOOR)
    low = cross / pivot_p
    pivot_a = aa - low_a * za - low * cross
    sound &= pivot_a > _FLOOR
    pivot_a = np.maximum(pivot_a, _FLOOR)
    rest_p = rhs_p - low_p * rhs_z
    roll = (rhs_a - low_a * rhs_z - low * rest_p) / pivot_a
    pitch = rest_p / pivot_p - low * roll
    height = rhs_z * by_z - low_p * pitch - low_a * roll

    def twist(part: Part) -> Array:
        c, by_height, by_pitch, by_roll = part.twist
        change: Array = c + by_height * height + by_pitch * pitch + by_roll * roll
        return change

    return Attitude(height, pitch, roll, twist(f), twist(r)), sound
