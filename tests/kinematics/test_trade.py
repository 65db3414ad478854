"""Figures of the kart trade (common practice, no source) against the built-in training kart and the rods."""

from __future__ import annotations

import numpy as np

import scenarios
from kinematics.change.rods import PITCHES_PER_TURN
from kinematics.lock import sweep
from tests.authorities import common_practice as trade


def test_one_turn_of_a_left_and_right_hand_rod_moves_two_pitches():
    assert PITCHES_PER_TURN * trade.ROD_PITCH_MM == trade.ROD_TURN_MM
    assert scenarios.load().thread_pitch_mm == trade.ROD_PITCH_MM


def test_the_training_karts_kit_and_yoke_are_of_the_sizes_in_use():
    kart = scenarios.load()
    low, high = trade.BUSH_SIZES_DEG
    sizes = [size.number for size in kart.kit.sizes]
    assert {size.unit for size in kart.kit.sizes} == {"deg"}
    assert low <= min(sizes) <= max(sizes) <= high
    assert trade.DELIVERED_BUSH_DEG in sizes
    built_in = np.degrees(kart.kart.left.yoke.caster)
    assert trade.BUILT_IN_CASTER_RANGE_DEG[0] <= built_in <= trade.BUILT_IN_CASTER_RANGE_DEG[1]
    assert abs(built_in - trade.BUILT_IN_CASTER_DEG) < 0.5


def test_every_setting_of_the_training_kart_that_keeps_its_rods_upsets_toe():
    made = scenarios.load()
    plain = made.kart.left.stub.toe
    for name, setting in made.settings.items():
        left = setting.left
        if left.rod_toe is not None or left.rod_length is not None:
            continue
        if not (float(left.top_offset) or float(left.bottom_offset) or float(left.spacer_shift)):
            continue
        assert abs(sweep(made.kart, setting, 0.0).left.ahead[2] - plain) > np.radians(0.01), name
