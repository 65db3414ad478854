"""A slow twin of the chain, one pose at a time: SciPy's rotations, and a root search for every position.

It shares nothing with the code under test but the records, and seats the stub by a rotation of its own
choice, so that it also holds the law that no result depends on where a turn of 0 lies. Left-hand
convention, flat road, kept or given tie rod.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.optimize import brentq
from scipy.spatial.transform import Rotation

from kinematics.parts import Column, Corner, CornerSetting

UP = np.array([0.0, 0.0, 1.0])


@dataclass(frozen=True)
class Seat:
    """The stub's rigid placement in the frame at the seating turn, and its kingpin."""

    neutral_foot: np.ndarray
    neutral_axis: np.ndarray
    rotation: Rotation
    foot: np.ndarray
    k: np.ndarray
    lifted: np.ndarray


def neutral_seats(corner: Corner) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Bottom seat, top seat and the unit vector between them, from the yoke's projected angles."""
    yoke = corner.yoke
    k = np.array([-np.tan(yoke.caster), -np.tan(yoke.kingpin_inclination), 1.0])
    k /= np.linalg.norm(k)
    centre = np.array(yoke.centre)
    return centre - 0.5 * yoke.span * k, centre + 0.5 * yoke.span * k, k


def hole(seat: np.ndarray, k: np.ndarray, offset: float, clock: float) -> np.ndarray:
    """The hole's centre: forward square to the axis, turned about the axis by the clock (left side)."""
    forward = np.array([1.0, 0.0, 0.0]) - k[0] * k
    forward /= np.linalg.norm(forward)
    return seat + offset * Rotation.from_rotvec(clock * k).apply(forward)


def seat_of(corner: Corner, setting: CornerSetting, twist: float = 0.3) -> Seat:
    """Place the stub by the smallest rotation and then any twist about the kingpin."""
    bottom, top, k0 = neutral_seats(corner)
    foot = hole(bottom, k0, setting.bottom_offset, setting.bottom_clock)
    head = hole(top, k0, setting.top_offset, setting.top_clock)
    k = (head - foot) / np.linalg.norm(head - foot)
    carried, _ = Rotation.align_vectors(k[None], k0[None])
    rotation = Rotation.from_rotvec(twist * k) * carried
    return Seat(bottom, k0, rotation, foot, k, foot + setting.spacer_shift * k)


def place(seat: Seat, delta: float, point: tuple[float, float, float]) -> np.ndarray:
    """A neutral stub point after the turn delta."""
    turned = Rotation.from_rotvec(delta * seat.k) * seat.rotation
    return seat.lifted + turned.apply(np.array(point) - seat.neutral_foot)


def inner_joint(corner: Corner, column: Column, theta: float) -> np.ndarray:
    axis = np.array([-np.cos(column.inclination), 0.0, np.sin(column.inclination)])
    foot = np.array(column.foot)
    return foot + Rotation.from_rotvec(theta * axis).apply(np.array(corner.inner_joint) - foot)


def kept_length(corner: Corner) -> float:
    return float(np.linalg.norm(np.array(corner.stub.arm_end) - np.array(corner.inner_joint)))


def turn_at(
    corner: Corner,
    column: Column,
    seat: Seat,
    theta: float,
    start: float,
    length: float | None = None,
) -> float:
    """The turn nearest to start that keeps the rod's length, bracketed by stepping outward from start."""
    rod, joint = length or kept_length(corner), inner_joint(corner, column, theta)

    def miss(delta: float) -> float:
        return float(np.linalg.norm(place(seat, delta, corner.stub.arm_end) - joint)) - rod

    step = 0.01
    for i in range(200):
        for low, high in (
            (start + i * step, start + (i + 1) * step),
            (start - (i + 1) * step, start - i * step),
        ):
            if miss(low) * miss(high) <= 0.0:
                return float(brentq(miss, low, high, xtol=1e-15, rtol=1e-14))
    raise ValueError("the linkage cannot reach this handwheel angle")


def spin_at(corner: Corner, seat: Seat, delta: float) -> np.ndarray:
    stub = corner.stub
    neutral = Rotation.from_euler("ZX", [-stub.toe, -stub.camber]).apply([0.0, 1.0, 0.0])
    return (Rotation.from_rotvec(delta * seat.k) * seat.rotation).apply(neutral)


def wheel_angles(spin: np.ndarray) -> tuple[float, float]:
    """Steer (+ left) and camber (+ top outward) by ISO 8855, from the wheel plane's trace."""
    trace = np.cross(spin, UP)
    return float(np.arctan2(trace[1], trace[0])), float(-np.arcsin(spin @ UP))
