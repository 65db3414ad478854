"""`lockarc choose`: candidates against the solver, and what is told of them."""

import csv
import io
import json
import re
import sys
import tomllib
from dataclasses import replace
from itertools import product

import numpy as np
import pytest

import scenarios
from kinematics.corner.bush import bush_offset
from kinematics.drive.rear_axle import AxleGrip
from kinematics.lock import sweep
from tests.helpers.command import TABLE_WIDTH, printed
from tests.helpers.reading import (
    case_columns,
    case_figures,
    columns,
    headline,
    jacking_figures,
)
from tests.helpers.scenario_edit import stepped
from tests.helpers.typed_again import command_lines
from viz.cli import main as cli

CASE = "slow corner"


def chosen(capsys, *arguments):
    return json.loads(printed(capsys, "choose", *arguments, "--json", "-"))


def solved(document, setting, target):
    """A figure of a setting's table from the plain solver, None where it has no value."""
    inputs = dict(document["inputs"])
    inputs["setting"] = {**inputs["setting"], "tried": setting}
    scenario = scenarios.from_mapping(inputs, "again")
    kart, fitted = scenario.kart, scenario.settings["tried"]
    lock = np.radians([target["handwheel_deg"] or 0.0])
    full = sweep(kart, fitted, lock)
    if target["case"] is not None:
        [case] = [c for c in scenario.load_cases if c.name == target["case"]]
        grip = AxleGrip(scenario.rear_axle.friction_ratio, scenario.rear_axle.longitudinal_stiffness_n_per_n)
        column = case_columns(full, case, scenario.pneumatic_trail_mm, grip)[target["figure"]]
    elif target["handwheel_deg"] is None:
        figure = headline(sweep(kart, fitted, 0.0), scenario.toe_diameter_mm)[target["figure"]]
        return float(figure.values) if figure.known else None
    else:
        column = columns(full, scenario.toe_diameter_mm)[target["figure"]]
    return float(column.values[0]) if column.known[0] else None


@pytest.mark.parametrize(
    ("sides", "rods"), [("both", "reset"), ("left", "reset"), ("right", "alone"), ("each", "alone")]
)
def test_every_candidates_figures_are_the_solvers(capsys, coarse, sides, rods):
    wanted = ["caster_left_deg=now+1", "camber_right_deg@-30=..now*2", "toe_right_deg=now"]
    options = [part for want in wanted for part in ("--want", want)]
    document = chosen(capsys, coarse, *options, "--sides", sides, "--rods", rods, "--limit", "4")
    assert len(document["candidates"]) >= 4
    for candidate in [document["present"], *document["candidates"]]:
        for target, value, missed in zip(
            document["targets"], candidate["values"], candidate["missed_by"], strict=True
        ):
            truth = solved(document, candidate["setting"], target)
            assert value == pytest.approx(truth, abs=1e-6)
            low = -np.inf if target["low"] is None else target["low"]
            high = np.inf if target["high"] is None else target["high"]
            assert missed == pytest.approx(max(low - truth, truth - high, 0.0), abs=1e-6)
        held = {"left": "right", "right": "left"}.get(sides)
        if held:
            assert candidate["setting"][held]["top_offset_mm"] == 0.0


@pytest.mark.parametrize("sides", ["both", "each"])
def test_less_jacking_and_the_same_camber_is_chosen_by_the_figures_that_compare_shows(capsys, coarse, sides):
    wants = ("jacking_rate_left_n_per_deg@standing=..now-10%", "camber_left_deg=now")
    wants += ("jacking_rate_right_mm_per_deg=..now", f"inside_rear_clearance_at_lock_right_mm@40@{CASE}=..9")
    options = [part for want in wants for part in ("--want", want)]
    document = chosen(capsys, coarse, *options, "--limit", "2", "--sides", sides)
    rate, _, rigid, _ = document["targets"]
    assert rate["high"] == pytest.approx(0.9 * rate["now"])
    assert [rate["unit"], rigid["unit"]] == ["N/deg", "mm/deg"]
    assert document["reached"]
    for candidate in document["candidates"]:
        settings = {**document["inputs"]["setting"], "tried": candidate["setting"]}
        scenario = scenarios.from_mapping({**document["inputs"], "setting": settings}, "again")
        kart, tried = scenario.kart, scenario.settings["tried"]
        cases = {case.name: case for case in scenario.load_cases}
        at = np.radians(40.0)
        figures = [
            case_figures(kart, tried, cases["standing"], at)[rate["figure"]],
            headline(sweep(kart, tried, 0.0), 280.0)["camber_left_deg"],
            jacking_figures(kart, tried)[rigid["figure"]],
            case_figures(kart, tried, cases[CASE], at)["inside_rear_clearance_at_lock_right_mm"],
        ]
        assert candidate["values"] == pytest.approx([float(f.values) for f in figures], abs=1e-4)


