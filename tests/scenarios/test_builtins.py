"""The built-in karts: what they are said to be, and plausible through the whole lock."""

from __future__ import annotations

import re

import numpy as np
import pytest

import scenarios
from kinematics.frames import axis_direction
from kinematics.lock import sweep

SETTINGS = [
    (name, setting) for name in scenarios.builtin_names() for setting in scenarios.load(name).settings
]


def test_the_bent_kart_differs_in_its_right_stub_and_on_the_scales_only() -> None:
    straight, bent = scenarios.load("training-kart"), scenarios.load("bent-right-stub")
    assert bent.kart.left == straight.kart.left
    assert bent.kart.right.yoke == straight.kart.right.yoke
    assert bent.kart.right.stub != straight.kart.right.stub
    assert bent.settings == straight.settings
    assert sum(bent.kart.loads) == pytest.approx(sum(straight.kart.loads))


def test_the_published_kart_is_the_papers() -> None:
    """Mirone, Int. J. Automotive Technology 11(4) (2010) 461–469; weight from its plotted wheel loads."""
    made = scenarios.load("published-kart")
    kart = made.kart
    assert (kart.wheelbase, kart.front_track, kart.rear_track) == (1068.0, 960.0, 1160.0)
    assert np.degrees([kart.left.yoke.caster, kart.left.yoke.kingpin_inclination]) == pytest.approx(
        [12.8, 6.5]
    )
    assert (kart.front_tyre.radius, kart.rear_tyre.radius) == (130.0, 140.0)
    assert (kart.front_tyre.stiffness, kart.rear_tyre.stiffness) == (150.0, 200.0)
    assert sum(kart.loads) == pytest.approx(1410.0, abs=0.1)
    assert sum(kart.loads[:2]) / sum(kart.loads) == pytest.approx(0.433, abs=1e-4)
    assert made.resolved["frame"]["torsional_stiffness_nm_per_deg"] == 166.0


def test_the_published_kart_marks_what_the_paper_does_not_give() -> None:
    text = scenarios.builtin_text("published-kart")
    body = re.sub(r"\[sure\].*?\n\n", "", text.split("[setting.")[0], flags=re.DOTALL).splitlines()
    given = (
        "wheelbase_mm",
        "mass_kg",
        "cog_x_mm",
        "torsional",
        "caster_deg",
        "kingpin_inc",
        "track_mm",
        "loaded_r",
    )
    silent = [s for s in body if "=" in s and not s.startswith("#") and "# " not in s]
    assert all(line.startswith((*given, "title", "default_setting")) for line in silent)


@pytest.mark.parametrize("name", ["training-kart", "bent-right-stub"])
def test_the_training_kart_is_plausible(name: str) -> None:
    """Ranges common practice, no source; frame 120–250 N·m/deg and tyre 60–200 N/mm from published tests."""
    made = scenarios.load(name)
    kart = made.kart
    k = axis_direction(kart.left.yoke.caster, kart.left.yoke.kingpin_inclination)
    ground = np.asarray(kart.left.yoke.centre) - k * kart.left.yoke.centre[2] / k[2]
    scrub, trail = kart.left.stub.wheel_centre[1] - ground[1], ground[0] - kart.left.stub.wheel_centre[0]
    assert 95.0 < scrub < 125.0
    assert 15.0 < trail < 35.0
    assert 0.40 < sum(kart.loads[:2]) / sum(kart.loads) < 0.46
    assert 120.0 <= made.resolved["frame"]["torsional_stiffness_nm_per_deg"] <= 250.0
    assert all(60.0 <= tyre.stiffness <= 200.0 for tyre in (kart.front_tyre, kart.rear_tyre))


@pytest.mark.parametrize(("name", "setting"), SETTINGS)
def test_every_built_in_setting_steers_to_both_stops(name: str, setting: str) -> None:
    """Steer 0.30–0.45 of the handwheel near centre, 23–30 deg at the stop, the inside wheel more."""
    made = scenarios.load(name)
    stop = made.kart.column.stop
    handwheel = np.linspace(-stop, stop, 31)
    swept = sweep(made.kart, made.settings[setting], handwheel)
    assert swept.reach.all()
    left, right = np.degrees(swept.left.steer), -np.degrees(swept.right.steer)
    for steer in (left, right):
        assert np.all(np.diff(steer) > -0.1)  # within 0.1 deg the outside wheel may stand still at the stop
        near = np.interp(np.radians([-10.0, 10.0]), handwheel, steer)
        assert 0.30 < (near[1] - near[0]) / 20.0 < 0.45
    assert 23.0 < left[-1] < 30.0
    assert 23.0 < -right[0] < 30.0
    assert left[-1] > right[-1] + 3.0
    mid = swept.ackermann[np.argmin(np.abs(handwheel - np.radians(45.0)))]
    assert 0.6 < mid < 1.3


def test_more_caster_lifts_the_inside_rear_more() -> None:
    """Common practice, no source: more caster, more jacking."""
    made = scenarios.load()
    lift = {
        name: float(sweep(made.kart, made.settings[name], np.radians([0.0, 60.0])).rigid_inside_rear_lift[1])
        for name in ("less-caster", "as-delivered", "more-caster")
    }
    assert lift["less-caster"] + 2.0 < lift["as-delivered"] < lift["more-caster"] - 2.0
