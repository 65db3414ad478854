"""The view of two bushes: the axis goes through both holes, and what it is said to lean is the solver's."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

import scenarios
from kinematics.corner.bush import seat_axes, seat_centres
from kinematics.lock import sweep
from kinematics.parts import CornerSetting, Setting
from tests.helpers.drawn.standing import points
from viz.scene import scene
from viz.scene.stories.against import against

LOCK = np.radians([-30.0, 0.0, 30.0])


def seen(setting, name="typed"):
    swept = sweep(scenarios.load().kart, setting, LOCK)
    return swept, scene.build(swept, name)


def corner(top=(0.0, 0.0), bottom=(0.0, 0.0)):
    (high, at_high), (low, at_low) = top, bottom
    one = CornerSetting(
        top_offset=high, top_clock=np.radians(at_high), bottom_offset=low, bottom_clock=np.radians(at_low)
    )
    return Setting(one, one)


def test_each_axis_goes_through_its_two_points():
    swept, data = seen(corner((2.0, 180.0), (1.0, 90.0)))
    told, seated = data.seen_from("bushes"), swept.left.seated
    seats = seat_centres(swept.left.corner.yoke)
    for name, through in (("axis_line", (seated.foot, seated.top)), ("neutral_line", seats)):
        drawn = points(told.body(name))[0]
        along = through[1] - through[0]
        off = np.cross(drawn - through[0], along / np.linalg.norm(along))
        assert np.linalg.norm(off, axis=-1).max() == pytest.approx(1.1, abs=0.05)  # a thin rod
        assert drawn.mean(axis=0) == pytest.approx(0.5 * (through[0] + through[1]), abs=0.1)


@pytest.mark.parametrize(
    ("top", "bottom", "way"),
    [
        ((2.0, 180.0), (0.0, 0.0), "further back"),
        ((2.0, 0.0), (0.0, 0.0), "further forward"),
        ((0.0, 0.0), (2.0, 90.0), "inward"),
        ((2.0, 90.0), (0.0, 0.0), "outward"),
    ],
)
def test_it_says_which_way_a_hole_leans_the_kingpin(top, bottom, way):
    """By hand: a top hole moved back leans the kingpin back, a bottom hole moved outboard leans it inward."""
    swept, data = seen(corner(top, bottom))
    span = swept.left.corner.yoke.span
    k0 = seat_axes(swept.left.corner.yoke)[0]
    tilt = np.degrees(np.arctan(2.0 / span))
    between = np.degrees(np.arccos(swept.left.seated.k @ k0))
    assert between == pytest.approx(tilt, abs=1e-6)
    caption = data.seen_from("bushes").captions[0]
    assert caption.startswith("through both holes, the kingpin leans ")
    assert caption.split("\n")[0].endswith(f"° {way}")


def test_concentric_bushes_are_said_to_be():
    _, data = seen(corner())
    told = data.seen_from("bushes")
    assert "the kingpin stands as the seats do" in told.captions[0]
    assert [label.text for label in told.labels][:2] == [
        "top hole in the middle",
        "bottom hole in the middle",
    ]


def test_a_second_setting_brings_its_axis_and_its_words():
    (_, one), (_, other) = seen(corner()), seen(corner((2.0, 180.0)), "B")
    data = against(replace(one, name="A"), other).seen_from("bushes")
    assert points(data.body("B axis_line")) == pytest.approx(
        points(other.seen_from("bushes").body("axis_line"))
    )
    assert "B: top hole 2.00 mm off, at 180°" in [label.text for label in data.labels]
    assert data.captions[0].endswith("; B B")
