"""Files: the right kind, the right number of frames, and nothing left behind when an export ends early."""

from __future__ import annotations

import gc
import io
import os
import subprocess

import numpy as np
import pytest
from PIL import Image

import scenarios
from kinematics.lock import sweep
from viz.canvas import gl, movie
from viz.look.palette import DARK
from viz.scene import scene

SMALL = (320, 176)


@pytest.fixture(scope="module")
def data():
    book = scenarios.load()
    solved = sweep(book.kart, book.settings["more-caster"], np.radians(np.linspace(-40.0, 40.0, 5)))
    return scene.build(solved, "more-caster")


@pytest.fixture(autouse=True)
def _graphics():
    import pyvista as pv

    try:
        gl.require()
    except gl.NoGraphics as error:
        pytest.skip(str(error))
    yield
    pv.close_all()
    gc.collect()


@pytest.mark.parametrize(("suffix", "kind"), [("gif", "GIF"), ("webp", "WEBP")])
def test_a_film_by_pillow_has_every_frame(tmp_path, data, suffix, kind):
    seen = []
    path = tmp_path / f"lock.{suffix}"
    count = movie.write(path, data, size=SMALL, progress=lambda done, total: seen.append((done, total)))
    assert count == len(movie.there_and_back(data.count)) == 8
    assert seen == [(i + 1, 8) for i in range(8)]
    with Image.open(path) as film:
        assert (film.format, film.size, film.n_frames) == (kind, SMALL, 8)
        frames = []
        for index in (0, 4):
            film.seek(index)
            frames.append(np.asarray(film.convert("RGB")).astype(int))
    assert np.abs(frames[0] - frames[1]).max() > 60, "lock to lock must be seen"
    assert os.listdir(tmp_path) == [path.name]


def test_an_mp4_can_be_read_back(tmp_path, data):
    from imageio_ffmpeg import count_frames_and_secs, get_ffmpeg_exe

    path = tmp_path / "lock.MP4"
    assert movie.write(path, data, size=SMALL, frames=[0, 1, 2, 3, 4, 4]) == 6
    assert count_frames_and_secs(str(path))[0] == 6
    first = [get_ffmpeg_exe(), "-i", str(path), "-frames:v", "1", "-f", "image2pipe", "-c:v", "png", "-"]
    shot = subprocess.run(first, capture_output=True, check=True).stdout
    with Image.open(io.BytesIO(shot)) as picture:
        assert picture.size == SMALL
        assert np.asarray(picture).std() > 10.0


def test_a_png_is_the_lock_asked_for(tmp_path, data):
    shots = {}
    for angle in (None, 0.0, 38.0, 40.0):
        assert movie.write(tmp_path / "a.png", data, size=SMALL, still_deg=angle, theme=DARK) == 1
        with Image.open(tmp_path / "a.png") as picture:
            shots[angle] = np.asarray(picture.convert("RGB"))
    assert shots[0.0].shape == (SMALL[1], SMALL[0], 3)
    assert np.array_equal(shots[None], shots[0.0])
    assert np.array_equal(shots[38.0], shots[40.0])
    assert not np.array_equal(shots[0.0], shots[40.0])


@pytest.mark.parametrize("suffix", ["gif", "mp4", "webp"])
@pytest.mark.parametrize("older", [pytest.param(None, marks=pytest.mark.long), b"an older film"])
def test_an_interrupted_export_leaves_nothing_behind(tmp_path, data, suffix, older):
    path = tmp_path / f"lock.{suffix}"
    if older:
        path.write_bytes(older)

    def interrupt(done, total):
        if done == 3:
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        movie.write(path, data, size=SMALL, progress=interrupt)
    assert os.listdir(tmp_path) == ([path.name] if older else [])
    assert not older or path.read_bytes() == older


def test_no_graphics_leaves_nothing_behind(tmp_path, data, monkeypatch):
    def refuse(window=False):
        raise gl.NoGraphics("cannot draw")

    monkeypatch.setattr(gl, "require", refuse)
    with pytest.raises(gl.NoGraphics):
        movie.write(tmp_path / "lock.gif", data)
    assert os.listdir(tmp_path) == []


def test_what_cannot_be_written_is_refused(tmp_path, data):
    with pytest.raises(ValueError, match=r"\.gif, \.mp4"):
        movie.write(tmp_path / "lock.avi", data)
    with pytest.raises(ValueError, match="multiples of 16"):
        movie.write(tmp_path / "lock.gif", data, size=(1280, 721))
    with pytest.raises(ValueError, match="no view 'below'"):
        movie.write(tmp_path / "lock.gif", data, view="below")
    with pytest.raises(FileNotFoundError):
        movie.write(tmp_path / "nowhere" / "lock.gif", data)
    assert os.listdir(tmp_path) == []


def test_there_and_back():
    assert movie.there_and_back(5) == [0, 1, 2, 3, 4, 3, 2, 1]
    assert movie.there_and_back(1) == [0]
    assert movie.there_and_back(2) == [0, 1]
    long = movie.there_and_back(601)
    assert (long[0], max(long), len(long)) == (0, 600, 60)
    assert 300 in long, "straight ahead is shown"
