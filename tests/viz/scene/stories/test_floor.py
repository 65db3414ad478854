"""The view of the road from above: lines end where the solver says, the path is the contact's way."""

from __future__ import annotations

import numpy as np
import pytest

import scenarios
from kinematics.lock import sweep
from tests.helpers.drawn.standing import points
from viz.scene import scene
from viz.scene.stories.against import against

LOCK = np.radians([-45.0, -20.0, 0.0, 20.0, 45.0])


def seen(name):
    scenario = scenarios.load()
    swept = sweep(scenario.kart, scenario.settings[name], LOCK)
    return swept, scene.build(swept, name)


@pytest.mark.parametrize("name", ["as-delivered", "more-caster", "camber-and-caster"])
def test_trail_and_scrub_lead_from_the_axis_to_the_contact_centre_and_are_as_long(name):
    swept, data = seen(name)
    corner, told = swept.left, data.seen_from("floor")
    trail, scrub = (told.body(f"{which}_line").matrices for which in ("trail", "scrub"))
    assert trail[:, :3, 3] == pytest.approx(corner.axis_road_point, abs=1e-6)
    assert scrub[:, :3, 3] + scrub[:, :3, 0] == pytest.approx(corner.contact_centre, abs=1e-6)
    lengths = [np.linalg.norm(moves[:, :3, 0], axis=-1) for moves in (trail, scrub)]
    assert lengths == [pytest.approx(np.abs(v), abs=1e-6) for v in (corner.trail, corner.scrub)]
    said = [label.texts for label in told.labels]
    assert said[0] == tuple(f"trail {value:.0f} mm" for value in corner.trail)
    assert said[1] == tuple(f"scrub {value:.0f} mm" for value in corner.scrub)
    straight = f"{corner.trail[2]:.0f} mm behind and {corner.scrub[2]:.0f} mm outside of the kingpin axis"
    assert told.captions[2].startswith(f"the road pushes {straight}")


def test_the_contact_goes_along_the_path_drawn():
    swept, data = seen("more-caster")
    path = points(data.seen_from("floor").body("path"))[0]
    for place in swept.left.contact_centre:
        assert np.linalg.norm(path[:, :2] - place[:2], axis=-1).min() < 6.0  # corners of a thin tube


def test_the_same_picture_of_a_second_setting_lies_over_the_first():
    (_, one), (swept, other) = seen("as-delivered"), seen("more-caster")
    data = against(one, other).seen_from("floor")
    for name in ("trail_line", "pushes", "axis_point_left"):
        laid = data.body(f"B {name}")
        assert laid.role == "second"
        assert points(laid) == pytest.approx(points(other.seen_from("floor").body(name)))
    assert f"B: trail {swept.left.trail[2]:.0f} mm" in [label.texts[2] for label in data.labels]


def test_what_covers_the_road_is_seen_through_or_left_out():
    _, data = seen("as-delivered")
    told = data.seen_from("floor")
    names = {body.name: body for body in told.bodies}
    assert not {"wheel_left", "column", "stub_left", "yoke_left"} & set(names)
    assert names["pale stub_left"].opacity < 0.3
    assert points(names["pale stub_left"]) == pytest.approx(points(data.body("stub_left")))
    plain = {body.name for body in data.seen_from("overview").bodies}
    assert "stub_left" in plain
    assert not any(name.startswith("pale") for name in plain)
