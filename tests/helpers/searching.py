"""What the tests of the search share: a box, a base setting, targets that a planted pair meets."""

from __future__ import annotations

import numpy as np

from kinematics.choose.box import Box, row_of
from kinematics.choose.plan import Plan, figures_of
from kinematics.choose.targets import Target
from kinematics.parts import CornerSetting, LoadCase, Setting
from tests.helpers.reading import named

DEG = np.pi / 180.0
LOCKS = np.radians([-40.0, -20.0, 0.0, 20.0, 40.0])
SIZES = tuple((70.0 * np.tan(np.radians([1.0, 1.5, 2.0, 2.5, 3.0, 4.0]))).tolist())
SIX = Box(SIZES, clock_step=15.0 * DEG)
SMALL = Box((0.0, 2.0, 3.5), clock_step=45.0 * DEG)
REARWARD = CornerSetting(2.0, np.pi)
BASE = Setting(REARWARD, REARWARD)
CASE = LoadCase("slow corner", 0.5)
CAMBER_AND_DROP = tuple(
    named(name, float(lock))
    for name in ("camber_left_deg", "wheel_drop_left_mm", "camber_right_deg", "wheel_drop_right_mm")
    for lock in LOCKS
)


def random_rows(rng, size):
    return np.stack([rng.uniform(0, 5, size), rng.uniform(0, 6.28, size)] * 2, axis=-1)


def targets_met_by(kart, base, figures, left, right, cases=()):
    values, known = figures_of(Plan(kart, base, figures, cases=cases), left[None], right[None])
    assert known.all()
    return [Target(f, float(v), float(v)) for f, v in zip(figures, values[0], strict=True)]


def rows_fitted(candidate):
    return row_of(candidate.setting.left), row_of(candidate.setting.right)
