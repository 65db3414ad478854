"""`lockarc scenario` and `lockarc columns`."""

import json
import re

import pytest

import scenarios
from scenarios.ask.run import run
from scenarios.bundled import copied_text
from tests.helpers.command import TABLE_WIDTH, refused
from tests.helpers.cost.counting import counted_sweeps
from viz.cli import main as cli
from viz.words.width import MOST_LINES


def test_list_names_every_scenario_and_setting(capsys):
    assert cli.main(["scenario", "list"]) == 0
    text = capsys.readouterr().out
    for name in scenarios.builtin_names():
        assert f"{name}: {scenarios.load(name).title}\n" in text
    assert "  more-caster: " in text


def test_a_copy_is_the_built_in_kart_assumed_and_passes_its_check(capsys, tmp_path):
    place = tmp_path / "mine.toml"
    assert cli.main(["scenario", "copy", "training-kart", str(place)]) == 0
    assert place.read_text() == copied_text("training-kart")
    assert cli.main(["scenario", "check", str(place)]) == 0
    assert "no errors, no warnings; from as-delivered:" in " ".join(capsys.readouterr().out.split())


def test_a_copy_replaces_a_file_only_when_told_to(capsys, tmp_path):
    place = tmp_path / "mine.toml"
    place.write_text("old")
    assert "is there already" in refused(capsys, "scenario", "copy", "training-kart", str(place))
    assert place.read_text() == "old"
    assert cli.main(["scenario", "copy", "training-kart", str(place), "--overwrite"]) == 0
    assert place.read_text() == copied_text("training-kart")


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["copy", "trainin-kart", "x.toml"], "did you mean 'training-kart'?"),
        (["copy", "training-kart", "none/x.toml"], "none/x.toml: cannot be written"),
        (["copy", "training-kart", "."], "is a folder"),
        (["check", "gone.toml"], "no such file"),
        (["schema", "--out", "none/x.json"], "does not exist"),
        (["chekc", "x"], "did you mean 'check'?"),
    ],
)
def test_refusals_write_nothing(capsys, tmp_path, monkeypatch, arguments, said):
    monkeypatch.chdir(tmp_path)
    assert said in refused(capsys, "scenario", *arguments)
    assert list(tmp_path.iterdir()) == []


def test_check_tells_bends_unlikely_numbers_and_what_is_assumed(capsys, tmp_path):
    place = tmp_path / "mine.toml"
    assert cli.main(["scenario", "copy", "bent-right-stub", str(place)]) == 0
    text = place.read_text().replace("cog_height_mm = 270.0", "cog_height_mm = 27.0")
    place.write_text(text)
    assert cli.main(["scenario", "check", str(place), "--tables"]) == 0
    printed = capsys.readouterr()
    assert "warning: uneven corners: 1.4 deg of camber between them" in printed.err
    assert "warning: kart.cog_height_mm = 27 mm is unlikely" in printed.err
    assert "numbers are assumed; what each adds to a band, largest first:" in printed.out
    assert "Worth measuring better: " in printed.out
    count = sum("warning: " in line for line in printed.err.splitlines())
    assert f"no errors, {count} warnings; from" in " ".join(printed.out.split())
    assert "Settings: as-delivered, more-caster" in printed.out


@pytest.mark.parametrize("name", ["training-kart", "bent-right-stub", "published-kart"])
def test_a_check_is_answered_in_a_dozen_lines(capsys, tmp_path, name):
    """As it is built in and as somebody's copy, whose numbers are all assumed."""
    place = tmp_path / "mine.toml"
    assert cli.main(["scenario", "copy", name, str(place)]) == 0
    for asked in (name, str(place)):
        capsys.readouterr()
        assert cli.main(["scenario", "check", asked]) == 0
        *lines, gap, hint = capsys.readouterr().out.splitlines()
        assert 6 <= len(lines) <= MOST_LINES
        assert max(map(len, lines)) <= TABLE_WIDTH
        assert gap == ""
        assert hint.endswith("--tables.")
        said = " ".join(lines)
        assert "no errors, " in said
        assert re.search(r"left: the inside rear carries \d+ ± \d+ kg\.", said)
        assert "Worth measuring better: " in said
        assert ("they add most to the doubt: " in said) is (asked != name or name == "published-kart")


def test_check_prints_each_warning_on_a_line(capsys, tmp_path):
    place = tmp_path / "odd.toml"
    text = scenarios.builtin_text("training-kart")
    place.write_text(text.replace("wheelbase_mm = 1045.0", "wheelbase_mm = 1100.0", 1))
    assert cli.main(["scenario", "check", str(place)]) == 0
    captured = capsys.readouterr()
    assert captured.err.startswith("lockarc: warning: ")
    assert "1 warning; from" in " ".join(captured.out.split())
    assert captured.err.count("lockarc: warning: ") == 1
    assert max(map(len, captured.err.splitlines())) <= TABLE_WIDTH


def test_schema_goes_to_stdout_or_a_file(capsys, tmp_path):
    assert cli.main(["scenario", "schema"]) == 0
    text = capsys.readouterr().out
    assert json.loads(text) == json.loads(json.dumps(scenarios.json_schema()))
    place = tmp_path / "schema.json"
    assert cli.main(["scenario", "schema", "--out", str(place)]) == 0
    assert place.read_text() == text


def test_columns_lists_every_name_with_unit_and_meaning(capsys):
    scenario = scenarios.load()
    made = run(scenario, scenario.default_setting)
    assert cli.main(["columns"]) == 0
    text = capsys.readouterr().out
    assert max(map(len, text.splitlines())) <= 100
    case = made.cases[0]
    every = (made.columns, made.headline, case.columns, case.headline)
    for entry in (entry for group in every for entry in group.values()):
        [line, *_] = [line for line in text.splitlines() if line.split()[:1] == [entry.name]]
        assert line.split()[1] == entry.unit
        assert entry.name.endswith(f"_{entry.address.figure.unit.ending}")
        assert entry.meaning
    assert cli.main(["columns", "--json", "-"]) == 0
    listed = json.loads(capsys.readouterr().out)
    assert [c["name"] for c in listed["columns"]] == list(made.columns)
    assert [f["name"] for f in listed["figures"]] == list(made.headline)
    assert [c["name"] for c in listed["case_columns"]] == list(case.columns)
    assert [f["name"] for f in listed["case_figures"]] == list(case.headline)


def test_listing_the_columns_sweeps_nothing(capsys, monkeypatch):
    calls = counted_sweeps(monkeypatch)
    assert cli.main(["columns"]) == 0
    assert cli.main(["columns", "--json", "-"]) == 0
    assert not calls
    assert run(scenarios.load(), cases=[]).columns
    assert sum(calls.values()) == 1
