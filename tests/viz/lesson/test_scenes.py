"""A lesson's steps as scenes: the view and the lock that are named, captions with the solver's numbers."""

from __future__ import annotations

import re
from dataclasses import replace

import numpy as np
import pytest

from kinematics.parts import GRAVITY
from scenarios.ask.run import read
from scenarios.errors import Refusal
from scenarios.lessons.lesson import BUILT_IN, HOME, lesson, lesson_of
from viz.lesson.film import FPS, asked, frames, path_order
from viz.lesson.scenes import bare, caption, drawn, titled


@pytest.fixture(scope="module")
def whole():
    return lesson("why-the-inside-rear-lifts")


@pytest.mark.parametrize("name", BUILT_IN)
def test_every_step_of_the_built_in_lessons_can_be_drawn_along_its_way(name):
    found = lesson(name)
    for place, step in enumerate(found.steps):
        data = drawn(found, place, 2)
        assert data.handwheel_deg == pytest.approx(np.array(step.lock_deg), abs=1e-9)
        assert step.view in data.cameras
        if step.case is not None:
            assert step.case in data.captions[0] or step.view in ("rock", "rock_right")


def test_captions_say_the_solvers_numbers_as_a_workshop_does(whole):
    kart = whole.scenario
    lifted = whole.steps[7]
    degrees = read(kart, kart.settings[lifted.setting], "lift_off_handwheel_left_deg@slow corner")
    assert f"At {degrees:.1f}° of handwheel" in caption(lifted)
    weighed = whole.steps[5]
    newton = read(kart, kart.settings[weighed.setting], "load_rear_left_n@30@standing")
    assert f"it carries {newton / GRAVITY:.1f} kg" in caption(weighed)
    assert not any(re.search(r"[{}]", caption(step)) for step in whole.steps)


def test_a_lessons_words_stand_in_place_of_the_scenes_own(whole):
    data = drawn(whole, 4, 3)
    said = titled(data, "5 of 12: A table", "Put a beer mat")
    assert set(said.captions) == {"5 of 12: A table"}
    assert said.stated == "Put a beer mat"
    assert "drawn x5" in said.legend  # the scale is said whatever stands there
    plain = bare(data)
    assert (set(plain.captions), plain.legend, plain.stated) == ({""}, "", "")


def test_a_view_that_the_scene_has_not_is_refused_in_one_line():
    step = {"title": "A", "caption": "B", "setting": "more-caster", "view": "rock"}
    with pytest.raises(Refusal, match=r"x: step\[1\].view 'rock' is unknown; .*there are: overview.*clock"):
        drawn(lesson_of({"title": "One", "step": [step]}, "x", HOME), 0, 1)


def test_a_way_on_which_a_tie_rod_binds_is_refused(monkeypatch):
    step = {"title": "A", "caption": "B", "setting": "more-caster", "view": "clock", "lock_deg": [0.0, 60.0]}
    found = lesson_of({"title": "One", "step": [step]}, "x", HOME)
    drawn(found, 0, 2)
    bound = replace(found.scenario.settings["more-caster"].left, rod_length=250.0, rod_toe=None)
    settings = {
        **found.scenario.settings,
        "more-caster": replace(found.scenario.settings["more-caster"], left=bound),
    }
    stuck = replace(found, scenario=replace(found.scenario, settings=settings))
    with pytest.raises(Refusal, match=r"x: step\[1\].lock_deg: a tie rod of setting 'more-caster' binds"):
        drawn(stuck, 0, 2)


def test_a_step_is_turned_first_and_then_held_at_its_end():
    order = path_order(5, 20)
    assert order[:10] == [0, 0, 1, 1, 2, 2, 3, 3, 4, 4]
    assert set(order[10:]) == {4}
    assert path_order(1, 3) == [0, 0, 0]
    assert frames(2.0) == 2 * FPS


def test_the_question_is_asked_before_it_is_answered(whole):
    first, second = asked(whole.question)
    assert whole.question.ask in first
    assert "a  the left rear" in first
    assert "d  none" in first
    assert "packs up its corner" not in first
    assert "a  the left rear" in second
    assert "right rear\n" not in second
    assert "packs up its corner" in second.replace("\n", " ")
