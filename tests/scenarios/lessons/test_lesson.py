"""A lesson's file: the built-in ones hold, figures are the solver's, what is wrong is told in one line."""

from __future__ import annotations

from copy import deepcopy

import pytest

import scenarios
from scenarios.ask.run import read
from scenarios.errors import Refusal, ScenarioError
from scenarios.lessons.lesson import BUILT_IN, HOME, lesson, lesson_of

PLAIN = {
    "title": "One",
    "step": [
        {"title": "A", "caption": "It says {camber_left_deg@30}.", "setting": "more-caster", "view": "clock"}
    ],
}


def changed(step=None, **more):
    tables = {**deepcopy(PLAIN), **more}
    tables["step"][0].update(step or {})
    return tables


@pytest.mark.parametrize("name", BUILT_IN)
def test_a_built_in_lesson_has_every_figure_that_it_tells(name):
    found = lesson(name)
    assert len(found.steps) >= 5
    assert found.question is not None
    for step in found.steps:
        assert None not in step.figures.values(), step.title
    told = [step for step in found.steps if step.figures]
    assert len(told) >= 4


def test_its_figures_are_those_of_its_own_setting():
    [step] = lesson_of(PLAIN, "x.toml", HOME).steps
    kart = scenarios.load()
    assert step.figures == {
        "camber_left_deg@30": read(kart, kart.settings["more-caster"], "camber_left_deg@30")
    }
    assert (step.case, step.lock_deg, step.seconds, step.times) == (None, (0.0, 0.0), 6.0, 1.0)


def test_a_load_is_told_in_kilograms_where_that_is_asked():
    asked = "load_rear_left_n@30@standing in kg"
    [step] = lesson_of(changed({"caption": f"{{{asked}}} kg"}), "x.toml", HOME).steps
    kart = scenarios.load()
    assert step.figures[asked] == read(kart, kart.settings["more-caster"], "load_rear_left_n@30@standing")


@pytest.mark.parametrize(
    ("tables", "line"),
    [
        (
            changed({"setting": "more-castor"}),
            "step[1].setting 'more-castor' is unknown; did you mean 'more-caster'?",
        ),
        (
            changed({"case": "hairpin"}),
            "step[1].case 'hairpin' is unknown; there are: standing, gentle corner",
        ),
        (changed({"lock_deg": [0.0, 80.0]}), "step[1].lock_deg 80 deg: the mechanical stop is at ±75 deg"),
        (changed({"lock_deg": 30.0}), "step[1].lock_deg = 30 deg: must be a list in [ ]"),
        (changed({"seconds": 0.0}), "step[1].seconds = 0: must be at least 1 and at most 60 s"),
        (
            changed({"caption": "{kamber_left_deg}"}),
            "unknown figure 'kamber_left_deg'; did you mean 'camber_left_deg'?",
        ),
        (changed({"captoin": "x"}), "step[1].captoin: unknown key; did you mean 'caption'?"),
        (changed(step_two=1), "step_two: unknown key"),
        (changed(scenario="nobodys.toml"), "no such file or built-in scenario"),
        (
            changed(question={"ask": "?", "answers": ["a", "b"], "right": 3, "because": "c"}),
            "question.right 3: there are 2 answers",
        ),
        ({"title": "One", "step": []}, "step"),
    ],
)
def test_what_is_wrong_is_told_in_one_line(tables, line):
    with pytest.raises((ScenarioError, Refusal)) as told:
        lesson_of(tables, "x.toml", HOME)
    said = str(told.value)
    assert line in said
    assert "\n" not in said
    assert len(said) <= 300


def test_a_lesson_that_there_is_not_is_told_the_nearest():
    with pytest.raises(ScenarioError, match="did you mean 'what-a-bush-does'"):
        lesson("what-a-bush-dose")


def test_a_lesson_of_ones_own_has_its_kart_beside_it(tmp_path):
    (tmp_path / "mine.toml").write_text(scenarios.builtin_text("bent-right-stub"), encoding="utf-8")
    text = (
        (HOME / "what-a-bush-does.toml").read_text(encoding="utf-8").replace('"training-kart"', '"mine.toml"')
    )
    (tmp_path / "own.toml").write_text(text, encoding="utf-8")
    assert lesson(str(tmp_path / "own.toml")).scenario.title == "Training kart with a bent right stub axle"
