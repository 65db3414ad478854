"""Every sign by hand: one small change, and which way the number must go. Both corners, kart's axes."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from kinematics.frames import mirror
from kinematics.lock import Sweep, sweep, with_rod
from kinematics.parts import CornerSetting, Setting
from tests.helpers.karts import CORNER, KART, REFERENCE
from tests.helpers.reading import columns

FORWARD, OUTBOARD, REARWARD, INBOARD = np.radians([0.0, 90.0, 180.0, 270.0])
STRAIGHT = replace(KART, left=replace(CORNER, stub=replace(CORNER.stub, camber=0.0, toe=0.0)))
STRAIGHT = replace(STRAIGHT, right=STRAIGHT.left)
SIDES = ("left", "right")


def ahead(setting: Setting, kart=STRAIGHT) -> dict[str, float]:
    """Columns straight ahead, both rods re-set so that only the axis speaks."""
    table = columns(sweep(kart, setting, 0.0), 280.0)
    return {name: float(column.values[0]) for name, column in table.items()}


def fitted(**bush) -> Setting:
    """The same bush at both corners, the wheels pointed straight ahead again."""
    return with_rod(Setting(CornerSetting(**bush), CornerSetting(**bush)), 0.0, 0.0)


def kart_point(at: Sweep, side: str, name: str) -> np.ndarray:
    """A point of a corner in the kart's own axes."""
    corner = getattr(at, side)
    point = getattr(corner, name) if hasattr(corner, name) else getattr(corner.seated, name)
    return np.asarray(point if side == "left" else mirror(point)).reshape(-1, 3)[0]


@pytest.mark.parametrize("side", SIDES)
@pytest.mark.parametrize(
    ("clock", "axis", "way"), [(FORWARD, 0, 1), (OUTBOARD, 1, 1), (REARWARD, 0, -1), (INBOARD, 1, -1)]
)
def test_the_same_clock_reads_the_same_on_both_corners(side, clock, axis, way):
    """Outboard is to the left on the left corner and to the right on the right one."""
    moved = sweep(KART, Setting(CornerSetting(2.0, clock), CornerSetting(2.0, clock)), 0.0)
    shift = kart_point(moved, side, "top") - kart_point(sweep(KART, REFERENCE, 0.0), side, "top")
    outward = -1.0 if side == "right" and axis == 1 else 1.0
    assert shift[axis] * way * outward > 1.9
    assert (
        np.abs(kart_point(moved, side, "foot") - kart_point(sweep(KART, REFERENCE, 0.0), side, "foot")).max()
        == 0
    )


@pytest.mark.parametrize("side", SIDES)
def test_camber_is_positive_when_the_top_leans_outward(side):
    assert ahead(fitted(top_offset=2.0, top_clock=OUTBOARD))[f"camber_{side}_deg"] > 1.0
    assert ahead(fitted(top_offset=2.0, top_clock=INBOARD))[f"camber_{side}_deg"] < -1.0
    leaning = replace(CORNER, stub=replace(CORNER.stub, camber=np.radians(2.0)))
    kart = replace(KART, left=leaning, right=leaning)
    assert abs(ahead(REFERENCE, kart)[f"camber_{side}_deg"] - 2.0) < 1e-9
    # the top of the wheel, a radius up its plane from the centre, is further out than the contact
    at = sweep(kart, REFERENCE, 0.0)
    top = 2.0 * kart_point(at, side, "wheel_centre") - kart_point(at, side, "contact_centre")
    assert abs(top[1]) > abs(kart_point(at, side, "contact_centre")[1]) + 5.0


@pytest.mark.parametrize("side", SIDES)
def test_toe_is_positive_when_the_front_of_the_wheels_points_in(side):
    toed = replace(CORNER, stub=replace(CORNER.stub, toe=np.radians(1.0)))
    kart = replace(KART, left=toed, right=toed)
    table = ahead(REFERENCE, kart)
    assert abs(table[f"toe_{side}_deg"] - 1.0) < 1e-9
    assert table["toe_total_deg"] > 1.9
    assert table["toe_total_mm"] > 9.0
    # the left wheel then steers to the right, the right one to the left
    assert table["steer_left_deg"] < 0.0 < table["steer_right_deg"]
    spin = kart_point(sweep(kart, REFERENCE, 0.0), side, "spin")
    assert spin[0] > 0.0  # the outboard end of the spin axis goes forward


def test_caster_and_kingpin_inclination():
    def lean(**bush):
        corner = sweep(STRAIGHT, fitted(**bush), 0.0).right
        return corner.caster, corner.kingpin_inclination

    plain = lean()
    assert plain[0] > 0.0
    assert plain[1] > 0.0
    assert lean(top_offset=2.0, top_clock=REARWARD)[0] > plain[0] + 0.02
    assert lean(bottom_offset=2.0, bottom_clock=FORWARD)[0] > plain[0] + 0.02
    assert lean(top_offset=2.0, top_clock=INBOARD)[1] > plain[1] + 0.02
    assert lean(bottom_offset=2.0, bottom_clock=OUTBOARD)[1] > plain[1] + 0.02


