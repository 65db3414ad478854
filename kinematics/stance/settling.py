"""Newton's search for the place where a block of states rests.

A tread that is flat, or nearly, makes the energy a valley with a kink where the tyre lies flat. A step that
would cross the kink is followed by one with the rounded edge's curvature, so that the search can end in it.
"""

from __future__ import annotations

import numpy as np

from kinematics.frames import Array, Mask
from kinematics.stance.newton import States, Step, moved, step
from kinematics.stance.slopes import Attitude, Axle, Hints, pressed
from kinematics.stance.springs import Springs, Tread

SETTLED = 1e-7
"""mm at the wheels: a Newton step this small ends the search; the error it leaves is far smaller."""
ARM = 500.0
"""mm: turns of the frame count as the movement of a wheel this far from its axis."""
LONGEST = 0.2
"""rad; a step that would turn the frame further is shortened."""
KINKED = 0.02
"""A tread whose support point reaches the shoulder within this sine of camber is searched as kinked."""
Found = tuple[Array, Array, Mask]
"""Attitude (5, n), compressions (4, n) in mm, and where it has settled (n,)."""


def newton(springs: Springs, states: States, at: Attitude, steps: int, held: Mask | None = None) -> Found:
    """A fixed number of Newton steps from an attitude (n,), none turning the frame by more than LONGEST.

    held (4, n) says which tyres press on the road in the first step, whatever their compression there.
    """
    hints = _no_hints(springs, at)
    if held is not None:
        hints = hints[0]._replace(held=held[:2]), hints[1]._replace(held=held[2:])
    for _ in range(steps):
        made = step(springs, states, at, hints)
        change = _tamed(made.change)
        hints = _next_hints(springs, made, change, hints)
        at = moved(at, change)
    return _found(at, change, made)


def _tamed(change: Attitude) -> Attitude:
    """The step, shortened as a whole where it would turn the frame by more than LONGEST."""
    if max(float(np.abs(angle).max()) for angle in change[1:]) <= LONGEST:
        return change
    turn = np.max(np.abs(np.stack(change[1:])), axis=0)
    share = np.minimum(1.0, LONGEST / np.maximum(turn, 1e-9))
    return Attitude(*(share * value for value in change))


def _found(at: Attitude, change: Attitude, made: Step) -> Found:
    height, pitch, roll, twist_front, twist_rear = change
    front = pressed(made.front, height, pitch, roll + twist_front)
    rear = pressed(made.rear, height, pitch, roll + twist_rear)
    compression = np.concatenate([front, rear])
    moves = np.abs(height) + ARM * (np.abs(pitch) + np.abs(roll) + np.abs(twist_front) + np.abs(twist_rear))
    return np.stack(at), compression, made.sound & (moves < SETTLED)


def _kinked(tread: Tread) -> bool:
    return 0.0 < tread.turn < KINKED


def _no_hints(springs: Springs, at: Attitude) -> tuple[Hints, Hints]:
    count = at.height.size
    front = np.zeros((2, count), dtype=bool) if _kinked(springs.front) else None
    return Hints(front), Hints(np.zeros(count, dtype=bool) if _kinked(springs.rear) else None)


def _next_hints(
    springs: Springs, made: Step, change: Attitude, hints: tuple[Hints, Hints]
) -> tuple[Hints, Hints]:
    front, rear = change.roll + change.twist_front, change.roll + change.twist_rear
    return (
        Hints(_laid(springs.front, made.front, change.pitch, front, hints[0].stuck)),
        Hints(_laid(springs.rear, made.rear, change.pitch, rear, hints[1].stuck)),
    )


def _laid(tread: Tread, axle: Axle, pitch: Array, roll: Array, stuck: Mask | None) -> Mask | None:
    """Which tyres the next step lays flat: those whose step crossed the kink, or that still lie in it."""
    if stuck is None:
        return None
    before, after = axle.sine, axle.sine + axle.sine_p * pitch + axle.sine_a * roll
    beyond = np.abs(after) > tread.turn
    crossed = beyond & (np.abs(before) > tread.turn) & (before * after < 0.0)
    return np.where(stuck, ~beyond, crossed)
