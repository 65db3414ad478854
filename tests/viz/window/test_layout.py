"""Nothing in the window lies over anything else, at any size from 900x600 up, however it is set."""

from __future__ import annotations

import gc
from dataclasses import replace

import numpy as np
import pytest

import scenarios
from kinematics.lock import sweep
from tests.helpers.drawn.laid import faults, label_faults
from tests.helpers.drawn.viewer import LOCK, opened, require
from viz.canvas import labels
from viz.canvas.pane import Pane
from viz.look.palette import DARK, LIGHT
from viz.window import layout
from viz.window.controls import views_of
from viz.window.keys import VIEWS
from viz.window.state import OnScreen, Options

SIZES = ((900, 600), (1680, 1020), (1440, 900), (1280, 720), (900, 1400), (2560, 1440))
SHOWN = (-60.0, -20.0, 0.0, 40.0, 60.0)


def options(second, name="training-kart"):
    book = scenarios.load(name)
    other = OnScreen(sweep(book.kart, book.settings["less-caster"], LOCK), "less-caster") if second else None
    return Options(book.load_cases, 2, other, settings=book.settings)


@pytest.fixture(scope="module", params=[1, 2], ids=["one kart", "two karts"])
def whole(request):
    require()
    made = opened(options(request.param == 2))
    yield made
    made.close()
    gc.collect()


@pytest.fixture
def still(monkeypatch):
    """Nothing is drawn: where things stand is worked out before a picture."""
    monkeypatch.setattr("viz.window.stage.Stage.render", lambda stage: stage.prepare())


def resized(viewer, size):
    viewer.plotter.window_size = list(size)
    viewer.stage.prepare()
    assert viewer.stage.layout.size == size


@pytest.mark.parametrize("size", SIZES, ids=str)
def test_nothing_lies_over_anything_at_any_size_view_and_lock(whole, still, size):
    resized(whole, size)
    for view in views_of(whole):
        whole.look(view)
        for degrees in SHOWN:
            whole.set_handwheel(degrees)
            assert faults(whole.stage) == [], (size, view, degrees)


@pytest.mark.parametrize("size", SIZES[:2], ids=str)
@pytest.mark.parametrize("times", [1.0, 20.0])
def test_nor_drawn_to_scale_or_much_larger_nor_in_another_case(whole, still, size, times):
    resized(whole, size)
    state = whole.state
    for case in (0, 3):
        if not whole._change(replace(state, view="overview", case=case, exaggeration=times)):
            continue
        for view in ("overview", "rear", "rock", "front"):
            whole.look(view)
            for degrees in (-60.0, 0.0, 20.0):
                whole.set_handwheel(degrees)
                assert faults(whole.stage) == [], (case, view, degrees)
    whole._change(state)


@pytest.mark.parametrize("size", SIZES[:2], ids=str)
def test_nor_in_the_dark_with_a_message_with_help_without_words_or_with_the_front_end_alone(
    whole, still, size
):
    resized(whole, size)
    whole.look("overview")
    steps = (whole.toggle_theme, whole.toggle_help, whole.toggle_help, whole.toggle_words)
    for change in (*steps, whole.toggle_words, whole.toggle_front, whole.toggle_front, whole.toggle_theme):
        change()
        assert faults(whole.stage) == []
        whole.say("a bush that is not there, said in as many words as it takes to fill " + 40 * "a line ")
        assert faults(whole.stage) == []
        assert whole.message


def test_a_bush_of_ones_own_has_a_name_that_fits(whole, still):
    resized(whole, (900, 600))
    state = whole.state
    whole.fitting.set_bush("top_clock", 143.0)
    whole.keep()
    assert faults(whole.stage) == []
    whole._change(state)


def test_letters_are_drawn_where_their_boxes_are(whole):
    """What the words change in the picture lies in the boxes that they were given."""
    resized(whole, (900, 600))
    whole.look("front")
    whole.set_handwheel(40.0)
    scene = whole.stage.layout.boxes["scene"]
    whole.stage.labels.lines.GetProperty().SetOpacity(0.0)
    worded = shot(whole)
    boxes = [box for _, box in whole.stage.labels.placed]
    for actor, _ in whole.handle.labels():
        actor.VisibilityOff()
    whole.handle.worded = False
    bare = shot(whole)
    whole.stage.labels.lines.GetProperty().SetOpacity(1.0)
    whole.handle.set_words(True)
    assert len(boxes) > 4
    rows, columns = np.nonzero(np.abs(worded - bare).max(axis=-1) > 20)
    x, y = columns - scene.left, len(worded) - 1 - rows - scene.low
    inside = np.zeros(x.shape, dtype=bool)
    for box in boxes:
        near = box.shrunk(-2.0)
        inside |= (x >= near.left) & (x <= near.right) & (y >= near.low) & (y <= near.high)
    assert inside.size > 2000
    assert inside.all()


def shot(viewer):
    viewer.plotter.render()
    return np.asarray(viewer.plotter.screenshot(return_img=True)).astype(int)


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=["light", "dark"])
def test_a_window_that_was_opened_large_is_laid_out_like_one_made_so(theme):
    require()
    small, large = opened(options(True), (900, 600), theme), opened(options(True), (1440, 900), theme)
    resized(small, (1440, 900))
    assert small.stage.layout == large.stage.layout
    assert np.abs(shot(small) - shot(large)).mean() < 0.5
    small.close()
    large.close()
    gc.collect()


def test_labels_that_lie_over_each_other_are_found(whole, still, monkeypatch):
    monkeypatch.setattr(labels, "apart", lambda wanted, *_: [wanted[0]] * len(wanted))
    resized(whole, (900, 600))
    found = []
    for view in ("front", "side", "top"):
        whole.look(view)
        whole.set_handwheel(60.0)
        found += label_faults(whole.stage)
    assert any("lies over label" in one for one in found)


def test_controls_that_do_not_fit_are_found(whole, still, monkeypatch):
    whole.look("overview")
    monkeypatch.setattr(layout, "letters_for", lambda size: 24)
    whole.stage.arrange()
    found = faults(whole.stage)
    monkeypatch.undo()
    whole.stage.arrange()
    assert any("leaves the window" in one for one in found)


def test_words_out_of_their_box_are_found(whole, still, monkeypatch):
    monkeypatch.setattr("viz.window.panel.fitted", lambda text, letters, room: text)
    whole.stage.panel.change("A", text="a setting with a name that is far longer than there is room for")
    assert "the text of A leaves its box" in faults(whole.stage)


def test_a_label_without_room_is_left_out():
    room, box = Pane(0, 0, 100, 40), Pane(10, 10, 80, 30)
    placed = labels.apart([box, box, box], room)
    assert placed[0] == box
    assert [b.width for b in placed[1:]] == [0.0, 0.0]


def test_lines_go_under_the_words(whole, still):
    for view in ("rear", "clock", "rock"):
        whole.look(view)
        drawn = list(whole.stage.scene_renderer.GetViewProps())
        under = drawn.index(whole.stage.labels.lines)
        assert all(drawn.index(actor) > under for actor, _ in whole.handle.labels())


def test_every_view_of_the_scene_has_a_button(whole):
    assert set(whole.scene.views) <= set(views_of(whole))
    assert {f"view {view}" for view in VIEWS} <= set(whole.stage.panel.boxes)
