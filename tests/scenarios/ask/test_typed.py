"""Bush pairs typed on the command line."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scenarios.ask.typed import HELP, SYNTAX, corner_text, size_text, table_text, typed_setting
from scenarios.errors import Refusal


def test_every_part_lands_under_its_key_with_its_unit():
    assert corner_text("top=2@180,bottom=1.5mm@0,spacer=-2mm,hub=5,toe=0.1deg") == {
        "top_rated_deg": 2.0,
        "top_clock_deg": 180.0,
        "bottom_offset_mm": 1.5,
        "bottom_clock_deg": 0.0,
        "spacer_shift_mm": -2.0,
        "hub_spacer_mm": 5.0,
        "tie_rod_toe_deg": 0.1,
    }


def test_the_example_in_the_help_is_itself_accepted():
    assert SYNTAX in HELP
    assert len(corner_text(SYNTAX)) == 7


@pytest.mark.parametrize(
    ("text", "table"),
    [
        ("top=0", {"top_rated_deg": 0.0}),
        ("top=2deg@-90", {"top_rated_deg": 2.0, "top_clock_deg": -90.0}),
        ("bottom = 1e0 @ 45", {"bottom_rated_deg": 1.0, "bottom_clock_deg": 45.0}),
        ("rod=396.3", {"tie_rod_length_mm": 396.3}),
    ],
)
def test_forms_of_a_part(text, table):
    assert corner_text(text) == table


NUMBERS = st.floats(-400.0, 400.0) | st.sampled_from([0.0, 1e-9, 1.0416324, 180.0])


@st.composite
def corner_tables(draw):
    table = {}
    for place in draw(st.sets(st.sampled_from(["top", "bottom"]))):
        table[f"{place}_{draw(st.sampled_from(['rated_deg', 'offset_mm']))}"] = draw(NUMBERS)
        table[f"{place}_clock_deg"] = draw(NUMBERS)
    for key in draw(st.sets(st.sampled_from(["spacer_shift_mm", "hub_spacer_mm"]))):
        table[key] = draw(NUMBERS)
    rod = draw(st.sampled_from(["", "tie_rod_length_mm", "tie_rod_toe_deg"]))
    return {**table, rod: draw(NUMBERS)} if rod else table


@given(corner_tables().filter(bool))
def test_a_corner_table_as_typed_reads_back_number_for_number(table):
    assert corner_text(table_text(table)) == table


@pytest.mark.parametrize(
    ("text", "keys"),
    [
        ("2", {"rated_deg": 2.0}),
        ("1.5 deg", {"rated_deg": 1.5}),
        ("2.3mm", {"offset_mm": 2.3}),
        ("0", {"rated_deg": 0.0}),
    ],
)
def test_a_size_typed_on_its_own(text, keys):
    assert size_text(text) == keys


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "'' does not start with a number"),
        ("2in", "'in' is not deg or mm"),
        ("1e999", "not a finite number"),
    ],
)
def test_a_size_that_is_none_is_refused(text, said):
    with pytest.raises(Refusal, match=re.escape(said)):
        size_text(text)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("top=2", "needs its clock"),
        ("top=2@", "'' is not a number"),
        ("top=@180", "'' does not start with a number"),
        ("top=nan@0", "'nan' does not start with a number"),
        ("top=1.2.3@0", "'1.2.3' is not a number"),
        ("top=1e999@0", "not a finite number"),
        ("top=2@1e999", "not a finite number"),
        ("top=2in@0", "'in' is not deg or mm"),
        ("tpo=2@0", "did you mean 'top'?"),
        ("2@180", "write it like"),
        ("", "write it like"),
        ("top=1@0,top=2@0", "stands twice"),
        ("top=1@0,top=2mm@0", "stands twice"),
        ("hub=5@90", "only a bush has a clock"),
        ("hub=5deg", "the unit is mm"),
        ("toe=1mm", "the unit is deg"),
        ("toe=0.1,rod=300", "give one of them"),
        ("top=2@180,,hub=1", "'' in"),
    ],
)
def test_nonsense_is_refused_with_a_reason(text, said):
    with pytest.raises(Refusal, match=re.escape(said)):
        corner_text(text)


def test_a_side_is_laid_over_both_and_both_over_the_base():
    base = {
        "note": "old",
        "rear_axle_shift_mm": 3.0,
        "left": {"top_rated_deg": 1.0, "top_clock_deg": 10.0, "hub_spacer_mm": 4.0, "tie_rod_toe_deg": 0.2},
        "right": {"hub_spacer_mm": 6.0},
    }
    made = typed_setting(base, corner_text("top=1mm@90,rod=300"), None, corner_text("top=0,hub=1"))
    assert made == {
        "note": "typed on the command line",
        "rear_axle_shift_mm": 3.0,
        "left": {
            "hub_spacer_mm": 4.0,
            "top_offset_mm": 1.0,
            "top_clock_deg": 90.0,
            "tie_rod_length_mm": 300.0,
        },
        "right": {"tie_rod_length_mm": 300.0, "top_rated_deg": 0.0, "hub_spacer_mm": 1.0},
    }
    assert base["left"]["top_rated_deg"] == 1.0


def test_without_a_base_what_is_not_typed_is_left_out():
    assert typed_setting(None, None, {"hub_spacer_mm": 1.0}, None) == {
        "note": "typed on the command line",
        "left": {"hub_spacer_mm": 1.0},
        "right": {},
    }


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("top=2,5@180", "top=2.5@180"),
        ("top=2@22,5,hub=5", "top=2@22.5,hub=5"),
        ("toe=-0,1,bottom = 1,5mm@0", "toe=-0.1,bottom=1.5mm@0"),
    ],
)
def test_a_decimal_comma_is_told_with_what_was_meant(text, meant):
    with pytest.raises(Refusal) as refusal:
        corner_text(text)
    assert str(refusal.value) == f"'{text}': commas stand between parts; write a point: {meant}"
