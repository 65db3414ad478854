"""The careful search for the few states that plain Newton steps do not settle.

More steps come first; nearly rigid tyres are approached by softer ones. What is still left descends on the
energy itself with damped steps. A kart that comes to rest nowhere tips.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

import numpy as np
import numpy.typing as npt

from kinematics.frames import Array, Mask
from kinematics.stance.energy import energy
from kinematics.stance.newton import moved, step
from kinematics.stance.settling import Found, after, newton, rests
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

LIGHT = 1e-2
"""Damping, as a share of the tyres' stiffness, that shortens a step by next to nothing."""

ROUNDED = 16.0 * np.finfo(float).eps
"""Of the energy: what it may rise by in a step that only its rounding keeps from going down."""

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
    carried = _carried(springs, states, near)
    place, compression, _ = newton(springs, states, near, 1, held=carried)
    stays = ((compression > 0.0) == carried).all(axis=0)
    begin = _where(stays, Attitude(*place), near)
    return _down(newton(springs, states, begin, 4), springs, states, np.stack(near))


def _carried(springs: Springs, states: States, near: Attitude) -> Mask:
    """The wheels (4, n) taken to carry the kart: those on the road, and where there are two what comes down.

    On two wheels of a diagonal a kart is about to rock over, and a plain Newton step leads nowhere. A short
    one tells which way it rocks: the wheel that it brings nearer to the road is taken to be on it.
    """
    made = step(springs, states, near, damping=np.full(near.height.size, LIGHT))
    before = np.concatenate([made.front.compression, made.rear.compression])
    few = np.count_nonzero(before > 0.0, axis=0) < 3
    carried: Mask = (before > 0.0) | few & (after(made.change, made) > before)
    return carried


def _down(found: Found, springs: Springs, states: States, start: Array) -> Found:
    """Descend from start (5, n) what has not settled."""
    start = np.where(found[2], found[0], start)
    for _ in range(DESCENTS):
        _retry(found, springs, states, start, _descended)
        start = found[0]
    return found


Rows = npt.NDArray[np.intp]
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


def _descend(springs: Springs, states: States, at: Attitude, steps: int = 60) -> Attitude:
    """Damped Newton steps, each taken only where it lowers the energy, until the kart rests or has fallen.

    Where a step that was not taken puts other tyres on the road, the next one counts on these: else a stiff
    tyre that comes down is met over and over, a shorter step each time.
    """
    damping, done = np.zeros(at.height.size), np.zeros(at.height.size, dtype=bool)
    level, compression = energy(springs, states, at)
    press = compression > 0.0
    counted_on, again = press, done
    for left in range(steps, 0, -1):
        made = step(springs, states, at, counted_on, damping)
        there = moved(at, made.change)
        standing = np.max(np.abs(np.stack(there[1:])), axis=0) < 2.0 * FALLEN
        there = _where(standing, there, at)
        below, compression = energy(springs, states, there)
        down = compression > 0.0
        better = made.sound & standing & (below <= level + ROUNDED * np.abs(level))
        at = _where(better, there, at)
        done |= ~again & (damping < LIGHT) & rests(made.change, made) | _fallen(np.stack(at))
        late = np.flatnonzero(~done)
        if 2 * late.size <= done.size:
            return _with_the_rest(springs, states, at, late, left - 1)
        level, press = np.where(better, below, level), np.where(better, down, press)
        again = ~better & standing & ~again & (down != press).any(axis=0)
        counted_on = np.where(again, down, press)
        shorter = np.where(again, damping, np.maximum(4.0 * damping, 1e-4))
        damping = np.where(better, np.where(damping > 1e-5, 0.2 * damping, 0.0), shorter)
    return at


def _with_the_rest(springs: Springs, states: States, at: Attitude, late: Rows, steps: int) -> Attitude:
    """The attitudes (n,) once the late ones of them, on their own, have made their last steps."""
    if not (late.size and steps):
        return at
    found = np.stack(at)
    found[:, late] = _descend(springs.take(late), states.take(late), Attitude(*found[:, late]), steps)
    return Attitude(*found)


def _where(new: Mask, one: Attitude, other: Attitude) -> Attitude:
    return Attitude(*(np.where(new, a, b) for a, b in zip(one, other, strict=True)))
