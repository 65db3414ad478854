"""One resting place followed through lock.

A stiff kart with one wheel in the air may rest on either of two: like a table on uneven ground it rocks about
the diagonal that carries it. Turned from straight ahead it stays on the wheel that it rests on until that one
carries nothing, and then falls over to the other. So where there may be two resting places the kart is led
there from straight ahead in small turns of the handwheel, each searched from where the one before rests; all
karts, settings and ways are led at once, and only those in doubt.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, fields, replace
from typing import Any

import numpy as np
import numpy.typing as npt

from kinematics.batches import at_every_lock, rows
from kinematics.frames import Array, Mask, mirror
from kinematics.lock import Sweep, sweep
from kinematics.parts import Kart
from kinematics.stance.equilibrium import RL, Floor, Stance, equilibrium
from kinematics.stance.slopes import Attitude

Rows = npt.NDArray[np.intp]
Lateral = Callable[[Sweep, Rows, Array], Array]
"""Lateral acceleration (n, N) in g of a sweep (n, N) whose settings are these of a batch, counted through,
that turns these ways from straight ahead (n, 1): 1 to the left, -1 to the right."""
MARGIN = 1.2
"""A second resting place is looked for at this many times the load that a rigid kart rocks over with."""
STEP = np.radians(1.5)
"""Of handwheel, from one position on the way to the next: the same whatever is asked for."""
HALVINGS = 6
"""Of the step in which it falls: its angle is told to 0.025 deg."""
FELL = 0.2
"""mm; a wheel that comes down or goes up so far, and no less in an ever smaller turn, has fallen."""


def followed(swept: Sweep, standing: Stance, lateral: Lateral) -> Stance:
    """The stance (..., N) with each position in the resting place that it comes to from straight ahead.

    standing is what was found at each position by itself; it stays wherever there can be no other.
    """
    doubtful = swept.reach & _may_rest_twice(standing)
    if not doubtful.any():
        return standing
    batch, count = doubtful.shape[:-1], doubtful.shape[-1]
    doubt, down = doubtful.reshape(-1, count), _fallen(standing).reshape(-1, count)
    which = np.flatnonzero(doubt.any(axis=-1))
    across, along = (g.reshape(-1, count)[which] for g in (standing.lateral_g, standing.longitudinal_g))
    case = _Case(swept, batch, lateral, which, along[:, :1])
    handwheel = np.broadcast_to(swept.handwheel, doubtful.shape).reshape(-1, count)[which]
    every = np.arange(which.size)
    near, fell = _led(case, handwheel, doubt[which])
    there = case.placed(every, handwheel, across)
    found = case.stood(every, there, near)
    better = doubt[which] & (down[which] | ~_fallen(found))
    found = replace(found, rests_twice=_apart(found, case.stood(every, there, _rocked(found))))

    def put(name: str) -> Any:
        own, new = getattr(standing, name), getattr(found, name)
        whole = own.reshape(-1, count, *own.shape[len(batch) + 1 :]).copy()
        whole[which] = np.where(better.reshape(*better.shape, *[1] * (new.ndim - 2)), new, whole[which])
        return whole.reshape(own.shape)

    names = [f.name for f in fields(standing) if f.name not in ("kart", "fell_at")]
    fell_at = standing.fell_at.reshape(-1, count).copy()
    fell_at[which] = fell
    return replace(standing, **{name: put(name) for name in names}, fell_at=fell_at.reshape(doubtful.shape))


def _may_rest_twice(standing: Stance) -> Mask:
    """Where a kart (...) may have another resting place than the one found.

    Rocked over the diagonal that carries it until the wheel in the air comes down, a rigid kart stays there
    when its centre of gravity, leaning with it, crosses that diagonal: when the other light wheel carries no
    more than weight · height · clearance / distance of a wheel from the diagonal, squared. Treads that are
    wide or round let it have fewer: 0.72 of that load was the most at which there were two.
    """
    long, wide = np.asarray(standing.kart.wheelbase), np.asarray(standing.kart.rear_track)
    away = (long * wide) ** 2 / (long**2 + wide**2)
    rocks = np.sum(standing.loads, axis=-1) * standing.kart.cog_height / away
    light = standing.loads[..., ::-1] < MARGIN * rocks[..., None] * standing.clearance
    may: Mask = np.any(light, axis=-1)
    return may


def _rocked(standing: Stance) -> Attitude:
    """Rocked over the diagonal that carries it (...) until the wheel highest in the air is on the road."""
    kart, wheel = standing.kart, np.argmax(standing.clearance, axis=-1)
    air = np.max(standing.clearance, axis=-1)
    down = np.where(wheel < RL, -air, air)  # of the rear end against the front
    to_right = np.where(wheel % 2 == 0, -air, air)
    return standing.attitude._replace(
        height=standing.height - 0.5 * down,
        pitch=standing.pitch - down / kart.wheelbase,
        roll=standing.roll + to_right / kart.rear_track,
    )


def _apart(one: Stance, other: Stance) -> Mask:
    """Where both are resting places (...), and not the same one."""
    leap = np.abs(one.clearance - other.clearance).max(axis=-1)
    twice: Mask = ~_fallen(one) & ~_fallen(other) & (leap > FELL)
    return twice


Placed = tuple[Array, ...]
"""What `equilibrium` asks for at lock positions (n, N), the floor's two depths last."""


