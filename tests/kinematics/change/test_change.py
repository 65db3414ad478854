"""What a change upsets, and that the turns and moves given really put it back."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given

from kinematics.change.change import Change, Differences, changed, differences
from kinematics.change.rods import (
    nearest_stack,
    spacer_moves,
    straight_ahead,
    with_rods_kept,
    with_spacers_moved,
)
from kinematics.corner.bush import seat_axes
from kinematics.figures.kart import wheel_heights
from kinematics.figures.solved import Solved
from kinematics.lock import with_rod
from kinematics.parts import CornerSetting, LoadCase, Setting
from tests.helpers.cost.depth import deep
from tests.helpers.karts import KART, karts, settings_of
from tests.helpers.rods import turned_rods

LOCK = np.radians([-40.0, -20.0, 0.0, 20.0, 40.0])
PITCH = 1.25
BASE = Setting(CornerSetting(3.0, np.pi, 1.0, 0.5), CornerSetting(3.0, np.pi, 1.0, 0.5))
NEW = Setting(CornerSetting(3.0, 2.5, 2.0, 0.5), CornerSetting(2.0, np.pi, 1.0, 4.0))


STILL = LoadCase("still")


def change(kart, base, setting, handwheel=0.0, pitch=PITCH, cases=()) -> Change:
    """What a setting does to a kart, read at handwheel angles in rad and in load cases."""
    return changed(Solved(kart, base, np.atleast_1d(handwheel), cases), setting, pitch)


def figures(found: Change, now: Solved) -> Differences:
    """Headline figures and where the front wheels stand, against the base."""
    before, after = ({**of.headline, **of.places} for of in (found.base, now))
    return differences(before, after)


def curves(found: Change, now: Solved) -> Differences:
    return differences(found.base.columns, now.columns)


def still(found: Change, now: Solved) -> Differences:
    """Columns of the case in which it stands still, against the base."""
    return differences(found.base.case_columns[STILL.name], now.case_columns[STILL.name])


def toe(kart, setting):
    return toe_of(straight_ahead(kart, setting))


def toe_of(ahead):
    return np.degrees([ahead.left.ahead[..., 2], ahead.right.ahead[..., 2]])


@pytest.mark.slow
@given(karts(), settings_of(), settings_of())
@deep(8, 100)
def test_turns_applied_give_back_the_toe(kart, base, setting):
    setting = replace(setting, rear_axle_shift=base.rear_axle_shift)
    ahead = straight_ahead(kart, base)
    if not ahead.reach.all():
        return
    found = change(kart, base, setting)
    for variant, rods in ((setting, found.rods), (None, found.rods_after_spacers)):
        if not (rods.left.known.all() and rods.right.known.all() and found.spacers.known.all()):
            continue
        fitted = variant or with_spacers_moved(setting, found.spacers.left, found.spacers.right)
        kept = with_rods_kept(ahead, fitted)
        put_back = turned_rods(kart, kept, rods.left.turns, rods.right.turns, PITCH)
        assert np.abs(toe(kart, put_back) - toe_of(ahead)).max() < 1e-9


def test_a_real_length_by_hand_gives_back_the_toe_and_the_direction_is_right():
    found = change(KART, BASE, NEW, LOCK)
    base, fitted = straight_ahead(KART, BASE), NEW
    for side in ("left", "right"):
        rod = getattr(found.rods, side)
        assert rod.known
        length = getattr(base, side).linkage.rod_length + rod.turns * 2.0 * PITCH
        fitted = replace(fitted, **{side: replace(getattr(NEW, side), rod_length=length)})
    assert np.abs(toe(KART, fitted) - toe(KART, BASE)).max() < 1e-9
    # the steering arms point rearward: a longer rod pushes the arm out and toes the wheel in
    longer = turned_rods(KART, BASE, 1.0, 0.0, PITCH)
    assert toe(KART, longer)[0] > toe(KART, BASE)[0]
    assert abs(toe(KART, longer) - toe(KART, BASE))[1] < 1e-3  # its road leans a little
    toed_out = with_rod(BASE, np.radians(-0.5), np.radians(-0.5))
    back = change(KART, toed_out, with_rod(BASE, np.radians(0.5), np.radians(0.5)), LOCK)
    assert back.rods.left.direction == 1.0
    assert back.rods.right.direction == 1.0


def test_one_turn_moves_two_pitches():
    length = straight_ahead(KART, BASE).left.linkage.rod_length
    turned = straight_ahead(KART, turned_rods(KART, BASE, 1.0, -0.5, PITCH))
    assert turned.left.linkage.rod_length - length == pytest.approx(2.5)
    assert turned.right.linkage.rod_length - length == pytest.approx(-1.25)


def test_nothing_changed_changes_nothing():
    found = change(KART, BASE, BASE, LOCK, cases=(STILL,))
    for now in (found.kept, found.reset, found.right):
        for read in (figures, curves, still):
            assert max(np.abs(d.change).max() for d in read(found, now).values()) < 1e-6
    assert found.rods.left.turns == pytest.approx(0.0, abs=1e-9)
    assert found.rods.left.direction == 0.0
    assert found.spacers.left == pytest.approx(0.0, abs=1e-9)


def test_rods_left_alone_upset_toe_and_reset_rods_do_not():
    found = change(KART, BASE, NEW, LOCK)
    kept, reset = figures(found, found.kept), figures(found, found.reset)
    assert abs(kept["toe_left_deg"].change) > 0.05
    assert kept["rod_length_left_mm"].change == pytest.approx(0.0, abs=1e-9)
    assert reset["toe_left_deg"].change == pytest.approx(0.0, abs=1e-9)
    for name in ("caster_left_deg", "kingpin_inclination_right_deg"):  # bushes and the road decide them
        assert kept[name].change == pytest.approx(reset[name].change, abs=0.05)
        assert abs(kept[name].change) > 0.1


def test_spacers_put_the_height_back_and_with_it_the_stance():
    base = replace(BASE, rear_axle_shift=4.0)
    only_spacers = replace(base, left=replace(base.left, spacer_shift=3.0))
    assert spacer_moves(straight_ahead(KART, base), only_spacers).left == pytest.approx(-3.0)
    assert spacer_moves(straight_ahead(KART, base), only_spacers).right == pytest.approx(0.0, abs=1e-6)
    lowered = Setting(replace(NEW.left, spacer_shift=3.0), NEW.right, 4.0)
    moves = spacer_moves(straight_ahead(KART, base), lowered)
    assert moves.known
    put_back = with_spacers_moved(lowered, moves.left, moves.right)
    after, before = wheel_heights(straight_ahead(KART, put_back)), wheel_heights(straight_ahead(KART, base))
    assert np.abs(np.subtract(after, before)).max() < 1e-6
    found = change(KART, base, lowered, cases=(STILL,))
    off = np.abs(still(found, found.reset)["cross_weight_percent"].change)
    assert off > 1.0
    assert np.abs(still(found, found.right)["cross_weight_percent"].change) < 0.1 * off
    assert np.abs(still(found, found.right)["ride_height_change_front_mm"].change) < 0.05


def test_spacers_put_each_corner_back_to_its_own_height():
    uneven = replace(BASE, left=replace(BASE.left, spacer_shift=3.0), rear_axle_shift=4.0)
    before = straight_ahead(KART, uneven)
    moves = spacer_moves(before, NEW)
    assert moves.known
    after = straight_ahead(KART, with_spacers_moved(NEW, moves.left, moves.right))
    left, right = wheel_heights(before)
    assert abs(left - right) > 2.0
    assert np.abs(np.subtract(wheel_heights(after), (left, right))).max() < 1e-6


def test_a_stub_put_up_lowers_the_frame_there():
    up = Setting(CornerSetting(spacer_shift=2.0), CornerSetting(spacer_shift=2.0))
    found = change(KART, Setting(), up, cases=(STILL,))
    assert figures(found, found.reset)["wheel_height_left_mm"].change == pytest.approx(2.0, abs=0.1)
    assert still(found, found.reset)["ride_height_change_front_mm"].change == pytest.approx(-2.0, abs=0.1)


def test_places_of_the_wheels_follow_a_shifted_axis():
    """Equal bushes at equal clocks carry the axis along without tilting it."""
    forward, outward = CornerSetting(2.0, 0.0, 2.0, 0.0), CornerSetting(2.0, 1.0, 2.0, 1.0)
    found = change(KART, Setting(), Setting(forward, outward))
    told = figures(found, found.reset)
    assert told["wheelbase_left_mm"].base == pytest.approx(1045.0)
    assert told["half_track_left_mm"].base == pytest.approx(535.0)
    assert told["front_track_mm"].base == pytest.approx(1070.0)
    _, ahead, out = seat_axes(KART.left.yoke)
    for side, shift in (("left", 2.0 * ahead), ("right", 2.0 * (np.cos(1.0) * ahead + np.sin(1.0) * out))):
        assert told[f"wheelbase_{side}_mm"].change == pytest.approx(shift[0], abs=0.1)
        assert told[f"half_track_{side}_mm"].change == pytest.approx(shift[1], abs=1e-4)
        # the wheels now stand on their crowns as the leaned frame holds them
        assert told[f"wheel_height_{side}_mm"].change == pytest.approx(shift[2], abs=0.01)
    assert told["front_track_mm"].change == pytest.approx(
        2.0 * (ahead[1] + np.cos(1.0) * ahead[1] + np.sin(1.0) * out[1]), abs=1e-4
    )


def test_a_shifted_rear_axle_rakes_the_road_and_moves_nothing_in_the_frame():
    """The wheels stand where they stood; only the directions along and square to the road have turned."""
    raked = Setting(rear_axle_shift=20.0)
    found = change(KART, Setting(), raked)
    told = figures(found, found.kept)
    angle = np.arctan2(20.0, 1045.0)
    rise = 129.0 - (139.0 + 20.0)  # from rear to front wheel centre
    by_hand = 1045.0 * np.cos(angle) - rise * np.sin(angle)
    assert told["wheelbase_left_mm"].now == pytest.approx(by_hand, abs=1e-3)
    assert told["wheel_height_right_mm"].change == pytest.approx(0.0, abs=0.1)
    assert told["caster_left_deg"].change == pytest.approx(np.degrees(angle), abs=1e-3)


def test_a_toe_no_rod_gives_is_unknown_not_a_number():
    flat = replace(KART.left, yoke=replace(KART.left.yoke, kingpin_inclination=np.radians(80.0)))
    kart = replace(KART, left=flat)
    wanted = with_rod(Setting(), np.radians(60.0), 0.0)
    found = change(kart, Setting(), wanted)
    assert not found.rods.left.known
    assert found.rods.left.turns == 0.0
    assert found.rods.right.known
    assert not figures(found, found.reset)["camber_left_deg"].known


def test_a_batch_of_settings_is_the_settings_one_by_one():
    clocks = np.array([0.5, 2.0, 3.5])
    many = Setting(CornerSetting(3.0, clocks), CornerSetting(3.0, clocks))
    whole = change(KART, BASE, many, LOCK)
    one = change(KART, BASE, Setting(CornerSetting(3.0, 2.0), CornerSetting(3.0, 2.0)), LOCK)
    assert whole.rods.left.turns[1] == pytest.approx(one.rods.left.turns)
    assert curves(whole, whole.right)["wheel_drop_left_mm"].change[1] == pytest.approx(
        curves(one, one.right)["wheel_drop_left_mm"].change
    )


@pytest.mark.parametrize(
    ("move", "spacers", "shift", "used"),
    [
        (2.9, [1.0, 2.0, 3.0], 3.0, (3.0,)),
        (-4.6, [1.0, 2.0, 2.5], -4.5, (2.0, 2.5)),
        (0.2, [1.0], 0.0, ()),
        (5.0, [], 0.0, ()),
    ],
)
def test_the_nearest_stack_of_spacers(move, spacers, shift, used):
    assert nearest_stack(move, spacers) == (pytest.approx(shift), used)


def test_a_thread_without_pitch_is_refused():
    with pytest.raises(ValueError, match="thread pitch must be above 0 mm"):
        change(KART, BASE, NEW, LOCK, pitch=0.0)


def test_a_rod_of_a_given_length_is_re_set_to_the_toe_it_makes_itself():
    ahead = straight_ahead(KART, NEW)
    longer = float(ahead.left.linkage.rod_length) + 2.0
    given_length = replace(NEW, left=replace(NEW.left, rod_length=longer))
    own, base = toe(KART, given_length), toe(KART, BASE)
    assert abs(own[0] - base[0]) > 0.1
    after = toe(KART, change(KART, BASE, given_length, LOCK).reset.setting)
    assert after == pytest.approx([own[0], base[1]], abs=1e-9)
