"""The two joints of a tie rod, in the holes of steering arm and spade that a setting puts them in."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from kinematics.corner.bush import seat_centres
from kinematics.frames import Array, axis_direction, dot, unit
from kinematics.parts import Column, Corner, CornerSetting


def column_axis(column: Column) -> Array:
    """Unit vector up the column (..., 3), pointing up and rearward: a positive turn about it steers left."""
    lean = np.asarray(column.inclination, float)
    return np.stack([-np.cos(lean), 0.0 * lean, np.sin(lean)], axis=-1)


def _along(joint: Array, foot: Array, axis: Array, way: Array) -> Array:
    """The joint (..., 3) moved square to an axis through foot, so far (...) in mm, + away from it."""
    arm = joint - foot
    moved: Array = joint + way[..., None] * unit(arm - dot(arm, axis)[..., None] * axis)
    return moved


def arm_end(corner: Corner, setting: CornerSetting) -> Array:
    """Outer joint (..., 3) in mm on a stub axle with concentric bushes; its arm is square to the kingpin."""
    yoke, end = corner.yoke, np.asarray(corner.stub.arm_end, float)
    if np.ndim(setting.arm_hole) == 0 and setting.arm_hole == 0.0:
        return end
    axis = axis_direction(yoke.caster, yoke.kingpin_inclination)
    return _along(end, seat_centres(yoke)[0], axis, np.asarray(setting.arm_hole, float))


def in_their_holes(corner: Corner, setting: CornerSetting, column: Column) -> Corner:
    """The corner with its joints where a setting puts them, to be looked at."""
    stub = replace(corner.stub, arm_end=tuple(arm_end(corner, setting).tolist()))
    return replace(corner, stub=stub, inner_joint=tuple(inner_joint(corner, setting, column).tolist()))


def inner_joint(corner: Corner, setting: CornerSetting, column: Column) -> Array:
    """Inner joint (..., 3) in mm, straight ahead; its spade is square to the column."""
    joint = np.asarray(corner.inner_joint, float)
    if np.ndim(setting.spade_hole) == 0 and setting.spade_hole == 0.0:
        return joint
    foot = np.asarray(column.foot, float)
    return _along(joint, foot, column_axis(column), np.asarray(setting.spade_hole, float))
