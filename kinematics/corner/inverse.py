"""From a wanted steering axis back to the clocks of a bush pair, in closed form.

The line through both holes runs along the neutral axis by the span and across it by the difference of the
two hole offsets. A wanted axis therefore asks for one difference vector in the plane square to the neutral
axis, and two arms of given length (the two offsets) reach a vector in two ways, or in none: the triangle
of the three lengths, and its mirror image. The two answers tilt the axis alike and shift it differently.

What a pair reaches is a ring of difference vectors, from the difference of the two offsets to their sum. An
axis with a given angle to the road lies on a straight line in that plane, so what is left of the other angle
is where the line crosses the ring.

Left-hand convention, mm and rad; where a shape is named, every argument may carry it and they broadcast.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from kinematics.corner.bush import seat_axes
from kinematics.frames import FLAT_ROAD, Array, Mask, Road, dot
from kinematics.parts import Yoke

Range = tuple[float, float]

REACH_PER_SPAN = 1e-9
"""A tilt vector this close to what the pair can reach, as a share of the span, counts as reached."""


@dataclass(frozen=True)
class PairClocks:
    """Both answers for a pair; the last axis of the clocks is the answer.

    Where reach is False no clocks give the wanted axis, and these are the ones that come nearest to it.
    """

    top_clock: Array
    """(..., 2) rad in 0..2 pi; 0 for a concentric bush, whose clock means nothing."""
    bottom_clock: Array
    """(..., 2)."""
    reach: Mask
    """(...)."""
    together: Mask
    """(...): equal offsets that cancel; any common clock does, and the clocks given are one of them."""
    wanted: Array
    """(...) mm: the difference of the hole offsets that the wanted axis asks for."""
    least: Array
    """(...) mm: the smallest difference that the pair can give."""
    most: Array
    """(...) mm: the largest."""


def tilt_vector(yoke: Yoke, k: npt.ArrayLike) -> Array:
    """Difference of the hole offsets, top less bottom, that gives the axis k (..., 3): (..., 2) in mm.

    Components forward and outboard in the plane square to the neutral axis.
    """
    k0, forward, outboard = seat_axes(yoke)
    across = np.stack([dot(k, forward), dot(k, outboard)], axis=-1)
    vector: Array = yoke.span * across / dot(k, k0)[..., None]
    return vector


def axis_for_angles(caster: npt.ArrayLike, inclination: npt.ArrayLike, road: Road = FLAT_ROAD) -> Array:
    """A vector (..., 3) up the axis with this caster and kingpin inclination (...) to the road, rad.

    It is not scaled to length one.
    """
    c, s = (np.tan(np.asarray(angle, float))[..., None] for angle in (caster, inclination))
    axis: Array = road.normal - c * road.heading - s * road.left
    return axis


def hole_vector(offset: npt.ArrayLike, clock: npt.ArrayLike) -> Array:
    """A hole's offset (...) in mm towards its clock (...) as forward and outboard components (..., 2)."""
    offset, clock = np.broadcast_arrays(np.asarray(offset, float), np.asarray(clock, float))
    vector: Array = offset[..., None] * np.stack([np.cos(clock), np.sin(clock)], axis=-1)
    return vector


def _clock(vector: Array, offset: Array) -> Array:
    clock = np.mod(np.arctan2(vector[..., 1], vector[..., 0]), 2.0 * np.pi)
    named: Array = np.where(offset > 0.0, np.where(clock >= 2.0 * np.pi, 0.0, clock), 0.0)
    return named


def _corner_angle(top: Array, bottom: Array, wanted: Array) -> Array:
    """Angle between the wanted vector and the top arm; 0 or pi when the triangle does not close.

    Twice the area comes from Heron's product, so no cosine has to be clipped.
    """
    least, most = top - bottom, top + bottom
    heron = (wanted + most) * (wanted + least) * (wanted - least) * (most - wanted)
    return np.arctan2(np.sqrt(np.maximum(heron, 0.0)), top * top + wanted * wanted - bottom * bottom)


def clocks_for_tilt(
    tilt: npt.ArrayLike, top_offset: npt.ArrayLike, bottom_offset: npt.ArrayLike, tolerance: float = 1e-7
) -> PairClocks:
    """Clocks at which hole offsets (...) in mm differ by the vector tilt (..., 2) in mm.

    The first answer has the top bush ahead in clock of the tilt, the second behind it. tolerance in mm is
    what still counts as reached.
    """
    tilt, top = np.asarray(tilt, float), np.asarray(top_offset, float)
    bottom = np.asarray(bottom_offset, float)
    top, bottom, ahead, out = np.broadcast_arrays(top, bottom, tilt[..., 0], tilt[..., 1])
    wanted = np.hypot(ahead, out)
    corner = _corner_angle(top, bottom, wanted)
    both = np.arctan2(out, ahead)[..., None] + np.stack([corner, -corner], axis=-1)
    top_vector = hole_vector(top[..., None], both)
    rest = top_vector - np.stack([ahead, out], axis=-1)[..., None, :]
    top_clock, bottom_clock = _clock(top_vector, top[..., None]), _clock(rest, bottom[..., None])
    least, most = np.abs(top - bottom), top + bottom
    reach = (wanted <= most + tolerance) & (wanted >= least - tolerance)
    together = reach & (wanted <= tolerance) & (top > tolerance)
    return PairClocks(top_clock, bottom_clock, reach, together, wanted, least, most)