@dataclass(frozen=True)
class _Case:
    """Settings (n,) of a sweep's batch in a load case, to be stood at any handwheel angles."""

    whole: Sweep
    batch: tuple[int, ...]
    lateral: Lateral
    which: Rows
    longitudinal: Array
    """(n, 1) in g."""

    def swept(self, some: Rows, handwheel: Array) -> Sweep:
        """Some of the settings (m,) at angles (m, N)."""
        which = self.which[some]
        kart, setting = rows(self.whole.kart, self.batch, which), rows(self.whole.setting, self.batch, which)
        return sweep(kart, setting, handwheel)

    def placed(self, some: Rows, handwheel: Array, lateral: Array) -> Placed:
        """Wheels, accelerations and floor at angles (m, N), under lateral accelerations (m, N) in g."""
        return self._placed(some, self.swept(some, handwheel), lateral)

    def on_the_way(self, some: Rows, handwheel: Array, way: Array) -> tuple[Placed, Mask]:
        """The same on the way from straight ahead to these sides (m, 1): 1 to the left, -1 to the right.

        And where the linkage reaches (m, N).
        """
        swept = self.swept(some, handwheel)
        return self._placed(some, swept, self.lateral(swept, self.which[some], way)), swept.reach

    def _placed(self, some: Rows, swept: Sweep, lateral: Array) -> Placed:
        given, shape = placed(swept, lateral, self.longitudinal[some]), swept.handwheel.shape
        return tuple(np.broadcast_to(one, (*shape, *[3][: i < 4])) for i, one in enumerate(given))

    def stood(self, some: Rows, there: Placed, near: Attitude | None = None) -> Stance:
        """On the road (m, N), searched from an attitude (m, N)."""
        kart = at_every_lock(rows(self.whole.kart, self.batch, self.which[some]))
        return on_the_road(kart, there, near)


def on_the_road(kart: Kart, there: Placed, near: Attitude | None = None) -> Stance:
    """How the kart stands so placed, searched from an attitude (..., N) if there is one."""
    left, spin_left, right, spin_right, shift, lateral, along, *floor = there
    wheels = left, spin_left, right, spin_right
    return equilibrium(kart, *wheels, shift, lateral, along, Floor(*floor), near)


def placed(swept: Sweep, lateral: npt.ArrayLike, longitudinal: npt.ArrayLike) -> Placed:
    """A swept kart as `equilibrium` asks for it, under accelerations in g that broadcast with (..., N)."""
    left, right = swept.left, swept.right
    numbers = swept.setting.rear_axle_shift, *swept.rest.floor
    shift, *floor = (np.asarray(one, float)[..., None] for one in numbers)
    wheels = left.wheel_centre, left.spin, mirror(right.wheel_centre), mirror(right.spin)
    return *wheels, shift, np.asarray(lateral), np.asarray(longitudinal), *floor


def _led(case: _Case, handwheel: Array, doubt: Mask) -> tuple[Attitude, Array]:
    """Led from straight ahead to angles (n, N): an attitude near each, and where it fell over on the way."""
    right = np.where(handwheel < 0.0, 1, 0)
    far = np.stack([np.max(np.abs(handwheel) * (doubt & (right == way)), axis=-1) for way in (0, 1)], axis=-1)
    at, fell = _walked(case, np.repeat(np.arange(len(far)), 2), (far * [1.0, -1.0]).ravel())
    walk = 2 * np.arange(len(far))[:, None] + right
    node = np.minimum(np.abs(handwheel) / STEP + 1e-6, at.shape[-1] - 1).astype(np.intp)
    passed = np.abs(handwheel) >= np.abs(fell[walk])
    return Attitude(*at[:, walk, node]), np.where(passed, fell[walk], np.inf)


