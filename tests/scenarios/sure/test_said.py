"""What a file says of how sure its numbers are, and how it is refused."""

import json

import jsonschema
import pytest

from scenarios import from_mapping, json_schema
from scenarios.errors import unit_of
from scenarios.ranges import RANGES
from scenarios.sure.usual import USUAL
from scenarios.sure.ways import ASSUMED, WAYS, ways_for
from tests.helpers.scenario_edit import edited, refusal, scenario, tables


@pytest.mark.parametrize(
    ("said", "line"),
    [
        (
            {"kart": {"cog_hight_mm": 15.0}},
            "sure.kart.cog_hight_mm: unknown key; did you mean 'cog_height_mm'?",
        ),
        (
            {"kart": {"cog_height_mm": "tpae"}},
            "sure.kart.cog_height_mm = 'tpae' mm: must be a number in mm, 'measured', 'assumed', 'tape', "
            "'plumb line', 'square', 'raised axle', 'straight edge' or 'known weight'; did you mean 'tape'?",
        ),
        (
            {"kart": {"scale_rear_left_kg": "tape"}},
            "sure.kart.scale_rear_left_kg = 'tape' kg: must be a number in kg, 'measured', 'assumed', "
            "'scale', 'straight edge' or 'known weight'",
        ),
        (
            {"kart": {"cog_height_mm": -1}},
            "sure.kart.cog_height_mm = -1 mm: must be at least 0 and at most 780 mm, or a word like 'tape'",
        ),
        ({"others": "guess"}, "sure.others = 'guess': must be 'measured' or 'assumed'"),
        (
            {"yoke": "asumed"},
            "sure.yoke = 'asumed': must be 'measured' or 'assumed'; did you mean 'assumed'?",
        ),
        ({"column": {"stop_deg": 1.0}}, "sure.column.stop_deg: unknown key; it belongs in [column]"),
        (
            {"yoke": {"centre_mm": [1.0, 1.0, "angle gauge"]}},
            "sure.yoke.centre_mm[3] = 'angle gauge' mm: must be a number in mm, 'measured', 'assumed', "
            "'tape', 'plumb line', 'square', 'raised axle', 'straight edge' or 'known weight'",
        ),
        ({"kart": 3}, "sure.kart = 3: must be a table"),
    ],
)
def test_what_cannot_be_said_is_refused_in_one_line(said, line):
    assert refusal({"sure": said}) == line
    assert len(line) < 300


SAID = {
    "others": "assumed",
    "pneumatic_trail_mm": 4.0,
    "kart": {"cog_height_mm": 15, "wheelbase_mm": "tape", "others": "measured"},
    "yoke": {"centre_mm": [1.0, 2.0, "tape"]},
    "stub": "measured",
    "right": {"yoke": {"caster_deg": "angle gauge"}},
}


def test_a_file_that_says_so_reads_back_as_the_same_and_editors_take_it():
    made = scenario({"sure": SAID})
    assert made.resolved["sure"]["stub"] == {"others": "measured"}
    assert from_mapping(json.loads(json.dumps(made.resolved)), "again").resolved == made.resolved
    jsonschema.validate(edited(tables(), {"sure": SAID}), json_schema())
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(edited(tables(), {"sure": {"others": "guess"}}), json_schema())


def test_a_file_that_says_nothing_is_as_it_was():
    assert "sure" not in scenario({}).resolved


def test_each_number_has_a_way_that_tells_its_unit_and_a_reason():
    for row, usual in USUAL.items():
        assert row in RANGES
        assert usual.way in ways_for(unit_of(row))
        assert usual.assumed.amount > 0.0
        assert len(usual.assumed.why) > 5
    assert all(way.amount > 0.0 and len(way.why) > 10 for way in WAYS.values())


def test_what_is_assumed_is_less_sure_than_what_is_measured():
    usual_kart = {"mm": 300.0, "deg": 10.0, "kg": 40.0, "N·m/deg": 170.0, "N/mm": 120.0, "": 0.6}
    for row, usual in USUAL.items():
        if usual.way != ASSUMED:
            value = usual_kart[unit_of(row)]
            assert usual.assumed.of(value) >= 1.5 * WAYS[usual.way].of(value), row
