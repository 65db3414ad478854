"""Load cases in the tables, the JSON and the CSV of `lockarc sweep`."""

import csv
import io
import json
from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest

import scenarios
from kinematics.drive.rear_axle import AxleGrip
from kinematics.lock import sweep
from scenarios.ask.run import run
from tests.helpers.command import assert_equals_solver, payload, printed, refused
from tests.helpers.reading import case_columns, case_figures
from viz.cli import main as cli
from viz.tables.lock import standing_table
from viz.words.width import WIDEST, printed_at


def test_json_and_csv_hold_the_stance_of_every_load_case(capsys):
    scenario = scenarios.load()
    kart, setting = scenario.kart, scenario.settings["as-delivered"]
    swept = sweep(kart, setting, np.radians(np.linspace(*scenario.handwheel_deg)))
    grip = AxleGrip(scenario.rear_axle.friction_ratio, scenario.rear_axle.longitudinal_stiffness_n_per_n)
    [told] = payload(capsys)["settings"]
    rows = list(csv.DictReader(io.StringIO(printed(capsys, "sweep", "--csv", "-"))))
    assert [case["name"] for case in told["cases"]] == [case.name for case in scenario.load_cases]
    for case, written in zip(scenario.load_cases, told["cases"], strict=True):
        own = np.radians(60.0) if case.handwheel is None else case.handwheel
        assert written["figures_at_lock_deg"] == pytest.approx(np.degrees(own), abs=1e-9)
        for name, column in case_columns(swept, case, scenario.pneumatic_trail_mm, grip).items():
            assert_equals_solver(written["columns"][name], column)
            cells = [row[f"{case.name}.{name}"] for row in rows]
            assert_equals_solver([float(cell) if cell else None for cell in cells], column)
        for name, figure in case_figures(kart, setting, case, own).items():
            assert written["headline"][name] == (float(figure.values) if figure.known else None)


def test_only_the_cases_asked_for_are_computed_and_shown_in_that_order(capsys):
    asked = ("--case", "fast corner", "--case", "standing")
    [told] = payload(capsys, *asked)["settings"]
    assert [case["name"] for case in told["cases"]] == ["fast corner", "standing"]
    text = printed(capsys, "sweep", *asked, "--tables")
    assert text.index("load case fast corner:") < text.index("load case standing:")
    assert "gentle corner" not in text


def test_figures_at_lock_are_read_where_asked(capsys):
    document = payload(capsys, "--at", "-40", "--case", "slow corner")
    assert document["figures_at_lock_deg"] == 40.0
    [case] = document["settings"][0]["cases"]
    handwheel = document["settings"][0]["columns"]["handwheel_deg"]
    row, headline = handwheel.index(40.0), case["headline"]
    assert headline["inside_rear_load_at_lock_left_n"] == pytest.approx(
        case["columns"]["inside_rear_load_n"][row], abs=1e-6
    )
    assert headline["outside_front_camber_at_lock_left_deg"] == pytest.approx(
        case["columns"]["standing_camber_right_deg"][row], abs=1e-9
    )
    assert case["figures_at_lock_deg"] == 40.0
    assert _locks(printed(capsys, "sweep", "--at", "41", "--tables")) == {"41"}
    assert _locks(printed(capsys, "sweep", "--tables")) == {"60", "20", "36", "8", "15"}


def _locks(text):
    """The column in which the table of the load cases says where figures are read."""
    [rows] = [block for block in text.split("\n\n") if "at lock" in block and block.count("\n") > 6]
    return {line.split()[-4] for line in rows.splitlines()[3:]}


def test_a_run_made_again_keeps_its_cases_and_its_lock_read_at(capsys, tmp_path):
    first, again = tmp_path / "run.json", tmp_path / "again.json"
    arguments = ["--case", "fast corner", "--at", "35", "--lock", "-10", "50", "--positions", "13"]
    assert cli.main(["sweep", *arguments, "--json", str(first)]) == 0
    assert cli.main(["sweep", str(first), "--json", str(again)]) == 0
    capsys.readouterr()
    assert json.loads(first.read_bytes()) == json.loads(again.read_bytes())


def test_where_the_kart_tips_or_a_rod_binds_the_table_says_which(capsys):
    scenario = scenarios.load()
    made = run(scenario, "as-delivered", ["fast corner"])
    [case] = made.cases
    fallen = np.arange(61) < 20
    assert set(case.stands) == {"stands"}
    columns = {name: replace(c, known=c.known & ~fallen) for name, c in case.columns.items()}
    for word in ("tips", "on 2"):
        stands = np.where(fallen, word, "stands").tolist()
        told = {"stands": stands, "rests_twice_at_deg": [-60.0, 58.0, 60.0], "falls_at_deg": [-61.5, 61.5]}
        with printed_at(WIDEST):
            rows = standing_table(made, SimpleNamespace(name=case.name, columns=columns, **told))
        *lines, twice, falls = rows
        assert [word in line for line in lines[3:]] == [*[True] * 4, *[False] * 9]
        assert twice.startswith("two resting places at 3 of 61 lock positions")
        assert falls.endswith("falls over to another resting place at -61.5 deg and 61.5 deg")
    text = printed(capsys, "sweep", "--both", "rod=300", "--case", "standing", "--tables")
    table = text.split("load case standing:\n")[1].splitlines()
    assert table[3].split()[:3] == ["-60.0", "binds", "binds"]


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["--case", "fast"], "load case 'fast' is unknown"),
        (["--case", "fast cornr"], "did you mean 'fast corner'?"),
        (["--at", "76"], "--at 76 deg is beyond the mechanical stop of ±75 deg"),
        (["--at", "inf"], "inf is not a finite number"),
    ],
)
def test_refusals(capsys, arguments, said):
    assert said in refused(capsys, "sweep", *arguments)
