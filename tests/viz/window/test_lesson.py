"""A lesson played in the window: every step in its order, its words beside the picture, then the question."""

from __future__ import annotations

import gc
from dataclasses import replace

import pytest

from scenarios.errors import Refusal
from scenarios.lessons.lesson import BUILT_IN, LessonQuestion, lesson
from tests.helpers.drawn.laid import faults
from tests.helpers.drawn.viewer import mouse, require
from viz.canvas import gl
from viz.lesson.scenes import caption
from viz.look.palette import DARK
from viz.window import lesson as window
from viz.window.lettering import CUT

NAME = "why-the-inside-rear-lifts"
LONG = LessonQuestion(
    "what ? " * 20, ["an answer of some length that fills a line " * 2] * 6, 2, "because " * 70
)


def opened(told, size=(900, 600)):
    require()
    said: list[str] = []
    made = window.LessonWindow(told, size=size, off_screen=True, said=said.append)
    made.plotter.show(auto_close=False)
    return made, said


@pytest.fixture(scope="module")
def made():
    yield opened(lesson(NAME))
    gc.collect()


@pytest.fixture
def played(made):
    shown, said = made
    shown.go(0)
    said.clear()
    yield shown, said
    if shown.stage.help:
        shown.toggle_help()


@pytest.fixture
def still(monkeypatch):
    """Nothing is drawn: where things stand is worked out before a picture."""
    monkeypatch.setattr("viz.window.stage.Stage.render", lambda stage: stage.prepare())


def test_it_goes_through_all_steps_to_the_answer_and_back(played, still):
    shown, said = played
    steps = shown.lesson.steps
    for n, step in enumerate(steps, 1):
        assert shown.words == f"{n} of {len(steps)}: {step.title}\n \n{caption(step)}"
        assert shown.stage.view == step.view
        camera = shown.handle.data.camera(step.view, 0)
        assert shown.plotter.camera.position == pytest.approx(camera.position)
        shown.on()
    question = shown.lesson.question
    assert shown.words.startswith(question.ask)
    assert question.because not in shown.words
    shown.on()
    assert question.because in shown.words
    assert question.answers[question.right] in shown.words
    shown.on()
    assert shown.place == shown.count - 1
    assert said[0].startswith("2 of 12")
    shown.back()
    shown.first()
    shown.back()
    assert shown.place == 0


def test_a_step_turns_its_way_once_in_its_time(played, still):
    shown, _ = played
    shown.go(4)
    step, moved = shown.lesson.steps[4], 0.0
    assert shown.handle.index == 0
    while shown.playing:
        shown.tick()
        moved += window.TICK_MS / 1000.0
    assert shown.handle.data.handwheel_deg[shown.handle.index] == pytest.approx(step.lock_deg[1])
    assert 0.4 * step.seconds < moved < 0.8 * step.seconds
    shown.play()
    assert (shown.playing, shown.handle.index) == (True, 0)
    shown.play()
    shown.tick()
    assert shown.handle.index == 0


@pytest.mark.parametrize("size", [(900, 600), (1680, 1020), (1280, 720), (900, 1400)], ids=str)
@pytest.mark.parametrize("name", BUILT_IN)
def test_nothing_lies_over_anything_in_any_step(name, size, still):
    shown, _ = opened(lesson(name), size)
    for place in range(shown.count):
        shown.go(place)
        for index in {0, shown.handle.data.count // 2, shown.handle.data.count - 1}:
            shown.stage.go(index)
            assert faults(shown.stage) == [], (place, index)
        assert CUT not in shown.panel.items["aside"].text
    shown.toggle_theme()
    shown.toggle_help()
    assert faults(shown.stage) == []
    shown.close()
    gc.collect()


def test_the_longest_words_that_a_file_may_have_fit_whole(still):
    told = lesson(NAME)
    steps = [replace(told.steps[0], title="a title " * 10, caption="words of it " * 50)]
    shown, _ = opened(replace(told, steps=steps, question=LONG))
    for place in range(3):
        shown.go(place)
        assert faults(shown.stage) == []
        assert shown.panel.items["aside"].text.split() == shown.words.split()
    shown.close()
    gc.collect()


def test_keys_and_buttons_step_it(played):
    shown, _ = played
    for symbol in ("Right", "Next", "Left", "Prior", "Home", "space", *"tkq"):
        assert len(shown.plotter.iren._key_press_event_callbacks[symbol]) == 1, symbol
    mouse(shown, "LeftButtonPressEvent", *shown.panel.boxes["on"].middle)
    assert shown.place == 1
    shown.go(3)
    box = shown.panel.boxes["lock"]
    mouse(shown, "LeftButtonPressEvent", box.right - 1, box.middle[1])
    assert shown.handle.index == shown.handle.data.count - 1
    mouse(shown, "LeftButtonReleaseEvent", box.right - 1, box.middle[1])
    shown.toggle_theme()
    assert shown.stage.theme is DARK
    shown.toggle_theme()
    shown.toggle_help()
    assert all(key in shown.panel.items["told"].text for key, _ in window.KEYS)


def test_a_step_that_cannot_be_drawn_is_refused_before_anything_is_shown():
    told = lesson(NAME)
    steps = [*told.steps[:2], replace(told.steps[2], view="clok")]
    with pytest.raises(Refusal, match=r"step\[3\].view 'clok' is unknown; did you mean 'clock'"):
        window.LessonWindow(replace(told, steps=steps), off_screen=True)


def test_a_window_needs_a_screen(monkeypatch):
    monkeypatch.setattr(gl, "has_display", lambda: False)
    with pytest.raises(gl.NoDisplay):
        window.show(lesson(NAME), DARK, print)
