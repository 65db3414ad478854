"""Bush pair to steering axis: where the two eccentric holes put the kingpin.

All in the left-hand convention, mm and rad; the numbers of a setting may carry any batch shape.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import pi, tau

import numpy as np
import numpy.typing as npt

from kinematics.frames import X_FORWARD, Array, Mask, Number, axis_direction, cross, dot, unit
from kinematics.parts import CornerSetting, Yoke

SAME_OFFSET = 1e-6
"""mm: hole offsets nearer than this are one size; a size rated in degrees comes back to within rounding."""
SAME_CLOCK = 1e-6
"""rad: clocks nearer than this are one clock."""


@dataclass(frozen=True)
class SteeringAxis:
    """A kingpin through both holes: unit direction k up the axis and the two hole centres, (..., 3)."""

    k: Array
    bottom: Array
    top: Array


def bush_offset(rated: npt.ArrayLike, span: Number) -> Array:
    """Hole offset in mm of a bush rated by the tilt in rad it gives alone (common practice, no source)."""
    offset: Array = span * np.tan(np.asarray(rated, float))
    return offset


def rated_size(offset: npt.ArrayLike, span: Number) -> Array:
    """The tilt in rad that a bush of this hole offset in mm gives alone: the inverse of bush_offset."""
    rated: Array = np.arctan2(np.asarray(offset, float), span)
    return rated


def same_size(offset: npt.ArrayLike, other: npt.ArrayLike) -> Mask:
    """Whether hole offsets (...) in mm are of the same size; it is the same bush, wherever it is fitted."""
    same: Mask = np.abs(np.asarray(offset, float) - np.asarray(other, float)) <= SAME_OFFSET
    return same


def same_clock(clock: npt.ArrayLike, other: npt.ArrayLike) -> Mask:
    """Whether clocks (...) in rad are the same, whole turns aside."""
    turn = np.asarray(clock, float) - np.asarray(other, float)
    same: Mask = np.abs((turn + pi) % tau - pi) <= SAME_CLOCK
    return same


def seat_axes(yoke: Yoke) -> tuple[Array, Array, Array]:
    """Neutral axis k0 up, and forward and outboard in the plane square to it, each (..., 3).

    Forward is vehicle x projected on that plane. These are the axes in which a clock is read.
    """
    k0 = axis_direction(yoke.caster, yoke.kingpin_inclination)
    forward = unit(X_FORWARD - dot(X_FORWARD, k0)[..., None] * k0)
    return k0, forward, cross(k0, forward)


def seat_centres(yoke: Yoke) -> tuple[Array, Array]:
    """Centres of the bottom and the top seat, mm, each (..., 3)."""
    half = 0.5 * np.asarray(yoke.span)[..., None] * axis_direction(yoke.caster, yoke.kingpin_inclination)
    centre = np.asarray(yoke.centre, float)
    return centre - half, centre + half


def hole_centre(yoke: Yoke, seat: Array, offset: npt.ArrayLike, clock: npt.ArrayLike) -> Array:
    """Centre of a bush's hole (..., 3) in mm: its seat's centre moved by offset towards clock, each (...)."""
    _, forward, outboard = seat_axes(yoke)
    offset, clock = np.broadcast_arrays(np.asarray(offset, float), np.asarray(clock, float))
    direction = np.cos(clock)[..., None] * forward + np.sin(clock)[..., None] * outboard
    centre: Array = seat + offset[..., None] * direction
    return centre


def steering_axis(yoke: Yoke, setting: CornerSetting) -> SteeringAxis:
    """The steering axis of a bush pair; batch shape that of the setting's bushes."""
    seat_bottom, seat_top = seat_centres(yoke)
    bottom = hole_centre(yoke, seat_bottom, setting.bottom_offset, setting.bottom_clock)
    top = hole_centre(yoke, seat_top, setting.top_offset, setting.top_clock)
    bottom, top = np.broadcast_arrays(bottom, top)
    return SteeringAxis(unit(top - bottom), bottom, top)
