"""The standing kart on pixels: the solver's support points and wheel centres lie on what is drawn."""

from __future__ import annotations

import gc

import numpy as np
import pytest

import scenarios
from kinematics.frames import mirror
from kinematics.lock import sweep
from kinematics.standing.stand import stand
from tests.helpers.drawn.camera import BEHIND, SIZE, WITHIN, picture, pixels, projected
from tests.helpers.drawn.standing import above_road, axes, solver_wheels
from viz.canvas import draw as scene_draw
from viz.canvas import gl, movie
from viz.look.palette import DARK, LIGHT, rgb
from viz.scene import scene
from viz.scene.attitude import WHEELS
from viz.scene.data import Camera

LOCK = np.radians(np.linspace(-60.0, 60.0, 9))
VIEWS = ("overview", "front", "side", "behind")


@pytest.fixture(scope="module")
def canvas():
    import pyvista as pv

    try:
        gl.require()
    except gl.NoGraphics as error:
        pytest.skip(str(error))
    book = scenarios.load()
    solved = sweep(book.kart, book.settings["more-caster"], LOCK)
    standing = stand(solved, book.load_cases[2])
    plotter = pv.Plotter(off_screen=True, window_size=list(SIZE))
    plotter.render_window.SetMultiSamples(0)
    handle = scene_draw.add_to(plotter, scene.build(solved, "test", stance=standing), LIGHT)
    plotter.show(auto_close=False)
    yield plotter, handle, solved, standing
    pv.close_all()
    gc.collect()


@pytest.fixture
def drawn(canvas):
    plotter, handle, _, _ = canvas
    data = handle.data
    yield canvas
    handle.set_data(data)
    handle.set_theme(LIGHT)
    handle.set_words(True)
    handle.set_position(data.straight)
    for body in data.bodies:
        handle.actor(body.name).SetVisibility(True)
    scene_draw.look(plotter, data.cameras["overview"])


def standing_points(solved, standing, index):
    """Body and the solver's point on it, on the road: support points and front wheel centres."""
    down = [0.0, 0.0, solved.kart.frame.axis_height]
    for i, (centre, support, road) in enumerate(solver_wheels(solved, standing)):
        name = WHEELS[i].replace(" ", "_")
        air = standing.clearance[index, i] > 0.0

        def placed(point, height, road=road):
            along = [np.sum(d[index] * (point[index] - down)) for d in axes(road)]
            return np.array([*along, height])

        kind = "air" if air else "tyre"
        yield f"{kind}_{name}", placed(support, standing.clearance[index, i])
        if i < 2:
            yield f"wheel_{name.split('_')[1]}", placed(centre, above_road(standing, road, centre)[index])


@pytest.mark.parametrize("view", VIEWS)
@pytest.mark.parametrize("index", [pytest.param(0, marks=pytest.mark.long), 5])
def test_solver_points_fall_on_drawn_pixels(drawn, view, index):
    plotter, handle, solved, standing = drawn
    handle.set_position(index)
    scene_draw.look(plotter, {**handle.data.cameras, "behind": BEHIND}[view])
    seen = 0
    for name, point in standing_points(solved, standing, index):
        spot = projected(plotter, point)
        assert np.all(spot > 5.0)
        assert np.all(spot < np.array(SIZE) - 5.0), "the whole kart is in the picture"
        near = pixels(plotter, handle, name)
        assert np.linalg.norm(near - spot, axis=1).min() <= WITHIN, name
        seen += 1
    assert seen == 6


def test_an_exaggerated_scene_misses_the_points(drawn):
    """The check above can fail: drawn five times as large, the lifted wheel is off its solver's point."""
    plotter, handle, solved, standing = drawn
    handle.set_data(scene.build(solved, "test", stance=standing, exaggeration=5.0))
    handle.set_position(0)
    scene_draw.look(plotter, BEHIND)
    points = dict(standing_points(solved, standing, 0))
    name = next(n for n in points if n.startswith("air"))
    spot, near = projected(plotter, points[name]), pixels(plotter, handle, name)
    assert np.linalg.norm(near - spot, axis=1).min() > 2.0 * WITHIN


def test_lowest_pixels_of_tyres_on_the_road_are_level_at_factor_five(drawn):
    """Seen from straight behind, both tyres of an axle that stands come down to one line."""
    plotter, handle, solved, standing = drawn
    handle.set_data(scene.build(solved, "test", stance=standing, exaggeration=5.0))
    handle.set_position(4)
    level = Camera((*BEHIND.position[:2], BEHIND.focus[2]), BEHIND.focus, parallel=BEHIND.parallel)
    scene_draw.look(plotter, level)
    low = {w: pixels(plotter, handle, f"tyre_{w.replace(' ', '_')}")[:, 1].max() for w in WHEELS}
    floor = projected(plotter, np.array([0.0, 0.0, 0.0]))[1]
    assert standing.loads[4].min() > 0.0
    assert all(abs(row - floor) <= 1.5 for row in low.values()), low


