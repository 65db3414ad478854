"""`lockarc sweep`: what it prints, writes and refuses, against the solver's own values."""

import csv
import io
import json
from dataclasses import replace

import numpy as np
import pytest

import scenarios
from kinematics.lock import sweep
from tests.helpers.command import TABLE_WIDTH, assert_equals_solver, payload, printed, refused
from tests.helpers.reading import columns
from viz.cli import main as cli

UNSURE = ("--sure", "none")
UNEVEN = "bent-right-stub"
"""The built-in kart of which most is told, as left and right are not alike."""


def solved(scenario, name):
    handwheel = np.radians(np.linspace(*scenario.handwheel_deg))
    named = columns(sweep(scenario.kart, scenario.settings[name], handwheel), scenario.toe_diameter_mm)
    exact = replace(named["handwheel_deg"], values=np.linspace(*scenario.handwheel_deg))
    return {**named, "handwheel_deg": exact}


def test_without_arguments_it_runs_the_training_kart(capsys):
    text = printed(capsys, "sweep", "--tables")
    assert text.startswith("Training kart")
    assert "caster               deg       12.00  12.00" in text
    assert "+ is toe-in" in text
    assert "nowhere within the mechanical stop of ±75 deg" in text
    assert max(map(len, text.splitlines())) <= TABLE_WIDTH


@pytest.mark.parametrize(
    "name",
    [pytest.param(n, marks=pytest.mark.long if n != UNEVEN else ()) for n in scenarios.builtin_names()],
)
def test_every_built_in_scenario_fits_the_width_in_all_its_settings(capsys, name):
    chosen = [part for setting in scenarios.load(name).settings for part in ("--setting", setting)]
    text = printed(capsys, "sweep", name, *chosen, "--tables")
    assert max(map(len, text.splitlines())) <= TABLE_WIDTH


def test_json_holds_the_solvers_values(capsys):
    document = payload(capsys, "--setting", "more-caster", "--setting", "as-delivered")
    scenario = scenarios.load()
    assert [s["name"] for s in document["settings"]] == ["more-caster", "as-delivered"]
    for setting in document["settings"]:
        solver = solved(scenario, setting["name"])
        assert list(setting["columns"]) == list(solver) == [c["name"] for c in document["columns"]]
        for name, column in solver.items():
            assert_equals_solver(setting["columns"][name], column)
    assert document["inputs"] == scenario.resolved
    assert document["scenario"]["inputs_sha256"] == scenario.digest


def test_csv_holds_the_solvers_values_one_row_a_lock_position(capsys):
    text = printed(
        capsys, "sweep", "--setting", "as-delivered", "--setting", "less-caster", *UNSURE, "--csv", "-"
    )
    rows = list(csv.DictReader(io.StringIO(text)))
    scenario = scenarios.load()
    assert len(rows) == 2 * 61
    for name in ("as-delivered", "less-caster"):
        mine = [row for row in rows if row["setting"] == name]
        for key, column in solved(scenario, name).items():
            assert_equals_solver([float(row[key]) if row[key] else None for row in mine], column)


def test_lock_and_positions_say_where_to_look(capsys):
    document = payload(capsys, "--lock", "-20", "40", "--positions", "7")
    assert document["lock"] == {"handwheel_from_deg": -20.0, "handwheel_to_deg": 40.0, "positions": 7}
    handwheel = document["settings"][0]["columns"]["handwheel_deg"]
    assert handwheel == [-20, -10, 0, 10, 20, 30, 40]


def test_a_pair_typed_for_both_equals_the_same_setting_of_the_file(capsys):
    named = payload(capsys, "--setting", "more-caster")["settings"][0]
    typed = payload(capsys, "--both", "top=2@180,bottom=1@0,toe=-0.1")["settings"][0]
    assert typed["columns"] == named["columns"]
    assert typed["headline"] == named["headline"]


def test_an_offset_in_mm_equals_its_rated_size(capsys):
    offset = scenarios.load().kart.left.yoke.span * np.tan(np.radians(2.0))
    rated = payload(capsys, "--both", "top=2deg@90")["settings"][0]["columns"]
    in_mm = payload(capsys, "--both", f"top={float(offset)!r}mm@90")["settings"][0]["columns"]
    assert np.allclose(rated["camber_left_deg"], in_mm["camber_left_deg"], rtol=0, atol=1e-12)


