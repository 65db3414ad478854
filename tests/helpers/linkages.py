"""Linkages for tests: one closed on a flat road, and the constructed example of the authorities."""

from __future__ import annotations

import numpy as np

from kinematics.corner.linkage import Linkage, close_linkage
from kinematics.corner.stub import seat_stub
from kinematics.frames import FLAT_ROAD
from kinematics.parts import CONCENTRIC, Column, Corner, CornerSetting, Stub, Yoke
from tests.authorities import mccarthy
from tests.helpers.karts import COLUMN


def linked(corner: Corner, setting: CornerSetting = CONCENTRIC, column: Column = COLUMN) -> Linkage:
    return close_linkage(corner, setting, seat_stub(corner, setting), column, FLAT_ROAD)


def constructed() -> tuple[Corner, Column]:
    """McCarthy & Soh's form on the constructed example; where the seats sit on the kingpin is free."""
    c, s = np.radians(mccarthy.CASTER_DEG), np.radians(mccarthy.KINGPIN_INCLINATION_DEG)
    centre = np.array(mccarthy.KINGPIN_POINT) + 140.0 * np.array([-np.tan(c), -np.tan(s), 1.0])
    stub = Stub((27.0, 540.0, 130.0), 0.0, 0.0, mccarthy.OUTER_JOINT)
    corner = Corner(Yoke(tuple(centre.tolist()), c, s, 70.0), stub, mccarthy.INNER_JOINT)
    return corner, Column(mccarthy.COLUMN_FOOT, np.radians(mccarthy.COLUMN_INCLINATION_DEG), np.radians(60))