def test_actors_are_shown_where_their_bodies_are_to_be_seen(drawn):
    _, handle, solved, standing = drawn
    handle.set_data(scene.build(solved, "test", stance=standing))
    assert not all(body.visible.all() for body in handle.data.bodies), "the test needs a wheel in the air"
    for index in (0, 4, 8, 0):
        handle.set_position(index)
        for body in handle.data.bodies:
            assert bool(handle.actor(body.name).GetVisibility()) == bool(body.visible[index]), body.name


def test_lock_moves_matrices_and_words_and_nothing_else(drawn):
    _, handle, _, _ = drawn
    before = {b.name: handle.actor(b.name).mapper.GetInput() for b in handle.data.bodies}
    texts = {}
    for index in (0, 8):
        handle.set_position(index)
        assert all(handle.actor(n).mapper.GetInput() is surface for n, surface in before.items())
        texts[index] = {
            n: a.GetInput() for n, a in handle._texts.items() if a.GetVisibility() and n not in ("legend",)
        }
    assert any("IN THE AIR" in text for text in texts[0].values())
    assert texts[0] != texts[8]


def test_what_is_stated_stays_when_words_are_hidden(drawn):
    _, handle, _, _ = drawn
    handle.set_words(False)
    shown = [name for name, actor in handle._texts.items() if actor.GetVisibility()]
    assert shown == ["stated"]
    handle.set_words(True)
    handle.set_position(handle.data.straight)
    empty = [a for a in handle._texts.values() if a.GetVisibility() and not a.GetInput()]
    assert not empty


def test_another_scene_hides_what_is_not_in_it(drawn):
    _, handle, solved, _ = drawn
    handle.set_data(scene.build(solved, "front"))
    names = {body.name for body in handle.data.bodies}
    assert {n for n, a in handle._actors.items() if a.GetVisibility()} == names
    assert not handle._texts["stated"].GetInput()
    shown = {a.GetInput() for n, a in handle._texts.items() if a.GetVisibility()}
    assert {"LEFT", "RIGHT", "C", "A"} <= shown
    assert not any("rear left" in text for text in shown)


def test_a_wheel_in_the_air_has_its_colour(drawn):
    plotter, handle, _, _ = drawn
    handle.set_theme(DARK)
    handle.set_position(0)
    handle.set_words(False)
    scene_draw.look(plotter, BEHIND)
    bright = {}
    for index in (0, handle.data.straight):
        handle.set_position(index)
        shot = picture(plotter)
        near = np.abs(shot / shot.max(axis=-1, keepdims=True) - np.array(rgb(DARK.air)) / max(rgb(DARK.air)))
        bright[index] = np.sum((near.max(axis=-1) < 0.15) & (shot[..., 0] > 90))
    assert bright[0] > bright[handle.data.straight] + 4000


def test_a_film_of_the_standing_kart_is_written(tmp_path):
    book = scenarios.load()
    solved = sweep(book.kart, book.settings["more-caster"], LOCK[[0, 4, 8]])
    data = scene.build(solved, "x", stance=stand(solved, book.load_cases[2]), exaggeration=5.0)
    assert movie.write(tmp_path / "a.gif", data, size=(320, 176)) == 4
    assert movie.write(tmp_path / "a.png", data, size=(320, 176), view="bushes_left", still_deg=60.0) == 1


def test_a_riding_camera_keeps_the_bush_in_the_middle():
    book = scenarios.load()
    solved = sweep(book.kart, book.settings["more-caster"], LOCK)
    data = scene.build(solved, "x", stance=stand(solved, book.load_cases[2]), exaggeration=5.0)
    for side, place in (("left", np.asarray), ("right", mirror)):
        centre = place(np.asarray(solved.kart.left.yoke.centre))
        for index in (0, 8):
            matrix = data.body(f"yoke_{side}").matrices[index]
            camera = data.camera(f"bushes_{side}", index)
            assert camera.focus == pytest.approx(matrix[:3, :3] @ centre + matrix[:3, 3])
    still = scene.build(solved, "x")
    assert still.camera("bushes_left", 0).focus == pytest.approx(still.cameras["bushes_left"].focus)