def test_a_pair_typed_for_one_corner_leaves_the_other_concentric(capsys):
    figures = payload(capsys, "--left", "top=2@180")["settings"][0]["headline"]
    base = payload(capsys)["settings"][0]["headline"]
    assert figures["caster_right_deg"] == pytest.approx(base["caster_right_deg"], abs=0.02)  # a little lean
    assert figures["caster_left_deg"] > base["caster_left_deg"] + 1.9


def test_based_on_keeps_what_is_not_typed(capsys):
    figures = payload(capsys, "--right", "hub=5", "--based-on", "more-caster")["settings"][0]["headline"]
    base = payload(capsys, "--setting", "more-caster")["settings"][0]["headline"]
    for name in ("caster_right_deg", "scrub_left_mm"):
        assert figures[name] == pytest.approx(base[name], abs=0.02)
    assert figures["scrub_right_mm"] > base["scrub_right_mm"] + 4.0


def test_named_and_typed_settings_stand_side_by_side(capsys):
    text = printed(
        capsys, "sweep", "--setting", "as-delivered", "--both", "top=3@180,bottom=2@0", "--tables", *UNSURE
    )
    assert "as-delivered      as given" in text
    assert "left:  top 3 deg @ 180, bottom 2 deg @ 0, tie rod kept" in text


def test_a_run_can_be_made_again_from_its_json(capsys, tmp_path):
    first, again = tmp_path / "run.json", tmp_path / "again.json"
    arguments = ["--both", "top=1.5mm@200,hub=3", "--setting", "as-delivered", "--lock", "-30", "55.5"]
    assert cli.main(["sweep", "bent-right-stub", *arguments, "--json", str(first)]) == 0
    assert cli.main(["sweep", str(first), "--json", str(again)]) == 0
    capsys.readouterr()
    assert json.loads(first.read_bytes()) == json.loads(again.read_bytes())
    document = json.loads(first.read_bytes())
    scenario = scenarios.from_mapping(document["inputs"], "again")
    assert scenario.digest == document["scenario"]["inputs_sha256"]
    for setting in document["settings"]:
        for name, column in solved(scenario, setting["name"]).items():
            assert_equals_solver(setting["columns"][name], column)


def test_out_of_reach_reads_binds_null_and_nothing(capsys):
    rod = ("--both", "rod=300")
    text = printed(capsys, "sweep", *rod, "--tables", "--wide")
    assert "binds: a tie rod, at 46.1 deg and -46.1 deg of handwheel" in text
    far_left = next(line for line in text.splitlines() if line.startswith(" 60.0"))
    assert far_left.split()[1:3] == ["binds", "-2.5"]
    assert far_left.split()[-1] == "binds"
    setting = payload(capsys, *rod)["settings"][0]
    assert setting["columns"]["steer_left_deg"][-1] is None
    assert setting["columns"]["steer_right_deg"][-1] is not None
    assert setting["headline"]["binds_at_left_lock_deg"] == pytest.approx(46.05, abs=0.01)
    last = printed(capsys, "sweep", *rod, *UNSURE, "--csv", "-").splitlines()[-1]
    assert last.startswith("as given,60.0,,-2.")
    assert "nan" not in (text + last).lower()


def test_a_rod_that_cannot_be_fitted_says_so(capsys):
    text = printed(capsys, "sweep", "--both", "rod=100", "--tables")
    assert "cannot be fitted, not even straight ahead" in text


def test_all_rows_shows_every_lock_position(capsys):
    asked = ("sweep", "--tables", "--wide", *UNSURE)
    few, every = (printed(capsys, *asked, *more) for more in ((), ("--all-rows",)))
    assert "13 of 61 lock positions" in few
    assert len(every.splitlines()) == len(few.splitlines()) + 2 * (61 - 13) - 1


def test_a_bush_not_in_the_kit_is_warned_of_and_computed(capsys):
    assert cli.main(["sweep", "--both", "top=2.3@180"]) == 0
    captured = capsys.readouterr()
    assert captured.out.startswith("Training kart")
    warnings = captured.err.splitlines()
    assert all(line.startswith("lockarc: warning: setting.as given: ") for line in warnings)
    assert any("2.3 deg is not in the kit" in line for line in warnings)


