"""Words over the pictures that tell something: none lies over another one, none runs over the edge."""

from __future__ import annotations

import itertools

import numpy as np
import pytest

import scenarios
from kinematics.lock import sweep
from kinematics.standing.stand import stand
from viz.canvas import draw, gl, labels
from viz.canvas.pane import Pane
from viz.canvas.strips import SIZE
from viz.scene import scene
from viz.scene import standing as stance_scene
from viz.scene.stories.against import against

LOCK = np.radians([-60.0, -30.0, 0.0, 30.0, 60.0])
SETTINGS = ("as-delivered", "more-caster", "camber-and-caster")
VIEWS = ("overview", "front", "side", "top", "rear", "rock", "rock_right", "kingpin", "contact")
STILL_VIEWS = ("overview", "front", "clock", "floor", "bushes")
SIZES = [
    (900, 600),
    SIZE,
    *(pytest.param(size, marks=pytest.mark.long) for size in ((1280, 720), (1440, 900))),
]


def swept(name):
    kart = scenarios.load()
    return sweep(kart.kart, kart.settings[name], LOCK)


def standing(view, name, times=3.0, other=None):
    [case] = scenarios.load().cases(["slow corner"])

    def built(which):
        return scene.build(swept(which), which, False, stand(swept(which), case), case.name, times)

    data = stance_scene.against(built(name), built(other)) if other else built(name)
    return data.seen_from(view)


def held_still(view, name, other=None):
    data = scene.build(swept(name), name)
    if other:
        data = against(data, scene.build(swept(other), other))
    return data.seen_from(view)


def boxes(plotter, handle):
    """What is shown over the picture: the words, and left, right, low and high in pixels."""
    found = []
    for actor in handle._texts.values():
        if actor.GetVisibility() and (actor.GetInput() or "").strip():
            box = [0.0] * 4
            actor.GetBoundingBox(plotter.renderer, box)
            x, y = actor.GetActualPositionCoordinate().GetComputedViewportValue(plotter.renderer)
            found.append((actor.GetInput(), x + box[0], x + box[1], y + box[2], y + box[3]))
    return found


def faults(data, view, size):
    """Pairs of words that lie over each other, words over the edge, and words that find no room."""
    import pyvista as pv

    plotter, found = pv.Plotter(off_screen=True, window_size=list(size)), []
    try:
        handle = draw.add_to(plotter, data)
        placed = labels.Labels(handle)
        placed.set_room(Pane(0, 0, *size), draw.LETTERS)
        for index in range(data.count):
            handle.set_position(index)
            draw.look(plotter, data.camera(view, index))
            placed.place(plotter.renderer)
            plotter.render()
            shown = boxes(plotter, handle)
            assert shown
            for one, other in itertools.combinations(shown, 2):
                wide = min(one[2], other[2]) - max(one[1], other[1])
                high = min(one[4], other[4]) - max(one[3], other[3])
                if wide > 0.0 and high > 0.0:
                    found.append((index, one[0], other[0]))
            found += [
                (index, words)
                for words, left, right, low, top in shown
                if left < 0.0 or right > size[0] or low < 0.0 or top > size[1]
            ]
            found += [(index, f"no room for {words}") for words, box in placed.placed if not box.width]
    finally:
        plotter.close()
    return found


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", SETTINGS)
def test_no_word_lies_over_another_where_the_kart_stands(size, name):
    gl.require()
    for view in VIEWS:
        assert faults(standing(view, name), view, size) == []


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", SETTINGS)
def test_no_word_lies_over_another_where_the_frame_is_held_still(size, name):
    gl.require()
    for view in STILL_VIEWS:
        assert faults(held_still(view, name), view, size) == []


@pytest.mark.parametrize("size", SIZES)
def test_no_word_lies_over_another_with_a_second_setting(size):
    gl.require()
    for view in ("clock", "floor", "bushes"):
        assert faults(held_still(view, "as-delivered", "more-caster"), view, size) == []
    for view in ("rear", "rock", "overview"):
        assert faults(standing(view, "as-delivered", other="more-caster"), view, size) == []


def test_words_that_lie_over_each_other_are_found(monkeypatch):
    gl.require()
    monkeypatch.setattr(labels, "apart", lambda wanted, *_: list(wanted))
    found = faults(standing("rock", "more-caster"), "rock", (420, 240))
    assert any(len(one) == 3 for one in found)
    assert any(len(one) == 2 for one in found)
