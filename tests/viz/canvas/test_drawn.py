"""What is drawn is what was computed: projected solver points fall on drawn pixels."""

from __future__ import annotations

import gc

import numpy as np
import pytest
from vtkmodules.util.numpy_support import vtk_to_numpy

import scenarios
from kinematics.frames import mirror
from kinematics.lock import sweep
from kinematics.parts import CornerSetting, Setting
from tests.helpers.drawn.camera import SIZE, WITHIN, picture, pixels, projected
from viz.canvas import draw as scene_draw
from viz.canvas import gl
from viz.look.palette import DARK, LIGHT
from viz.scene import scene

LOCK = np.radians(np.linspace(-60.0, 60.0, 5))
FIT = CornerSetting(top_offset=4.0, top_clock=2.4, bottom_offset=2.0, bottom_clock=5.5)
VIEWS = ("overview", "front", "side", "top", "contact")


@pytest.fixture(scope="module")
def canvas():
    """One plotter with the scene on it for the whole file, and the solver's own numbers."""
    import pyvista as pv

    try:
        gl.require()
    except gl.NoGraphics as error:
        pytest.skip(str(error))
    solved = sweep(scenarios.load().kart, Setting(FIT, FIT), LOCK)
    plotter = pv.Plotter(off_screen=True, window_size=list(SIZE))
    plotter.render_window.SetMultiSamples(0)
    handle = scene_draw.add_to(plotter, scene.build(solved, "test"), LIGHT)
    plotter.show(auto_close=False)
    yield plotter, handle, solved
    pv.close_all()
    gc.collect()


@pytest.fixture
def drawn(canvas):
    """The canvas, put back as it was when the test is done."""
    plotter, handle, _ = canvas
    data = handle.data
    yield canvas
    handle.set_data(data)
    handle.set_theme(LIGHT)
    handle.set_words(True)
    for body in data.bodies:
        handle.actor(body.name).SetVisibility(True)
    handle.set_position(data.straight)
    scene_draw.look(plotter, data.cameras["overview"])


def points(solved, index):
    """Body and the solver's point on it, both corners."""
    for side, corner, place in (("left", solved.left, np.asarray), ("right", solved.right, mirror)):
        yield f"axis_point_{side}", place(corner.axis_road_point[index])
        yield f"contact_{side}", place(corner.contact_centre[index])
        yield f"stub_{side}", place(corner.arm_end[index])
        yield "column", place(corner.inner_joint[index])
        yield f"kingpin_{side}", place(corner.seated.top)
        yield f"kingpin_{side}", place(corner.seated.foot)
        yield f"stub_{side}", place(corner.wheel_centre[index])


def misses(plotter, handle, solved, view, index):
    """Distance in pixels of every projected solver point that is in the picture from its body's pixels."""
    scene_draw.look(plotter, handle.data.cameras[view])
    found, seen = {}, {}
    for number, (name, point) in enumerate(points(solved, index)):
        spot = projected(plotter, point)
        if np.all(spot > 5.0) and np.all(spot < np.array(SIZE) - 5.0):
            near = seen[name] = seen[name] if name in seen else pixels(plotter, handle, name)
            found[number, name] = np.linalg.norm(near - spot, axis=1).min() if len(near) else np.inf
    return found


@pytest.mark.parametrize("view", VIEWS)
@pytest.mark.parametrize("index", [pytest.param(0, marks=pytest.mark.long), 3])
def test_solver_points_fall_on_drawn_pixels(drawn, view, index):
    plotter, handle, solved = drawn
    handle.set_position(index)
    found = misses(plotter, handle, solved, view, index)
    assert len(found) >= 6
    assert {k: v for k, v in found.items() if v > WITHIN} == {}


def test_a_scene_at_another_lock_misses_the_points(drawn):
    """The check above can fail: the picture of one lock position against the numbers of another."""
    plotter, handle, solved = drawn
    handle.set_position(0)
    assert max(misses(plotter, handle, solved, "top", 4).values()) > 10.0


