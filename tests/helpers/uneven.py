"""An uneven kart, load cases, and rows of bush pairs for it: what figures are read of in the tests."""

from __future__ import annotations

from dataclasses import replace
from math import inf

import numpy as np

from kinematics.choose.box import with_row
from kinematics.figures.figure import Given
from kinematics.parts import CornerSetting, LoadCase, Setting
from tests.helpers.karts import KART, kart_from, picker

CASES = {"at a speed": LoadCase("at a speed", speed=11.0), "at 0.7 g": LoadCase("at 0.7 g", 0.7)}
GIVEN = Given(toe_diameter=311.0, pneumatic_trail=9.0)
UNEVEN = replace(kart_from(picker(4)), loads=(330.0, 290.0, 430.0, 410.0))
BENT = replace(KART, left=UNEVEN.left, rear_track=1130.0, loads=(330.0, 290.0, 430.0, 410.0))


def fitted(rows) -> Setting:
    """Bush pairs (..., 4) at both corners, each with its own; the rods are kept."""
    left, right = rows, rows * np.array([0.8, 1.0, 1.2, 1.0]) + np.array([0.0, 0.3, 0.0, 0.5])
    return Setting(with_row(CornerSetting(), left), with_row(CornerSetting(), right), 2.0)


ROWS = np.random.default_rng(8).uniform(0.0, (4.0, 6.3, 4.0, 6.3), (6, 4))
ONE = fitted(ROWS[0])

TABLE = replace(KART, loads=(350.4, 350.4, 379.6, 379.6), frame=replace(KART.frame, stiffness=inf))
"""An even kart that with MUCH_CASTER stands like a table on uneven ground: at full lock on one diagonal, and
on either wheel of the other."""
_CASTER = CornerSetting(top_offset=4.0, top_clock=np.pi)
MUCH_CASTER = Setting(_CASTER, _CASTER)
