"""The view of a tilted clock: the stub axle's end goes round its rim, and lines end where the solver says."""

from __future__ import annotations

import numpy as np
import pytest

import scenarios
from kinematics.lock import sweep
from tests.helpers.drawn.standing import points
from viz.scene import scene
from viz.scene.stories.against import against

LOCK = np.radians([-45.0, -20.0, 0.0, 20.0, 45.0])


@pytest.fixture(scope="module", params=["as-delivered", "more-caster", "camber-and-caster"])
def told(request):
    scenario = scenarios.load()
    swept = sweep(scenario.kart, scenario.settings[request.param], LOCK)
    return swept, scene.build(swept, request.param).seen_from("clock")


def test_the_stubs_end_goes_round_the_tilted_rim(told):
    swept, data = told
    moves = data.body("tilted_rim").matrices[0]
    place = np.linalg.inv(moves) @ np.concatenate([swept.left.wheel_centre, np.ones((5, 1))], axis=1).T
    assert np.hypot(place[0], place[1]) == pytest.approx(1.0, abs=1e-6)
    assert place[2] == pytest.approx(0.0, abs=1e-6)
    for i, mark in ((0, "outside_end"), (-1, "inside_end")):
        assert points(data.body(mark))[0].mean(axis=0) == pytest.approx(swept.left.wheel_centre[i], abs=0.1)


def test_the_level_rim_is_level_and_as_large(told):
    _, data = told
    level, tilted = (points(data.body(f"{which}_rim"))[0] for which in ("level", "tilted"))
    assert np.ptp(level[:, 2]) == pytest.approx(3.0, abs=1e-6)  # its thickness
    assert np.ptp(tilted[:, 2]) > 20.0
    assert np.ptp(level[:, 0]) == pytest.approx(np.ptp(level[:, 1]), rel=1e-3)
    assert level.mean(axis=0) == pytest.approx(tilted.mean(axis=0), abs=1e-6)


def test_trail_and_scrub_lead_from_the_axis_to_the_contact_centre(told):
    swept, data = told
    corner, normal = swept.left, swept.road.normal
    moves = data.body("scrub_line").matrices
    ends = moves[:, :3, 3] + moves[:, :3, 0]
    assert ends == pytest.approx(corner.contact_centre, abs=1e-6)
    assert data.body("trail_line").matrices[:, :3, 3] == pytest.approx(corner.axis_road_point, abs=1e-6)
    lengths = [np.linalg.norm(data.body(f"{w}_line").matrices[:, :3, 0], axis=-1) for w in ("trail", "scrub")]
    assert lengths[0] == pytest.approx(np.abs(corner.trail), abs=1e-6)
    assert lengths[1] == pytest.approx(np.abs(corner.scrub), abs=1e-6)
    assert np.abs(ends - corner.axis_road_point) @ normal == pytest.approx(0.0, abs=2.0)


def test_its_words_are_the_solvers_numbers(told):
    swept, data = told
    said = [label.text for label in data.labels]
    drop = swept.left.wheel_drop
    assert f"kingpin axis leans back {np.degrees(swept.left.caster):.1f}°" in said
    assert f"45° left, inside: back and {abs(drop[-1]):.0f} mm {'down' if drop[-1] > 0 else 'up'}" in said
    assert f"45° right, outside: forward and {abs(drop[0]):.0f} mm {'down' if drop[0] > 0 else 'up'}" in said
    trail = next(label for label in data.labels if label.text.startswith("trail"))
    assert trail.texts == tuple(f"trail {value:.0f} mm" for value in swept.left.trail)


def test_the_other_corner_the_frame_and_the_wheel_are_left_out(told):
    _, data = told
    names = {body.name for body in data.bodies}
    assert "stub_left" in names
    assert not {"stub_right", "frame", "wheel_left", "wheel_right", "column"} & names


def test_the_clocks_of_two_settings_stand_in_each_other():
    scenario = scenarios.load()
    one, other = (
        scene.build(sweep(scenario.kart, scenario.settings[name], LOCK), name)
        for name in ("as-delivered", "more-caster")
    )
    data = against(one, other).seen_from("clock")
    own, laid = other.seen_from("clock"), {body.name: body for body in data.bodies}
    for name in ("tilted_rim", "axis_left", "inside_end"):
        assert points(laid[f"B {name}"]) == pytest.approx(points(own.body(name)))
        assert laid[f"B {name}"].role == "second"
        assert np.abs(points(laid[f"B {name}"]) - points(laid[name])).max() > 1.0
    said = [label.text for label in data.labels]
    swept = sweep(scenario.kart, scenario.settings["more-caster"], LOCK)
    assert f"B: kingpin axis leans back {np.degrees(swept.left.caster):.1f}°" in said
    assert f"B: 45° left, inside: back and {swept.left.wheel_drop[-1]:.0f} mm down" in said
    assert data.captions[2].endswith("; B more-caster")
