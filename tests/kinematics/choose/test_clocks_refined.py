"""Clocks refined between the steps of the search, against the closed form and a fine grid."""

from __future__ import annotations

import numpy as np
import pytest

from kinematics.choose.box import Box
from kinematics.choose.search import search
from kinematics.choose.targets import Target
from kinematics.corner.inverse import clocks_for_angles
from kinematics.lock import sweep
from kinematics.parts import CornerSetting, Setting
from tests.helpers.karts import KART
from tests.helpers.reading import named
from tests.helpers.searching import DEG, LOCKS, rows_fitted, targets_met_by


def test_refined_clocks_are_the_closed_form():
    caster, inclination = 14.2 * DEG, 8.7 * DEG
    box = Box((3.0, 2.2), (2, 2))
    base = Setting(CornerSetting(3.0, 0.0, 2.2, 0.0), CornerSetting(3.0, 0.0, 2.2, 0.0))
    targets = [
        Target(named("caster_left_deg"), 14.2, 14.2),
        Target(named("kingpin_inclination_left_deg"), 8.7, 8.7),
    ]
    found = search(KART, base, box, targets)
    near = [c for c in found.best if c.fit < 0.01]
    assert near
    hit = set()
    for candidate in near:
        row, road, answers = rows_fitted(candidate)[0], sweep(KART, candidate.setting, 0.0).road, []
        for top, bottom in ((3.0, 2.2), (2.2, 3.0)):
            exact = clocks_for_angles(KART.left.yoke, caster, inclination, top, bottom, road)
            assert exact.reach
            answers += [np.array([top, exact.top_clock[i], bottom, exact.bottom_clock[i]]) for i in (0, 1)]
        off = [np.abs(a - row).max() for a in answers]
        assert min(off) < 0.2 * DEG
        hit.add(int(np.argmin(off)))
    assert hit == {0, 1, 2, 3}  # both answers of both places


def test_the_closed_form_is_the_optimum_of_a_fine_grid():
    box = Box((3.0, 2.2), (2, 2), 1.0 * DEG)
    base = Setting(CornerSetting(3.0, 0.0, 2.2, 0.0), CornerSetting(3.0, 0.0, 2.2, 0.0))
    targets = [
        Target(named("caster_left_deg"), 14.2, 14.2),
        Target(named("kingpin_inclination_left_deg"), 8.7, 8.7),
    ]
    best = search(KART, base, box, targets).best[0]
    row, road = rows_fitted(best)[0], sweep(KART, best.setting, 0.0).road
    exact = clocks_for_angles(KART.left.yoke, 14.2 * DEG, 8.7 * DEG, row[0], row[2], road)
    off = np.maximum(np.abs(exact.top_clock - row[1]), np.abs(exact.bottom_clock - row[3]))
    assert off.min() < 1.0 * DEG


def test_a_bush_left_alone_stays_alone_when_clocks_are_refined():
    base = Setting(CornerSetting(2.0, 3.0, 2.0, 0.123), CornerSetting(2.0, 3.0, 2.0, 0.123))
    row = np.array([2.0, 3.0, 2.0, 1.234])
    targets = targets_met_by(KART, base, (named("camber_left_deg", float(LOCKS[4])),), row, row)
    found = search(KART, base, Box((2.0,)), targets, rods="kept")
    assert [sum(c.work) for c in found.by_work][:2] == [0, 2]
    assert found.by_work[0].setting.left.top_clock == pytest.approx(3.0)
    turned_one = found.by_work[1]
    row = rows_fitted(turned_one)[0]
    assert (abs(row[1] - 3.0) < 1e-9) != (abs(row[3] - 0.123) < 1e-9)
    assert turned_one.fit < 0.01  # one bush, turned between the steps, does it exactly
