"""Which numbers are uncertain, by how much and why, and which of them serve both corners."""

import re

import pytest

from kinematics.tolerance.points import COLUMNS
from scenarios import builtin_names, builtin_text, copy_builtin, load
from scenarios.sure.places import every
from scenarios.sure.stated import Input, inputs
from tests.helpers.scenario_edit import scenario


def stated(changes: dict) -> dict[str, Input]:
    return {one.name: one for one in inputs(scenario(changes).resolved)}


def said(changes: dict, name: str) -> tuple[float, str]:
    one = stated({"sure": changes})[name]
    return one.uncertain.spread, one.how


@pytest.mark.parametrize(
    ("changes", "name", "spread", "how"),
    [
        ({}, "kart.wheelbase_mm", 1.0, "tape"),
        ({}, "yoke.caster_deg", 0.2, "angle gauge"),
        ({}, "kart.cog_height_mm", 20.0, "raised axle"),
        ({}, "front.stiffness_n_per_mm", 8.0, "known weight"),
        ({}, "pneumatic_trail_mm", 6.0, "assumed"),
        ({"others": "assumed"}, "kart.cog_height_mm", 30.0, "assumed"),
        ({"others": "assumed"}, "rear.crown_radius_mm", 210.0, "assumed"),
        ({"others": "assumed", "kart": "measured"}, "kart.cog_height_mm", 20.0, "raised axle"),
        ({"others": "assumed", "kart": "measured"}, "yoke.span_mm", 5.0, "assumed"),
        ({"others": "assumed", "kart": {"cog_height_mm": 7.5}}, "kart.cog_height_mm", 7.5, "stated"),
        ({"others": "assumed", "kart": {"cog_height_mm": 7.5}}, "kart.wheelbase_mm", 15.0, "assumed"),
        ({"kart": {"wheelbase_mm": "plumb line"}}, "kart.wheelbase_mm", 2.0, "plumb line"),
        ({"yoke": {"centre_mm": "tape"}}, "yoke.centre_mm y", 1.0, "tape"),
        ({"yoke": {"centre_mm": [3.0, "tape", 0.5]}}, "yoke.centre_mm x", 3.0, "stated"),
        ({"yoke": {"centre_mm": [3.0, "tape", 0.5]}}, "yoke.centre_mm y", 1.0, "tape"),
        ({"yoke": {"centre_mm": 4.0}}, "yoke.centre_mm z", 4.0, "stated"),
    ],
)
def test_the_nearest_word_holds(changes, name, spread, how):
    assert said(changes, name) == (pytest.approx(spread), how)


def test_a_number_known_exactly_is_no_input_and_neither_is_one_that_a_file_lacks():
    names = stated({"sure": {"kart": {"wheelbase_mm": 0.0}}})
    assert "kart.wheelbase_mm" not in names
    assert not {"kart.mass_kg", "column.foot_mm y", "column.stop_deg", "stub.wheel_forward_shift_mm"} & set(
        names
    )
    assert "front.crown_radius_mm" not in stated({"front.crown_radius_mm": None})
    assert "front.tread_width_mm" not in stated({"front.tread_width_mm": 0.0, "front.crown_radius_mm": None})


def test_one_number_serves_both_corners_until_the_right_has_its_own():
    both = stated({})["yoke.caster_deg"]
    assert both.places == (("yoke", "caster_deg"), ("right", "yoke", "caster_deg"))
    apart = stated({"right": {"yoke": {"caster_deg": 12.7}}})
    assert apart["yoke.caster_deg"].places == (("yoke", "caster_deg"),)
    assert apart["right.yoke.caster_deg"].places == (("right", "yoke", "caster_deg"),)
    assert apart["right.yoke.caster_deg"].uncertain.value == 12.7
    assert len(apart["yoke.span_mm"].places) == 2


def test_a_right_number_that_is_spoken_of_is_its_own_though_it_is_equal():
    found = stated({"sure": {"right": {"stub": {"arm_end_mm": 0.5}}}})
    assert found["right.stub.arm_end_mm y"].uncertain.spread == 0.5
    assert found["stub.arm_end_mm y"].places == (("stub", "arm_end_mm", 1),)


def test_what_is_not_said_of_the_right_is_said_of_the_left():
    bent = {"right": {"stub": {"camber_deg": 1.0}, "yoke": {"caster_deg": 13.0}}}
    left = {"stub": {"camber_deg": 0.7}, "yoke": "assumed"}
    assert stated({**bent, "sure": left})["right.stub.camber_deg"].uncertain.spread == 0.7
    assert stated({**bent, "sure": left})["right.yoke.caster_deg"].how == "assumed"
    right = {**left, "right": "measured"}
    assert stated({**bent, "sure": right})["right.stub.camber_deg"].how == "angle gauge"
    own = {**left, "right": {"yoke": {"others": "measured"}}}
    assert stated({**bent, "sure": own})["right.yoke.caster_deg"].how == "angle gauge"
    assert stated({**bent, "sure": own})["right.stub.camber_deg"].how == "stated"


def test_a_number_keeps_its_column_whatever_others_there_are():
    places = list(every())
    assert len(set(places)) == len(places) <= COLUMNS
    one, other = (
        stated({}),
        stated({"sure": {"kart": {"wheelbase_mm": 0.0}}, "right": {"yoke": {"span_mm": 60.0}}}),
    )
    assert {one[name].column == other[name].column for name in one.keys() & other.keys()} == {True}


@pytest.mark.parametrize("name", ["training-kart", "bent-right-stub", "published-kart"])
def test_every_built_in_kart_is_uncertain_somewhere_and_says_why(name):
    found = inputs(load(name).resolved)
    assert len(found) > 30
    assert all(one.why for one in found if one.how != "stated")
    assert {one.unit for one in found} <= {"mm", "deg", "kg", "N/mm", "N·m/deg", "N/N", ""}


@pytest.mark.parametrize("name", builtin_names())
def test_a_copy_is_the_same_kart_of_which_nothing_is_measured(tmp_path, name):
    copied, theirs = load(copy_builtin(name, tmp_path / "mine.toml")), load(name)
    assert copied.kart == theirs.kart
    assert {one.how for one in inputs(copied.resolved)} == {"assumed"}
    lines, there = ((tmp_path / "mine.toml").read_text().splitlines(), builtin_text(name).splitlines())
    comments = [line for line in there if "#" in line]
    assert set(comments) - set(lines) <= {line for line in comments if line.startswith("# HOW SURE")}


def test_an_owner_says_it_as_the_copy_tells_him(tmp_path):
    place = copy_builtin("training-kart", tmp_path / "mine.toml")
    text = place.read_text()
    told = re.findall(r"^#     (\S+ = \S+( \S+)*)  ", text, re.MULTILINE)
    said = [line for line, _ in told]
    assert len(said) == 4
    place.write_text(text.replace('others = "assumed"', "\n".join(said)))
    found = {one.name: one.how for one in inputs(load(place).resolved)}
    assert (found["kart.wheelbase_mm"], found["kart.cog_height_mm"]) == ("tape", "stated")
    assert found["yoke.caster_deg"] == "angle gauge"