def clocks_for_axis(
    yoke: Yoke, k: npt.ArrayLike, top_offset: npt.ArrayLike, bottom_offset: npt.ArrayLike
) -> PairClocks:
    """Clocks at which a pair of hole offsets (...) in mm puts the steering axis along k (..., 3)."""
    return clocks_for_tilt(tilt_vector(yoke, k), top_offset, bottom_offset, REACH_PER_SPAN * yoke.span)


def clocks_for_angles(
    yoke: Yoke,
    caster: npt.ArrayLike,
    kingpin_inclination: npt.ArrayLike,
    top_offset: npt.ArrayLike,
    bottom_offset: npt.ArrayLike = 0.0,
    road: Road = FLAT_ROAD,
) -> PairClocks:
    """Clocks at which a pair gives this caster and kingpin inclination (...) in rad to the road.

    One eccentric bush with a concentric one opposite (offset 0) reaches only a circle of axes: reach then
    says whether the wanted one lies on it, and the clocks are those of the nearest.
    """
    k = axis_for_angles(caster, kingpin_inclination, road)
    return clocks_for_axis(yoke, k, top_offset, bottom_offset)


def clocks_on_step(tilt: Array, top_offset: float, bottom_offset: float, step: float) -> Array:
    """Clocks in steps (rad) at which two hole offsets (mm) come nearest to the difference tilt (2,) in mm.

    The best with the top bush ahead in clock of the tilt and the best behind it, (1 or 2, 2): top and
    bottom, the nearer pair first. For each place of the top bush the bottom one's nearest is the step next
    to the direction of what is missing, so none is nearer.
    """
    top = np.arange(round(2.0 * np.pi / step)) * step if top_offset else np.zeros(1)
    arm = hole_vector(top_offset, top)
    rest = arm - tilt
    bottom = np.round(np.arctan2(rest[:, 1], rest[:, 0]) / step) * step if bottom_offset else np.zeros(1)
    missed = rest - hole_vector(bottom_offset, bottom)
    clocks = np.stack(np.broadcast_arrays(top, np.mod(bottom, 2.0 * np.pi)), axis=-1)
    miss = np.round(np.hypot(missed[:, 0], missed[:, 1]), 9)  # of pairs equally near the first is taken
    ahead = tilt[0] * arm[:, 1] - tilt[1] * arm[:, 0] >= 0.0
    best = [min(np.flatnonzero(side), key=miss.__getitem__) for side in (ahead, ~ahead) if side.any()]
    nearest: Array = clocks[sorted(best, key=miss.__getitem__)]
    return nearest


def _along(yoke: Yoke, direction: Array) -> tuple[float, float, float]:
    """How far axes reach along a direction (3,): at no tilt, and more per mm forward and outboard of tilt."""
    k0, forward, outboard = seat_axes(yoke)
    return (
        yoke.span * float(dot(k0, direction)),
        float(dot(forward, direction)),
        float(dot(outboard, direction)),
    )


def other_angle_in_reach(
    yoke: Yoke, ring: Range, held: Array, angle: float, free: Array, road: Road = FLAT_ROAD
) -> list[Range]:
    """What one angle of the axis to the road can be while the other is held: ranges in rad, lowest first.

    held and free are road.heading, in which caster is seen, and road.left, in which inclination is. ring is
    the least and the largest difference of the hole offsets, mm. Empty where the held angle is out of reach.
    """
    none, ahead, out = _along(yoke, held + np.tan(angle) * road.normal)
    slope = np.hypot(ahead, out)
    aside = abs(none) / slope
    if aside > ring[1] + REACH_PER_SPAN * yoke.span:
        return []
    near, far = (float(np.sqrt(max(edge * edge - aside * aside, 0.0))) for edge in ring)
    ways = [(-far, -near), (near, far)] if near else [(-far, far)]

    def seen(way: float) -> float:
        x, y = (-none * ahead / slope - way * out) / slope, (-none * out / slope + way * ahead) / slope
        across, up = (np.dot((1.0, x, y), _along(yoke, d)) for d in (free, road.normal))
        return float(np.arctan2(-across, up))

    return sorted((min(ends), max(ends)) for ends in ((seen(a), seen(b)) for a, b in ways))


def angle_in_reach(yoke: Yoke, most: float, free: Array, road: Road = FLAT_ROAD) -> Range:
    """The least and the largest angle of the axis to the road, seen along free (3,), that a pair gives, rad.

    There the line of axes with that angle just touches the ring's outer edge, most (mm) from its middle.
    """

    def form(u: Array, v: Array) -> float:
        (a, ax, ay), (b, bx, by) = _along(yoke, u), _along(yoke, v)
        return a * b - most * most * (ax * bx + ay * by)

    square, cross, rest = form(road.normal, road.normal), form(free, road.normal), form(free, free)
    root = np.sqrt(cross * cross - square * rest)
    low, high = (float(np.arctan((-cross + way * root) / square)) for way in (-1.0, 1.0))
    return low, high
