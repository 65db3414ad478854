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

from dataclasses import dataclass, fields, replace
from typing import Any

import numpy as np
import numpy.typing as npt

from kinematics.batches import batch_shape, once, rows
from kinematics.corner.stub import spin_axis
from kinematics.frames import Array, Number, mirror
from kinematics.parts import Corner, Kart
from kinematics.stance.tread import Tread, profile, tread_of


@dataclass(frozen=True)
class Springs:
    """A kart as springs and weights, all fixed at the reference stance; mm, N, N·mm, rad.

    Or many karts: every number is then (n,), and an array's last axis counts the karts; for one kart that
    axis has length one.
    """

    front: Tread
    rear: Tread
    half_rear_track: Number
    wheelbase: Number
    axis_height: Number
    loads: Array
    """(4, n) FL FR RL RR: what the tyres would carry at the reference stance, N; of a kart as measured, its
    reference loads."""
    weight: Number
    cog: tuple[Number, Number, Number]
    """Centre of gravity: x, y, height above the torsion axis."""
    compliance: tuple[Number, Number]
    """Twist per moment of the front and of the rear part, rad/(N·mm); 0 is rigid."""
    preload: tuple[Number, Number]
    """Moment the reference loads put through the front and the rear part, N·mm."""
    travel: Array
    """(4, n) FL FR RL RR: compression of each tyre where its loaded surface just touches the road, mm."""
    wheels: Array
    """(4, 2, 3, n): reference wheel centre, height from the torsion axis, and spin axis of each wheel."""
    stood: Array
    """(4, n): height of each wheel's support point from the torsion axis at the reference stance, mm."""

    @property
    def stiffnesses(self) -> Array:
        """Of the four tyres, (4, n), N/mm."""
        return _four(self.front.stiffness, self.rear.stiffness, self.wheels.shape[-1])

    def take(self, which: npt.NDArray[np.intp] | slice) -> Springs:
        """Some of the karts, by index; one kart alone serves every state and stays as it is."""
        if self.wheels.shape[-1] == 1:
            return self
        return Springs(*(_taken(getattr(self, f.name), which) for f in fields(self)))


def _taken(value: Any, which: npt.NDArray[np.intp] | slice) -> Any:
    if not isinstance(value, tuple):
        return value[..., which] if np.ndim(value) else value
    made = [_taken(one, which) for one in value]
    return Tread(*made) if isinstance(value, Tread) else tuple(made)


def softened(springs: Springs, stiffest: float) -> Springs:
    """The same karts at the same reference stance with no tyre stiffer than this, N/mm."""
    if np.max(springs.stiffnesses) <= stiffest:
        return springs
    front, rear = (
        t._replace(stiffness=np.minimum(t.stiffness, stiffest)) for t in (springs.front, springs.rear)
    )
    soft = replace(springs, front=front, rear=rear)
    more = springs.loads / soft.stiffnesses - springs.loads / springs.stiffnesses
    return replace(soft, travel=springs.travel + more)


def _reference_wheels(kart: Kart, count: int) -> Array:
    """(4, 2, 3, n) of one kart or of n."""

    def front(corner: Corner) -> tuple[Array, Array]:
        return np.asarray(corner.stub.wheel_centre, float), spin_axis(corner.stub)

    rear = np.stack(
        np.broadcast_arrays(0.0, np.multiply(0.5, kart.rear_track), kart.rear_tyre.radius), axis=-1
    )
    left, right, axle = front(kart.left), front(kart.right), np.array([0.0, 1.0, 0.0])
    pairs = (left, [mirror(v) for v in right], (rear, axle), (mirror(rear), mirror(axle)))
    wheels = np.array([[np.broadcast_to(v, (count, 3)).T for v in pair] for pair in pairs])
    wheels[:, 0, 2] -= kart.frame.axis_height
    return wheels


def _profiles(front: Tread, rear: Tread, wheels: Array) -> tuple[Array, Array]:
    """Depth of the support points at the reference stance and its slope with the sine, (4, n) each."""
    sine = wheels[:, 1, 2]
    found = profile(front, sine[:2]), profile(rear, sine[2:])
    return np.concatenate([p.depth for p in found]), np.concatenate([p.slope for p in found])


def arms(springs: Springs) -> tuple[Array, Array]:
    """Where the four wheels stand at the reference stance: support points x and y, (4, n) each, mm."""
    return _arms(springs.wheels, _profiles(springs.front, springs.rear, springs.wheels)[1])


def _arms(wheels: Array, slope: Array) -> tuple[Array, Array]:
    place, spin = wheels[:, 0], wheels[:, 1]
    return place[:, 0] - slope * spin[:, 0], place[:, 1] - slope * spin[:, 1]


def each_whole(kart: Kart) -> Kart:
    """The karts of a batch counted through: every number (n,); one kart stays as it is."""
    shape = batch_shape(kart)
    return rows(kart, shape, slice(None)) if shape else kart


@once
def springs(kart: Kart) -> Springs:
    """Fix weight, centre of gravity, preload and tyre travel of a kart, or of each of a batch in order.

    They follow from the reference loads of the kart as measured; what was changed on it since keeps the
    unloaded shape of tyres and frame.
    """
    kart = each_whole(kart)
    was, frame, added = kart.as_measured, kart.frame, kart.added
    treads, count = (tread_of(was.front_tyre), tread_of(was.rear_tyre)), int(np.prod(batch_shape(kart)))
    wheels = _reference_wheels(was, count)
    loads = np.stack([np.broadcast_to(load, count) for load in was.loads])
    depth, slope = _profiles(*treads, wheels)
    arm_x, arm_y = _arms(wheels, slope)
    before, moment = loads.sum(axis=0), loads * arm_y
    pressed = loads / _four(treads[0].stiffness, treads[1].stiffness, count)
    weight = before + added.weight
    cog = (
        ((loads * arm_x).sum(axis=0) + added.forward) / weight,
        (moment.sum(axis=0) + added.left) / weight,
        (before * was.cog_height + added.up) / weight - frame.axis_height,
    )
    front, rear = tread_of(kart.front_tyre), tread_of(kart.rear_tyre)
    half = 0.5 * kart.rear_track
    wheels[2:, 0, 1] = half * np.array([[1.0], [-1.0]])
    return Springs(
        front=front,
        rear=rear,
        half_rear_track=half,
        wheelbase=kart.wheelbase,
        axis_height=frame.axis_height,
        loads=pressed * _four(front.stiffness, rear.stiffness, count),
        weight=_one(weight),
        cog=(_one(cog[0]), _one(cog[1]), _one(cog[2])),
        compliance=(frame.front_share / frame.stiffness, (1.0 - frame.front_share) / frame.stiffness),
        preload=(_one(moment[:2].sum(axis=0)), _one(moment[2:].sum(axis=0))),
        travel=pressed + wheels[:, 0, 2] + frame.axis_height - depth + _packed(kart, count),
        wheels=wheels,
        stood=wheels[:, 0, 2] - depth,
    )


def _packed(kart: Kart, count: int) -> Array:
    """What lies under each wheel, (4, n) or (4, 1), mm: the tyre gives so much more."""
    return np.stack([np.broadcast_to(one, count) for one in kart.packed])


def _four(front: Number, rear: Number, count: int) -> Array:
    """A number of the front and of the rear tyres, for each wheel (4, n)."""
    return np.stack([np.broadcast_to(one, count) for one in (front, front, rear, rear)])


def _one(numbers: Array) -> Number:
    """A plain number where there is one kart alone."""
    return numbers if numbers.size > 1 else float(numbers[0])
