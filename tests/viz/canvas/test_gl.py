"""Without graphics the program says so in one line; it does not crash."""

from __future__ import annotations

import os
import subprocess
import sys

import pytest

from viz.canvas import gl

ASK = """
from viz.canvas import gl
try:
    gl.require()
except gl.NoGraphics as error:
    print(error)
    raise SystemExit(2)
"""


def linux_only():
    if not sys.platform.startswith("linux"):
        pytest.skip("the probe is for Linux")


def test_a_machine_without_a_driver_gets_one_line_and_no_crash():
    linux_only()
    env = {**os.environ, "__EGL_VENDOR_LIBRARY_FILENAMES": "/nonexistent", "DISPLAY": ""}
    done = subprocess.run([sys.executable, "-c", ASK], env=env, capture_output=True, text=True, timeout=120)
    assert done.returncode == 2
    assert done.stderr == ""
    assert done.stdout.count("\n") == 1
    assert "libegl1 libgl1-mesa-dri" in done.stdout


def test_a_machine_without_the_library_gets_the_same_line(monkeypatch):
    linux_only()
    monkeypatch.delenv("DISPLAY", raising=False)
    monkeypatch.setattr(gl, "_loads", lambda *names: None)
    with pytest.raises(gl.NoGraphics, match="libegl1 libgl1-mesa-dri"):
        gl.require()


@pytest.mark.parametrize("display", [None, "", ":87", "nowhere:3"])
def test_a_window_without_a_screen_is_refused(monkeypatch, display):
    linux_only()
    monkeypatch.delenv("DISPLAY", raising=False)
    if display is not None:
        monkeypatch.setenv("DISPLAY", display)
    with pytest.raises(gl.NoDisplay, match="no display"):
        gl.require(window=True)


class Server:
    """An X server as libX11 knows it, with or without GLX."""

    def __init__(self, glx):
        self.XOpenDisplay, self.XCloseDisplay = Answer(7), Answer(0)
        self.XQueryExtension = Answer(int(glx))


class Answer:
    """A function of a C library that always answers alike."""

    def __init__(self, answer):
        self.answer = answer

    def __call__(self, *arguments):
        return self.answer


@pytest.mark.parametrize(
    ("glx", "library", "said"), [(False, True, "no OpenGL .GLX."), (True, False, "libgl1"), (True, True, "")]
)
def test_a_screen_without_opengl_is_no_screen(monkeypatch, glx, library, said):
    linux_only()
    monkeypatch.setenv("DISPLAY", ":99")
    monkeypatch.setattr(gl, "_loads", lambda *names: Server(glx) if "X11" in names[0] or library else None)
    assert gl.has_display() == (not said)
    if said:
        with pytest.raises(gl.NoDisplay, match=said):
            gl.require(window=True)


def test_without_a_screen_egl_is_chosen(monkeypatch):
    linux_only()
    monkeypatch.delenv("DISPLAY", raising=False)
    monkeypatch.delenv("VTK_DEFAULT_OPENGL_WINDOW", raising=False)
    monkeypatch.setattr(gl, "egl_works", lambda: True)
    gl.require()
    assert os.environ["VTK_DEFAULT_OPENGL_WINDOW"] == "vtkEGLRenderWindow"
