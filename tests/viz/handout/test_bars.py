"""The bar of a hand-out: the inside rear's load standing, less cornering, less steering, by the solver."""

from __future__ import annotations

from xml.etree import ElementTree

import numpy as np
import pytest

import scenarios
from kinematics.lock import sweep
from kinematics.parts import GRAVITY, LoadCase
from kinematics.standing.stand import inside_rear_load, stand
from viz.handout.bars import WIDTH, Share, data, drawn, shares, whole
from viz.handout.content import solve

NAMES = ("as-delivered", "more-caster")


@pytest.fixture(scope="module")
def content():
    return solve(scenarios.load(), NAMES, 5, "slow corner")


def test_its_parts_are_differences_of_the_solvers_states(content):
    kart, found = content.scenario.kart, shares(content)
    for slot, name in zip("AB", NAMES, strict=True):
        setting = content.scenario.settings[name]
        swept = sweep(kart, setting, np.radians([-30.0, 30.0]))
        last = inside_rear_load(swept, stand(swept, content.case)) / GRAVITY
        still = stand(sweep(kart, setting, 0.0), LoadCase("still")).loads[0] / GRAVITY
        for stop, place, wheel in ((1, 0, 3), (3, 1, 2)):
            one = found[slot][stop]
            assert one.standing == pytest.approx(still[wheel])
            assert one.carries == pytest.approx(last[place])
            assert one.cornering > 0.0
            assert one.steering > 0.0


def test_cornering_alone_takes_as_much_from_either_setting_and_more_caster_lets_steering_take_more(content):
    """On 1.6 g a setting's own angles hardly change what cornering takes."""
    found = shares(content)
    one, other = found["A"][3], found["B"][3]
    assert other.cornering == pytest.approx(one.cornering, abs=0.5)
    standing = solve(scenarios.load(), NAMES, 5, "standing")
    one, other = (shares(standing)[slot][3] for slot in "AB")
    assert one.cornering == pytest.approx(0.0, abs=1e-9)
    assert other.steering > one.steering + 1.0


def test_straight_ahead_steering_takes_nothing(content):
    assert shares(content)["A"][2].steering == pytest.approx(0.0, abs=1e-9)


def test_it_is_drawn_as_long_as_what_it_tells_and_says_it():
    share = Share(40.0, 25.0, 10.0)
    svg, said = drawn(share, "A", 50.0).split("</svg>")
    rects = ElementTree.fromstring(svg + "</svg>")
    assert [rect.get("class") for rect in rects] == ["carries", "steering", "cornering"]
    assert [float(rect.get("width")) for rect in rects] == pytest.approx(
        [0.1 * WIDTH, 0.2 * WIDTH, 0.5 * WIDTH]
    )
    assert [float(rect.get("x")) for rect in rects] == pytest.approx([0.0, 0.1 * WIDTH, 0.3 * WIDTH])
    assert "Inside rear: 40.0 kg standing − 25.0 cornering − 10.0 steering = 5.0 kg" in said


def test_what_puts_load_on_is_said_so_and_has_no_length():
    share = Share(40.0, 30.0, -1.5)
    assert "+ 1.5 steering = 11.5 kg" in share.said
    assert share.widths(40.0)[1] == 0.0


def test_where_the_kart_has_no_stance_nothing_is_drawn(content):
    found = {"A": [None, Share(30.0, 1.0, 1.0)]}
    assert whole(found) == 30.0
    assert data(found)["A"][0] is None
    assert 'width="0.0"' in drawn(None, "A", 30.0)
    assert whole(shares(content)) == pytest.approx(45.5, abs=0.1)
