"""A lesson's film: as long as its steps say, turned and held, and whole or not there."""

from __future__ import annotations

import pytest

from scenarios.lessons.lesson import HOME, lesson_of
from viz.canvas import gl
from viz.lesson import film


def test_it_lasts_as_long_as_its_steps_and_the_question(tmp_path, monkeypatch):
    gl.require()
    monkeypatch.setattr(film, "SIZE", (320, 192))
    monkeypatch.setattr(film, "ASKED", film.ASKED / 4.0)
    step = {"title": "A", "caption": "B", "setting": "more-caster", "view": "clock", "seconds": 1.0}
    turned = {**step, "lock_deg": [0.0, 30.0]}
    question = {"ask": "?", "answers": ["a", "b"], "right": 1, "because": "c"}
    found = lesson_of({"title": "One", "step": [step, turned], "question": question}, "x", HOME)
    told = []
    out = tmp_path / "lesson.mp4"
    seconds = film.write(out, found, progress=lambda done, every: told.append((done, every)))
    count = 2 * film.FPS + 2 * film.frames(film.ASKED)
    assert seconds == round(count / film.FPS)
    assert told[-1] == (count, count)
    from imageio_ffmpeg import count_frames_and_secs

    assert count_frames_and_secs(str(out))[0] == count
    assert [one.name for one in tmp_path.iterdir()] == ["lesson.mp4"]


def test_one_that_cannot_be_drawn_leaves_the_older_one(tmp_path):
    out = tmp_path / "lesson.mp4"
    out.write_bytes(b"old")
    step = {"title": "A", "caption": "B", "setting": "more-caster", "view": "sideways"}
    with pytest.raises(ValueError, match="sideways"):
        film.write(out, lesson_of({"title": "One", "step": [step]}, "x", HOME))
    assert out.read_bytes() == b"old"
    assert len(list(tmp_path.iterdir())) == 1
