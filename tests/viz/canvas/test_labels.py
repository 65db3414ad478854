"""Words over the pictures that tell something: none lies over another one, none runs over the edge."""

from __future__ import annotations

import itertools

import numpy as np
import pytest

import scenarios
from kinematics.lock import sweep
from kinematics.standing.stand import stand
from viz.canvas import draw, gl
from viz.canvas.strips import SIZE
from viz.scene import scene
from viz.scene.stories.against import against

LOCK = np.radians([-60.0, -30.0, 0.0, 30.0, 60.0])
SETTINGS = ("as-delivered", "more-caster", "camber-and-caster")
SIZES = [
    (900, 600),
    SIZE,
    *(pytest.param(size, marks=pytest.mark.long) for size in ((1280, 720), (1440, 900))),
]


def swept(name):
    kart = scenarios.load()
    return sweep(kart.kart, kart.settings[name], LOCK)


def rocking(name, view):
    [case] = scenarios.load().cases(["slow corner"])
    solved = swept(name)
    return scene.build(solved, name, False, stand(solved, case), case.name, 3.0).seen_from(view)


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


def collisions(data, view, size):
    """Pairs of words that lie over each other, and words over the edge, at any lock position."""
    import pyvista as pv

    plotter, found = pv.Plotter(off_screen=True, window_size=list(size)), []
    try:
        handle = draw.add_to(plotter, data)
        draw.look(plotter, data.cameras[view])
        for index in range(data.count):
            handle.set_position(index)
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
    finally:
        plotter.close()
    return found


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", SETTINGS)
def test_no_word_lies_over_another_where_the_kart_rocks(size, name):
    gl.require()
    for view in ("rock", "rock_right"):
        assert collisions(rocking(name, view), view, size) == []


@pytest.mark.parametrize("size", SIZES)
def test_no_word_lies_over_another_at_the_clocks(size):
    gl.require()
    for name in SETTINGS:
        assert collisions(held_still("clock", name), "clock", size) == []
    assert collisions(held_still("clock", "as-delivered", "more-caster"), "clock", size) == []


def test_words_that_lie_over_each_other_are_found():
    gl.require()
    found = collisions(rocking("more-caster", "rock"), "rock", (420, 240))
    assert any(len(one) == 3 for one in found)
    assert any(len(one) == 2 for one in found)
