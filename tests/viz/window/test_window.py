"""The window without a screen: every control is a method, and does what it says."""

from __future__ import annotations

import gc

import numpy as np
import pytest

from kinematics.corner.bush import bush_offset
from tests.helpers.drawn.viewer import SIZE, drag, mouse, opened, put_back, require
from viz.canvas import gl
from viz.look.palette import DARK, LIGHT
from viz.scene.scene import OF_THE_WHOLE
from viz.window import window
from viz.window.keys import KEYS, VIEWS


@pytest.fixture(scope="module")
def plain():
    """One window for the whole file, without load cases: opening it is what takes the time."""
    require()
    made = opened()
    yield made
    made.close()
    gc.collect()


@pytest.fixture
def viewer(plain):
    state, bushes = plain.state, dict(plain.fitting.bushes)
    yield plain
    put_back(plain, state, bushes)


def slider(viewer, key):
    return viewer.stage.panel.items[key].value


def test_it_starts_straight_ahead_with_the_settings_own_bushes(viewer):
    assert viewer.handle.data.handwheel_deg[viewer.index] == pytest.approx(0.0)
    assert slider(viewer, "lock") == pytest.approx(0.0)
    overview = viewer.handle.data.cameras["overview"]
    assert viewer.plotter.camera.position == pytest.approx(overview.position)
    assert viewer.plotter.camera.focal_point == pytest.approx(overview.focus)
    fit = viewer.sweep.setting.left
    assert bush_offset(
        np.radians(viewer.fitting.bushes["top_size"]), viewer.sweep.kart.left.yoke.span
    ) == pytest.approx(float(fit.top_offset))
    for key, value in viewer.fitting.bushes.items():
        assert slider(viewer, key) == pytest.approx(value)


def test_the_lock_slider_moves_the_scene(viewer):
    drag(viewer, "lock", 41.0)
    assert viewer.handle.data.handwheel_deg[viewer.index] == pytest.approx(40.0)
    assert slider(viewer, "lock") == pytest.approx(40.0)
    viewer.step(5)
    assert viewer.index == viewer.handle.data.count - 1
    viewer.step(-100)
    assert viewer.index == 0


def test_a_bush_slider_solves_both_corners_anew(viewer):
    before = viewer.handle.data.body("stub_right").matrices
    drag(viewer, "top_size", 4.0)
    drag(viewer, "top_clock", 90.0)
    for corner in (viewer.sweep.setting.left, viewer.sweep.setting.right):
        assert corner.top_offset == pytest.approx(66.0 * np.tan(np.radians(4.0)))
        assert corner.top_clock == pytest.approx(np.pi / 2)
    assert not np.allclose(viewer.handle.data.body("stub_right").matrices, before)
    assert "top 4.0° at 90°" in viewer.handle.data.captions[0]


def test_a_setting_that_cannot_be_is_told_and_the_scene_stays(viewer):
    before = viewer.handle.data
    viewer.fitting.set_bush("top_clock", 355.0)
    assert viewer.message == "this bush is not on the shelf"
    assert viewer.handle.data is before
    assert slider(viewer, "top_clock") == pytest.approx(viewer.fitting.bushes["top_clock"])
    viewer.fitting.set_bush("top_clock", 120.0)
    assert viewer.message == ""


def test_play_runs_to_the_end_and_back(viewer):
    viewer.tick()
    assert viewer.index == 3, "stopped: nothing moves"
    viewer.play()
    seen = []
    for _ in range(9):
        viewer.tick()
        seen.append(viewer.index)
    assert seen == [4, 5, 6, 5, 4, 3, 2, 1, 0]
    viewer.play()
    viewer.tick()
    assert viewer.index == 0


@pytest.mark.parametrize("view", [view for view in VIEWS if view not in OF_THE_WHOLE])
def test_every_view_looks_from_its_place(viewer, view):
    viewer.look(view)
    camera = viewer.handle.data.camera(view, viewer.index)
    assert viewer.plotter.camera.position == pytest.approx(camera.position)
    assert viewer.plotter.camera.focal_point == pytest.approx(camera.focus)
    assert viewer.plotter.camera.parallel_projection == (camera.parallel > 0.0)
    assert all(bool(inset.renderer.GetDraw()) == (view == "overview") for inset in viewer.insets)


def test_toggles(viewer):
    viewer.toggle_ghost()
    assert viewer.handle.actor("wheel_left").GetProperty().GetOpacity() < 0.5
    viewer.toggle_ghost()
    assert viewer.handle.actor("wheel_left").GetProperty().GetOpacity() == 1.0
    viewer.toggle_theme()
    assert viewer.handle.theme is DARK
    viewer.toggle_theme()
    assert viewer.handle.theme is LIGHT
    viewer.toggle_words()
    assert not viewer.worded


