"""Equilibrium of the kart on a flat road: the minimum of its potential energy, batched.

The energy is written out in `energy`.

Blocks of states that fit the processor's cache take a fixed number of Newton steps from a linear first
guess. The few states that have not settled (a flat tread tipping from edge to edge, a kart about to fall
over) are gathered and finished by more careful means.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from kinematics.batches import batch_shape
from kinematics.fitted import rear_axle_height
from kinematics.frames import Array, Mask, Road
from kinematics.parts import Kart
from kinematics.stance.guess import first_guess, guess
from kinematics.stance.rescue import downhill, finish
from kinematics.stance.settling import Found, newton
from kinematics.stance.slopes import Attitude, Wheels
from kinematics.stance.springs import Springs, springs
from kinematics.stance.states import States

BLOCK = 3072
"""States solved at a time: their arrays stay in the second-level cache."""
QUICK_STEPS = 3
FL, FR, RL, RR = range(4)
"""Order of the wheels in the last axis of loads and clearances."""


@dataclass(frozen=True)
class Stance:
    """How the kart stands on a flat road; every array (...), wheels (..., 4) in the order FL FR RL RR.

    Where tips is True the kart does not rest on three wheels or more, and its numbers may not be shown as a
    stance. They are those of a rest on two wheels where wide treads allow one, which on_two_wheels
    says; elsewhere it is said to stand level with its weight on the two wheels that it falls over.
    """

    kart: Kart
    lateral_g: Array
    """+ in a left turn."""
    longitudinal_g: Array
    """+ speeding up."""
    height: Array
    """Of the torsion axis above the road at x = 0, mm."""
    pitch: Array
    """Of the frame, rad, + nose down."""
    roll: Array
    """Of the seat station, rad, + left side up."""
    twist_front: Array
    """Of the front part against the seat station, rad, + left side up."""
    twist_rear: Array
    loads: Array
    """Wheel loads square to the road, N."""
    clearance: Array
    """Of each wheel above the road, mm; 0 on the road."""
    tips: Mask
    on_two_wheels: Mask
    rests_twice: Mask
    """Where it is known to have another resting place than this one: a shallow one may be missed, and
    equilibrium looks for no other."""
    fell_at: Array
    """Handwheel angle, rad, + left, at which on the way from straight ahead its resting place ended and it
    fell into another one; inf where it did not, and where nothing says the way."""

    @property
    def attitude(self) -> Attitude:
        """Where the frame stands, (...) each."""
        return Attitude(self.height, self.pitch, self.roll, self.twist_front, self.twist_rear)

    @property
    def twist(self) -> Array:
        """Twist of the frame between the axles, rad, + front left side up against the rear."""
        return self.twist_front - self.twist_rear

    @property
    def ride_height_change_front(self) -> Array:
        """Rise of the torsion axis above the front axle since the reference stance, mm, + up."""
        rise: Array = self.height - np.sin(self.pitch) * self.kart.wheelbase - self.kart.frame.axis_height
        return rise

    @property
    def ride_height_change_rear(self) -> Array:
        """Rise of the torsion axis above the rear axle since the reference stance, mm, + up."""
        return self.height - self.kart.frame.axis_height

    @property
    def cross_weight(self) -> Array:
        """Share of the weight on the front-right and rear-left wheels, 0..1."""
        share: Array = (self.loads[..., FR] + self.loads[..., RL]) / np.sum(self.loads, axis=-1)
        return share

    @property
    def road_front(self) -> Road:
        """The road in the axes of the frame's front part, which carries the front wheels."""
        return road_of(self.pitch, self.roll + self.twist_front)


class Floor(NamedTuple):
    """How far below the torsion axis the road's side and drive forces act, mm, each (...).

    In the axes of the front and of the rear part, to which they are fixed: so these forces have a potential.
    """

    front: npt.ArrayLike
    rear: npt.ArrayLike


def floor_of(standing: Stance) -> Floor:
    """The floor (...) of a stance, below the mid-plane over each axle."""
    down = np.cos(standing.pitch)
    ahead = standing.height - standing.kart.wheelbase * np.sin(standing.pitch)
    front = ahead / (down * np.cos(standing.roll + standing.twist_front))
    return Floor(front, standing.height / (down * np.cos(standing.roll + standing.twist_rear)))


def road_of(pitch: npt.ArrayLike, roll: npt.ArrayLike) -> Road:
    """The road seen from a part at this pitch and roll (...) in rad; heading is the kart's, without yaw."""
    sp, cp, sr, cr = np.broadcast_arrays(np.sin(pitch), np.cos(pitch), np.sin(roll), np.cos(roll))
    return Road(np.stack([-sp, cp * sr, cp * cr], axis=-1), np.stack([cp, sp * sr, sp * cr], axis=-1))


