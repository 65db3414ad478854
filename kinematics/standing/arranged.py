"""A kart stood up to be read: shims and blocks under its wheels, a known weight on it, or its frame held.

The floor under a wheel may be higher than the rest and stays level, so that scales still read upright, and
gauges are held against a level floor. What is hung on or packed up comes after the kart is set up: a
toe that is set stays as it was set on the flat floor.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

import numpy as np
import numpy.typing as npt

from kinematics.batches import at_every_lock
from kinematics.frames import Array, Mask, Number, dot, mirror
from kinematics.lock import Sweep, rear_wheel_centres, sweep
from kinematics.parts import Kart, LoadCase, Masses, Setting
from kinematics.stance.equilibrium import Stance, road_of
from kinematics.standing.stand import stand, standing_corners

STANDING = LoadCase("standing")
SECANT_STEPS, CLOSE = 30, 1e-10
"""Rounds to find a handwheel angle by what a turn plate reads, rad."""
LIFT_ROUNDS = 12
"""Rounds to find the pull that takes a wheel off the road; each leaves a twentieth or so of the miss."""


@dataclass(frozen=True)
class Arrangement:
    """How a kart stands to be read."""

    packed: tuple[Number, Number, Number, Number] = (0.0, 0.0, 0.0, 0.0)
    """Of shims and blocks under the wheels, mm, in the order of `Kart.packed`."""
    hung: Masses = field(default_factory=Masses)
    """A known weight put on it."""
    case: LoadCase = STANDING
    """How hard it corners or brakes meanwhile: on a rig, or read off what somebody computed."""
    held: bool = False
    """Frame held level as it stands at rest, wheels free: nothing is weighed, nothing leans."""


@dataclass(frozen=True)
class Instruments:
    """What instruments show at handwheel angles; of two wheels (..., N, 2) left, right, of four (..., N, 4).

    Where known is False the linkage cannot stand there, or the kart tips, and nothing may be shown.
    """

    steer: Array
    """rad, + left at both wheels."""
    camber: Array
    """rad against a level floor, + top outward."""
    caster: Array
    """Of the kingpin, rad, + top rearward."""
    kingpin_inclination: Array
    """rad, + top inboard."""
    loads: Array
    """N, front left, front right, rear left, rear right; 0 where the frame is held."""
    clearance: Array
    """Of each wheel over what is under it, mm."""
    wheel_height: Array
    """Of each wheel's centre over the floor, mm."""
    twist: Array
    """(..., N) of the frame between the axles, rad, + front left side up against the rear."""
    known: Mask


def shown(
    kart: Kart, setting: Setting, handwheel: npt.ArrayLike, how: Arrangement | None = None
) -> Instruments:
    """What is read of a kart, or of many (...), at handwheel angles (N,) or (..., N) in rad, + left."""
    return shown_of(sweep(kart, setting, handwheel), how or Arrangement())


def shown_of(swept: Sweep, how: Arrangement) -> Instruments:
    """What is read of a kart that is swept already."""
    return _held(swept) if how.held else _standing(swept, how)


def arranged(swept: Sweep, how: Arrangement) -> tuple[Sweep, Stance]:
    """A swept kart put on its shims with its weight hung on, and how it stands there."""
    kart, hung = swept.kart, how.hung
    names = ("weight", "forward", "left", "up")
    added = Masses(*(getattr(kart.added, name) + getattr(hung, name) for name in names))
    swept = replace(swept, kart=replace(kart, added=added, packed=how.packed))
    return swept, stand(swept, how.case)


def _standing(swept: Sweep, how: Arrangement) -> Instruments:
    swept, stands = arranged(swept, how)
    left, right = standing_corners(swept, stands)
    pairs = [(one.steer, one.camber, one.caster, one.kingpin_inclination) for one in (left, right)]
    steer, camber, caster, inclination = (_both(*pair) for pair in zip(*pairs, strict=True))
    turned = steer * np.array([1.0, -1.0])
    known = swept.reach & ~stands.tips
    weighed = stands.loads, stands.clearance, _heights(swept, stands), stands.twist
    return Instruments(turned, camber, caster, inclination, *weighed, known)


