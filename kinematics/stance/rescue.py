"""The careful search for the few states that plain Newton steps do not settle.

More steps come first; nearly rigid tyres are approached by softer ones. What is still left descends on the
energy itself with damped steps. A kart that comes to rest nowhere tips.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

import numpy as np

from kinematics.frames import Array, Mask
from kinematics.stance.energy import energy
from kinematics.stance.newton import moved, step
from kinematics.stance.settling import Found, newton, rests
from kinematics.stance.slopes import Attitude
from kinematics.stance.springs import Springs, softened
from kinematics.stance.states import States
from kinematics.stance.tread import RIGID_TYRE

FALLEN = 0.6
"""rad: a kart that has rolled or pitched this far on its way is taken to tip over."""

MORE_STEPS = (3, 4, 8)
"""Newton steps added before a search is given up, in rounds that drop what has settled."""

LADDER = (1e3, 1e5, 1e7, RIGID_TYRE)
"""N/mm; tyres stiffer than the first are approached by these steps."""

HALF_STEPS = 14
"""Halved Newton steps, the last that is tried: they settle within a third of what whole ones overshoot."""

LIGHT = 1e-2
"""Damping, as a share of the tyres' stiffness, that shortens a step by next to nothing."""

DESCENTS = 4
"""Descents on the energy, one after the other, before a kart is told to tip."""


def finish(springs: Springs, states: States, at: Attitude, first: Attitude) -> Found:
    """Settle the hard states: more Newton steps, then, for what is left, descents on the energy.

    at is where the quick search ended and first where it began; the descents start from there.
    """
    found = np.stack(at), np.zeros((4, at.height.size)), np.zeros(at.height.size, dtype=bool)
    if softened(springs, LADDER[0]) is not springs:
        _retry(found, springs, states, np.stack(first), _climb)
    for steps in MORE_STEPS:
        _retry(found, springs, states, found[0], partial(newton, steps=steps))
    return _down(found, springs, states, np.stack(first))


def downhill(springs: Springs, states: States, near: Attitude) -> Found:
    """Settle where the kart comes to rest from an attitude (n,) near that place."""
    return _down(newton(springs, states, near, 5), springs, states, np.stack(near))


def _down(found: Found, springs: Springs, states: States, start: Array) -> Found:
    """Descend from start (5, n) what has not settled, and settle where whole Newton steps swing to and fro.

    A kart that leans far on two wheels is such: the steps leave out how its treads roll on.
    """
    start = np.where(found[2], found[0], start)
    for _ in range(DESCENTS):
        _retry(found, springs, states, start, _descended)
        start = found[0]
    _retry(found, springs, states, found[0], _halved)
    return found


Search = Callable[[Springs, States, Attitude], Found]


def _retry(found: Found, springs: Springs, states: States, start: Array, search: Search) -> None:
    """Search again, from start (5, n), for what has neither settled nor fallen; found is updated in place."""
    late = np.flatnonzero(~found[2] & ~_fallen(start))
    if late.size:
        some = search(springs.take(late), states.take(late), Attitude(*start[:, late]))
        for values, new in zip(found, some, strict=True):
            values[..., late] = new


def _fallen(at: Array) -> Mask:
    """Which attitudes (5, n) are those of a kart that has fallen over."""
    down: Mask = np.max(np.abs(at[1:3]), axis=0) > FALLEN
    return down


def _climb(springs: Springs, states: States, at: Attitude) -> Found:
    """Settle on soft tyres first, then on ever stiffer ones: which wheels stand is told early."""
    found = finish(softened(springs, LADDER[0]), states, at, at)
    for stiffness in LADDER[1:]:
        stiffer = softened(springs, stiffness)
        found = newton(stiffer, states, Attitude(*found[0]), 6, held=found[1] > 0.0)
    return found


def _descended(springs: Springs, states: States, at: Attitude) -> Found:
    at = _descend(springs, states, at)
    place, compression, settled = newton(springs, states, at, 4)
    return np.where(settled, place, np.stack(at)), compression, settled & ~_fallen(np.stack(at))


def _halved(springs: Springs, states: States, at: Attitude) -> Found:
    place, compression, settled = newton(springs, states, at, HALF_STEPS, share=0.5)
    return place, compression, settled & ~_fallen(place)


def _descend(springs: Springs, states: States, at: Attitude, steps: int = 60) -> Attitude:
    """Damped Newton steps, each taken only where it lowers the energy, until the kart rests or has fallen."""
    damping, done = np.zeros(at.height.size), np.zeros(at.height.size, dtype=bool)
    level = energy(springs, states, at)
    for _ in range(steps):
        made = step(springs, states, at, damping=damping)
        there = moved(at, made.change)
        standing = np.max(np.abs(np.stack(there[1:])), axis=0) < 2.0 * FALLEN
        there = Attitude(*(np.where(standing, new, old) for new, old in zip(there, at, strict=True)))
        below = energy(springs, states, there)
        better = made.sound & standing & (below <= level)
        at = Attitude(*(np.where(better, new, old) for new, old in zip(there, at, strict=True)))
        done |= (damping < LIGHT) & rests(made.change, made) | _fallen(np.stack(at))
        if done.all():
            break
        level = np.where(better, below, level)
        shorter = np.maximum(4.0 * damping, 1e-4)
        damping = np.where(better, np.where(damping > 1e-5, 0.2 * damping, 0.0), shorter)
    return at
