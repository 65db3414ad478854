"""The window with load cases: the whole kart, B over it, chart, exaggeration; every control is a method."""

from __future__ import annotations

import gc
from dataclasses import replace

import numpy as np
import pytest

import scenarios
from kinematics.lock import sweep
from tests.helpers.drawn.viewer import LOCK, SIZE, drag, opened, put_back, require
from viz.window.state import FACTORS, OnScreen, Options


@pytest.fixture(scope="module")
def whole():
    """One window with load cases and a second setting."""
    require()
    book = scenarios.load()
    second = OnScreen(sweep(book.kart, book.settings["less-caster"], LOCK), "less-caster")
    made = opened(Options(book.load_cases, 2, second, settings=book.settings))
    yield made
    made.close()
    gc.collect()


@pytest.fixture
def standing(whole):
    state, bushes = whole.state, dict(whole.fitting.bushes)
    yield whole
    put_back(whole, state, bushes)


def test_the_rear_view_is_for_the_whole_kart(standing):
    standing.look("rear")
    assert standing.plotter.camera.position == pytest.approx(standing.handle.data.cameras["rear"].position)
    standing.toggle_front()
    assert (standing.view, standing.state.whole) == ("overview", False)
    standing.look("rear")
    assert (standing.view, standing.state.whole) == ("rear", True)


def test_the_clock_is_seen_with_the_frame_held_still_and_the_kart_stands_again_behind_it(standing):
    standing.look("clock")
    names = {body.name for body in standing.handle.data.bodies}
    assert {"tilted_rim", "B tilted_rim"} <= names
    assert standing.plotter.camera.position == pytest.approx(standing.handle.data.cameras["clock"].position)
    standing.look("overview")
    assert standing.state.whole
    standing.look("clock")
    standing.next_case()
    assert (standing.view, standing.state.whole) == ("overview", True)


@pytest.mark.parametrize("view", ["rock_right", "clock", "side"])
def test_it_opens_from_the_view_and_at_the_lock_asked_for(view):
    require()
    made = opened(Options(scenarios.load().load_cases, 2, view=view, at_deg=38.0))
    assert made.lock_deg == pytest.approx(40.0)
    assert made.plotter.camera.position == pytest.approx(made.handle.data.camera(view, made.index).position)
    made.close()
    gc.collect()


def test_a_view_that_there_is_not_is_refused():
    require()
    with pytest.raises(ValueError, match="did you mean 'clock'"):
        opened(Options(scenarios.load().load_cases, 2, view="clok"))


def test_the_close_ups_ride_on_their_yokes(standing):
    """Heave and roll carry the bushes along; the eye over them goes with them."""
    standing.exaggerate(1)
    for degrees in (-60.0, 60.0):
        standing.set_handwheel(degrees)
        for inset in standing.insets:
            camera = standing.handle.data.camera(f"bushes_{inset.side}", standing.index)
            assert inset.renderer.GetActiveCamera().GetFocalPoint() == pytest.approx(camera.focus)
            yoke = standing.sweep.kart.left.yoke.centre
            place = np.array(yoke) * [1.0, 1.0 if inset.side == "left" else -1.0, 1.0]
            matrix = standing.handle.data.body(f"yoke_{inset.side}").matrices[standing.index]
            assert camera.focus == pytest.approx(matrix[:3, :3] @ place + matrix[:3, 3])


def test_a_view_that_tells_something_shows_its_own_and_the_others_do_not(standing):
    standing.set_handwheel(45.0)
    for view, there in (("rock", 1), ("front", 0), ("rock_right", 1), ("overview", 0)):
        standing.look(view)
        names = {body.name for body in standing.handle.data.bodies}
        assert ("driver" in names, "shaft_front_left" in names) == (bool(there), not there)
        assert standing.plotter.camera.position == pytest.approx(standing.handle.data.cameras[view].position)
        if there:
            assert standing.handle.actor("driver").GetVisibility()
    assert not standing.handle.actor("driver").GetVisibility()
    standing.look("rock")
    standing.next_case()
    assert standing.handle.actor("driver").GetVisibility()
    standing.toggle_front()
    assert standing.view == "overview"


def test_load_cases_come_round(standing):
    seen = []
    for _ in standing.state.cases:
        seen.append(standing.state.case_name)
        assert f"load case {seen[-1]}" in standing.handle.data.captions[0]
        standing.next_case()
    assert sorted(seen) == sorted(case.name for case in standing.state.cases)
    assert standing.state.case_name == seen[0] == "slow corner"


def test_exaggeration_steps_and_is_stated(standing):
    for by, expected in ((-1, 3.0), (-1, 1.0), (-1, 1.0), (1, 3.0), (1, 5.0), (1, 10.0)):
        standing.exaggerate(by)
        assert standing.state.exaggeration == expected
        words = f"x{expected:g}" if expected > 1.0 else "to scale"
        for _ in range(2):
            said = standing.stage.panel.items["stated"].text
            assert said.replace("\n", " ") == " ".join(standing.handle.data.stated.split())
            assert words in said
            assert standing.stage.layout.boxes["stated"].height > 0.0, "stated whatever else is hidden"
            standing.toggle_words()
    assert max(FACTORS) == 20.0


