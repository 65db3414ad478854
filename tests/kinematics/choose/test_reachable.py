"""The map of what a box can reach, against the forward chain and the ring that theory gives."""

from __future__ import annotations

import numpy as np
import pytest

from kinematics.choose.box import Box, with_row
from kinematics.choose.reachable import reachable, spread
from kinematics.corner.bush import bush_offset, steering_axis
from kinematics.corner.inverse import clocks_for_axis
from kinematics.corner.wheel import axis_angles
from kinematics.frames import dot
from kinematics.lock import sweep
from kinematics.parts import CornerSetting, LoadCase, Setting
from kinematics.standing.stand import inside_rear_load, stand
from tests.helpers.karts import KART
from tests.helpers.reading import named

DEG = np.pi / 180.0
TWO = float(bush_offset(2.0 * DEG, 70.0))
BASE = Setting(CornerSetting(TWO, np.pi), CornerSetting(TWO, np.pi))
AT = float(np.radians(40.0))
DROP = named("wheel_drop_left_mm", AT)


def test_points_are_where_the_chain_puts_them():
    box = Box((0.0, TWO, 3.0), clock_step=30.0 * DEG)
    found = reachable(KART, BASE, box, DROP, [BASE, Setting()], rods="kept")
    assert found.total == len(found.rows) == len(np.unique(found.rows.round(9), axis=0))
    assert not found.thinned
    both = with_row(CornerSetting(), found.rows)
    road = sweep(KART, Setting(both, both), [0.0]).road
    caster, inclination = axis_angles(steering_axis(KART.left.yoke, both).k, road)
    assert np.abs(found.points.caster_deg - np.degrees(caster)).max() < 1e-9
    assert np.abs(found.points.kingpin_inclination_deg - np.degrees(inclination)).max() < 1e-9
    drop = sweep(KART, Setting(both, both), [AT]).left.wheel_drop[:, 0]
    assert np.abs(found.points.value - drop)[found.points.known].max() < 1e-9
    assert found.points.known.all()
    here = sweep(KART, BASE, [AT]).left.wheel_drop[0]
    assert found.present.value == pytest.approx(here)
    assert found.marked.value[0] == pytest.approx(here)
    assert found.marked.caster_deg[1] == pytest.approx(12.0)


def test_one_pair_fills_the_ring_between_difference_and_sum_and_nothing_else():
    box = Box((TWO, 1.0), (2, 2), clock_step=10.0 * DEG)
    found = reachable(KART, Setting(), box, DROP)
    both = with_row(CornerSetting(), found.rows)
    pairs = (both.top_offset > 0.0) & (both.bottom_offset > 0.0)
    k0 = steering_axis(KART.left.yoke, CornerSetting()).k
    k = steering_axis(KART.left.yoke, both).k[pairs]
    tilt = np.degrees(np.arccos(dot(k, k0)))
    least, most = (np.degrees(np.arctan(d / 70.0)) for d in (TWO - 1.0, TWO + 1.0))
    assert tilt.min() == pytest.approx(least, abs=1e-6)
    assert tilt.max() == pytest.approx(most, abs=1e-6)
    assert clocks_for_axis(KART.left.yoke, k, TWO, 1.0).reach.all()


def test_load_case_maps_are_thinned_evenly_and_exact():
    case = LoadCase("slow corner", 0.4)
    figure = named("inside_rear_load_n", AT, case.name)
    box = Box((TWO, 3.0), clock_step=15.0 * DEG)
    found = reachable(KART, BASE, box, figure, cases=[case], rods="kept", limit=300)
    assert found.thinned
    assert len(found.rows) <= 300
    both = with_row(CornerSetting(), found.rows)
    full = sweep(KART, Setting(both, both), [AT])
    assert np.abs(found.points.value - inside_rear_load(full, stand(full, case))[:, 0]).max() < 1e-6
    whole = reachable(KART, BASE, box, DROP, rods="kept")
    for name in ("caster_deg", "kingpin_inclination_deg"):
        few, all_of = getattr(found.points, name), getattr(whole.points, name)
        assert np.ptp(few) > 0.9999 * np.ptp(all_of)


def test_one_corner_alone_maps_that_corner():
    found = reachable(KART, BASE, Box((3.0,), (1,), 90.0 * DEG), named("caster_right_deg"), sides="right")
    assert found.corner == "right"
    assert np.allclose(found.points.value, found.points.caster_deg)
    # the left corner uses one 2 deg bush and a concentric one, which leaves one of each size: no size twice
    assert found.total == 4 * 4 + 2 * 4 * 4


def test_spread_keeps_the_corners_of_the_map():
    rng = np.random.default_rng(0)
    x, y = rng.normal(size=(2, 5000))
    kept = spread(x, y, 400)
    assert len(kept) <= 400
    assert len(np.unique(kept)) == len(kept)
    assert np.ptp(x[kept]) == np.ptp(x)
    assert (spread(x[:10], y[:10], 400) == np.arange(10)).all()


@pytest.mark.parametrize(
    ("box", "figure", "message"),
    [
        (Box(()), DROP, "the box is empty"),
        (Box((1.0,)), named("wheel_drop_left_mm"), "wheel_drop_left_mm is read at a lock position"),
    ],
)
def test_refused_in_one_line(box, figure, message):
    with pytest.raises(ValueError, match=message):
        reachable(KART, BASE, box, figure)


def test_pairs_in_batches_are_told_and_are_as_all_at_once(monkeypatch):
    box, told = Box((0.0, TWO), clock_step=30.0 * DEG), []
    whole = reachable(KART, BASE, box, DROP)
    monkeypatch.setattr("kinematics.choose.scan.CHUNK", 100)
    apart = reachable(KART, BASE, box, DROP, limit=90, progress=lambda *n: told.append(n))
    assert told == [(100, 169), (169, 169), (90, 90)]
    places = [np.flatnonzero((whole.rows == row).all(axis=-1))[0] for row in apart.rows]
    assert np.abs(apart.points.value - whole.points.value[places]).max() < 1e-9
    assert np.abs(apart.points.caster_deg - whole.points.caster_deg[places]).max() < 1e-9
