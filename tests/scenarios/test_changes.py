"""What a setting of a file changes on the whole kart: as the solver's record, in words, kept and refused."""

from __future__ import annotations

import json
import tomllib
from dataclasses import replace

import numpy as np
import pytest

import scenarios
from kinematics.batches import one_of, stacked
from kinematics.lock import sweep
from kinematics.parts import AS_MEASURED, GRAVITY, Chassis, LoadCase
from kinematics.standing.stand import stand
from scenarios.ask.fitting import snippet
from scenarios.errors import ScenarioError
from scenarios.ranges import RANGES
from scenarios.schema.changes import CHANGES, NOT_MODELLED, changes_told
from tests.helpers.scenario_edit import tables

ALL = {
    "rear_axle_shift_mm": 3.0,
    "rear_track_change_mm": 20.0,
    "front_radius_change_mm": 1.5,
    "rear_radius_change_mm": -2.0,
    "front_stiffness_change_percent": 10.0,
    "rear_stiffness_change_percent": -20.0,
    "frame_stiffness_change_percent": 25.0,
    "seat_forward_mm": -20.0,
    "seat_left_mm": 5.0,
    "seat_up_mm": 10.0,
    "ballast": [{"mass_kg": 5.0, "at_mm": [600.0, 250.0, 40.0]}],
    "both": {"arm_hole_mm": 4.0, "spade_hole_mm": -3.0},
}


def kart(setting, of_kart=None):
    scenario = tables()
    scenario["setting"]["whole"] = setting
    scenario["kart"] |= of_kart or {}
    return scenarios.from_mapping(scenario, "kart.toml", "kart")


def test_every_change_reaches_the_solver_in_its_units():
    scenario = kart(ALL, {"seat_mass_kg": 80.0})
    found = scenario.settings["whole"]
    seat, put = 80.0 * GRAVITY, 5.0 * GRAVITY
    masses = found.chassis.masses
    assert (found.rear_axle_shift, found.chassis.rear_track) == (3.0, 20.0)
    assert (found.chassis.front_radius, found.chassis.rear_radius) == (1.5, -2.0)
    assert (found.chassis.front_stiffness, found.chassis.rear_stiffness) == (1.1, 0.8)
    assert found.chassis.frame_stiffness == 1.25
    assert (found.left.arm_hole, found.right.spade_hole) == (4.0, -3.0)
    assert masses.weight == pytest.approx(put)
    assert masses.forward == pytest.approx(-20.0 * seat + 600.0 * put)
    assert masses.left == pytest.approx(5.0 * seat + 250.0 * put)
    assert masses.up == pytest.approx(10.0 * seat + 40.0 * put)
    assert {key for key in ALL if key not in ("both", "ballast")} == {change.key for change in CHANGES}
    assert all(f"setting.{change.key}" in RANGES for change in CHANGES)


def test_what_is_not_changed_is_the_kart_as_measured():
    scenario = kart({"rear_axle_shift_mm": 2.0, "seat_up_mm": 0.0})
    assert scenario.settings["whole"].chassis is AS_MEASURED
    assert scenario.settings["as-delivered"].chassis is AS_MEASURED
    assert "seat_forward_mm" not in scenario.resolved["setting"]["as-delivered"]


def test_a_run_keeps_them_and_reads_them_back():
    scenario = kart(ALL)
    again = scenarios.from_mapping(json.loads(json.dumps(scenario.resolved)), "run.json", "run")
    assert again.settings["whole"] == scenario.settings["whole"]


def test_a_setting_to_paste_keeps_them():
    scenario = kart(ALL)
    lines = snippet(scenario, "whole", scenario.settings["whole"], "kept")
    pasted = tomllib.loads("\n".join(lines))["setting"]["kept"]
    again = kart(pasted).settings["whole"]
    assert again.chassis == scenario.settings["whole"].chassis
    assert again.left.arm_hole == 4.0


def test_the_seat_without_its_mass_takes_the_share_of_a_grown_driver():
    scenario = kart({"seat_forward_mm": 10.0})
    whole = sum(scenario.kart.loads)
    assert scenario.settings["whole"].chassis.masses.forward == pytest.approx(10.0 * 0.62 * whole)


def test_a_setting_too_wide_for_the_rules_is_warned_of_and_the_kart_is_not():
    found = [line for line in kart({"rear_track_change_mm": 60.0}).warnings if "wider" in line]
    assert len(found) == 1
    assert found[0].startswith(
        "setting.whole: rear: 1420 mm over the treads is wider than the rule's 1400 mm"
    )
    assert not any("wider" in line for line in kart({"rear_track_change_mm": 10.0}).warnings)


def test_they_are_told_in_words():
    scenario = kart(ALL)
    told = changes_told(scenario.resolved["setting"]["whole"])
    assert told[1] == "rear wheels further apart, + wider: +20 mm"
    assert len({line.rpartition(":")[0] for line in told if line.startswith("seat")}) == 3
    assert told[-1] == "ballast 5 kg at x 600, y 250, z 40 mm"
    assert len(told) == len(CHANGES) + 1
    assert changes_told(scenario.resolved["setting"]["as-delivered"]) == []
    assert all(len(line) < 80 for line in (*told, *NOT_MODELLED))


@pytest.mark.parametrize(
    ("setting", "said"),
    [
        ({"rear_track_change_mm": 900.0}, "setting.whole.rear_track_change_mm"),
        ({"frame_stiffness_change_percent": -100.0}, "setting.whole.frame_stiffness_change_percent"),
        ({"ballast": [{"mass_kg": 500.0, "at_mm": [0.0, 0.0, 0.0]}]}, "mass_kg"),
        ({"ballast": [{"mass_kg": 5.0}]}, "at_mm"),
        ({"seat_backward_mm": 5.0}, "seat_forward_mm"),
        ({"both": {"arm_hole_mm": 100.0}}, "arm_hole_mm"),
        ({"both": {"spade_hole_mm": -59.0}}, "setting.whole.left.spade_hole_mm = -59 mm: leaves"),
    ],
)
def test_what_cannot_be_is_refused_with_its_key(setting, said):
    with pytest.raises(ScenarioError) as refused:
        kart(setting)
    assert said in str(refused.value)
    assert "\n" not in str(refused.value)


def test_settings_put_together_are_each_alone():
    """Those that leave the whole kart alone stay one kart; others are a batch of karts."""
    scenario = kart(ALL)
    settings = [scenario.settings[name] for name in ("as-delivered", "whole", "more-caster")]
    toe = {"rod_length": None, "rod_toe": -0.001}  # tie rods written alike, as a comparison does
    again = [replace(one, left=replace(one.left, **toe), right=replace(one.right, **toe)) for one in settings]
    together = stacked(again)
    assert isinstance(together.chassis, Chassis)
    assert stacked([again[0], again[2]]).chassis is AS_MEASURED
    locks = np.radians([-20.0, 20.0])
    loads = stand(sweep(scenario.kart, together, locks), LoadCase("corner", 0.4)).loads
    for row, setting in enumerate(again):
        alone = stand(sweep(scenario.kart, setting, locks), LoadCase("corner", 0.4)).loads
        assert loads[row] == pytest.approx(alone, abs=1e-6)
        assert one_of(together, row).left == setting.left