def equilibrium(
    kart: Kart,
    centre_left: npt.ArrayLike,
    spin_left: npt.ArrayLike,
    centre_right: npt.ArrayLike,
    spin_right: npt.ArrayLike,
    rear_axle_shift: npt.ArrayLike = 0.0,
    lateral_g: npt.ArrayLike = 0.0,
    longitudinal_g: npt.ArrayLike = 0.0,
    floor: Floor | None = None,
    near: Attitude | None = None,
) -> Stance:
    """How karts stand with their front wheels so placed; all arguments broadcast, the result is (...).

    centre_* are front wheel centres and spin_* unit spin axes (either way along the axle), (..., 3), in
    vehicle axes: the right wheel at its own place, not mirrored. rear_axle_shift (...) in mm, + axle up in
    the frame; lateral_g (...) + in a left turn, longitudinal_g (...) + speeding up; floor is where the forces
    of the road act, without it that of the reference stance; near is an attitude (...) from which it
    comes to rest downhill, for where there are two resting places. Where the kart cannot rest on three wheels
    the mask tips is True.
    """
    vectors = [np.asarray(v, float) for v in (centre_left, centre_right, spin_left, spin_right)]
    karts = batch_shape(kart)
    floor = Floor(kart.frame.axis_height, kart.frame.axis_height) if floor is None else floor
    axle = rear_axle_height(kart, np.asarray(rear_axle_shift, float))
    given = (kart.frame.axis_height, axle, lateral_g, longitudinal_g, *floor)
    numbers = [np.asarray(v, float) for v in given]
    starts = karts if near is None else np.broadcast_shapes(*map(np.shape, near), karts)
    shape = np.broadcast_shapes(*(v.shape[:-1] for v in vectors), *(v.shape for v in numbers), starts)
    axis_height, axle, *forces = (np.broadcast_to(v, shape).ravel() for v in numbers)
    whole = [np.broadcast_to(v, (*shape, 3)).reshape(-1, 3) for v in vectors]
    wheels = Wheels(*(np.stack([a[:, i], b[:, i]]) for a, b in (whole[:2], whole[2:]) for i in range(3)))
    wheels = wheels._replace(zeta=wheels.zeta - axis_height)
    states = States(wheels, axle - axis_height, *forces)
    kart_springs, whose = springs(kart), _whose(karts, shape)
    if near is None:
        found = settle(kart_springs, states, whose)
    else:
        start = Attitude(*(np.broadcast_to(one, shape).ravel() for one in near))
        found = downhill(kart_springs.take(whose), states, start)
    return _stance(kart, kart_springs, whose, states, shape, found)


def _whose(karts: tuple[int, ...], shape: tuple[int, ...]) -> npt.NDArray[np.intp]:
    """Of which of the karts, counted through, each state is, (n,)."""
    count = int(np.prod(karts))
    return np.broadcast_to(np.arange(count).reshape(karts), shape).ravel()


def settle(kart_springs: Springs, states: States, whose: npt.NDArray[np.intp]) -> Found:
    """Find where n states rest: attitude (5, n), compressions (4, n) in mm, and where it settled (n,).

    whose (n,) says of which kart each state is.
    """
    maps, count = guess(kart_springs), states.lateral.size
    at, compression, settled = np.empty((5, count)), np.empty((4, count)), np.empty(count, dtype=bool)
    for start in range(0, count, BLOCK):
        block = slice(start, min(start + BLOCK, count))
        some, kart = states.take(block), kart_springs.take(whose[block])
        found = newton(kart, some, first_guess(kart, maps.take(whose[block]), some), QUICK_STEPS)
        at[:, block], compression[:, block], settled[block] = found
    late = np.flatnonzero(~settled)
    if late.size:
        some, kart = states.take(late), kart_springs.take(whose[late])
        first = first_guess(kart, maps.take(whose[late]), some)
        found = finish(kart, some, Attitude(*at[:, late]), first)
        at[:, late], compression[:, late], settled[late] = found
    return at, compression, settled


def _stance(
    kart: Kart,
    kart_springs: Springs,
    whose: npt.NDArray[np.intp],
    states: States,
    shape: tuple[int, ...],
    found: Found,
) -> Stance:
    place, compression, settled = found
    at = Attitude(*place)
    loads = kart_springs.stiffnesses[:, whose] * np.maximum(compression, 0.0)
    clearance = np.maximum(-compression, 0.0)
    presses = compression > 0.0
    settled = settled & presses[:2].any(axis=0) & presses[2:].any(axis=0)  # no wheel holds it on end
    on_two_wheels = settled & (np.count_nonzero(presses, axis=0) < 3)
    if not settled.all():
        of_each = kart_springs.take(whose)
        level = (of_each.axis_height, 0.0, 0.0, 0.0, 0.0)
        at = Attitude(*(np.where(settled, value, v) for v, value in zip(level, at, strict=True)))
        loads = np.where(settled, loads, _fallen_loads(of_each, states))
        clearance = np.where(settled, clearance, 0.0)

    lateral, forward, height, pitch, roll, twist_front, twist_rear = (
        np.reshape(value, shape) for value in (states.lateral, states.forward, *at)
    )
    return Stance(
        kart,
        lateral_g=lateral,
        longitudinal_g=forward,
        height=height,
        pitch=pitch,
        roll=roll,
        twist_front=twist_front,
        twist_rear=twist_rear,
        loads=np.reshape(loads.T, (*shape, 4)),
        clearance=np.reshape(clearance.T, (*shape, 4)),
        tips=np.reshape(~settled | on_two_wheels, shape),
        on_two_wheels=np.reshape(on_two_wheels, shape),
        rests_twice=np.zeros(shape, dtype=bool),
        fell_at=np.full(shape, np.inf),
    )


def _fallen_loads(kart_springs: Springs, states: States) -> Array:
    """Loads (4, n) of a kart that tips: its weight on the two wheels of the side, or end, it falls over."""
    x, y, zeta = kart_springs.cog
    height = zeta + states.floor_rear
    across = (y - states.lateral * height) / kart_springs.half_rear_track
    along = x / kart_springs.wheelbase - states.forward * height / kart_springs.wheelbase
    sideways = np.abs(across) - 1.0 >= np.abs(2.0 * along - 1.0) - 1.0
    left = np.where(sideways, across > 0.0, np.clip(0.5 + 0.5 * across, 0.0, 1.0))
    front = np.where(sideways, np.clip(along, 0.0, 1.0), along > 0.5)
    shares = (front * left, front * (1.0 - left), (1.0 - front) * left, (1.0 - front) * (1.0 - left))
    return kart_springs.weight * np.stack(shares)