def _walked(case: _Case, some: Rows, ends: Array) -> tuple[Array, Array]:
    """Attitudes (5, n, steps) on the way out to handwheel angles (n,), and where each first fell, or inf.

    A way ends where the linkage binds, or the kart falls and rests nowhere.
    """
    steps = STEP * np.arange(int(np.ceil(np.max(np.abs(ends)) / STEP)) + 1)
    angles = np.sign(ends)[:, None] * np.minimum(steps, np.abs(ends)[:, None])
    to = np.where(ends < 0.0, -1.0, 1.0)[:, None]
    way, reach = case.on_the_way(some, angles, to)
    last = case.stood(some, tuple(one[:, :1] for one in way))
    at, air = np.repeat(np.stack(last.attitude), steps.size, axis=-1), last.clearance[:, 0] > 0.0
    going = np.flatnonzero(~_fallen(last)[:, 0])
    over: list[tuple[Rows, int]] = []
    for i in range(1, steps.size):
        going = going[reach[going, i] & (angles[going, i] != angles[going, i - 1])]
        if not going.size:
            break
        here = case.stood(some[going], tuple(one[going, i : i + 1] for one in way), _from(at, going, i - 1))
        now = here.clearance[:, 0] > 0.0
        rests = ~_fallen(here)[:, 0]
        over.append((going[rests & (now != air[going]).any(axis=-1)], i))
        at[:, going, i:], air[going] = np.stack(here.attitude), now
        going = going[rests]
    return at, _falls(case, some, angles, at, over)


def _falls(case: _Case, some: Rows, angles: Array, at: Array, over: list[tuple[Rows, int]]) -> Array:
    """Where each of the ways (n,) first falls, or inf: over says in which steps it may."""
    first = np.full(some.size, np.inf)
    if not any(which.size for which, _ in over):
        return first
    which = np.concatenate([ways for ways, _ in over])
    step = np.concatenate([np.full(ways.size, i) for ways, i in over])
    between = np.stack([angles[which, step - 1], angles[which, step]], axis=-1)
    found = _narrowed(case, some[which], between, Attitude(*at[:, which, step - 1, None]))
    np.minimum.at(first, which, np.abs(found))
    return first * np.where(angles[:, -1] < 0.0, -1.0, 1.0)


def _from(at: Array, which: Rows, i: int) -> Attitude:
    return Attitude(*at[:, which, i : i + 1])


def _fallen(standing: Stance) -> Mask:
    """Where it rests nowhere (...)."""
    fallen: Mask = standing.tips & ~standing.on_two_wheels
    return fallen


def _narrowed(case: _Case, some: Rows, between: Array, near: Attitude) -> Array:
    """The handwheel angle (n,) between two (n, 2) where a wheel falls; inf where it comes down by and by."""
    angles = np.linspace(between[:, 0], between[:, 1], 2**HALVINGS + 1, axis=-1)
    every, to = np.arange(some.size), np.where(between[:, 1:] < 0.0, -1.0, 1.0)

    def clear(place: Rows, start: Attitude) -> tuple[Array, Attitude]:
        here = case.stood(some, case.on_the_way(some, angles[every, place][:, None], to)[0], start)
        return here.clearance[:, 0], here.attitude

    low, high = np.zeros_like(some), np.full_like(some, 2**HALVINGS)
    (before, at), (after, _) = clear(low, near), clear(high, near)
    apart = []
    for _ in range(HALVINGS):
        middle = (low + high) // 2
        now, there = clear(middle, at)
        past = np.abs(now - before).max(axis=-1) > np.abs(now - after).max(axis=-1)
        low, high = np.where(past, low, middle), np.where(past, middle, high)
        before, after = np.where(past[:, None], before, now), np.where(past[:, None], now, after)
        at = Attitude(*(np.where(past[:, None], a, b) for a, b in zip(at, there, strict=True)))
        apart.append(np.abs(before - after).max(axis=-1))
    falls = (apart[-1] > FELL) & (apart[-1] > 0.5 * apart[HALVINGS // 2 - 1])
    return np.where(falls, angles[every, high], np.inf)
