"""The view of a kart rocking: what is drawn for it ends where the solver says, and says its numbers."""

from __future__ import annotations

import re

import numpy as np
import pytest

import scenarios
from kinematics.lock import sweep
from kinematics.parts import GRAVITY
from kinematics.standing.stand import inside_rear_clearance, inside_rear_load, stand
from tests.helpers.drawn.standing import points
from viz.scene import scene

LOCK = np.radians([-45.0, -20.0, 0.0, 20.0, 45.0])


def told(times=1.0, case="slow corner", setting="more-caster", view="rock"):
    scenario = scenarios.load()
    swept = sweep(scenario.kart, scenario.settings[setting], LOCK)
    [load_case] = scenario.cases([case])
    standing = stand(swept, load_case)
    data = scene.build(swept, setting, stance=standing, case_name=case, exaggeration=times)
    return swept, standing, data.seen_from(view)


@pytest.fixture(scope="module")
def rocking():
    return told()


def ends(data, name):
    """The lowest and the highest vertex of a body (N,), mm."""
    high = points(data.body(name))[..., 2]
    return high.min(axis=1), high.max(axis=1)


def test_the_bracket_is_as_high_as_the_air_under_the_inside_rear(rocking):
    swept, standing, data = rocking
    air = inside_rear_clearance(swept, standing)
    low, high = ends(data, "gap_post")
    seen = data.body("gap_post").visible
    assert seen.tolist() == (air > 0.0).tolist() == [True, False, False, False, True]
    assert (high - low)[seen] == pytest.approx(air[seen], abs=1e-6)
    assert low[seen] == pytest.approx(0.0, abs=1e-6)


def test_an_exaggerated_bracket_is_as_high_as_drawn_and_says_the_true_number():
    swept, standing, data = told(times=4.0)
    air = inside_rear_clearance(swept, standing)[-1]
    low, high = ends(data, "gap_post")
    assert (high - low)[-1] == pytest.approx(4.0 * air, abs=1e-6)
    [said] = [label.texts[-1] for label in data.labels if label.role == "air"]
    assert float(re.search(r"([\d.]+) mm of air", said)[1]) == pytest.approx(air, abs=0.05)
    assert f"{air:.1f} mm in the air" in data.captions[-1]
    assert "drawn x4" in data.stated


def test_the_kart_rests_on_the_other_three_wheels(rocking):
    _, standing, data = rocking
    for at, up in ((0, "rear_right"), (-1, "rear_left")):
        for name in ("front_left", "front_right", "rear_left", "rear_right"):
            lowest = ends(data, f"air_{name}" if name == up else f"tyre_{name}")[0][at]
            assert (lowest > 1.0) if name == up else lowest == pytest.approx(0.0, abs=0.1)
    assert standing.clearance[0, 3] > 1.0


def test_the_line_runs_from_the_inside_front_to_the_outside_rear_wheel(rocking):
    _, _, data = rocking
    line = points(data.body("rocks_over"))
    assert data.body("rocks_over").visible.tolist() == [True, True, False, True, True]
    for at, front, rear in ((0, "front_right", "rear_left"), (-1, "front_left", "rear_right")):
        tyre = [points(data.body(f"tyre_{name}"))[at] for name in (front, rear)]
        stands = [one[one[:, 2] < 3.0, :2].mean(axis=0) for one in tyre]
        along = line[at, :, 0]
        last = [
            line[at, along > along.max() - 40.0, :2].mean(0),
            line[at, along < along.min() + 40.0, :2].mean(0),
        ]
        assert np.stack(last) == pytest.approx(np.stack(stands), abs=25.0)  # a contact is so wide


def test_the_tinted_triangle_lies_under_the_three_wheels_and_looks_upward(rocking):
    _, _, data = rocking
    body = data.body("rests_on")
    for at in (0, -1):
        a, b, c = points(body)[at]
        assert np.cross(b - a, c - a)[2] > 0.0
        assert np.ptp(points(body)[at][:, 0]) == pytest.approx(1045.0, abs=40.0)


def test_the_captions_say_drops_and_load_of_the_solver(rocking):
    swept, standing, data = rocking
    texts = {label.role: label.texts for label in data.labels}
    drops = swept.left.wheel_drop, swept.right.wheel_drop
    assert texts["pushed"][-1] == f"1  inside front pushed down {drops[0][-1]:.0f} mm"
    assert texts["contact"][-1] == f"2  outside front gives way {-drops[1][-1]:.0f} mm"
    assert texts["pushed"][0] == f"1  inside front pushed down {drops[1][0]:.0f} mm"
    kg = inside_rear_load(swept, standing)[3] / GRAVITY
    assert texts["air"][3] == ""  # yellow is for a wheel in the air
    assert texts["load"][3] == f"3  inside rear still carries {kg:.1f} kg"
    assert f"carries {kg:.1f} kg" in data.captions[3]
    assert [role for role, said in texts.items() if said[2]] == []  # straight ahead there is nothing to tell


def test_an_inside_front_that_goes_up_has_no_arrow_down():
    swept, _, data = told(setting="less-caster", case="gentle corner")
    inside = np.where(swept.handwheel > 0.0, swept.left.wheel_drop, swept.right.wheel_drop)
    shown = data.body("push_shaft").visible
    assert shown.tolist() == ((inside > 0.0) & (np.abs(swept.handwheel) > 0.1)).tolist()


def test_from_elsewhere_nothing_of_it_is_seen_and_from_there_nothing_stands_before_it(rocking):
    _, _, data = rocking
    scenario = scenarios.load()
    swept = sweep(scenario.kart, scenario.settings["more-caster"], LOCK)
    plain = scene.build(swept, stance=stand(swept, scenario.load_cases[0]))
    assert {"rock", "rock_right"} <= set(plain.views)
    assert plain.seen_from("front") is plain
    assert not {"driver", "shadow", "diagonal", "pushed"} & {body.role for body in plain.bodies}
    assert not {"load", "axis"} & {body.role for body in data.bodies}