def test_files_are_written_beside_the_table(capsys, tmp_path):
    places = [tmp_path / name for name in ("a.json", "a.csv", "a.svg")]
    arguments = ["--json", str(places[0]), "--csv", str(places[1]), "--plot", str(places[2]), *UNSURE]
    assert "Training kart" in printed(capsys, "sweep", *arguments)
    assert all(place.stat().st_size > 1000 for place in places)
    assert places[0].read_text() == printed(capsys, "sweep", *UNSURE, "--json", "-")
    assert places[1].read_text() == printed(capsys, "sweep", *UNSURE, "--csv", "-")


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["gone.toml"], "gone.toml: no such file"),
        (["trainin-kart"], "did you mean 'training-kart'?"),
        (["broken.toml"], "broken.toml: broken TOML"),
        (["unknown.toml"], "unknown.toml: wheelbase: unknown key"),
        (["type.toml"], "type.toml: toe_diameter_mm = 'wide' mm: must be a number"),
        (["range.toml"], "range.toml: toe_diameter_mm = 1 mm: must be at least 10"),
        (["nan.toml"], "nan.toml: toe_diameter_mm = nan mm: must be a finite number"),
        (["inf.toml"], "inf.toml: toe_diameter_mm = inf mm: must be a finite number"),
        (["folder"], "folder: cannot be read"),
        (["broken.json"], "broken.json: broken JSON"),
        (["half.json"], "half.json: is not the JSON of a run"),
        (["nested.json"], "nested.json: nested too deeply"),
        (["--setting", "mor-caster"], "did you mean 'more-caster'?"),
        (["--setting", "nope"], "setting 'nope' is unknown; there are: as-delivered, "),
        (["--based-on", "nope", "--both", "hub=1"], "setting 'nope' is unknown"),
        (["--based-on", "more-caster"], "--based-on needs --both, --left, --right or --kart"),
        (["--both", "top=20@0"], "top_rated_deg = 20 deg: must be"),
        (["--both", "top=-1@0"], "top_rated_deg = -1 deg: must be"),
        (["--left", "hub=1e6"], "hub_spacer_mm = 1e+06 mm: must be"),
        (["--left", "tpo=1@0"], "did you mean 'top'?"),
        (["--lock", "-76", "76"], "handwheel_from_deg = -76 deg: must lie within the column's stop"),
        (["--lock", "10", "-10"], "sweep.handwheel_"),
        (["--lock", "nan", "10"], "nan is not a finite number"),
        (["--lock", "0", "inf"], "inf is not a finite number"),
        (["--lock", "left", "right"], "'left' is not a number"),
        (["--positions", "1"], "1 must be at least 2"),
        (["--positions", "2.5"], "'2.5' is not a whole number"),
        (["--positions", "999999"], "at most 20001"),
        (["--csv", "none/x.csv"], "the folder"),
        (["--csv", "folder"], "is a folder"),
        (["--plot", "x.bmp"], "must end in one of .png, .svg, .pdf"),
        (["--plot", "-"], "must end in one of"),
        (["--dark"], "--dark needs --plot"),
        (["--csv", "-", "--json", "-"], "would overwrite"),
        (["good.toml", "--json", "good.toml"], "would overwrite the scenario file"),
    ],
)
def test_refusals_are_one_line_and_write_nothing(capsys, monkeypatch, tmp_path, arguments, said):
    good = scenarios.builtin_text("training-kart")
    wide = "toe_diameter_mm = 280.0"
    files = {
        "good.toml": good,
        "broken.toml": "title = ",
        "unknown.toml": f"wheelbase = 1000\n{good}",
        "type.toml": good.replace(wide, "toe_diameter_mm = 'wide'"),
        "range.toml": good.replace(wide, "toe_diameter_mm = 1.0"),
        "nan.toml": good.replace(wide, "toe_diameter_mm = nan"),
        "inf.toml": good.replace(wide, "toe_diameter_mm = inf"),
        "broken.json": "{",
        "half.json": '{"inputs": {}}',
        "nested.json": "[" * 100000,
    }
    monkeypatch.chdir(tmp_path)
    for name, text in files.items():
        (tmp_path / name).write_text(text)
    (tmp_path / "folder").mkdir()
    outputs = (
        []
        if {"--csv", "--json", "--plot", "--dark"} & set(arguments)
        else ["--json", "out.json", "--plot", "out.png"]
    )
    assert said in refused(capsys, "sweep", *arguments, *outputs)
    assert sorted(p.name for p in tmp_path.iterdir()) == sorted([*files, "folder"])
    assert (tmp_path / "good.toml").read_text() == good
