"""A window without a screen: opened, pressed and dragged at, put back as it was."""

from __future__ import annotations

import numpy as np
import pytest

import scenarios
from kinematics.lock import sweep
from viz.canvas import gl
from viz.look.palette import LIGHT
from viz.window import window
from viz.window.panel import track
from viz.window.state import PLAIN

LOCK = np.radians(np.linspace(-60.0, 60.0, 7))
SIZE = (900, 600)


def solver(book):
    def resweep(setting):
        if np.degrees(setting.left.top_clock) > 350.0:
            raise ValueError("this bush is not on the shelf")
        return sweep(book.kart, setting, LOCK)

    return resweep


def opened(options=PLAIN, size=SIZE, theme=LIGHT):
    book = scenarios.load()
    resweep = solver(book)
    start = resweep(book.settings["more-caster"])
    made = window.Viewer(start, resweep, "more-caster", theme, size, off_screen=True, options=options)
    made.plotter.show(auto_close=False)
    return made


def require():
    try:
        gl.require()
    except gl.NoGraphics as error:
        pytest.skip(str(error))


def put_back(viewer, state, bushes):
    """The window as it was when it was opened."""
    viewer._step, viewer._kept = 1, state.second
    viewer.fitting.bushes, viewer.fitting.corners, viewer.fitting.marked = dict(bushes), "both", ""
    assert viewer._change(state)
    for toggle, on in (
        (viewer.play, viewer.playing),
        (viewer.toggle_ghost, viewer.ghosted),
        (viewer.toggle_words, not viewer.worded),
        (viewer.toggle_theme, viewer.handle.theme is not LIGHT),
        (viewer.toggle_help, bool(viewer.stage.help)),
    ):
        if on:
            toggle()
    viewer.set_handwheel(0.0)


def drag(viewer, key, value):
    """Move a slider to a value as a hand would: by the place of the mouse."""
    panel = viewer.stage.panel
    along, (low, high) = track(panel.items[key], panel.boxes[key]), panel.items[key].span
    viewer.controls.press(key, along.left + along.width * (value - low) / (high - low))


def mouse(viewer, event, x, y):
    """The mouse at a pixel of the window, as VTK tells of it."""
    interactor = viewer.plotter.iren.interactor
    interactor.SetEventInformation(round(x), round(y))
    interactor.InvokeEvent(event)
