"""Scenario files: units by hand, overrides, defaults, the round trip, the built-in karts."""

from __future__ import annotations

import json
import subprocess
import sys
from math import radians, tan
from pathlib import Path

import jsonschema
import numpy as np
import pytest

import scenarios
from kinematics.parts import CornerSetting, Yoke
from scenarios import ScenarioError
from scenarios.kit import in_deg
from tests.helpers.scenario_edit import GONE, scenario, tables

BUILTIN = scenarios.builtin_names()


def test_units_by_hand() -> None:
    made = scenario(
        {
            "yoke.caster_deg": 18,
            "frame.torsional_stiffness_nm_per_deg": 180.0,
            "column.inclination_deg": 45.0,
            "load_case": [{"name": "a", "speed_km_h": 36.0, "grip_limit_g": 1.5}],
            "default_setting": GONE,
            "setting": {
                "s": {"both": {"top_rated_deg": 3.0, "top_clock_deg": 180.0, "tie_rod_toe_deg": 0.5}}
            },
        }
    )
    kart, left = made.kart, made.settings["s"].left
    assert kart.left.yoke.caster == pytest.approx(np.pi / 10)
    assert kart.frame.stiffness == pytest.approx(180.0 * 1000.0 * 180.0 / np.pi)
    assert kart.column.inclination == pytest.approx(np.pi / 4)
    assert made.load_cases[0].speed == pytest.approx(10.0)
    assert made.load_cases[0].grip_limit_g == 1.5
    assert left.top_offset == pytest.approx(66.0 * 0.0524077793, abs=1e-6)  # span · tan 3°
    assert left.top_clock == pytest.approx(np.pi)
    assert left.rod_toe == pytest.approx(np.pi / 360)


def test_scale_readings_become_newtons() -> None:
    loads = scenario().kart.loads
    assert loads == pytest.approx((34.5 * 9.80665, 33.5 * 9.80665, 45.5 * 9.80665, 44.5 * 9.80665))


def test_mass_and_cog_load_each_axle_at_the_same_distance_from_the_mid_plane() -> None:
    keys = {f"kart.scale_{w}_kg": GONE for w in ("front_left", "front_right", "rear_left", "rear_right")}
    kart = scenario({**keys, "kart.mass_kg": 150.0, "kart.cog_x_mm": 418.0, "kart.cog_y_mm": 50.0}).kart
    # 40 % in front (418 of 1045); 50 mm to the left of tracks 1000 and 1170 is 55 % and 54.27 % on the left
    weight = 150.0 * 9.80665
    by_hand = (0.4 * 0.55, 0.4 * 0.45, 0.6 * (0.5 + 50 / 1170), 0.6 * (0.5 - 50 / 1170))
    assert kart.loads == pytest.approx([weight * share for share in by_hand])


def test_wheel_stands_on_the_floor_at_its_static_camber() -> None:
    changes = {"front.loaded_radius_mm": 130.0, "front.tread_width_mm": 100.0, "stub.camber_deg": -10.0}
    s, c = np.sin(np.radians(10.0)), np.cos(np.radians(10.0))
    on_crown = scenario({**changes, "front.crown_radius_mm": 200.0}).kart.left.stub.wheel_centre
    assert on_crown == pytest.approx((1045.0, 500.0, (130.0 - 200.0) * c + 200.0), abs=1e-9)
    on_edge = scenario({**changes, "front.crown_radius_mm": 400.0}).kart.left.stub.wheel_centre
    edge_radius = 130.0 - 400.0 + np.sqrt(400.0**2 - 50.0**2)
    assert on_edge[2] == pytest.approx(edge_radius * c + 50.0 * s, abs=1e-9)


def test_a_crown_left_out_is_that_of_an_elastic_tread_and_said_to_be_assumed() -> None:
    """width² / (12 · load / stiffness) by hand, each axle with the mean of its two scale readings."""
    made = scenario({"front.crown_radius_mm": GONE, "rear.crown_radius_mm": GONE})
    assert made.kart.front_tyre.crown_radius == pytest.approx(1322500.0 / (12.0 * 34.0 * 9.80665), rel=1e-12)
    assert made.kart.rear_tyre.crown_radius == pytest.approx(5054000.0 / (12.0 * 45.0 * 9.80665), rel=1e-12)
    said = [line for line in made.warnings if "crown_radius_mm is left out" in line]
    assert [line.split(".")[0] for line in said] == ["front", "rear"]
    assert "330.5 mm is assumed" in said[0]
    assert not any("crown" in line for line in scenario({}).warnings)


