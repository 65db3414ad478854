"""What gauges, turn plates and four scales should read while the kart stands: one setting, driver seated.

Angles are taken to the road as the frame stands on it, rolled, pitched and twisted by its own weight, since
that is what a level floor shows a mechanic. Sides and turns are the kart's: + is to the left.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields

import numpy as np
import numpy.typing as npt

from kinematics.corner.pose import CornerSweep
from kinematics.frames import Array, Mask
from kinematics.lock import Sweep, positions, sweep
from kinematics.parts import Kart, LoadCase, Setting
from kinematics.standing.stand import StandingCorner, stand, standing_corners

STANDING = LoadCase("standing")
SECANT_STEPS = 30
STEER_TOLERANCE = 1e-9  # rad


@dataclass(frozen=True)
class Readings:
    """A standing kart at handwheel angles (N,); of two wheels (N, 2) left then right, of four (N, 4).

    Where known is False the linkage cannot stand there, or the kart tips, and nothing may be shown.
    """

    handwheel: Array
    """rad, + left."""
    steer: Array
    """(N, 2) rad, + left at both wheels."""
    camber: Array
    """(N, 2) rad, + top outward."""
    toe: Array
    """(N, 2) rad, + toe-in."""
    caster: Array
    """(N, 2) rad, + top rearward."""
    kingpin_inclination: Array
    """(N, 2) rad, + top inboard."""
    loads: Array
    """(N, 4) N, front left, front right, rear left, rear right."""
    ride_front: Array
    """(N,) mm, rise of the frame above the front axle since the reference stance."""
    ride_rear: Array
    """(N,) mm."""
    known: Mask


def readings(kart: Kart, setting: Setting, handwheel: npt.ArrayLike) -> Readings:
    """What is read with the handwheel held at angles (N,) in rad, + left; a setting without batch axes."""
    if setting.left.batch_shape or setting.right.batch_shape or np.shape(setting.rear_axle_shift):
        raise ValueError("readings are of one setting, not of a batch")
    swept = sweep(kart, setting, handwheel)
    stands = stand(swept, STANDING)
    sides = standing_corners(swept, stands)
    ride = (stands.ride_height_change_front, stands.ride_height_change_rear)
    return _read(swept, sides, stands.loads, ride, swept.reach & ~stands.tips)


def _standing_and_held(kart: Kart, setting: Setting, handwheel: Array) -> Readings:
    """The first half of the angles (N,) as the kart stands on its wheels, the second with its frame level.

    A kart held level has no loads to read, and no lean.
    """
    swept, half = sweep(kart, setting, handwheel), handwheel.size // 2
    first, second = positions(swept, slice(0, half)), positions(swept, slice(half, None))
    stands, none = stand(first, STANDING), np.zeros(half)
    ride = (stands.ride_height_change_front, stands.ride_height_change_rear)
    level = np.zeros((half, 4))
    free = _read(first, standing_corners(first, stands), stands.loads, ride, first.reach & ~stands.tips)
    held = _read(second, (second.left, second.right), level, (none, none), second.reach)
    parts = (np.concatenate([getattr(r, f.name) for r in (free, held)]) for f in fields(Readings))
    return Readings(*parts)


def _read(
    swept: Sweep,
    sides: tuple[StandingCorner, StandingCorner] | tuple[CornerSweep, CornerSweep],
    loads: Array,
    ride: tuple[Array, Array],
    known: Mask,
) -> Readings:
    """Readings of both corners, which come in their left-hand convention."""
    steer = np.stack([side.steer for side in sides], axis=-1)

    def both(angle: str) -> Array:
        pair = np.stack([getattr(side, angle) for side in sides], axis=-1)
        return np.broadcast_to(pair, steer.shape)

    return Readings(
        handwheel=swept.handwheel,
        steer=steer * np.array([1.0, -1.0]),
        camber=both("camber"),
        toe=-steer,
        caster=both("caster"),
        kingpin_inclination=both("kingpin_inclination"),
        loads=loads,
        ride_front=ride[0],
        ride_rear=ride[1],
        known=known,
    )


@dataclass(frozen=True)
class TurnPlates:
    """Each front wheel turned to the same road steer to the left and to the right: (2 wheels, 2 turns).

    First axis left and right wheel, second axis turned left and turned right.
    """

    handwheel: Array
    """rad, + left."""
    camber: Array
    """rad, + top outward."""
    known: Mask
    """False where the lock stop, the linkage or a tipping kart does not allow that steer."""

    @property
    def inside_less_outside(self) -> Array:
        """Camber as the inside wheel of a turn less camber as the outside wheel (2 wheels,), rad."""
        difference: Array = (self.camber[:, 0] - self.camber[:, 1]) * np.array([1.0, -1.0])
        return difference


def workshop_caster(plates: TurnPlates, steer: float) -> Array:
    """Caster (2 wheels,) in rad by the two-camber method: difference / (2 sin steer).

    1.4619 times the difference at 20 deg (January, Steering Geometry and Caster Measurement,
    SAE 850219, 1985). It leaves kingpin inclination out and so reads a little high on a kart.
    """
    caster: Array = plates.inside_less_outside / (2.0 * np.sin(steer))
    return caster


@dataclass(frozen=True)
class OnPlates:
    """A kart on turn plates: standing on its wheels, where it leans as lock goes on, and held level."""

    free: TurnPlates
    held: TurnPlates


def on_turn_plates(kart: Kart, setting: Setting, steers: Sequence[float]) -> list[OnPlates]:
    """Each front wheel at each road steer ±steer (rad, above 0), by a secant search for the handwheel angle.

    A camber gauge on the floor reads the lean of a kart that stands on its wheels; held level its frame stays
    to the floor of the reference stance. All steers, both ways, are searched side by side.
    """
    for steer in steers:
        if not 0.0 < steer < 0.5 * np.pi:
            raise ValueError(f"road steer must lie between 0 and 90 deg, not {np.degrees(steer):g}")
    stop, count = kart.column.stop, 2 * len(steers)
    wheel, row = np.tile([0, 0, 1, 1], count), np.arange(4 * count)
    wanted = np.tile(np.repeat(steers, 4) * np.tile([1.0, -1.0], 2 * len(steers)), 2)

    before, theta = np.zeros(wanted.size), np.clip(wanted, -stop, stop)
    there = _standing_and_held(kart, setting, before)
    missed_before = there.steer[row, wheel] - wanted
    there = _standing_and_held(kart, setting, theta)
    missed = there.steer[row, wheel] - wanted
    for _ in range(SECANT_STEPS):
        if np.all((np.abs(missed) < STEER_TOLERANCE) | (theta == before)):
            break  # found, or held at the stop
        rise = missed - missed_before
        step = np.where(rise == 0.0, 0.0, -missed * (theta - before) / np.where(rise == 0.0, 1.0, rise))
        before, missed_before = theta, missed
        theta = np.clip(theta + step, -stop, stop)
        there = _standing_and_held(kart, setting, theta)
        missed = there.steer[row, wheel] - wanted
    known = there.known & (np.abs(missed) < STEER_TOLERANCE)
    shape = (2, len(steers), 2, 2)
    angles, cambers, found = (a.reshape(shape) for a in (theta, there.camber[row, wheel], known))
    plates = [
        [TurnPlates(angles[i, k], cambers[i, k], found[i, k]) for k in range(len(steers))] for i in range(2)
    ]
    return [OnPlates(*both) for both in zip(*plates, strict=True)]
