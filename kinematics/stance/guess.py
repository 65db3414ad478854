"""The first guess of the stance: every spring linear about the reference stance.

Two small matrices per kart turn the lifts of the four wheels and the accelerations into an attitude; a
wheel that would pull on the road is let go in closed form. Newton's steps mend the rest.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from kinematics.batches import once
from kinematics.frames import Array
from kinematics.stance.slopes import Attitude
from kinematics.stance.springs import Springs, arms
from kinematics.stance.states import States
from kinematics.stance.tread import profile

_RIGID = 1e4  # a frame part is guessed at most this many times stiffer than the tyres hold it
_HELD = 1e-6  # a wheel that carries nothing of its own spring cannot be let go on its own

_WIDEST = 0.2  # rad; no guess turns the frame further
_STIFFEST = 1e-300  # rad/(N·mm); keeps a division by the compliance of a rigid part finite
_BY_MOMENT = np.array(
    [
        [0.0, 0.0, 0.0, 0.0],
        [0.0, 0.0, 0.0, -1.0],
        [1.0, 1.0, 1.0, 0.0],
        [0.0, 1.0, 0.0, 0.0],
        [0.0, 0.0, 1.0, 0.0],
    ]
)
"""How the four moments act on height, pitch, roll and twists: inertia, both side forces, pitching."""


class Guess(NamedTuple):
    """Linear maps about the reference stance, from nine causes: the wheels' four lifts (mm), the arms at
    which inertia, front and rear side force roll the kart and inertia and drive pitch it (mm times g), and 1
    for where a changed kart comes to rest. Of one kart, or with an axis in front of n karts."""

    respond: Array
    """(5, 9): the attitude less that of the reference stance."""
    press: Array
    """(4, 9): the tyres' compressions less those of the reference stance."""
    release: Array
    """(5, 4): what the attitude gains per mm of a compression below zero when that wheel lets go."""

    def take(self, which: npt.NDArray[np.intp] | slice) -> Guess:
        """Those of some of the karts; one kart's stay as they are."""
        return self if self.respond.ndim == 2 else Guess(*(maps[which] for maps in self))


@once
def guess(springs: Springs) -> Guess:
    """The maps, with every wheel held to the road at its reference support point."""
    arm_x, arm_y = arms(springs)
    stiffnesses, front = springs.stiffnesses, np.array([[1.0], [1.0], [0.0], [0.0]])
    count = arm_x.shape[-1]
    rise = _in_front([np.ones_like(arm_x), -arm_x, arm_y, arm_y * front, arm_y * (1.0 - front)])  # (n, 5, 4)
    hard = np.broadcast_to(stiffnesses, (4, count)).T[:, None, :]
    rigid = _RIGID * stiffnesses.max(axis=0) * springs.half_rear_track**2
    twists = [1.0 / np.maximum(compliance, _STIFFEST) for compliance in springs.compliance]
    curvature = (rise * hard) @ np.swapaxes(rise, -1, -2)
    for place, twist in zip((3, 4), twists, strict=True):
        curvature[:, place, place] += np.minimum(twist, rigid)
    moments = np.broadcast_to(springs.weight, count)[:, None, None] * _BY_MOMENT
    unrest = rise @ springs.loads.T[..., None] - _weighing(springs, count)
    respond = np.linalg.solve(curvature, np.concatenate([-rise * hard, moments, unrest], axis=-1))
    give = np.linalg.solve(curvature, rise)
    kept = 1.0 - hard * np.sum(rise * give, axis=1, keepdims=True)
    press = -np.swapaxes(rise, -1, -2) @ respond - np.eye(4, 9)
    maps = respond, press, -give * (hard / np.maximum(kept, _HELD))
    return Guess(*(one[0] if count == 1 else one for one in maps))


def _weighing(springs: Springs, count: int) -> Array:
    """Slopes (n, 5, 1) of weight and preload at the reference stance by height, pitch, roll and twists."""
    weight, (x, y, _) = springs.weight, springs.cog
    slopes = (weight, -weight * x, weight * y, *springs.preload)
    return np.stack([np.broadcast_to(slope, count) for slope in slopes], axis=-1)[..., None]


def _in_front(columns: Sequence[Array]) -> Array:
    """Arrays (4, n) as one (n, columns, 4)."""
    return np.ascontiguousarray(np.moveaxis(np.stack(columns), -1, 0))


def _applied(maps: Array, causes: Array) -> Array:
    """Maps (i, j), or (n, i, j) each state its own, of causes (j, n): (i, n)."""
    if maps.ndim == 2:
        return maps @ causes
    applied: Array = np.einsum("nij,jn->in", maps, causes)
    return applied


def first_guess(springs: Springs, maps: Guess, states: States) -> Attitude:
    """Attitude (n,) from which Newton's steps start."""
    wheels = states.wheels
    causes = np.empty((9, states.rear_zeta.size))
    causes[:2] = wheels.zeta - profile(springs.front, wheels.uz).depth
    causes[2:4] = states.rear_zeta - springs.rear.top
    causes[:4] -= springs.stood
    above, share = springs.cog[2], springs.cog[0] / springs.wheelbase
    causes[4] = above * states.lateral
    causes[5] = share * states.floor_front * states.lateral
    causes[6] = (1.0 - share) * states.floor_rear * states.lateral
    causes[7] = (above + states.floor_rear) * states.forward
    causes[8] = 1.0
    pressing = springs.loads / springs.stiffnesses + _applied(maps.press, causes)
    hardest = pressing * springs.stiffnesses
    least = np.minimum(np.min(hardest, axis=0), 0.0)
    pulling = np.where(hardest == least, pressing, 0.0)
    height, *angles = _applied(maps.respond, causes) + _applied(maps.release, pulling)
    pitch, roll, *twists = np.clip(angles, -_WIDEST, _WIDEST)
    front, rear = (t * (np.asarray(c) > 0.0) for t, c in zip(twists, springs.compliance, strict=True))
    return Attitude(springs.axis_height + height, pitch, roll, front, rear)
