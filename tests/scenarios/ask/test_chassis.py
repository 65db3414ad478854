"""Changes of the whole kart typed on the command line."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

import scenarios
from scenarios.ask.asked import Question, Typed, asked, usual
from scenarios.ask.chassis import CHANGES, HELP, SYNTAX, WORDS, kart_text, table_text
from scenarios.ask.typed import AS_GIVEN
from scenarios.errors import Refusal


def test_every_change_lands_under_its_key_and_the_example_is_accepted():
    assert kart_text("axle=5,rear-track=-10mm,frame=10%,ballast=5kg@600/-200/150,ballast=-2@0/0/90") == {
        "rear_axle_shift_mm": 5.0,
        "rear_track_change_mm": -10.0,
        "frame_stiffness_change_percent": 10.0,
        "ballast": [
            {"mass_kg": 5.0, "at_mm": [600.0, -200.0, 150.0]},
            {"mass_kg": -2.0, "at_mm": [0.0, 0.0, 90.0]},
        ],
    }
    assert SYNTAX in HELP
    assert len(kart_text(SYNTAX)) == 5
    assert all(f"\n{word} " in HELP for word in WORDS)


NUMBERS = st.floats(-400.0, 400.0)
BALLAST = st.fixed_dictionaries({"mass_kg": NUMBERS, "at_mm": st.lists(NUMBERS, min_size=3, max_size=3)})
TABLES = st.fixed_dictionaries(
    {}, optional={**{c.key: NUMBERS for c in CHANGES}, "ballast": st.lists(BALLAST, min_size=1, max_size=3)}
)


@given(TABLES.filter(bool))
def test_a_table_as_typed_reads_back_number_for_number(table):
    assert kart_text(table_text(table)) == table


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("rear-trak=5", "did you mean 'rear-track'?"),
        ("axle=5,axle=6", "'axle' stands twice"),
        ("axle=5%", "axle=5%: the unit is mm"),
        ("frame=10mm", "frame=10mm: the unit is %"),
        ("ballast=5", "write kg, '@', x/y/z in mm"),
        ("ballast=5@1/2", "write kg, '@', x/y/z in mm"),
        ("ballast=5lb@1/2/3", "write kg, '@', x/y/z in mm"),
        ("ballast=5@1/b/3", "ballast at: 'b' is not a number"),
        ("axle=much", "does not start with a number"),
        ("rear-track=2,5", "write a point: rear-track=2.5"),
    ],
)
def test_what_cannot_be_read_is_refused_in_one_line(text, said):
    with pytest.raises(Refusal) as refused:
        kart_text(text)
    assert said in str(refused.value)
    assert "\n" not in str(refused.value)


def look_up(typed):
    return asked(Question(settings=[typed]), usual(scenarios.load())).scenario.settings[AS_GIVEN]


def test_alone_it_changes_the_default_setting_and_beside_a_corner_concentric_bushes():
    kart = scenarios.load()
    alone = look_up(Typed(kart=kart_text("rear-track=20")))
    assert alone.left == kart.settings[kart.default_setting].left
    assert alone.chassis.rear_track == 20.0
    based = look_up(Typed(kart=kart_text("rear-track=20"), based_on="more-caster"))
    assert based.left == kart.settings["more-caster"].left
    beside = look_up(Typed({"hub_spacer_mm": 5.0}, kart=kart_text("rear-track=20")))
    assert (beside.left.hub_spacer, beside.left.rod_toe, beside.chassis.rear_track) == (5.0, None, 20.0)


def test_every_change_is_the_one_of_a_file():
    by_kart = scenarios.typed(scenarios.load(), "new", kart="seat-up=20,ballast=5@600/-200/150")
    said = {"seat_up_mm": 20.0, "ballast": [{"mass_kg": 5.0, "at_mm": [600.0, -200.0, 150.0]}]}
    inputs = scenarios.load().resolved
    base = {**inputs["setting"][scenarios.load().default_setting], **said}
    in_file = scenarios.from_mapping({**inputs, "setting": {**inputs["setting"], "new": base}}, "x", "x")
    assert by_kart.settings["new"] == in_file.settings["new"]
    assert by_kart.settings["new"].chassis.masses.weight > 0.0


def test_out_of_range_is_refused_with_its_key():
    with pytest.raises(Refusal, match=r"rear_track_change_mm = 5000 mm"):
        scenarios.typed(scenarios.load(), "new", kart="rear-track=5000")
