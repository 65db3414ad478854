"""The first guess of the stance: every spring linear about the reference stance.

Two small matrices per kart turn the lifts of the four wheels and the accelerations into an attitude; a
wheel that would pull on the road is let go in closed form. Newton's steps mend the rest.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from kinematics.frames import Array
from kinematics.stance.slopes import Attitude, profile
from kinematics.stance.springs import Springs, arms
from kinematics.stance.states import States

_RIGID = 1e4  # a frame part is guessed at most this many times stiffer than the tyres hold it
_HELD = 1e-6  # a wheel that carries nothing of its own spring cannot be let go on its own

_WIDEST = 0.2  # rad; no guess turns the frame further


class Guess(NamedTuple):
    """Linear maps about the reference stance, from eight causes: the wheels' four lifts (mm), and the arms at
    which inertia, front and rear side force roll the kart and inertia and drive pitch it (mm times g)."""

    respond: Array
    """(5, 8): the attitude less that of the reference stance."""
    press: Array
    """(4, 8): the tyres' compressions less those of the reference stance."""
    release: Array
    """(5, 4): what the attitude gains per mm of a compression below zero when that wheel lets go."""
    reference: Array
    """(4, 1): compressions at the reference stance, mm."""


def guess(springs: Springs) -> Guess:
    """The maps, with every wheel held to the road at its reference support point."""
    arm_x, arm_y = arms(springs)
    stiffnesses, front = springs.stiffnesses, np.array([1.0, 1.0, 0.0, 0.0])
    rise = np.stack([np.ones(4), -arm_x, arm_y, arm_y * front, arm_y * (1.0 - front)])
    rigid = _RIGID * float(stiffnesses.max()) * springs.half_rear_track**2
    twists = [
        min(1.0 / compliance, rigid) if compliance > 0.0 else rigid for compliance in springs.compliance
    ]
    curvature = (rise * stiffnesses) @ rise.T + np.diag([0.0, 0.0, 0.0, *twists])
    moments = springs.weight * np.array(
        [
            [0.0, 0.0, 1.0, 0.0, 0.0],
            [0.0, 0.0, 1.0, 1.0, 0.0],
            [0.0, 0.0, 1.0, 0.0, 1.0],
            [0.0, -1.0, 0.0, 0.0, 0.0],
        ]
    )
    respond = np.linalg.solve(curvature, np.column_stack([-rise * stiffnesses, moments.T]))
    give = np.linalg.solve(curvature, rise)
    kept = 1.0 - stiffnesses * np.sum(rise * give, axis=0)
    return Guess(
        respond,
        -rise.T @ respond - np.eye(4, 8),
        -give * (stiffnesses / np.maximum(kept, _HELD)),
        springs.loads[:, None] / stiffnesses[:, None],
    )


def first_guess(springs: Springs, maps: Guess, states: States) -> Attitude:
    """Attitude (n,) from which Newton's steps start."""
    standing = springs.wheels[:, :, 2]
    wheels = states.wheels
    causes = np.empty((8, states.rear_zeta.size))
    causes[:2] = wheels.zeta - profile(springs.front, wheels.uz).depth
    causes[:2] -= (standing[:2, 0] - profile(springs.front, standing[:2, 1]).depth)[:, None]
    causes[2:4] = states.rear_zeta - standing[2, 0]
    above, share = springs.cog[2], springs.cog[0] / springs.wheelbase
    causes[4] = above * states.lateral
    causes[5] = share * states.floor_front * states.lateral
    causes[6] = (1.0 - share) * states.floor_rear * states.lateral
    causes[7] = (above + states.floor_rear) * states.forward
    pressing = maps.reference + maps.press @ causes
    hardest = pressing * springs.stiffnesses[:, None]
    least = np.minimum(np.min(hardest, axis=0), 0.0)
    pulling = np.where(hardest == least, pressing, 0.0)
    height, *angles = maps.respond @ causes + maps.release @ pulling
    pitch, roll, *twists = np.clip(angles, -_WIDEST, _WIDEST)
    front, rear = (t if c > 0.0 else 0.0 * t for t, c in zip(twists, springs.compliance, strict=True))
    return Attitude(springs.axis_height + height, pitch, roll, front, rear)