def test_front_end_alone_and_back(standing):
    standing.look("rear")
    standing.toggle_front()
    assert standing.view == "overview"
    assert "frame held still" in standing.handle.data.legend
    shown = {name for name, actor in standing.handle._actors.items() if actor.GetVisibility()}
    assert shown == {body.name for body in standing.handle.data.bodies}
    assert not standing.chart.chart.visible
    assert not [n for n, a in standing.handle._texts.items() if "air" in n and a.GetVisibility()]
    standing.toggle_front()
    assert standing.state.whole
    assert standing.chart.chart.visible


def test_b_can_be_hidden_shown_and_kept_anew(standing):
    def pale():
        return {b.name for b in standing.handle.data.bodies if b.role == "second"}

    assert pale()
    assert "B, see-through: less-caster" in standing.handle.data.captions[0]
    standing.toggle_second()
    assert not pale()
    assert not any(a.GetVisibility() for n, a in standing.handle._actors.items() if n.startswith("B "))
    standing.toggle_second()
    assert pale()
    drag(standing, "top_size", 3.0)
    standing.keep()
    assert "B, see-through: both corners: top 3.0°" in standing.handle.data.captions[0]


def test_the_chart_has_the_solvers_loads_and_a_cursor(standing):
    from kinematics.standing.stand import inside_rear_load, stand

    case = standing.state.cases[2]
    for name, shown in (("A", standing.state.first), ("B", standing.state.second)):
        loads = inside_rear_load(shown.sweep, stand(shown.sweep, case))
        for degrees, load in zip(np.degrees(LOCK), loads, strict=True):
            assert standing.chart.value(name, degrees) == pytest.approx(load)
    plots = list(standing.chart.chart.plots("line"))
    assert [p.label for p in plots[:2]] == ["A", "B"]
    assert [p.line_style for p in plots[:2]] == ["-", "--"]
    standing.set_handwheel(40.0)
    assert standing.chart._cursor.x == pytest.approx([40.0, 40.0])


def test_the_chart_is_drawn(standing):
    chart = standing.stage.layout.boxes["chart"]
    rows = slice(int(SIZE[1] - chart.high), int(SIZE[1] - chart.low))
    box = (rows, slice(int(chart.left), int(chart.right)))
    before = standing.plotter.screenshot(return_img=True)[box].astype(int)
    standing.set_handwheel(40.0)
    after = standing.plotter.screenshot(return_img=True)[box].astype(int)
    assert np.abs(after - before).max() > 60, "the cursor has moved"


def test_too_large_an_exaggeration_is_told_and_the_scene_stays(standing):
    kept = standing.state
    soft = replace(standing.sweep.kart, rear_tyre=replace(standing.sweep.kart.rear_tyre, stiffness=25.0))
    swept = sweep(soft, standing.sweep.setting, LOCK)
    before = standing.handle.data
    assert not standing._change(replace(kept, first=OnScreen(swept, "soft"), exaggeration=20.0))
    assert "smaller exaggeration" in standing.message
    assert standing.handle.data is before
    assert standing.state is kept


def test_large_bodies_are_drawn_in_fewer_triangles_where_the_solver_has_them(standing):
    tyre = standing.handle.data.body("tyre_front_left")
    drawn = standing.handle.actor("tyre_front_left").mapper.dataset
    assert drawn.n_cells < 0.5 * len(tyre.mesh.faces)
    ends = np.reshape(drawn.bounds, (3, 2)).T
    assert ends == pytest.approx(np.stack([tyre.mesh.vertices.min(0), tyre.mesh.vertices.max(0)]), abs=0.5)
    second = standing.handle.actor("B tyre_front_left")
    assert second.mapper.dataset.n_cells == drawn.n_cells
    assert not second.GetProperty().GetLighting()


def test_settings_come_round_in_a_and_in_b(standing):
    names = list(standing.settings)
    start = names.index("more-caster")
    for step in range(1, len(names) + 1):
        standing.next_setting("A", 1)
        assert standing.state.first.title == names[(start + step) % len(names)]
    seen = []
    for _ in range(len(names) + 1):
        standing.next_setting("B", 1)
        second = standing.state.second
        seen.append(second.title if second else "")
    assert sorted(seen) == sorted([*names, ""])
    standing.next_setting("B", -1)
    assert standing.stage.panel.items["B"].text == f"B: {standing.state.second.title}"


def test_a_and_b_change_places(standing):
    before = standing.state
    standing.swap()
    assert (standing.state.first, standing.state.second) == (before.second, before.first)
    assert standing.fitting.bushes["top_clock"] == pytest.approx(0.0)
    standing.toggle_second()
    standing.swap()
    assert "no B to swap" in standing.message
