"""Newton's search for the place where a block of states rests."""

from __future__ import annotations

import numpy as np

from kinematics.frames import Array, Mask
from kinematics.stance.newton import Step, moved, step
from kinematics.stance.slopes import Attitude, pressed
from kinematics.stance.springs import Springs
from kinematics.stance.states import States

SETTLED = 1e-7
"""mm at the wheels: a Newton step this small ends the search; the error it leaves is far smaller."""
ARM = 500.0
"""mm: turns of the frame count as the movement of a wheel this far from its axis."""
LONGEST = 0.2
"""rad; a step that would turn the frame further is shortened."""
Found = tuple[Array, Array, Mask]
"""Attitude (5, n), compressions (4, n) in mm, and where it has settled (n,)."""


def newton(
    springs: Springs,
    states: States,
    at: Attitude,
    steps: int,
    held: Mask | None = None,
) -> Found:
    """A fixed number of Newton steps from an attitude (n,), none turning the frame by more than LONGEST.

    held (4, n) says which tyres press on the road in the first step, whatever their compression there.
    """
    for _ in range(steps):
        made = step(springs, states, at, held)
        change, held = _tamed(made.change), None
        at = moved(at, change)
    return np.stack(at), after(change, made), rests(change, made)


def _tamed(change: Attitude) -> Attitude:
    """The step, shortened as a whole where it would turn the frame by more than LONGEST."""
    if max(float(np.abs(angle).max()) for angle in change[1:]) <= LONGEST:
        return change
    turn = np.max(np.abs(np.stack(change[1:])), axis=0)
    share = np.minimum(1.0, LONGEST / np.maximum(turn, 1e-9))
    return Attitude(*(share * value for value in change))


def after(change: Attitude, made: Step) -> Array:
    """Compressions (4, n) in mm that a change (n,) of the attitude of a step leads to, to first order."""
    height, pitch, roll, twist_front, twist_rear = change
    front = pressed(made.front, height, pitch, roll + twist_front)
    rear = pressed(made.rear, height, pitch, roll + twist_rear)
    return np.concatenate([front, rear])


def rests(change: Attitude, made: Step) -> Mask:
    """Where a change (n,) is that of a step which leads to a minimum, and moves no wheel any more."""
    height, *turns = change
    return made.sound & (np.abs(height) + ARM * sum(map(np.abs, turns)) < SETTLED)