def test_no_crown_makes_a_tyre_that_cannot_be_stood_on() -> None:
    hard = {"rear.stiffness_n_per_mm": 5000.0, "rear.crown_radius_mm": GONE}
    assert scenario(hard).kart.rear_tyre.crown_radius == pytest.approx(25.0 * 190.0)
    with pytest.raises(ScenarioError, match=r"rear.crown_radius_mm = 4751 mm: .* at most 4750 mm"):
        scenario({"rear.crown_radius_mm": 4751.0})


def test_an_override_changes_that_corner_and_that_key_only() -> None:
    kart, straight = scenario({"right.stub.camber_deg": 1.0, "right.yoke.span_mm": 70}).kart, scenario().kart
    assert kart.left == straight.left
    assert kart.right.stub.camber == pytest.approx(radians(1.0))
    assert kart.right.stub.arm_end == straight.right.stub.arm_end
    assert kart.right.yoke.span == 70.0
    assert kart.right.yoke.centre == straight.right.yoke.centre
    moved = scenario({"left.tie_rod.inner_joint_mm": [900, 15, 80]}).kart
    assert moved.left.inner_joint == (900.0, 15.0, 80.0)
    assert moved.right == straight.right


def test_wheel_centre_shifts_move_the_bent_wheel() -> None:
    changes = {"right.stub.wheel_forward_shift_mm": -4.0, "right.stub.wheel_outward_shift_mm": 3.0}
    kart = scenario(changes).kart
    assert kart.right.stub.wheel_centre[:2] == (1041.0, 503.0)
    assert kart.left.stub.wheel_centre[:2] == (1045.0, 500.0)


def test_a_side_of_a_setting_replaces_what_is_said_for_both() -> None:
    made = scenario(
        {
            "setting": {
                "s": {
                    "note": "n",
                    "rear_axle_shift_mm": 5,
                    "both": {
                        "top_rated_deg": 2.0,
                        "top_clock_deg": 180.0,
                        "hub_spacer_mm": 5.0,
                        "tie_rod_toe_deg": 0.1,
                    },
                    "right": {"top_offset_mm": 1.0, "tie_rod_length_mm": 340.0},
                }
            },
            "default_setting": GONE,
        }
    )
    left, right = made.settings["s"].left, made.settings["s"].right
    assert left.top_offset == pytest.approx(66.0 * tan(radians(2.0)))
    assert (right.top_offset, right.top_clock, right.hub_spacer) == (1.0, radians(180.0), 5.0)
    assert (right.rod_length, right.rod_toe, left.rod_length) == (340.0, None, None)
    assert (made.settings["s"].rear_axle_shift, made.notes["s"], made.default_setting) == (5.0, "n", "s")


def test_settings_keep_the_order_of_the_file_and_the_first_is_the_default() -> None:
    made = scenario({"default_setting": GONE, "setting": {"z": {}, "a": {}, "m": {}}})
    assert list(made.settings) == ["z", "a", "m"]
    assert made.default_setting == "z"
    assert made.settings["z"].left == CornerSetting()


def test_what_a_file_may_leave_out() -> None:
    left_out = ("kit", "load_case", "sweep", "workshop", "limits", "rear_axle", "default_setting")
    more = ("toe_diameter_mm", "thread_pitch_mm", "pneumatic_trail_mm")
    made = scenario(dict.fromkeys((*left_out, *more), GONE))
    assert made.kit.sizes == ()
    assert [(case.name, case.lateral_g, case.speed) for case in made.load_cases] == [("standing", 0.0, None)]
    assert made.handwheel_deg == (-60.0, 60.0, 61)
    assert made.thread_pitch_mm == 1.25  # M8 x 1.25, common practice
    assert made.limits.wheelbase_max_mm == 1070.0
    assert made.limits.track_to_wheelbase_min_ratio == pytest.approx(2.0 / 3.0)


def test_kit_is_sorted_and_mm_are_rated_on_the_span() -> None:
    bushes = [
        {"rated_deg": 3.0},
        {"offset_mm": 66.0 * tan(radians(1.0)), "count": 2},
        {"rated_deg": 0, "count": 4},
    ]
    kit = scenario({"kit": {"bush": bushes, "clock_step_deg": 30.0}}).kit
    assert [str(size) for size in kit.sizes] == ["0 deg", f"{bushes[1]['offset_mm']:g} mm", "3 deg"]
    assert [in_deg(size, 66.0) for size in kit.sizes] == pytest.approx((0.0, 1.0, 3.0))
    assert kit.counts == (4, 2, None)
    assert kit.clock_step_deg == 30.0