@pytest.mark.slow
def test_a_wheel_that_stays_down_is_met_only_where_none_is_wanted(capsys, coarse):
    want = "lift_off_steer_left_deg@fast corner=22.."
    left_out = chosen(capsys, coarse, "--want", want, "--limit", "40")
    assert all(value >= 16.0 for [value] in (c["values"] for c in left_out["candidates"]))
    assert any("left out" in note for note in left_out["notes"])
    document = chosen(capsys, coarse, "--want", f"{want} or none*2", "--limit", "40")
    [target] = document["targets"]
    assert [target["or_none"], target["weight"]] == [True, 2.0]
    without = [c for c in document["candidates"] if c["values"] == [None]]
    assert without
    assert all(c["reached"] and c["missed_by"] == [0.0] for c in without)
    text = printed(capsys, "choose", coarse, "--want", f"{want} or none", "--limit", "40", "--tables")
    assert "at least 22 deg or none, now 20.6" in text
    assert any(line.split()[-2:] == ["none", "met"] for line in text.splitlines())
    rows = list(
        csv.reader(io.StringIO(printed(capsys, "choose", coarse, "--want", f"{want} or none", "--csv", "-")))
    )
    assert any(row[11:13] == ["", "0.0"] for row in rows[1:])
    nowhere = printed(capsys, "choose", coarse, "--want", "lift_off_steer_left_deg@standing=14", "--tables")
    said = "No pair from the box stands at every lock position asked for and lifts its inside rear."
    assert said in " ".join(nowhere.split())


@pytest.mark.parametrize(
    ("figure", "asked"),
    [
        ("inside_rear_load_n", "now+10..now+20"),
        ("handwheel_torque_nm", "now-2..now-1"),
        ("axle_yaw_moment_nm", "now-20..now+20"),
        ("standing_camber_right_deg", "now-1..now+1"),
    ],
)
def test_figures_of_load_cases_are_the_solvers(capsys, coarse, figure, asked):
    want = f"{figure}@30@{CASE}={asked}"
    document = chosen(capsys, coarse, "--want", want, "--want", "camber_left_deg=now", "--limit", "3")
    [target, _] = document["targets"]
    low, high = (float(end.removeprefix("now")) for end in asked.split(".."))
    assert [target["low"], target["high"]] == pytest.approx([target["now"] + low, target["now"] + high])
    for candidate in document["candidates"]:
        assert candidate["values"][0] == pytest.approx(
            solved(document, candidate["setting"], target), abs=0.01
        )
    assert document["reached"]
    assert document["verdict"].startswith("All targets are reached")


def test_the_best_is_the_best_of_every_pair_tried_one_by_one(capsys, tmp_path):
    text = stepped(90.0)
    start, end = text.index("[[kit.bush]]"), text.index("# SETTINGS")
    kit = "[[kit.bush]]\nrated_deg = 0.0\n[[kit.bush]]\nrated_deg = 1.5\n"
    (tmp_path / "two.toml").write_text(f"{text[:start]}{kit}{text[end:]}")
    wants = ("caster_left_deg=13.2", "camber_left_deg@-40=-4.2")
    options = [part for want in wants for part in ("--want", want)]
    document = chosen(capsys, str(tmp_path / "two.toml"), *options)
    bushes = [(0.0, 0.0), *((1.5, clock) for clock in (0.0, 90.0, 180.0, 270.0))]
    fits = {}
    for (top, top_clock), (bottom, bottom_clock) in product(bushes, bushes):
        both = {
            "top_rated_deg": top,
            "top_clock_deg": top_clock,
            "bottom_rated_deg": bottom,
            "bottom_clock_deg": bottom_clock,
            "tie_rod_toe_deg": -0.1,
            "spacer_shift_mm": 0.0,
            "hub_spacer_mm": 0.0,
        }
        setting = {"note": "", "rear_axle_shift_mm": 0.0, "left": both, "right": both}
        values = [solved(document, setting, target) for target in document["targets"]]
        misses = [
            (v - t["low"]) / t["worth_the_work"] for v, t in zip(values, document["targets"], strict=True)
        ]
        fits[top, top_clock, bottom, bottom_clock] = float(np.sqrt(np.mean(np.square(misses))))
    assert document["pairs"] == 25
    best = document["candidates"][document["best"][0] - 1]
    assert best["fit"] == pytest.approx(min(fits.values()), abs=1e-6)


def test_a_planted_pair_is_found_and_told_as_the_best_fit(capsys, coarse):
    scenario = scenarios.load(coarse)
    full = sweep(scenario.kart, scenario.settings["more-caster"], np.radians([-30.0, 30.0]))
    camber = columns(full, 280.0)["camber_left_deg"].values
    wants = [
        f"camber_left_deg@{lock}={value!r}" for lock, value in zip((-30, 30), camber.tolist(), strict=True)
    ]
    text = printed(capsys, "choose", coarse, "--want", wants[0], "--want", wants[1], "--tables")
    best = text.partition("Best fit first")[2].splitlines()
    first = next(line for line in best if re.match(r" *\d+  0\.00 ", line))
    assert first.split()[1:8] == ["0.00", "2", "@", "180", "1", "@", "0"]
    assert "swap top bush left and right: 0 deg -> 2 deg @ 180" in text
    assert max(len(line) for line in text.splitlines()) <= TABLE_WIDTH