@pytest.mark.parametrize("side", SIDES)
def test_a_positive_handwheel_angle_turns_both_wheels_and_the_path_left(side):
    at = sweep(KART, REFERENCE, 0.5)
    heading = np.cross(kart_point(at, side, "spin"), [0.0, 0.0, 1.0]) * (1.0 if side == "left" else -1.0)
    assert heading[0] > 0.0
    assert heading[1] > 0.1
    assert columns(at, 280.0)[f"steer_{side}_deg"].values[0] > 5.0
    assert at.path_curvature[0] > 0.0
    assert sweep(KART, REFERENCE, -0.5).path_curvature[0] < 0.0


@pytest.mark.parametrize("side", SIDES)
def test_trail_and_scrub(side):
    """Caster puts the axis ahead of the contact, a wheel further out puts the axis further inboard of it."""
    plain = ahead(REFERENCE)
    assert plain[f"caster_trail_{side}_mm"] > 10.0
    assert plain[f"scrub_{side}_mm"] > 50.0
    assert ahead(fitted(top_offset=2.0, top_clock=REARWARD))[f"caster_trail_{side}_mm"] > (
        plain[f"caster_trail_{side}_mm"] + 1.0
    )
    wider = fitted(hub_spacer=10.0)
    assert abs(ahead(wider)[f"scrub_{side}_mm"] - plain[f"scrub_{side}_mm"] - 10.0) < 1e-6
    at = sweep(STRAIGHT, REFERENCE, 0.0)
    axis, contact = (kart_point(at, side, name) for name in ("axis_road_point", "contact_centre"))
    assert axis[0] > contact[0] + 10.0
    assert abs(axis[1]) < abs(contact[1]) - 50.0


@pytest.mark.parametrize("side", SIDES)
def test_spacers_move_the_wheel_up_and_out(side):
    """Up along the kingpin (the frame's front comes down) and outward along the spin axis."""
    plain, up, out = (
        sweep(STRAIGHT, fitted(**s), 0.0) for s in ({}, {"spacer_shift": 5.0}, {"hub_spacer": 9.0})
    )
    place = kart_point(plain, side, "wheel_centre")
    assert 4.7 < kart_point(up, side, "wheel_centre")[2] - place[2] < 5.0
    assert kart_point(up, side, "support_point")[2] > 4.5
    assert abs(abs(kart_point(out, side, "wheel_centre")[1]) - abs(place[1]) - 9.0) < 1e-3


@pytest.mark.parametrize("way", [1.0, -1.0])
def test_the_inside_wheel_drops_the_outside_rises_and_the_inside_rear_lifts(way):
    table = columns(sweep(KART, REFERENCE, way * 0.6), 280.0)
    inside, outside = ("left", "right") if way > 0.0 else ("right", "left")
    assert table[f"wheel_drop_{inside}_mm"].values[0] > 3.0
    assert table[f"wheel_drop_{outside}_mm"].values[0] < -3.0
    assert table[f"camber_gain_{inside}_deg"].values[0] > 1.0
    assert table[f"camber_gain_{outside}_deg"].values[0] < -0.5
    assert table["rigid_inside_rear_lift_mm"].values[0] > 5.0


def test_reversed_caster_drops_the_outside_wheel_and_presses_the_inside_rear_down():
    back = replace(CORNER, yoke=replace(CORNER.yoke, caster=np.radians(-12.0)))
    at = sweep(replace(KART, left=back, right=back), REFERENCE, 0.4)
    assert at.left.wheel_drop[0] < 0.0 < at.right.wheel_drop[0]
    assert at.rigid_inside_rear_lift[0] < 0.0


def test_wheel_drop_is_positive_down():
    """Against the points themselves: the support point is lower in the frame by the drop."""
    at, straight = sweep(KART, REFERENCE, 0.6), sweep(KART, REFERENCE, 0.0)
    for side in SIDES:
        down = kart_point(straight, side, "support_point")[2] - kart_point(at, side, "support_point")[2]
        assert abs(getattr(at, side).wheel_drop[0] - down) < 1e-9


def test_a_raised_rear_axle_adds_caster_and_a_lowered_one_takes_it():
    caster = [float(sweep(KART, Setting(rear_axle_shift=s), 0.0).left.caster) for s in (-10.0, 0.0, 10.0)]
    assert caster[0] < caster[1] < caster[2]


def test_a_lifted_front_corner_alone_lifts_its_own_side_of_the_front_plane():
    """A spacer under the left stub puts its support point up in the frame: that side of the frame sags.

    The plane through three wheels then rises to the left, so the left rear hangs under it, at left lock.
    """
    plain = sweep(KART, REFERENCE, 1e-6).rigid_inside_rear_lift[0]
    lifted = sweep(KART, Setting(CornerSetting(spacer_shift=5.0)), 1e-6).rigid_inside_rear_lift[0]
    assert lifted < plain - 3.0


def test_ackermann_is_positive_when_the_inside_wheel_turns_further():
    at = sweep(KART, REFERENCE, np.array([-0.5, 0.5]))
    table = columns(at, 280.0)
    left, right = table["steer_left_deg"].values, table["steer_right_deg"].values
    assert left[1] > right[1] > 0.0
    assert right[0] < left[0] < 0.0
    assert (at.ackermann > 0.2).all()
