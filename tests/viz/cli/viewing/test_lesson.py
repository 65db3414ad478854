"""`lockarc lesson`: prints a lesson, shows its file, and refuses in one line what it cannot write."""

from __future__ import annotations

import tomllib

import pytest

from scenarios.lessons.lesson import BUILT_IN, HOME
from tests.helpers.command import printed, refused
from viz.canvas import gl
from viz.cli import main as cli
from viz.window import lesson as window
from viz.words.width import WIDTH


@pytest.mark.parametrize("name", BUILT_IN)
def test_it_prints_the_steps_and_the_question_in_narrow_lines(capsys, name):
    text = printed(capsys, "lesson", name)
    tables = tomllib.loads((HOME / f"{name}.toml").read_text(encoding="utf-8"))
    assert text.startswith(tables["title"])
    for n, step in enumerate(tables["step"], 1):
        assert f"\n{n}. {step['title']}. " in text
    assert "Question: " in text
    assert max(map(len, text.splitlines())) <= WIDTH
    assert "{" not in text


def test_help_names_every_built_in_lesson(capsys):
    with pytest.raises(SystemExit):
        cli.main(["lesson", "--help"])
    words = capsys.readouterr().out.replace("\n", "").replace(" ", "")
    assert all(name in words for name in BUILT_IN)


def test_a_built_in_file_is_printed_to_start_ones_own_from(capsys):
    text = printed(capsys, "lesson", "what-a-bush-does", "--source")
    assert text == (HOME / "what-a-bush-does.toml").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("arguments", "line"),
    [
        (["what-a-bush-dose"], "did you mean 'what-a-bush-does'"),
        (["--out", "x.pdf"], ".html"),
        (["--dark"], "--dark is for --window or --out FILE.mp4"),
        (["--window", "--out", "x.html"], "--window and --out exclude each other"),
        (["--window", "--source"], "--window and --source exclude each other"),
        (["--dark", "--out", "x.html"], "a page follows its reader"),
        (["own.toml", "--source"], "--source prints a built-in lesson"),
        (["--out", "nowhere/x.html"], "nowhere"),
    ],
)
def test_what_cannot_be_done_is_refused(capsys, arguments, line, monkeypatch, tmp_path):
    monkeypatch.chdir(tmp_path)
    assert line in refused(capsys, "lesson", *arguments)
    assert not list(tmp_path.iterdir())


def test_it_is_played_in_a_window_and_its_words_are_printed(capsys, monkeypatch):
    def play(read, theme, said):
        shown.append((read.title, theme.name))
        said(" ".join(["a long line of words"] * 20))

    shown: list[tuple[str, str]] = []
    monkeypatch.setattr(window, "show", play)
    text = printed(capsys, "lesson", "what-a-bush-does", "--window", "--dark")
    assert shown == [("What the size and the clock of a bush do", "dark")]
    assert text.count("a long line of words") > 10
    assert max(map(len, text.splitlines())) <= WIDTH


def test_a_window_without_a_display_is_refused(capsys, monkeypatch):
    monkeypatch.setattr(gl, "has_display", lambda: False)
    assert "display" in refused(capsys, "lesson", "--window")
