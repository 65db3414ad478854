"""Named columns: every one as `quantity_corner_unit`, in the unit it names, with the kart's own signs."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from kinematics.lock import sweep
from kinematics.parts import CornerSetting, Setting
from tests.helpers.karts import CORNER, KART, LOCK, REFERENCE
from tests.helpers.reading import columns, headline

UNITS = {"deg", "mm", "m", "percent"}
DIAMETER = 280.0
SETTING = Setting(CornerSetting(3.0, np.pi), CornerSetting(2.0, 2.0), 4.0)
AT = sweep(KART, SETTING, LOCK)
TABLE = columns(AT, DIAMETER)


def test_a_name_ends_in_its_unit_and_a_meaning_is_given():
    for name, column in TABLE.items():
        assert column.name == name
        assert column.unit in UNITS
        assert name.endswith(f"_{column.unit}")
        assert len(column.meaning) > 10
        assert column.values.shape == column.known.shape == LOCK.shape


def test_the_columns_promised_are_there():
    promised = {"handwheel_deg", "rigid_inside_rear_lift_mm", "ackermann_percent", "path_radius_m"}
    promised |= {"toe_total_deg", "toe_total_mm"}
    for side in ("left", "right"):
        promised |= {f"{q}_{side}_deg" for q in ("steer", "camber", "camber_gain", "toe")}
        promised |= {f"{q}_{side}_mm" for q in ("wheel_drop", "caster_trail", "scrub")}
    assert promised <= set(TABLE)


def test_every_value_to_show_is_finite_and_every_hidden_one_is_known_to_be():
    for column in TABLE.values():
        assert np.isfinite(column.values).all(), column.name
    for side in ("left", "right"):
        assert np.array_equal(TABLE[f"steer_{side}_deg"].known, getattr(AT, side).reach)
    assert not AT.reach.all()
    assert np.array_equal(TABLE["toe_total_deg"].known, AT.reach)


def test_values_are_the_sweeps_in_the_unit_named():
    assert np.abs(np.radians(TABLE["steer_left_deg"].values) - AT.left.steer).max() < 1e-15
    assert np.abs(np.radians(TABLE["camber_right_deg"].values) - AT.right.camber).max() < 1e-15
    assert np.abs(np.radians(TABLE["camber_gain_right_deg"].values) - AT.right.camber_gain).max() < 1e-15
    assert np.array_equal(TABLE["wheel_drop_left_mm"].values, AT.left.wheel_drop)
    assert np.array_equal(TABLE["caster_trail_right_mm"].values, AT.right.trail)
    assert np.array_equal(TABLE["scrub_right_mm"].values, AT.right.scrub)
    assert np.abs(TABLE["handwheel_deg"].values - np.degrees(LOCK)).max() < 1e-12
    assert np.abs(TABLE["ackermann_percent"].values - 100.0 * AT.ackermann).max() < 1e-12


def test_left_lock_steers_both_wheels_left_in_the_karts_own_sign():
    table = columns(sweep(KART, REFERENCE, np.radians([-30.0, 30.0])), DIAMETER)
    for name in ("steer_left_deg", "steer_right_deg", "handwheel_deg", "path_radius_m"):
        assert table[name].values[0] < 0.0 < table[name].values[1], name
    # toe stays a corner's own: at left lock the left wheel points out, the right one in
    assert table["toe_left_deg"].values[1] < 0.0 < table["toe_right_deg"].values[1]
    # the inside wheel drops and leans out with caster
    assert table["wheel_drop_left_mm"].values[1] > 0.0 > table["wheel_drop_right_mm"].values[1]
    assert table["camber_gain_left_deg"].values[1] > 0.0 > table["camber_gain_right_deg"].values[1]


def test_toe_in_mm_is_the_gap_at_a_stated_diameter():
    """Measured across the rims: the rear of the pair is wider by this, + toe-in."""
    table = columns(sweep(KART, REFERENCE, 0.0), DIAMETER)
    toe = CORNER.stub.toe
    assert abs(table["toe_total_deg"].values[0] - np.degrees(2.0 * toe)) < 1e-9
    front = 2.0 * (500.0 - 0.5 * DIAMETER * np.sin(toe))
    rear = 2.0 * (500.0 + 0.5 * DIAMETER * np.sin(toe))
    assert abs(table["toe_total_mm"].values[0] - (rear - front)) < 1e-9
    assert f"{DIAMETER:g} mm" in table["toe_total_mm"].meaning


def test_ackermann_is_not_told_near_straight():
    column = columns(sweep(KART, REFERENCE, np.radians([0.0, 20.0])), DIAMETER)["ackermann_percent"]
    assert column.known.tolist() == [False, True]


def test_path_radius_is_in_metres_and_none_when_straight():
    even = columns(sweep(KART, REFERENCE, np.radians([0.0, 20.0])), DIAMETER)["path_radius_m"]
    assert even.known.tolist() == [False, True]
    assert 2.0 < even.values[1] < 10.0


@pytest.mark.parametrize("shape", [(), (1,), (3, 1, 2)])
def test_columns_and_figures_of_a_batch(shape):
    size = np.random.default_rng(4).uniform(0, 5, shape)
    setting = Setting(CornerSetting(size, 1.0), CornerSetting(size, 2.0))
    table = columns(sweep(KART, setting, LOCK), DIAMETER)
    assert table["camber_left_deg"].values.shape == (*shape, LOCK.size)
    assert table["ackermann_percent"].known.shape == (*shape, LOCK.size)
    figures = headline(sweep(KART, setting, 0.0), DIAMETER)
    for name, figure in figures.items():
        assert np.shape(figure.values) == shape, name
        assert np.shape(figure.known) == shape, name


def test_headline_figures_are_those_straight_ahead():
    figures = headline(sweep(KART, SETTING, 0.0), DIAMETER)
    middle = LOCK.size // 2
    for side in ("left", "right"):
        corner = getattr(AT, side)
        for name in (f"camber_{side}_deg", f"toe_{side}_deg", f"caster_trail_{side}_mm", f"scrub_{side}_mm"):
            assert abs(figures[name].values - TABLE[name].values[middle]) < 1e-12, name
            assert figures[name].known
        assert abs(figures[f"caster_{side}_deg"].values - np.degrees(corner.caster)) < 1e-12
        inclination = np.degrees(corner.kingpin_inclination)
        assert abs(figures[f"kingpin_inclination_{side}_deg"].values - inclination) < 1e-12
        assert abs(figures[f"rod_length_{side}_mm"].values - corner.linkage.rod_length) < 1e-12
    for name, figure in figures.items():
        assert name.endswith(f"_{figure.unit}")


@pytest.mark.parametrize(
    ("left", "right", "bound"),
    [
        (CornerSetting(6.0, 0.0), CornerSetting(), ("left", "right")),
        (CornerSetting(), CornerSetting(6.0, 0.0), ("left", "right")),
        (CornerSetting(), CornerSetting(rod_length=492.0), ("right", None)),
        (CornerSetting(rod_length=492.0), CornerSetting(), (None, "left")),
        (CornerSetting(rod_length=492.0), CornerSetting(rod_length=488.0), ("right", "left")),
    ],
)
def test_binding_angles_are_the_nearer_of_the_two_tie_rods(left, right, bound):
    """A lock is bound by whichever corner binds first: the right one is solved at the opposite angle."""
    setting = Setting(left, right)
    figures, fine = headline(sweep(KART, setting, 0.0), DIAMETER), np.radians(np.linspace(-89.0, 89.0, 1781))
    swept = sweep(KART, setting, fine)
    reach = np.degrees(fine[swept.reach])
    for way, edge, end, side in zip(("left", "right"), reach[[-1, 0]], (-1, 0), bound, strict=True):
        figure, sign = figures[f"binds_at_{way}_lock_deg"], 1.0 if way == "left" else -1.0
        if side is None:
            assert not figure.known
            assert abs(edge) == pytest.approx(89.0)
            continue
        assert figure.known
        assert abs(figure.values - edge) < 0.11
        assert sign * figure.values > 0.0
        assert np.degrees(fine[getattr(swept, side).reach])[end] == edge


def test_a_linkage_that_never_binds_has_no_binding_angle():
    short = replace(CORNER, inner_joint=(892.0, 25.0, 102.0))
    kart = replace(KART, left=short, right=short)
    assert sweep(kart, REFERENCE, LOCK).reach.all()
    figures = headline(sweep(kart, REFERENCE, 0.0), DIAMETER)
    for name in ("binds_at_left_lock_deg", "binds_at_right_lock_deg"):
        assert not figures[name].known
        assert np.isfinite(figures[name].values)
