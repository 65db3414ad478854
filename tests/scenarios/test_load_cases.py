"""Load cases of a file: into the turn, on a radius, at their own lock; what is refused, what is said."""

from __future__ import annotations

from math import degrees
from typing import Any

import numpy as np
import pytest

from kinematics.lock import sweep
from kinematics.standing.stand import lateral_g
from scenarios.ask.run import run
from tests.helpers.scenario_edit import GONE, refusal, scenario

REFUSED: dict[str, tuple[dict[str, Any], str]] = {
    "g and speed": ({"load_case.2.lateral_g": 1}, "load_case[3]: lateral_g and speed_km_h are both given"),
    "speed without grip or radius": (
        {"load_case.2.grip_limit_g": GONE, "load_case.2.radius_m": GONE},
        "load_case[3].grip_limit_g: missing, in g; a speed without radius_m",
    ),
    "radius without speed or g": (
        {"load_case.1.lateral_g": GONE, "load_case.1.radius_m": 8},
        "load_case[2]: radius_m needs speed_km_h or lateral_g beside it",
    ),
    "radius tighter than the steering": (
        {"load_case.1.radius_m": 1, "load_case.1.handwheel_deg": GONE},
        "load_case[2].radius_m = 1 m: is tighter than full lock steers; say with handwheel_deg",
    ),
    "radius that tips": (
        {"load_case.2.radius_m": 3, "load_case.2.grip_limit_g": GONE},
        "load_case[3].radius_m = 3 m: makes 2.69 g at that speed; with its centre of gravity 270 mm high",
    ),
    "driven beyond the stop": (
        {"load_case.1.handwheel_deg": 76},
        "load_case[2].handwheel_deg = 76 deg: must lie within the column's stop of 75 deg",
    ),
    "driven at a signed lock": (
        {"load_case.1.handwheel_deg": -20},
        "load_case[2].handwheel_deg = -20 deg: must be at least 0 and at most 180 deg; it is without a sign",
    ),
    "opposite lock without g": (
        {"load_case.0.opposite_lock": True},
        "load_case[1]: opposite_lock needs lateral_g, or speed_km_h with radius_m",
    ),
    "opposite lock on the lock's own path": (
        {"load_case.2.opposite_lock": True, "load_case.2.radius_m": GONE},
        "load_case[3]: opposite_lock needs radius_m beside its speed",
    ),
    "opposite lock in words": (
        {"load_case.1.opposite_lock": "yes"},
        "load_case[2].opposite_lock = 'yes': must be true or false, without quotes",
    ),
    "grip without speed": ({"load_case.0.grip_limit_g": 1}, "load_case[1]: grip_limit_g needs speed_km_h"),
    "case given twice": ({"load_case.1.name": "standing"}, "load_case.name = 'standing': given twice"),
    "g beyond tipping": (
        {"load_case.3.lateral_g": 2.1},
        "load_case[4].lateral_g = 2.1 g: with its centre of gravity 270 mm high the kart tips over at 2.01 g",
    ),
    "g of the other turn": (
        {"load_case.3.lateral_g": -1.4},
        "load_case[4].lateral_g = -1.4 g: must be at least 0 and at most 5 g; it is into the turn that the "
        "lock makes, left and right alike; against it: opposite_lock = true",
    ),
    "grip beyond tipping": (
        {"load_case.2.grip_limit_g": 2.1, "load_case.2.radius_m": GONE},
        "load_case[3].grip_limit_g = 2.1 g: with its",
    ),
}


@pytest.mark.parametrize("kind", REFUSED)
def test_refused_in_one_line(kind: str) -> None:
    changes, line = REFUSED[kind]
    assert refusal(changes).startswith(line)
    assert len(refusal(changes)) < 290


def test_what_is_nearly_refused_is_taken() -> None:
    # 270 mm high, 7 mm to the left by the scales, the wheels (0.4304 · 1000 + 0.5696 · 1170)/2 = 548 mm out:
    # it tips at (548 + 7)/270 = 2.06 g in a left turn and at 2.01 g in a right one; a case turns both ways
    assert scenario({"load_case.3.lateral_g": 2.0}).load_cases[3].lateral_g == 2.0
    assert scenario({"load_case.1.handwheel_deg": 75}).load_cases[1].handwheel == pytest.approx(
        np.radians(75)
    )


def test_a_speed_on_a_radius_is_one_lateral_g_through_lock() -> None:
    """By hand: (32/3.6 m/s)² / (5 m · 9.80665 m/s²) = 1.6114 g, on both sides and at every lock."""
    made = scenario()
    swept = sweep(made.kart, made.settings["as-delivered"], np.radians([-60.0, -5.0, 5.0, 30.0, 60.0]))
    found = lateral_g(swept, made.load_cases[2])
    assert found == pytest.approx(1.6114 * np.array([-1.0, -1.0, 1.0, 1.0, 1.0]), abs=1e-4)
    assert made.warnings == ()


def test_a_radius_says_the_lock_where_no_lock_is_given() -> None:
    made = scenario({"load_case.2.handwheel_deg": GONE})
    lock = made.load_cases[2].handwheel
    assert lock is not None
    swept = sweep(made.kart, made.settings["as-delivered"], [lock, -lock])
    assert 1e-3 / swept.path_curvature == pytest.approx([5.0, -5.0], rel=0.01)
    assert degrees(lock) == pytest.approx(round(degrees(lock), 1), abs=1e-9)
    assert run(made, None, ["slow corner"]).cases[0].at_deg == round(degrees(lock), 1)
    assert run(made, None, ["slow corner"], -41.0).cases[0].at_deg == 41.0
    assert run(made, None, ["standing"]).cases[0].at_deg == 60.0


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        (
            {"load_case.2.radius_m": GONE, "load_case.2.grip_limit_g": 1.2},
            "load_case[3] 'slow corner': its grip limit of 1.2 g holds from about 22 deg of handwheel on",
        ),
        (
            {"load_case.2.grip_limit_g": 1.2},
            "load_case[3] 'slow corner': its grip limit of 1.2 g holds; its speed and radius ask for 1.61 g",
        ),
    ],
)
def test_a_grip_limit_that_bites_is_said(changes: dict[str, Any], said: str) -> None:
    made = scenario(changes)
    [line] = made.warnings
    assert line.startswith(said)
    swept = sweep(made.kart, made.settings["as-delivered"], np.radians([20.0, 24.0]))
    below, above = lateral_g(swept, made.load_cases[2])
    assert above == 1.2
    assert (below < 1.2) == ("from about" in said)


def test_a_slide_is_written_by_name_and_read_back() -> None:
    made = scenario({"load_case.1.opposite_lock": True})
    assert [case.opposite_lock for case in made.load_cases] == [False, True, False, False, False]
    assert made.resolved["load_case"][1]["opposite_lock"] is True
