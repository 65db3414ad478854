"""A window without a screen: opened, dragged at, put back as it was."""

from __future__ import annotations

import numpy as np
import pytest

import scenarios
from kinematics.lock import sweep
from viz.canvas import gl
from viz.look.palette import LIGHT
from viz.window import window

LOCK = np.radians(np.linspace(-60.0, 60.0, 7))
SIZE = (640, 368)


def solver(book):
    def resweep(setting):
        if np.degrees(setting.left.top_clock) > 350.0:
            raise ValueError("this bush is not on the shelf")
        return sweep(book.kart, setting, LOCK)

    return resweep


def opened(options=window.PLAIN):
    book = scenarios.load()
    resweep = solver(book)
    start = resweep(book.settings["more-caster"])
    made = window.Viewer(start, resweep, "more-caster", size=SIZE, off_screen=True, options=options)
    made.plotter.show(auto_close=False)
    return made


def require():
    try:
        gl.require()
    except gl.NoGraphics as error:
        pytest.skip(str(error))


def put_back(viewer, state, bushes):
    """The window as it was when it was opened."""
    viewer.bushes, viewer._step, viewer._kept = dict(bushes), 1, state.second
    assert viewer._change(state)
    if viewer.playing:
        viewer.play()
    for toggle, on in (
        (viewer.toggle_ghost, viewer.ghosted),
        (viewer.toggle_words, not viewer.worded),
        (viewer.toggle_theme, viewer.handle.theme is not LIGHT),
    ):
        if on:
            toggle()
    viewer.look("overview")
    viewer.set_handwheel(0.0)


def drag(viewer, key, value):
    """Move a slider as a hand would: its value, then the event its callback waits for."""
    widget = viewer.controls.sliders[key]
    widget.GetRepresentation().SetValue(value)
    widget.InvokeEvent("InteractionEvent")
