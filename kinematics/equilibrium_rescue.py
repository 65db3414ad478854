"""The careful search for the few states that plain Newton steps do not settle.

More steps come first. What is still left descends on the energy itself with damped steps, flat treads
rounded widely at first and then less and less. A kart that finds no resting place on three wheels tips.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from kinematics.equilibrium_energy import energy
from kinematics.equilibrium_model import Springs, rounded
from kinematics.equilibrium_search import Found, newton
from kinematics.equilibrium_step import States, moved, step
from kinematics.equilibrium_terms import Attitude, Mask

FALLEN = 0.6
"""rad: a kart that has rolled or pitched this far on its way is taken to tip over."""


def finish(springs: Springs, states: States, at: Attitude, first: Attitude) -> Found:
    """Settle the hard states: more Newton steps, then, for what is left, descent on the energy."""
    near = np.max(np.abs(np.stack(at[1:])), axis=0) < FALLEN
    at = Attitude(*(np.where(near, a, b) for a, b in zip(at, first, strict=True)))
    place, compression, settled = newton(springs, states, at, 12)
    late = np.flatnonzero(~settled)
    if late.size:
        some = states.take(late)
        start = Attitude(*(value[late] for value in first))
        place[:, late], compression[:, late], settled[late] = _rescue(springs, some, start)
    return place, compression, settled


def _rescue(springs: Springs, states: States, at: Attitude) -> Found:
    fallen = np.zeros(at.height.size, dtype=bool)
    for turn in (0.1, 1e-3, 1e-5, 0.0):
        softer = replace(springs, front=rounded(springs.front, turn), rear=rounded(springs.rear, turn))
        if turn == 0.0 or (softer.front, softer.rear) != (springs.front, springs.rear):
            at, fell = _descend(softer, states, at)
            fallen |= fell
    place, compression, settled = newton(springs, states, at, 4)
    return place, compression, settled & ~fallen


def _descend(springs: Springs, states: States, at: Attitude, steps: int = 60) -> tuple[Attitude, Mask]:
    """Damped Newton steps, each taken only where it lowers the energy; also which karts fall over."""
    damping = np.zeros(at.height.size)
    level = energy(springs, *states[:2], at, *states[2:])
    for _ in range(steps):
        made = step(springs, states, at, damping=damping)
        there = moved(at, made.change)
        standing = np.max(np.abs(np.stack(there[1:])), axis=0) < 2.0 * FALLEN
        there = Attitude(*(np.where(standing, new, old) for new, old in zip(there, at, strict=True)))
        below = energy(springs, *states[:2], there, *states[2:])
        better = made.sound & standing & (below <= level)
        at = Attitude(*(np.where(better, new, old) for new, old in zip(there, at, strict=True)))
        level = np.where(better, below, level)
        shorter = np.maximum(4.0 * damping, 1e-4)
        damping = np.where(better, np.where(damping > 1e-5, 0.2 * damping, 0.0), shorter)
    return at, np.max(np.abs(np.stack(at[1:3])), axis=0) > FALLEN