def test_every_key_is_bound_and_named_on_screen(viewer):
    named = {"space", "left, right", "up, down", "1 to 9, 0", "minus, plus", "a, n", "tab", *"cfbvxsghtkq"}
    assert {key for key, _ in KEYS} == named
    symbols = ("space", "Left", "Right", "Up", "Down", "Tab", "plus", "equal", "minus")
    for symbol in (*symbols, *"ancfbvxsghtkq", *"1234567890"):
        assert len(viewer.plotter.iren._key_press_event_callbacks[symbol]) == 1, symbol


@pytest.mark.parametrize("key", ["3", "w", "f", "p", "r", "s"])
def test_vtks_own_keys_are_still(viewer, key):
    """In VTK 3 is red-green stereo and w wires: here both keys have another use, or none."""
    interactor, window_ = viewer.plotter.iren.interactor, viewer.plotter.render_window
    before = viewer.plotter.camera.position
    interactor.SetKeyCode(key)
    interactor.SetKeySym(key)
    interactor.InvokeEvent("CharEvent")
    assert not window_.GetStereoRender()
    assert viewer.handle.actor("frame").GetProperty().GetRepresentationAsString() == "Surface"
    assert viewer.plotter.camera.position == before


def test_a_window_needs_a_screen(monkeypatch):
    monkeypatch.setattr(gl, "has_display", lambda: False)
    with pytest.raises(gl.NoDisplay):
        window.show(None, None)


def test_a_press_of_the_mouse_does_what_the_button_says(viewer):
    panel = viewer.stage.panel
    for key, now in (("view top", lambda: viewer.view == "top"), ("theme", lambda: viewer.dark)):
        mouse(viewer, "LeftButtonPressEvent", *panel.boxes[key].middle)
        mouse(viewer, "LeftButtonReleaseEvent", *panel.boxes[key].middle)
        assert now()
        assert panel.items[key].on


def test_the_mouse_drags_a_slider_and_leaves_the_picture_alone(viewer):
    box, before = viewer.stage.panel.boxes["lock"], viewer.plotter.camera.position
    mouse(viewer, "LeftButtonPressEvent", *box.middle)
    assert viewer.lock_deg == pytest.approx(0.0)
    mouse(viewer, "MouseMoveEvent", box.right, box.low)
    assert viewer.lock_deg == pytest.approx(60.0)
    mouse(viewer, "LeftButtonReleaseEvent", box.right, box.low)
    mouse(viewer, "MouseMoveEvent", box.left, box.low)
    assert viewer.lock_deg == pytest.approx(60.0)
    assert viewer.plotter.camera.position == before


def test_the_mouse_turns_the_picture_in_its_own_box(viewer):
    x, y = viewer.stage.layout.boxes["scene"].middle
    before = viewer.plotter.camera.position
    for event, by in (("LeftButtonPressEvent", 0), ("MouseMoveEvent", 60), ("LeftButtonReleaseEvent", 60)):
        mouse(viewer, event, x + by, y)
    assert viewer.plotter.camera.position != before


def test_keys_mark_a_bush_and_turn_it(viewer):
    fitting, before = viewer.fitting, dict(viewer.fitting.bushes)
    fitting.mark()
    assert viewer.stage.panel.items["top_size"].marked
    fitting.turn(1)
    assert fitting.bushes["top_size"] == pytest.approx(before["top_size"] + 0.1)
    fitting.mark()
    fitting.turn(-1)
    assert fitting.bushes["top_clock"] == pytest.approx(before["top_clock"] - 5.0)


def test_a_bush_goes_on_one_corner_alone(viewer):
    fitting, before = viewer.fitting, viewer.sweep.setting
    fitting.next_corners()
    fitting.next_corners()
    assert fitting.corners == "right"
    fitting.set_bush("top_clock", 90.0)
    assert viewer.sweep.setting.left == before.left
    assert viewer.sweep.setting.right.top_clock == pytest.approx(np.pi / 2)
    assert fitting.bushes["top_clock"] == pytest.approx(90.0)
    fitting.set_corners("left")
    assert fitting.bushes["top_clock"] == pytest.approx(180.0)


def test_keys_and_marks_are_told_in_the_pictures_place_when_asked_for(viewer):
    viewer.toggle_help()
    told = viewer.stage.panel.items["told"].text
    assert all(f"{key}: {does}" in told for key, does in KEYS)
    assert viewer.handle.data.legend in told
    assert not viewer.stage.scene_renderer.GetDraw()
    viewer.toggle_help()
    assert viewer.stage.scene_renderer.GetDraw()


def test_it_opens_as_large_as_asked_for(viewer):
    assert viewer.stage.layout.size == SIZE
