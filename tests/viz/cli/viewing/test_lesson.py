"""`lockarc lesson`: prints a lesson, shows its file, and refuses in one line what it cannot write."""

from __future__ import annotations

import tomllib

import pytest

from scenarios.lessons.lesson import BUILT_IN, HOME
from tests.helpers.command import printed, refused
from viz.cli import main as cli
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
        (["--dark"], "--dark is for a film"),
        (["--dark", "--out", "x.html"], "a page follows its reader"),
        (["own.toml", "--source"], "--source prints a built-in lesson"),
        (["--out", "nowhere/x.html"], "nowhere"),
    ],
)
def test_what_cannot_be_done_is_refused(capsys, arguments, line, monkeypatch, tmp_path):
    monkeypatch.chdir(tmp_path)
    assert line in refused(capsys, "lesson", *arguments)
    assert not list(tmp_path.iterdir())
