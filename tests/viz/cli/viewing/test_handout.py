"""`lockarc handout`: the file it writes, what it asks for, and what it refuses."""

import pytest

from tests.helpers.command import refused
from viz import handout
from viz.canvas import gl
from viz.cli import main as cli

THREE = [x for name in ("as-delivered", "more-caster", "less-caster") for x in ("--setting", name)]


@pytest.fixture(autouse=True)
def _here(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)


@pytest.mark.slow
def test_a_hand_out_is_written_for_real(capsys, tmp_path):
    assert cli.main(["handout", "--out", "kart.html", "--setting", "more-caster", "--stops", "5"]) == 0
    assert capsys.readouterr().out.startswith("kart.html: ")
    page = (tmp_path / "kart.html").read_text(encoding="utf-8")
    assert "Content-Security-Policy" in page
    assert "more-caster" in page


def test_it_asks_for_what_it_was_told(monkeypatch):
    asked = []

    def write(path, scenario, settings, **options):
        asked.append((path, list(settings), options))
        return 1_500_000

    monkeypatch.setattr(handout, "write", write)
    names = ["--setting", "as-delivered", "--setting", "more-caster"]
    assert cli.main(["handout", *names, "--out", "a.html", "--stops", "7", "--from-view", "front"]) == 0
    [(path, settings, options)] = asked
    assert (path, settings) == ("a.html", ["as-delivered", "more-caster"])
    assert (options["stops"], options["view"]) == (7, "front")


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["--out", "x.pdf"], "must end in .html"),
        (["--out", "none/x.html"], "does not exist"),
        ([], "--out"),
        (["--out", "a.html", "--setting", "nope"], "setting 'nope' is unknown"),
        (["--out", "a.html", "--stops", "4"], "at least 5"),
        (["--out", "a.html", "--from-view", "tpo"], "tpo"),
        (["gone.toml", "--out", "a.html"], "no such file"),
        (["--out", "a.html", *THREE], "one setting or two, not 3"),
    ],
)
def test_refusals_are_one_line_and_write_nothing(capsys, tmp_path, arguments, said):
    assert said in refused(capsys, "handout", *arguments)
    assert list(tmp_path.iterdir()) == []


def test_a_machine_that_cannot_draw_is_told_what_to_install(capsys, monkeypatch, tmp_path):
    monkeypatch.setattr(gl, "has_display", lambda: False)
    monkeypatch.setattr(gl, "egl_works", lambda: False)
    assert "apt install" in refused(capsys, "handout", "--out", "a.html")
    assert list(tmp_path.iterdir()) == []
