"""What the reference stance fixes: the springs, weights and preloads of the standing kart.

The stance solver knows a kart only through the record made here. At the reference stance (bushes
concentric, straight ahead, no acceleration) the tyres carry the reference loads, the frame counts as
untwisted, and every derivative of the energy is zero by the choice of weight, centre of gravity and
preload.

Conventions of the solver. The seat station is held by heave, pitch and roll: a point moves to
Ry(pitch) Rx(roll) v, with roll positive left side up and pitch positive nose down (ISO 8855). The front
and rear parts are turned further about the torsion axis, which runs along x at the frame's axis height:
their own roll is roll + twist. Heights zeta are measured from the torsion axis, Z is its height above the
road at x = 0.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import copysign, inf, sqrt

import numpy as np

from kinematics.corner.stub import spin_axis
from kinematics.frames import Array, mirror
from kinematics.parts import FLATTEST_CROWN, Corner, Kart, Tyre

RIGID_TYRE = 1e9  # N/mm; a tyre stiffer than this is taken as this stiff: it gives 1e-6 mm under a kart


@dataclass(frozen=True)
class Tread:
    """A tyre as the solver reads it: a torus between two shoulder circles, on a spring. mm, N/mm."""

    stiffness: float
    top: float
    """Loaded radius in the wheel plane."""
    ring: float
    """Radius of the circle on which the crown's centres lie (negative: beyond the wheel's axis)."""
    edge: float
    """Loaded radius of the shoulder circles."""
    half: float
    """Distance of a shoulder circle from the wheel plane."""
    turn: float
    """Sine of the camber at which the support point reaches the shoulder; inf when it never does."""


def tread_of(tyre: Tyre) -> Tread:
    """The tyre's profile for the solver; a ValueError refuses a flat tread, which cannot be stood on."""
    half, stiffness = 0.5 * tyre.tread_width, min(tyre.stiffness, RIGID_TYRE)
    if half == 0.0:
        return Tread(stiffness, tyre.radius, tyre.radius, tyre.radius, 0.0, 0.0)
    crown, most = tyre.crown_radius, FLATTEST_CROWN * tyre.tread_width
    if crown > most * (1.0 + 1e-9):
        allowed = f"stands on a crown of {most:g} mm at most"
        raise ValueError(f"a tread {tyre.tread_width:g} mm wide {allowed}, not of {crown:g} mm")
    edge = tyre.radius - half * half / (crown + sqrt(max(crown * crown - half * half, 0.0)))
    turn = half / crown if half < crown else inf
    return Tread(stiffness, tyre.radius, tyre.radius - crown, edge, half, turn)


@dataclass(frozen=True)
class Springs:
    """The kart as springs and weights, all fixed at the reference stance; mm, N, N·mm, rad."""

    front: Tread
    rear: Tread
    half_rear_track: float
    wheelbase: float
    axis_height: float
    loads: Array
    """(4,) reference loads FL FR RL RR, N."""
    weight: float
    cog: tuple[float, float, float]
    """Centre of gravity: x, y, height above the torsion axis."""
    compliance: tuple[float, float]
    """Twist per moment of the front and of the rear part, rad/(N·mm); 0 is rigid."""
    preload: tuple[float, float]
    """Moment the reference loads put through the front and the rear part, N·mm."""
    travel: Array
    """(4,) FL FR RL RR: compression of each tyre where its loaded surface just touches the road, mm."""
    wheels: Array
    """(4, 2, 3): reference wheel centre, height from the torsion axis, and spin axis of each wheel."""

    @property
    def stiffnesses(self) -> Array:
        """Of the four tyres, (4,), N/mm."""
        front, rear = self.front.stiffness, self.rear.stiffness
        return np.array([front, front, rear, rear])


def softened(springs: Springs, stiffest: float) -> Springs:
    """The same kart at the same reference stance with no tyre stiffer than this, N/mm."""
    treads = [replace(t, stiffness=min(t.stiffness, stiffest)) for t in (springs.front, springs.rear)]
    if treads == [springs.front, springs.rear]:
        return springs
    soft = replace(springs, front=treads[0], rear=treads[1])
    more = springs.loads / soft.stiffnesses - springs.loads / springs.stiffnesses
    return replace(soft, travel=springs.travel + more)


def _reference_wheels(kart: Kart) -> Array:
    def front(corner: Corner) -> Array:
        return np.array([corner.stub.wheel_centre, spin_axis(corner.stub)])

    rear = np.array([[0.0, 0.5 * kart.rear_track, kart.rear_tyre.radius], [0.0, 1.0, 0.0]])
    wheels = np.stack([front(kart.left), mirror(front(kart.right)), rear, mirror(rear)])
    wheels[:, 0, 2] -= kart.frame.axis_height
    return wheels


def _profile(tread: Tread, sine: float) -> tuple[float, float]:
    """Depth of the support point and its slope with the sine of the camber, at the reference stance."""
    root = sqrt(1.0 - sine * sine)
    if abs(sine) < tread.turn:
        return tread.top - tread.ring * sine * sine / (1.0 + root), -tread.ring * sine / root
    depth = tread.edge * root + tread.half * abs(sine)
    return depth, copysign(tread.half, sine) - tread.edge * sine / root


def _profiles(front: Tread, rear: Tread, wheels: Array) -> Array:
    treads = (front, front, rear, rear)
    return np.array([_profile(t, float(w[1, 2])) for t, w in zip(treads, wheels, strict=True)])


def arms(springs: Springs) -> tuple[Array, Array]:
    """Where the four wheels stand at the reference stance: support points x and y, (4,) each, mm."""
    return _arms(springs.wheels, _profiles(springs.front, springs.rear, springs.wheels)[:, 1])


def _arms(wheels: Array, slope: Array) -> tuple[Array, Array]:
    place, spin = wheels[:, 0], wheels[:, 1]
    return place[:, 0] - slope * spin[:, 0], place[:, 1] - slope * spin[:, 1]


def springs(kart: Kart) -> Springs:
    """Fix weight, centre of gravity, preload and tyre travel from the kart's reference loads."""
    front, rear, frame = tread_of(kart.front_tyre), tread_of(kart.rear_tyre), kart.frame
    wheels, loads = _reference_wheels(kart), np.array(kart.loads)
    profiles = _profiles(front, rear, wheels)
    arm_x, arm_y = _arms(wheels, profiles[:, 1])
    weight, moment = float(loads.sum()), loads * arm_y
    centre = (float(loads @ arm_x) / weight, float(moment.sum()) / weight)
    stiffnesses = np.array([front.stiffness, front.stiffness, rear.stiffness, rear.stiffness])
    return Springs(
        front=front,
        rear=rear,
        half_rear_track=0.5 * kart.rear_track,
        wheelbase=kart.wheelbase,
        axis_height=frame.axis_height,
        loads=loads,
        weight=weight,
        cog=(*centre, kart.cog_height - frame.axis_height),
        compliance=(frame.front_share / frame.stiffness, (1.0 - frame.front_share) / frame.stiffness),
        preload=(float(moment[:2].sum()), float(moment[2:].sum())),
        travel=loads / stiffnesses + wheels[:, 0, 2] + frame.axis_height - profiles[:, 0],
        wheels=wheels,
    )
