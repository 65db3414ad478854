"""Figures of one corner off the fast chain, for many settings at once, as the rows in `wheel` say."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from kinematics.corner.bush import steering_axis
from kinematics.corner.fast import Poses, rows_of_road, support_height, take
from kinematics.corner.wheel import axis_angles
from kinematics.figures import wheel
from kinematics.figures.figure import Figure
from kinematics.frames import Array, Road, dot
from kinematics.parts import Corner, CornerSetting, Tyre


@dataclass(frozen=True)
class Block:
    """Poses of a block of settings of a corner; position 0 is straight ahead. Axis and foot in road axes."""

    poses: Poses
    height: Array
    k: Array
    """(3 of ahead, left, up, settings)."""
    foot: Array
    angles: tuple[Array, Array]
    sign: float


def block_of(
    corner: Corner,
    fitted: CornerSetting,
    size: int,
    which: slice,
    poses: Poses,
    tyre: Tyre,
    road: Road,
    sign: float,
) -> Block:
    """Poses of these rows (of size) of a corner's settings on their roads; sign as in `turned_left`."""
    road = rows_of_road(road, which)
    axis = steering_axis(corner.yoke, take(fitted, size, which))
    k, foot = (_road_parts(road, vector) for vector in (axis.k, axis.bottom))
    return Block(poses, support_height(poses, tyre), k, foot, axis_angles(axis.k, road), sign)


def _road_parts(road: Road, vector: Array) -> Array:
    return np.stack([dot(vector, axis) for axis in (road.heading, road.left, road.normal)])


def _axis_arm(block: Block, at: int) -> tuple[Array, Array]:
    """From contact centre to axis–road point, ahead and left, mm."""
    poses = block.poses
    along = (poses.contact_z[:, at] - block.foot[2]) / block.k[2]
    ahead = block.foot[0] + along * block.k[0] - poses.contact_x[:, at]
    return ahead, block.foot[1] + along * block.k[1] - poses.contact_y[:, at]


def _trail(block: Block, at: int) -> Array:
    (ahead, left), steer = _axis_arm(block, at), block.poses.steer[:, at]
    trail: Array = ahead * np.cos(steer) + left * np.sin(steer)
    return trail


def _scrub(block: Block, at: int) -> Array:
    (ahead, left), steer = _axis_arm(block, at), block.poses.steer[:, at]
    scrub: Array = ahead * np.sin(steer) - left * np.cos(steer)
    return scrub


FAST: dict[Figure, Callable[[Block, int], Array]] = {
    wheel.CASTER: lambda b, _: np.degrees(b.angles[0]),
    wheel.KINGPIN_INCLINATION: lambda b, _: np.degrees(b.angles[1]),
    wheel.STEER: lambda b, at: b.sign * np.degrees(b.poses.steer[:, at]),
    wheel.CAMBER: lambda b, at: np.degrees(b.poses.camber[:, at]),
    wheel.CAMBER_GAIN: lambda b, at: np.degrees(b.poses.camber[:, at] - b.poses.camber[:, 0]),
    wheel.TOE: lambda b, at: -np.degrees(b.poses.steer[:, at]),
    wheel.WHEEL_DROP: lambda b, at: b.height[:, 0] - b.height[:, at],
    wheel.CASTER_TRAIL: _trail,
    wheel.SCRUB: _scrub,
}
"""Figures of a corner that the fast chain gives: of a block of settings at one of its lock positions."""
