"""How a kart stands, in a word: read off a stance, alike for every surface."""

from __future__ import annotations

import numpy as np
import pytest

import scenarios
from kinematics.figures.verdict import BINDS, ON_TWO, STANDS, TIPS, falls, gaps, words
from kinematics.lock import sweep
from kinematics.parts import LoadCase
from kinematics.standing.stand import stand
from tests.helpers.uneven import MUCH_CASTER, TABLE


def test_each_word_is_the_stances_own():
    scenario = scenarios.load()
    swept = sweep(scenario.kart, scenario.settings["as-delivered"], np.radians(np.linspace(-90.0, 90.0, 61)))
    standing = stand(swept, LoadCase("hard", lateral_g=2.15))
    reach = swept.reach & (np.arange(61) > 5)
    found = words(reach, standing)
    assert set(found) == {ON_TWO, TIPS, BINDS}
    for word, kept, wheels in zip(found, reach, np.count_nonzero(standing.loads, axis=-1), strict=True):
        assert (word == BINDS) is not bool(kept)
        assert word != ON_TWO or wheels == 2
    assert [word == TIPS for word in found] == (reach & standing.tips & ~standing.on_two_wheels).tolist()
    assert gaps([*found, STANDS]) == [ON_TWO, TIPS, BINDS]


def test_harder_and_harder_it_stands_then_rests_on_two_wheels_then_tips():
    scenario = scenarios.load()
    swept = sweep(scenario.kart, scenario.settings["as-delivered"], np.radians(np.linspace(-60.0, 60.0, 61)))
    found = [
        set(words(swept.reach, stand(swept, LoadCase("hard", lateral_g=g)))) for g in (1.0, 2.02, 2.15, 2.6)
    ]
    assert found == [{STANDS}, {STANDS, ON_TWO}, {ON_TWO, TIPS}, {TIPS}]


def test_where_a_resting_place_ends_is_said_in_degrees_both_ways():
    swept = sweep(TABLE, MUCH_CASTER, np.radians([-78.0, -40.0, 0.0, 60.0, 78.0]))
    standing = stand(swept, LoadCase("standing"))
    assert falls(swept.reach, standing) == pytest.approx([-68.7, 68.7], abs=0.1)
    assert falls(swept.reach & (np.abs(swept.handwheel) < 1.1), standing) == []
