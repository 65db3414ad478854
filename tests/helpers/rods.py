"""Tie rods as a mechanic turns them: to a toe, or by so many turns."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import numpy.typing as npt

from kinematics.change.rods import PITCHES_PER_TURN, straight_ahead
from kinematics.corner.pose import CornerSweep
from kinematics.parts import CornerSetting, Kart, Setting


def turned_rods(
    kart: Kart, setting: Setting, left_turns: npt.ArrayLike, right_turns: npt.ArrayLike, pitch: float
) -> Setting:
    """The setting with its tie rods turned by so many turns (...), + longer, from the length they have."""
    ahead = straight_ahead(kart, setting)

    def after(corner: CornerSweep, turns: npt.ArrayLike) -> CornerSetting:
        longer = PITCHES_PER_TURN * pitch * np.asarray(turns, float)
        return replace(corner.setting, rod_length=corner.linkage.rod_length + longer, rod_toe=None)

    return replace(setting, left=after(ahead.left, left_turns), right=after(ahead.right, right_turns))
