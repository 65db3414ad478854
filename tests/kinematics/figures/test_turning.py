"""Lock to the left and to the right: an even kart alike, a mirrored one mirrored, opposite lock by name."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

import scenarios
from kinematics.lock import sweep
from kinematics.parts import CornerSetting, LoadCase, Setting
from kinematics.stance.equilibrium import RL, RR
from kinematics.standing.effort import effort
from kinematics.standing.stand import stand
from tests.helpers.reading import case_columns, case_figures

SCENARIO = scenarios.load()
KART, BENT = SCENARIO.kart, scenarios.load("bent-right-stub").kart
CASES = {case.name: case for case in SCENARIO.load_cases}
MORE, AT = SCENARIO.settings["more-caster"], np.radians(40.0)
UNLIKE = Setting(
    CornerSetting(2.0, 3.1, 1.0, 0.4, rod_toe=0.01), CornerSetting(1.2, 2.2, 2.6, 5.0, rod_toe=0.0)
)


def value(figure):
    assert bool(figure.known)
    return float(figure.values)


EVEN = (330.0, 330.0, 440.0, 440.0)
EITHER_WAY = (
    *(CASES[name] for name in ("standing", "slow corner", "fast corner", "braking into the corner")),
    LoadCase("at a speed", speed=9.7, grip_limit_g=1.6),
    LoadCase("slide", 0.9, opposite_lock=True),
)


@pytest.mark.parametrize("case", EITHER_WAY, ids=lambda case: case.name)
def test_an_even_kart_reads_the_same_to_both_sides(case):
    told = case_figures(replace(KART, loads=EVEN), MORE, case, AT)
    known = 0
    for name, figure in told.items():
        if "_left_" in name:
            other = told[name.replace("_left_", "_right_")]
            assert bool(figure.known) == bool(other.known), name
            known += bool(figure.known)
            assert not figure.known or value(figure) == pytest.approx(value(other), rel=1e-6, abs=1e-6), name
    assert known >= 6


@pytest.mark.parametrize("case", EITHER_WAY, ids=lambda case: case.name)
def test_a_mirrored_kart_and_setting_read_mirrored_to_the_other_side(case):
    """Uneven in corners, loads and bushes; mirrored in all of them, right lock reads as left lock."""
    kart, mirrored = (
        replace(KART, left=one, right=other, loads=loads)
        for one, other, loads in (
            (BENT.left, BENT.right, (340.0, 310.0, 430.0, 455.0)),
            (BENT.right, BENT.left, (310.0, 340.0, 455.0, 430.0)),
        )
    )
    told = case_figures(kart, UNLIKE, case, AT)
    other = case_figures(mirrored, Setting(UNLIKE.right, UNLIKE.left), case, AT)
    differ = 0
    for name, figure in told.items():
        swapped = name.replace("_left_", "_RIGHT_").replace("_right_", "_left_").replace("_RIGHT_", "_right_")
        assert bool(figure.known) == bool(other[swapped].known), name
        if figure.known:
            assert value(figure) == pytest.approx(value(other[swapped]), rel=1e-6, abs=1e-6), name
            differ += abs(value(figure) - float(told[swapped].values)) > 1e-3
    assert differ >= 6


def test_on_opposite_lock_the_inside_is_that_of_the_turn():
    """By hand: right lock, 0.9 g to the left: the rear left is inside and the front right outside."""
    slide = LoadCase("slide", 0.9, opposite_lock=True)
    told, swept = case_figures(KART, MORE, slide, AT), sweep(KART, MORE, [-AT])
    standing = stand(swept, slide)
    assert standing.lateral_g.tolist() == [0.9]
    assert value(told["inside_rear_load_at_lock_right_n"]) == pytest.approx(standing.loads[0, RL], abs=1e-6)
    assert standing.loads[0, RL] < standing.loads[0, RR]
    assert value(told["jacking_rate_right_n_per_deg"]) < 0.0  # lock against the turn loads its inside rear
    columns = case_columns(swept, slide)
    camber = columns["standing_camber_right_deg"].values[0]
    assert value(told["outside_front_camber_at_lock_right_deg"]) == pytest.approx(camber, abs=1e-9)
    assert columns["inside_rear_load_n"].values[0] == standing.loads[0, RL]


@pytest.mark.parametrize("case", EITHER_WAY, ids=lambda case: case.name)
def test_through_lock_an_even_kart_stands_and_is_held_mirrored(case):
    lock = np.radians(np.array([5.0, 20.0, 35.0, 50.0]))
    kart = replace(KART, loads=EVEN)
    (to_left, left), (to_right, right) = (
        (swept, stand(swept, case)) for swept in (sweep(kart, MORE, way * lock) for way in (1.0, -1.0))
    )
    assert np.abs(left.loads - right.loads[:, [1, 0, 3, 2]]).max() < 1e-4
    assert left.lateral_g == pytest.approx(-right.lateral_g, abs=1e-12)
    assert left.twist == pytest.approx(-right.twist, abs=1e-9)
    held, other = effort(to_left, left, 12.0), effort(to_right, right, 12.0)
    assert held.handwheel == pytest.approx(-other.handwheel, rel=1e-6, abs=1e-2)
