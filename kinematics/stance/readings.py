"""What gauges, turn plates and four scales should read while the kart stands: one setting, driver seated.

Angles are taken to the road as the frame stands on it, rolled, pitched and twisted by its own weight, since
that is what a level floor shows a mechanic. Sides and turns are the kart's: + is to the left.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from kinematics.frames import Array
from kinematics.lock import CornerSweep, Mask, Sweep, sweep
from kinematics.parts import Kart, LoadCase, Setting
from kinematics.stance.standing import StandingCorner, stance, standing_corners

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
    stands = stance(swept, STANDING)
    sides = standing_corners(swept, stands)
    ride = (stands.ride_height_change_front, stands.ride_height_change_rear)
    return _read(swept, sides, stands.loads, ride, swept.reach & ~stands.tips)


def _held(kart: Kart, setting: Setting, handwheel: Array) -> Readings:
    """The same with the frame held level: no loads to read, and no lean."""
    swept = sweep(kart, setting, handwheel)
    none = np.zeros(swept.handwheel.shape)
    return _read(swept, (swept.left, swept.right), np.stack([none] * 4, axis=-1), (none, none), swept.reach)


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


def on_turn_plates(kart: Kart, setting: Setting, steer: float, held: bool = False) -> TurnPlates:
    """Each front wheel at road steer ±steer (rad, above 0), by a secant search for the handwheel angle.

    The kart stands on its wheels and leans as lock goes on, unless its frame is held level to the floor of
    the reference stance: a camber gauge on the floor reads that lean too.
    """
    if not 0.0 < steer < 0.5 * np.pi:
        raise ValueError(f"road steer must lie between 0 and 90 deg, not {np.degrees(steer):g}")
    stop, wheel = kart.column.stop, np.array([0, 0, 1, 1])
    wanted, row = steer * np.array([1.0, -1.0, 1.0, -1.0]), np.arange(4)

    def read(theta: Array) -> Readings:
        return _held(kart, setting, theta) if held else readings(kart, setting, theta)

    def miss(theta: Array) -> Array:
        missed: Array = read(theta).steer[row, wheel] - wanted
        return missed

    before, theta = np.zeros(4), np.clip(wanted, -stop, stop)
    missed_before, missed = miss(before), miss(theta)
    for _ in range(SECANT_STEPS):
        if np.all((np.abs(missed) < STEER_TOLERANCE) | (theta == before)):
            break  # found, or held at the stop
        rise = missed - missed_before
        step = np.where(rise == 0.0, 0.0, -missed * (theta - before) / np.where(rise == 0.0, 1.0, rise))
        before, missed_before = theta, missed
        theta = np.clip(theta + step, -stop, stop)
        missed = miss(theta)
    there = read(theta)
    known = there.known & (np.abs(missed) < STEER_TOLERANCE)
    return TurnPlates(theta.reshape(2, 2), there.camber[row, wheel].reshape(2, 2), known.reshape(2, 2))