@pytest.mark.parametrize("side", ["left", "right"])
def test_the_diamond_is_centred_on_the_axis_road_point(drawn, side):
    plotter, handle, solved = drawn
    corner, place = (solved.left, np.asarray) if side == "left" else (solved.right, mirror)
    for view in ("top", "front", "contact"):
        for index in range(handle.data.count):
            handle.set_position(index)
            scene_draw.look(plotter, handle.data.cameras[view])
            spot = projected(plotter, place(corner.axis_road_point[index]))
            if np.all(spot > 20.0) and np.all(spot < np.array(SIZE) - 20.0):
                seen = pixels(plotter, handle, f"axis_point_{side}")
                centre = 0.5 * (seen.min(axis=0) + seen.max(axis=0))
                assert np.linalg.norm(centre - spot) <= WITHIN


@pytest.mark.parametrize("side", ["left", "right"])
def test_the_hole_is_seen_off_centre_by_the_solvers_offset(drawn, side):
    """From above along the neutral axis: the disc about the seat, the kingpin's head about the hole."""
    plotter, handle, solved = drawn
    corner, place = (solved.left, np.asarray) if side == "left" else (solved.right, mirror)
    scene_draw.look(plotter, handle.data.cameras[f"bushes_{side}"])
    disc = pixels(plotter, handle, f"bushes_{side}")
    from kinematics.corner.bush import seat_centres

    seat = place(seat_centres(corner.corner.yoke)[1])
    middle = 0.5 * (disc.min(axis=0) + disc.max(axis=0))
    assert np.linalg.norm(middle - projected(plotter, seat)) <= WITHIN
    handle.actor(f"bushes_{side}").SetVisibility(False)
    head = place(corner.seated.top + 11.0 * corner.seated.k)
    seen = pixels(plotter, handle, f"kingpin_{side}")
    nearest = np.linalg.norm(seen - projected(plotter, head), axis=1).min()
    assert nearest <= WITHIN
    shift = projected(plotter, place(corner.seated.top)) - projected(plotter, seat)
    scale = 0.5 * SIZE[1] / handle.data.cameras[f"bushes_{side}"].parallel
    assert np.linalg.norm(shift) == pytest.approx(4.0 * scale, abs=0.5)
    assert np.linalg.norm(shift) > 25.0, "visible at a glance in a picture of this size"


def test_lock_moves_matrices_and_nothing_else(drawn):
    _, handle, _ = drawn
    before = {
        b.name: (handle.actor(b.name), handle.actor(b.name).mapper.GetInput()) for b in handle.data.bodies
    }
    for index in range(handle.data.count):
        handle.set_position(index)
        for body in handle.data.bodies:
            actor = handle.actor(body.name)
            assert (actor, actor.mapper.GetInput()) == before[body.name]
            assert np.allclose(actor.user_matrix, body.matrices[index])


def test_a_position_that_is_not_there_is_refused(drawn):
    _, handle, _ = drawn
    for index in (-1, handle.data.count):
        with pytest.raises(IndexError, match="lock position"):
            handle.set_position(index)


def drawn_points(plotter, handle):
    """The points that the renderer has of each body, by name."""
    plotter.render()
    bodies = handle.data.bodies
    return {
        b.name: vtk_to_numpy(handle.actor(b.name).mapper.GetInput().GetPoints().GetData()).copy()
        for b in bodies
    }


def test_new_bushes_change_only_what_they_change(drawn):
    plotter, handle, solved = drawn
    before = drawn_points(plotter, handle)
    handle.set_position(3)
    other = CornerSetting(top_offset=1.0, top_clock=0.3)
    handle.set_data(scene.build(sweep(solved.kart, Setting(other, other), LOCK)))
    after = drawn_points(plotter, handle)
    changed = {name for name in before if not np.array_equal(before[name], after[name])}
    assert {"bushes_left", "bushes_right", "kingpin_left", "kingpin_right"} <= changed
    assert not changed & {"wheel_left", "stub_right", "yoke_left", "frame", "column", "road"}
    assert handle.index == 3


def test_theme_changes_colours_and_keeps_place(drawn):
    plotter, handle, _ = drawn
    handle.set_position(3)
    light = picture(plotter)
    handle.set_theme(DARK)
    dark = picture(plotter)
    assert light[0, 0].sum() > 3 * 220
    assert dark[0, 0].sum() < 3 * 40
    assert handle.index == 3