def _held(swept: Sweep) -> Instruments:
    pairs = [
        (one.steer, one.camber, one.caster[..., None], one.kingpin_inclination[..., None])
        for one in (swept.left, swept.right)
    ]
    steer, camber, caster, inclination = (
        np.broadcast_to(_both(*pair), (*swept.reach.shape, 2)) for pair in zip(*pairs, strict=True)
    )
    none = np.zeros((*swept.reach.shape, 4))
    turned = steer * np.array([1.0, -1.0])
    return Instruments(turned, camber, caster, inclination, none, none, none, none[..., 0], swept.reach)


def _both(left: Array, right: Array) -> Array:
    return np.stack(np.broadcast_arrays(left, right), axis=-1)


def _heights(swept: Sweep, stands: Stance) -> Array:
    """Wheel centres (..., N, 4) over the floor, mm."""
    kart = at_every_lock(swept.kart)
    axis = np.asarray(kart.frame.axis_height)
    rear = rear_wheel_centres(swept.kart, swept.setting)
    front = swept.left.wheel_centre, mirror(swept.right.wheel_centre)
    below = stands.road_front, road_of(stands.pitch, stands.roll + stands.twist_rear)
    found = []
    for road, centres in zip(below, (front, [one[..., None, :] for one in rear]), strict=True):
        for centre in centres:
            found.append(stands.height + dot(centre, road.normal) - road.normal[..., 2] * axis)
    return np.stack(np.broadcast_arrays(*found), axis=-1)


def turned_to(
    kart: Kart, setting: Setting, wheel: int, steer: npt.ArrayLike, how: Arrangement | None = None
) -> tuple[Array, Mask]:
    """Handwheel angles (..., N) at which a front wheel (0 left, 1 right) shows these angles (N,) of steer.

    All rad, + left; and where there is such an angle short of the stop (..., N).
    """
    wanted, stop = np.asarray(steer, float), kart.column.stop

    def miss(theta: Array) -> Array:
        missed: Array = shown(kart, setting, theta, how).steer[..., wheel] - wanted
        return missed

    shape = miss(np.zeros_like(wanted)).shape
    before, theta = np.zeros(shape), np.broadcast_to(np.clip(wanted, -stop, stop), shape)
    missed_before, missed = np.broadcast_to(miss(before), shape), miss(theta)
    for _ in range(SECANT_STEPS):
        if np.all((np.abs(missed) < CLOSE) | (theta == before)):
            break
        rise = missed - missed_before
        step = np.where(rise == 0.0, 0.0, -missed * (theta - before) / np.where(rise == 0.0, 1.0, rise))
        before, missed_before = theta, missed
        theta = np.clip(theta + step, -stop, stop)
        missed = miss(theta)
    return theta, np.abs(missed) < 1e3 * CLOSE


def pull_to_lift(
    kart: Kart, setting: Setting, wheel: int, handwheel: npt.ArrayLike, how: Arrangement | None = None
) -> tuple[Array, Mask]:
    """The upward pull (..., 1) in N at a wheel's hub that just takes the wheel, counted as `Kart.packed`,
    off.

    handwheel (..., 1) is one angle of each kart, rad. The hand then holds what the floor would if it came up
    as far as a tyre gives that carries so much. And whether the kart can be read so.
    """
    how = how or Arrangement()
    swept = sweep(kart, setting, handwheel)
    tyre, packed = (kart.rear_tyre, kart.front_tyre)[wheel < 2], list[Number](how.packed)
    under, high = packed[wheel], np.zeros(swept.reach.shape[:-1])
    for _ in range(LIFT_ROUNDS):
        packed[wheel] = under + high
        _, stands = arranged(swept, replace(how, packed=tuple(packed)))  # type: ignore[arg-type]
        load = stands.loads[..., 0, wheel]
        before, high = high, load / tyre.stiffness
        if np.all(np.abs(high - before) < CLOSE * 1e3):
            break
    return load[..., None], swept.reach & ~stands.tips
