"""Camera presets, placed from the parts themselves."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import numpy.typing as npt

from kinematics.corner.bush import seat_axes
from kinematics.corner.pose import CornerSweep
from kinematics.frames import Array, Vector
from kinematics.lock import Sweep
from kinematics.parts import Corner, Kart
from viz.scene.data import Camera

VIEW_ANGLE = 28.0
"""Vertical field of a perspective view, degrees."""


def presets(sweep: Sweep, whole: bool) -> dict[str, Camera]:
    """Named views: overview, front, side, top, kingpin (down the left neutral axis) and contact patch."""
    kart, corner = sweep.kart, sweep.kart.left
    hub, yoke = np.asarray(corner.stub.wheel_centre, float), np.asarray(corner.yoke.centre, float)
    k0, forward, outboard = seat_axes(corner.yoke)
    middle = np.array([0.5 * kart.wheelbase if whole else hub[0] - 110.0, 0.0, 175.0])
    front, side = np.array([hub[0], 0.0, 205.0]), np.array([middle[0], 0.0, 205.0])
    back, half = (3900.0 if whole else 2400.0), 0.5 * kart.front_track
    road = np.array([yoke[0], 0.5 * (yoke[1] + hub[1]), 55.0])
    patch, pin = np.array([600.0, -360.0, 190.0]), yoke + 460.0 * k0 + 120.0 * forward - 90.0 * outboard
    x, y, z = 3000.0 * np.eye(3)
    return {
        "overview": _camera(middle + back * np.array([0.72, 0.34, 0.56]), middle),
        "front": _camera(front + x, front, parallel=0.62 * half + 80.0),
        "side": _camera(side + y, side, parallel=500.0 if whole else 420.0),
        "top": _camera(middle + z, middle, (1.0, 0.0, 0.0), parallel=half + 80.0),
        "bushes_left": _bushes(sweep.left, 1.0),
        "bushes_right": _bushes(sweep.right, -1.0),
        "kingpin": replace(_camera(pin, yoke + 20.0 * k0, tuple(forward)), rides="yoke_left"),
        "contact": _camera(road + patch, road),
    }


def standing_presets(sweep: Sweep) -> dict[str, Camera]:
    """Named views of a kart that stands whole with its load arrows: those of presets, further off."""
    kart = sweep.kart
    half = 0.5 * max(kart.front_track, kart.rear_track) + 240.0
    length = kart.wheelbase + kart.front_tyre.radius + kart.rear_tyre.radius
    middle = np.array([0.5 * kart.wheelbase + 40.0, 0.0, 150.0])
    x, y, z = 4000.0 * np.eye(3)
    height = np.array([0.0, 0.0, 240.0])
    return {
        **presets(sweep, whole=True),
        "overview": _camera(middle + 4700.0 * np.array([0.70, 0.40, 0.50]), middle),
        "front": _camera(height + x + 0.08 * z, height, parallel=0.68 * half),
        "side": _camera(middle + y + 0.22 * z, middle, parallel=0.44 * length),
        "top": _camera(middle + z, middle, (1.0, 0.0, 0.0), parallel=0.8 * length),
    }


def rocking(kart: Kart, side: float) -> Camera:
    """Low behind a rear wheel, the left one for side 1, the right one for -1; the whole kart in sight."""
    mirror = np.array([1.0, side, 1.0])
    focus = np.array([0.46 * kart.wheelbase, 60.0, 235.0])
    return _camera(np.array([-1750.0, 0.5 * kart.rear_track + 1800.0, 780.0]) * mirror, focus * mirror)


def beside(sweep: Sweep) -> Camera:
    """From outboard of the left front corner, a little from ahead and above: caster leans to the right."""
    yoke = np.asarray(sweep.kart.left.yoke.centre, float)
    focus = yoke + np.array([0.0, 90.0, -20.0])
    return _camera(focus + np.array([270.0, 700.0, 250.0]), focus)


def above(kart: Kart) -> Camera:
    """On the left front corner from above, forward up."""
    middle = np.asarray(kart.left.stub.wheel_centre, float) - [20.0, 50.0, 0.0]
    return _camera(middle + np.array([0.0, 0.0, 3000.0]), middle, (1.0, 0.0, 0.0), parallel=140.0)


def from_behind(kart: Kart) -> Camera:
    """From behind and well above: the four loads stand apart."""
    focus = np.array([0.42 * kart.wheelbase, 0.0, 150.0])
    return _camera(focus + np.array([-2700.0, 0.0, 1750.0]), focus)


def at_the_yoke(corner: Corner) -> Camera:
    """Close to a left yoke, from outboard and ahead and a little above."""
    yoke = np.asarray(corner.yoke.centre, float)
    return _camera(yoke + np.array([125.0, 315.0, 160.0]), yoke)


def _bushes(corner: CornerSweep, side: float) -> Camera:
    """Along the neutral axis from above, vehicle forward up; side is -1 for the right corner."""
    yoke, mirror = np.asarray(corner.corner.yoke.centre, float), np.array([1.0, side, 1.0])
    k0, forward, _ = seat_axes(corner.corner.yoke)
    made = _camera((yoke + 300.0 * k0) * mirror, yoke * mirror, tuple(forward * mirror), parallel=44.0)
    return replace(made, rides="yoke_left" if side > 0.0 else "yoke_right")


def _camera(
    position: Array, focus: Array, up: tuple[float, ...] = (0.0, 0.0, 1.0), parallel: float = 0.0
) -> Camera:
    return Camera(_three(position), _three(focus), _three(up), parallel)


def _three(vector: npt.ArrayLike) -> Vector:
    x, y, z = (float(v) for v in np.asarray(vector))
    return x, y, z