def test_corner_setting_from_a_mechanics_numbers() -> None:
    yoke = Yoke((0.0, 400.0, 130.0), 0.2, 0.17, 60.0)
    made = scenarios.corner_setting(
        yoke, top_deg=1.5, top_clock_deg=90.0, bottom_mm=2.0, bottom_clock_deg=270.0
    )
    assert made.top_offset == pytest.approx(60.0 * 0.0261859216, abs=1e-7)  # tan 1.5°
    assert (made.top_clock, made.bottom_clock) == pytest.approx((np.pi / 2, 3 * np.pi / 2))
    assert (made.bottom_offset, made.rod_length, made.rod_toe) == (2.0, None, None)
    with pytest.raises(scenarios.ScenarioError, match="top_rated_deg and top_offset_mm are both given"):
        scenarios.corner_setting(yoke, top_deg=1.0, top_mm=1.0)
    with pytest.raises(
        scenarios.ScenarioError, match=r"bottom_offset_mm = 15 mm: .* below a quarter .*15 mm"
    ):
        scenarios.corner_setting(yoke, bottom_mm=15.0)


@pytest.mark.parametrize("name", BUILTIN)
def test_resolved_inputs_make_the_same_scenario_again(name: str, tmp_path: Path) -> None:
    made = scenarios.load(name)
    assert scenarios.from_mapping(made.resolved, made.source) == made
    shuffled = json.loads(json.dumps(made.resolved, sort_keys=True, allow_nan=False))
    again = scenarios.from_mapping(shuffled, made.source)
    assert (again.kart, again.digest, again.settings) == (made.kart, made.digest, made.settings)
    run = tmp_path / "run.json"
    run.write_text(json.dumps({"version": "0", "inputs": made.resolved}))
    assert scenarios.load(run).digest == made.digest


def test_the_digest_tells_karts_apart_and_not_ways_of_writing() -> None:
    assert scenario().digest == scenarios.load().digest
    assert scenario({"kart.wheelbase_mm": 1045}).digest == scenario().digest
    assert scenario({"right.stub.camber_deg": -0.5}).digest == scenario().digest
    assert scenario({"right.stub.camber_deg": -0.4}).digest != scenario().digest


@pytest.mark.parametrize("name", BUILTIN)
def test_builtins_satisfy_the_editor_schema_without_a_warning(name: str) -> None:
    jsonschema.validate(tables(name), scenarios.json_schema())
    jsonschema.validate(scenarios.load(name).resolved, scenarios.json_schema())
    assert scenarios.load(name).warnings == ()
    assert scenarios.load(name).name == name


def test_the_editor_schema_refuses_and_tells_units() -> None:
    schema = scenarios.json_schema()
    jsonschema.Draft202012Validator.check_schema(schema)
    validator = jsonschema.Draft202012Validator(schema)
    assert not validator.is_valid({**tables(), "wheelbase": 1})
    bad = tables()
    bad["right"] = {"stub": {"camber_deg": 90.0}}
    assert not validator.is_valid(bad)
    assert schema["$defs"]["YokeTable"]["properties"]["span_mm"]["description"].endswith(", mm")


def test_the_default_is_the_training_kart_and_a_file_is_named_by_its_stem(tmp_path: Path) -> None:
    assert scenarios.load().name == "training-kart"
    copied = scenarios.copy_builtin("bent-right-stub", tmp_path / "mine.toml")
    made = scenarios.load(copied)
    assert (made.name, made.source) == ("mine", str(copied))
    theirs = scenarios.load("bent-right-stub").resolved
    assert scenarios.load(str(copied)).resolved == {**theirs, "sure": {"others": "assumed"}}


def test_importing_the_package_is_light() -> None:
    probe = "import sys, scenarios; print([m for m in ('numpy', 'hashlib', 'scipy') if m in sys.modules])"
    done = subprocess.run([sys.executable, "-c", probe], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
    assert all(hasattr(scenarios, name) for name in scenarios.__all__)
    with pytest.raises(AttributeError, match="no attribute 'lode'"):
        scenarios.lode  # noqa: B018
