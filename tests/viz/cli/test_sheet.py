"""`lockarc sheet`: the command writes the sheet of the change asked for, and nothing when refused."""

import re

import numpy as np
import pytest

import scenarios
from kinematics.change.change import changed
from kinematics.figures.solved import Solved
from tests.helpers.command import printed, refused
from viz.cli import main as cli
from viz.sheet import render, sheet_of


def words(path):
    return " ".join(re.sub(r"<[^>]+>", " ", path.read_text()).split())


def test_a_named_change_is_written_with_the_solvers_turns(capsys, tmp_path):
    place = tmp_path / "sheet.html"
    said = printed(capsys, "sheet", "--to", "more-caster", "--out", str(place))
    assert said == f"{place}: Bench sheet: change of bushes, from as-delivered to more-caster\n"
    scenario = scenarios.load()
    base = Solved(scenario.kart, scenario.settings["as-delivered"], np.zeros(1))
    done = changed(base, scenario.settings["more-caster"], 1.25)
    turns = abs(float(done.rods.left.turns))
    assert re.search(rf"shorten by {turns:.2f}\s+turn", words(place).replace("\xa0", " "))


def test_parts_typed_are_laid_over_the_setting_it_starts_from(capsys, tmp_path):
    place = tmp_path / "typed.html"
    printed(capsys, "sheet", "--from", "less-caster", "--left", "top=2@180", "--out", str(place))
    scenario = scenarios.load()
    inputs = dict(scenario.resolved)
    start = inputs["setting"]["less-caster"]
    left = {**start["left"], "top_clock_deg": 180.0}
    assert start["left"]["top_clock_deg"] != 180.0
    typed = {**start, "note": "typed on the command line", "left": left}
    inputs["setting"] = {**inputs["setting"], "as given": typed}
    same = scenarios.from_mapping(inputs, scenario.source, scenario.name)
    assert place.read_bytes() == render(sheet_of(same, "less-caster", "as given"), "html")


def test_a_pdf_comes_on_the_paper_asked_for(tmp_path):
    import pdfplumber

    sizes = {}
    for paper in ("a4", "letter"):
        place = tmp_path / f"{paper}.pdf"
        assert cli.main(["sheet", "--to", "less-caster", "--paper", paper, "--out", str(place)]) == 0
        with pdfplumber.open(place) as document:
            sizes[paper] = (round(document.pages[0].width), round(document.pages[0].height))
    assert sizes == {"a4": (595, 842), "letter": (612, 792)}


def test_a_bush_not_in_the_kit_is_warned_of(capsys, tmp_path):
    assert cli.main(["sheet", "--both", "top=2.3@180", "--out", str(tmp_path / "s.html")]) == 0
    assert "2.3 deg is not in the kit" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ([], "the following arguments are required: --out"),
        (["--out", "s.html"], "sheet needs the setting to fit"),
        (["--out", "s.txt", "--to", "more-caster"], "must end in one of .html, .pdf"),
        (["--out", "-", "--to", "more-caster"], "must end in one of"),
        (["--out", "none/s.pdf", "--to", "more-caster"], "the folder"),
        (["--out", "s.pdf", "--to", "mor-caster"], "did you mean 'more-caster'?"),
        (["--out", "s.pdf", "--to", "more-caster", "--from", "nope"], "setting 'nope' is unknown"),
        (["--out", "s.pdf", "--to", "more-caster", "--paper", "a5"], "did you mean 'a4'?"),
        (["--out", "s.pdf", "--both", "rod=100"], "the tie rods cannot be joined straight ahead"),
        (["--out", "s.pdf", "--both", "tpo=1@0"], "did you mean 'top'?"),
        (["gone.toml", "--out", "s.pdf", "--to", "x"], "gone.toml: no such file"),
    ],
)
def test_refusals_are_one_line_and_write_nothing(capsys, monkeypatch, tmp_path, arguments, said):
    monkeypatch.chdir(tmp_path)
    assert said in refused(capsys, "sheet", *arguments)
    assert list(tmp_path.iterdir()) == []
