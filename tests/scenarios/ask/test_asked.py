"""What is asked is looked up in the scenario; an earlier run read back brings its own choice."""

from __future__ import annotations

import json

import pytest

import scenarios
from scenarios.ask.asked import Question, Typed, asked, concerning, usual
from scenarios.ask.compare import compare
from scenarios.ask.run import check_amount, run
from scenarios.ask.typed import AS_GIVEN, corner_text
from scenarios.documents.chunks import json_bytes
from scenarios.documents.earlier import start
from scenarios.documents.run import document
from scenarios.errors import Refusal
from tests.helpers.scenario_edit import edited, tables


def look_up(**question):
    return asked(Question(**question), usual(scenarios.load()))


def test_nothing_asked_is_the_default_setting_in_every_case():
    book = scenarios.load()
    found = look_up()
    assert found.scenario.resolved == book.resolved
    assert tuple(found.settings) == (book.default_setting,)
    assert list(found.cases) == [case.name for case in book.load_cases]


def test_settings_come_once_each_in_the_order_asked_for():
    base = "less-caster"
    typed = Typed(left=corner_text("hub=7"), based_on=base)
    found = look_up(settings=("more-caster", typed, "less-caster", "more-caster"))
    assert tuple(found.settings) == ("more-caster", AS_GIVEN, "less-caster")
    tables = found.scenario.resolved["setting"]
    assert tables[AS_GIVEN]["left"] == {**tables[base]["left"], "hub_spacer_mm": 7.0}
    assert tables[AS_GIVEN]["right"] == tables[base]["right"]


def test_several_typed_are_called_by_what_was_typed_or_numbered():
    typed = [Typed(corner_text(text)) for text in ("top=2@180", "top=2@180", "top=2@180,bottom=1@0,toe=-0.1")]
    one_side = Typed(left=corner_text("hub=5"), right=corner_text("hub=2"))
    found = look_up(settings=(*typed, "more-caster", one_side, Typed(left=corner_text("toe=-0.1"))))
    first, second, third, *others = found.settings
    assert (first, second, third) == ("top 2 at 180", "as given 1", "as given 2")
    assert others == ["more-caster", "as given 3", "left toe -0.1"]
    tables = found.scenario.resolved["setting"]
    assert tables[first]["left"] == tables[second]["left"] != tables[third]["left"]
    assert [tables["as given 3"][side]["hub_spacer_mm"] for side in ("left", "right")] == [5.0, 2.0]


def test_a_typed_setting_never_takes_the_place_of_one_that_is_named_beside_it():
    earlier = look_up(settings=(Typed(corner_text("top=2@180")),))
    found = asked(Question(settings=(AS_GIVEN, Typed(corner_text("hub=7"), based_on=AS_GIVEN))), earlier)
    assert tuple(found.settings) == (AS_GIVEN, "as given 2")
    assert found.scenario.settings[AS_GIVEN] == earlier.scenario.settings[AS_GIVEN]
    assert found.scenario.settings["as given 2"].left.hub_spacer == 7.0
    twice = [Typed(corner_text(text)) for text in ("hub=3", "hub=4")]
    again = asked(
        Question(settings=(Typed(corner_text("hub=3")), *twice)), asked(Question(settings=twice), earlier)
    )
    assert tuple(again.settings) == ("as given 1", "as given 2", "as given 3")


def test_a_side_typed_lies_over_what_is_typed_for_both():
    typed = Typed(corner_text("top=2@180,hub=5"), right=corner_text("hub=1"))
    table = look_up(settings=[typed]).scenario.resolved["setting"][AS_GIVEN]
    assert (table["left"]["hub_spacer_mm"], table["right"]["hub_spacer_mm"]) == (5.0, 1.0)
    assert table["left"]["top_rated_deg"] == table["right"]["top_rated_deg"] == 2.0
    assert not Typed()
    assert Typed(both={}), "a corner typed empty is typed"


def test_lock_and_cases_are_those_asked_for():
    found = look_up(lock_deg=(-20.0, 30.0), positions=11, cases=("fast corner",))
    assert found.scenario.handwheel_deg == (-20.0, 30.0, 11)
    assert tuple(found.cases) == ("fast corner",)