def test_what_no_pair_reaches_is_said_plainly(capsys, coarse):
    text = printed(capsys, "choose", coarse, "--want", "caster_left_deg=30", "--limit", "2", "--tables")
    said = "No pair from the box reaches every target; the nearest misses caster_left_deg by 11.9 deg."
    assert said in " ".join(text.split())
    assert "No other adjustment alone would do it within 6 usual steps" in text
    assert "None reaches every target; nearest first (2 of" in text
    assert "-11.89" in text


def test_parts_typed_as_fitted_now_are_laid_over_the_setting_named(capsys, coarse):
    options = (coarse, "--from", "less-caster", "--right", "top=3@90", "--want", "caster_left_deg=now")
    document = chosen(capsys, *options, "--sides", "each")
    scenario = scenarios.load(coarse)
    assert document["from"] == "as given"
    fitted = document["present"]["setting"]
    assert fitted["right"]["top_clock_deg"] == 90.0
    assert fitted["right"]["bottom_clock_deg"] == fitted["left"]["bottom_clock_deg"] == 180.0
    base = scenario.settings["less-caster"]
    right = replace(base.right, top_offset=bush_offset(np.radians(3.0), 66.0), top_clock=np.radians(90.0))
    now = sweep(scenario.kart, replace(base, right=right), 0.0).left.caster
    assert document["targets"][0]["now"] == pytest.approx(float(np.degrees(now)))
    assert "Keep the present setting in the scenario file" in printed(capsys, "choose", *options)


def test_counts_in_the_box_are_kept_to(capsys, tmp_path):
    text = stepped(45.0)
    (tmp_path / "one.toml").write_text(
        text.replace("rated_deg = 3.0\ncount = 4", "rated_deg = 3.0\ncount = 1")
    )
    document = chosen(capsys, str(tmp_path / "one.toml"), "--want", "caster_left_deg=18", "--limit", "40")
    assert document["candidates"]
    assert all("3 deg" not in candidate["parts"] for candidate in document["candidates"])
    alone = chosen(capsys, str(tmp_path / "one.toml"), "--want", "caster_left_deg=18", "--sides", "left")
    assert alone["candidates"][0]["parts"] == {"2 deg": 1, "3 deg": 1}


def test_csv_and_text_tell_the_candidates_of_the_json(capsys, coarse):
    options = (coarse, "--want", "caster_left_deg=13", "--want", "scrub_left_mm=..111", "--limit", "3")
    document = chosen(capsys, *options)
    rows = list(csv.DictReader(io.StringIO(printed(capsys, "choose", *options, "--csv", "-"))))
    assert len(rows) == len(document["candidates"])
    for row, candidate in zip(rows, document["candidates"], strict=True):
        assert float(row["caster_left_deg"]) == candidate["values"][0]
        assert float(row["scrub_left_mm, missed by"]) == candidate["missed_by"][1]
        assert float(row["left_top_offset_mm"]) == candidate["setting"]["left"]["top_offset_mm"]
    text = printed(capsys, "choose", *options, "--tables")
    for number, candidate in enumerate(document["candidates"], 1):
        line = next(line for line in text.splitlines() if re.match(rf" *{number}  +\d+\.\d\d  ", line))
        assert f"{candidate['values'][0]:.2f}" in line.split()
    assert document["trade_off"]["objectives"] == ["caster_deg", "scrub_mm"]
    assert document["trade_off"]["candidates"]


def test_the_setting_to_paste_is_the_candidate(capsys, coarse, tmp_path):
    options = (coarse, "--want", "caster_left_deg=14", "--sides", "each", "--pick", "2")
    candidate = chosen(capsys, *options)["candidates"][1]
    text = printed(capsys, "choose", *options, "--keep-as", "my pick")
    snippet = text[text.index('[setting."my pick"]') : text.index("To print")]
    pasted = (tmp_path / coarse).read_text() + snippet
    assert tomllib.loads(snippet)["setting"]["my pick"]["left"]
    (tmp_path / "pasted.toml").write_text(pasted)
    scenario = scenarios.load("pasted.toml")
    caster = float(np.degrees(sweep(scenario.kart, scenario.settings["my pick"], 0.0).left.caster))
    assert caster == pytest.approx(candidate["values"][0], abs=1e-6)


def test_the_sheet_that_is_offered_can_be_printed(capsys, coarse, tmp_path):
    text = printed(capsys, "choose", coarse, "--want", "camber_left_deg=-1", "--from", "less-caster")
    [words] = [line for line in command_lines(text) if line[0] == "sheet"]
    words[words.index("sheet.pdf")] = "sheet.html"
    assert cli.main(words) == 0
    assert "as given" in (tmp_path / "sheet.html").read_text()


def test_a_terminal_sees_the_search_go_on(capsys, coarse, monkeypatch):
    monkeypatch.setattr(sys.stderr, "isatty", lambda: True, raising=False)
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.setattr("viz.words.progress.SILENT", 0.0)
    assert cli.main(["choose", coarse, "--want", "caster_left_deg=13"]) == 0
    captured = capsys.readouterr()
    assert "bush pairs" in captured.err
    assert captured.out.startswith("Training kart")
