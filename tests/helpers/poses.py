"""The fast chain with every pose kept (its blocks write their arrays again), and roads for it."""

from __future__ import annotations

from dataclasses import fields

import numpy as np
import numpy.typing as npt

from kinematics.corner.fast import Poses, pose_blocks
from kinematics.frames import X_FORWARD, Road, unit
from kinematics.parts import Column, Corner, CornerSetting, Tyre


def pose_grid(
    corner: Corner,
    setting: CornerSetting,
    column: Column,
    tyre: Tyre,
    road: Road,
    handwheel: npt.ArrayLike,
) -> Poses:
    """All poses of a one-dimensional batch of settings, kept: each (settings, N)."""
    size, positions = int(np.prod(setting.batch_shape)), np.atleast_1d(np.asarray(handwheel)).size
    shape = (size, positions)
    kept = Poses(np.empty(shape, dtype=bool), *(np.empty(shape) for _ in fields(Poses)[1:]))
    for rows, poses in pose_blocks(corner, setting, column, tyre, road, handwheel):
        for f in fields(Poses):
            getattr(kept, f.name)[rows] = getattr(poses, f.name)
    return kept


def road_from_normal(normal: npt.ArrayLike) -> Road:
    """The road with this up-normal (..., 3); its heading is the frame's x laid square to the normal."""
    g = unit(normal)
    return Road(g, unit(X_FORWARD - g[..., :1] * g))