@pytest.mark.parametrize(
    ("question", "said"),
    [
        (
            {"settings": ("mor-caster",)},
            "setting 'mor-caster' is unknown; did you mean 'more-caster'?; there",
        ),
        ({"settings": [Typed({}, based_on="nope")]}, "setting 'nope' is unknown"),
        ({"cases": ("fast cornr",)}, "load case 'fast cornr' is unknown; did you mean 'fast corner'?"),
        (
            {"settings": [Typed({"top_rated_deg": 20.0, "top_clock_deg": 0.0})]},
            "top_rated_deg = 20 deg: must be",
        ),
    ],
)
def test_what_the_scenario_does_not_have_is_refused(question, said):
    with pytest.raises(Refusal, match=r"^training-kart: ") as refused:
        look_up(**question)
    assert said in str(refused.value)


def test_an_earlier_run_brings_its_settings_cases_and_lock(tmp_path):
    typed = look_up(settings=[Typed(corner_text("top=2@180"))], positions=5)
    runs = [run(typed.scenario, AS_GIVEN, ["slow corner"], 25.0)]
    path = tmp_path / "run.json"
    path.write_bytes(json_bytes(document(typed.scenario, runs, 25.0)))
    again = asked(Question(str(path)), start(str(path)))
    assert again.scenario.resolved == typed.scenario.resolved
    assert (list(again.settings), list(again.cases), again.at_deg) == ([AS_GIVEN], ["slow corner"], 25.0)


@pytest.mark.parametrize(
    "fault", [{"settings": []}, {"figures_at_lock_deg": "far"}, {"scenario": {"name": 3}}]
)
def test_a_document_that_is_not_a_run_is_refused(tmp_path, fault):
    book = scenarios.load()
    whole = document(book, [run(book, book.default_setting)])
    path = tmp_path / "run.json"
    path.write_bytes(json_bytes({**whole, **fault}))
    with pytest.raises(Refusal, match="is not the JSON of a run"):
        start(str(path))


@pytest.mark.parametrize(
    ("named", "said"),
    [
        ({"name": "x", "cases": []}, "setting 'x' is unknown; there are: as-delivered"),
        ({"name": "as-delivered", "cases": [{"name": "hairpin"}]}, "load case 'hairpin' is unknown"),
    ],
)
def test_a_run_of_what_its_inputs_have_not_is_refused(tmp_path, named, said):
    """Every command starts from it, also those that search or weigh and run nothing by name."""
    book = scenarios.load()
    whole = document(book, [run(book, book.default_setting)])
    path = tmp_path / "run.json"
    path.write_bytes(json_bytes({**whole, "settings": [named]}))
    with pytest.raises(Refusal, match=said):
        start(str(path))


def test_a_json_that_is_a_scenario_is_read_as_one(tmp_path):
    path = tmp_path / "kart.json"
    path.write_text(json.dumps(scenarios.load().resolved))
    assert start(str(path)).scenario.digest == scenarios.load().digest


def test_warnings_of_other_settings_do_not_concern():
    book = scenarios.load()
    mapping = {**book.resolved, "setting": dict(book.resolved["setting"])}
    odd = {**mapping["setting"]["as-delivered"]["left"], "top_rated_deg": 5.9, "top_clock_deg": 0.0}
    mapping["setting"]["odd"] = {**mapping["setting"]["as-delivered"], "left": odd}
    book = scenarios.from_mapping(mapping, "test")
    assert any(w.startswith("setting.odd:") for w in concerning(book, ["odd"]))
    assert not any(w.startswith("setting.odd:") for w in concerning(book, ["more-caster"]))


def test_more_states_than_can_be_held_are_refused_with_the_number_to_change():
    many = scenarios.from_mapping(edited(tables(), {"sweep.positions": 20001}), "many.toml")
    check_amount(many, 4, 5)
    with pytest.raises(Refusal, match=r"^many\.toml: 5 settings in 5 load cases .* at most 16666 positions"):
        check_amount(many, 5, 5)
    names = [name for name in many.settings if name != many.default_setting]
    with pytest.raises(Refusal, match=r"sweep\.positions"):
        compare(many, many.default_setting, [*names, *names])
