"""The view from behind: each wheel says what it carries, and the diagonal lies from foot to foot."""

from __future__ import annotations

import numpy as np
import pytest

import scenarios
from kinematics.lock import sweep
from kinematics.parts import GRAVITY
from kinematics.stance.equilibrium import FL, FR, RL, RR
from kinematics.standing.stand import stand
from viz.scene import scene
from viz.scene.stories.wheels import NAMES

LOCK = np.radians([-45.0, -20.0, 0.0, 20.0, 45.0])
LEFT_TURN, RIGHT_TURN = (FL, FR, RL, RR), (FR, FL, RR, RL)


@pytest.fixture(scope="module")
def told():
    scenario = scenarios.load()
    [case] = scenario.cases(["slow corner"])
    swept = sweep(scenario.kart, scenario.settings["more-caster"], LOCK)
    standing = stand(swept, case)
    data = scene.build(swept, "more-caster", stance=standing, case_name=case.name, exaggeration=3.0)
    return standing, data.seen_from("rear")


def test_each_wheel_says_what_it_carries_by_its_part_in_the_turn(told):
    standing, data = told
    for index, order in ((0, RIGHT_TURN), (4, LEFT_TURN)):
        said = [label.texts[index] for label in data.labels]
        for text, which, wheel in zip(said, NAMES, order, strict=True):
            kg, air = standing.loads[index, wheel] / GRAVITY, standing.clearance[index, wheel]
            assert text == f"{which}: {air:.1f} mm of air" if air > 0.0 else f"{which}: {kg:.1f} kg"
    assert any("mm of air" in text for text in data.labels[2].texts)


def test_the_share_of_the_diagonal_is_that_of_its_two_loads(told):
    standing, data = told
    for index, (front, rear) in ((0, (FR, RL)), (4, (FL, RR))):
        loads = standing.loads[index]
        share = 100.0 * (loads[front] + loads[rear]) / loads.sum()
        assert data.captions[index].startswith(
            f"inside front and outside rear carry {share:.0f} % of the kart"
        )


def test_the_diagonal_lies_from_the_inside_front_to_the_outside_rear_wheel(told):
    _, data = told
    moves = data.body("rocks_over").matrices
    start, end = moves[:, :3, 3], moves[:, :3, 3] + moves[:, :3, 0]
    assert (np.sign(start[[0, 4], 1]) == [-1.0, 1.0]).all()
    assert (np.sign(end[[0, 4], 1]) == [1.0, -1.0]).all()
    assert (start[:, 0] > 800.0).all()
    assert (np.abs(end[:, 0]) < 60.0).all()


def test_its_arrows_stay_and_the_marks_of_the_front_end_go(told):
    _, data = told
    roles = {body.role for body in data.bodies}
    assert "load" in roles
    assert not {"axis", "axis_point", "contact"} & roles
