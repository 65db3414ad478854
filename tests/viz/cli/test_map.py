"""`lockarc map`: points, marks and candidates against the solver, and what is refused."""

import csv
import io
import json
from dataclasses import replace

import numpy as np
import pytest

import scenarios
from kinematics.change.rods import with_rods_kept
from kinematics.choose.box import with_row
from kinematics.lock import sweep
from kinematics.parts import Setting
from kinematics.standing.stand import inside_rear_load, stand
from tests.helpers.command import TABLE_WIDTH, printed, refused
from tests.helpers.reading import case_columns, case_figures, columns, jacking_figures
from viz.cli import main as cli

LOAD = "inside_rear_load_n@30@slow corner"


def mapped(capsys, *arguments):
    return json.loads(printed(capsys, "map", *arguments, "--json", "-"))


def rows_of(points, some=slice(None)):
    names = ("top_offset_mm", "top_clock_deg", "bottom_offset_mm", "bottom_clock_deg")
    rows = np.array([points[name] for name in names]).T[some]
    rows[:, 1::2] = np.radians(rows[:, 1::2])
    return rows


def test_points_are_where_the_solver_puts_them(capsys, coarse):
    document = mapped(capsys, coarse, "--colour", "wheel_drop_left_mm@40")
    points, scenario = document["points"], scenarios.load(coarse)
    assert len(points["value"]) == document["pairs"] == 1089
    base = scenario.settings["as-delivered"]
    toe = sweep(scenario.kart, base, 0.0).left.ahead[2]
    corner = with_row(base.left, rows_of(points))
    corner = replace(corner, rod_length=None, rod_toe=toe)
    full = sweep(scenario.kart, Setting(corner, corner), np.radians([0.0, 40.0]))
    assert np.allclose(points["caster_deg"], np.degrees(full.left.caster), rtol=0, atol=1e-6)
    assert np.allclose(points["camber_deg"], np.degrees(full.left.camber[:, 0]), rtol=0, atol=1e-6)
    assert np.allclose(points["value"], full.left.wheel_drop[:, 1], rtol=0, atol=1e-6)


def test_a_right_corner_alone_with_its_rods_left_alone(capsys, coarse):
    options = ("--sides", "right", "--rods", "alone", "--from", "more-caster", "--colour", LOAD)
    document = mapped(capsys, coarse, *options)
    scenario, some = scenarios.load(coarse), slice(0, None, 97)
    base = scenario.settings["more-caster"]
    right = with_row(base.right, rows_of(document["points"], some))
    kept = with_rods_kept(sweep(scenario.kart, base, 0.0), replace(base, right=right))
    full = sweep(scenario.kart, kept, np.radians([0.0, 30.0]))
    [case] = [c for c in scenario.load_cases if c.name == "slow corner"]
    load = inside_rear_load(full, stand(full, case))[:, 1]
    points = document["points"]
    assert np.allclose(points["camber_deg"][some], np.degrees(full.right.camber[:, 0]), rtol=0, atol=1e-6)
    assert np.allclose(points["value"][some], load, rtol=0, atol=0.01)
    assert document["corner"] == "right"


def test_marks_are_the_settings_as_they_are_and_the_candidates_of_choose(capsys, coarse):
    wants = ("--want", "caster_left_deg=now+1", "--want", "camber_left_deg=-1")
    marks = mapped(capsys, coarse, "--colour", LOAD, *wants)["marks"]
    scenario = scenarios.load(coarse)
    kinds = {mark["name"]: mark["kind"] for mark in marks}
    assert kinds["as-delivered"] == "present"
    assert [name for name, kind in kinds.items() if kind == "setting"] == list(scenario.settings)[1:]
    [case] = [c for c in scenario.load_cases if c.name == "slow corner"]
    for mark in marks:
        if mark["kind"] == "candidate":
            continue
        full = sweep(scenario.kart, scenario.settings[mark["name"]], np.radians([0.0, 30.0]))
        named = {**columns(full, 280.0), **case_columns(full, case)}
        assert mark["caster_deg"] == pytest.approx(float(np.degrees(full.left.caster)), abs=1e-6)
        assert mark["camber_deg"] == pytest.approx(named["camber_left_deg"].values[0], abs=1e-6)
        assert mark["value"] == pytest.approx(named["inside_rear_load_n"].values[1], abs=0.01)
    choices = json.loads(printed(capsys, "choose", coarse, *wants, "--limit", "3", "--json", "-"))
    best = [choices["candidates"][n - 1]["values"] for n in choices["best"]]
    shown = [[m["caster_deg"], m["camber_deg"]] for m in marks if m["kind"] == "candidate"]
    assert np.allclose(shown, best, rtol=0, atol=1e-6)


def test_csv_holds_the_points_of_the_json_and_text_their_ends(capsys, coarse, tmp_path):
    options = (coarse, "--colour", "ackermann_percent@30", "--mark", "less-caster")
    points = mapped(capsys, *options)["points"]
    text = printed(capsys, "map", *options, "--csv", "points.csv")
    rows = list(csv.DictReader(io.StringIO((tmp_path / "points.csv").read_text())))
    assert [float(row["ackermann_percent at handwheel 30 deg"]) for row in rows] == points["value"]
    assert [float(row["camber_deg"]) for row in rows] == points["camber_deg"]
    assert f"camber from {min(points['camber_deg']):.2f} to {max(points['camber_deg']):.2f} deg" in text
    assert f"least {min(points['value']):.0f} with" in text
    assert "less-caster: caster 8.94 deg" in text
    assert "camber-and-caster" not in text
    assert max(map(len, text.splitlines())) <= TABLE_WIDTH


@pytest.mark.parametrize(
    "figure",
    [
        "lift_off_steer_left_deg@fast corner",
        "jacking_rate_left_mm_per_deg",
        "jacking_rate_left_n_per_deg@standing",
    ],
)
def test_figures_of_a_turn_colour_the_map(capsys, coarse, figure):
    document = mapped(capsys, coarse, "--colour", figure)
    scenario, (name, _, case) = scenarios.load(coarse), figure.partition("@")
    cases = {c.name: c for c in scenario.load_cases}
    for mark in document["marks"]:
        setting = scenario.settings[mark["name"]]
        told = jacking_figures(scenario.kart, setting)
        if case:
            told = case_figures(scenario.kart, setting, cases[case], 0.0)
        expected = float(told[name].values) if told[name].known else None
        assert mark["value"] == (None if expected is None else pytest.approx(expected, abs=1e-6))
    assert (None in document["points"]["value"]) == name.startswith("lift_off")
    assert document["figure"]["unit"] in ("deg", "mm/deg", "N/deg")


def test_what_has_no_value_is_null_and_what_cannot_stand_is_left_out(capsys, coarse, tmp_path):
    short = "[setting.short]\n[setting.short.both]\ntie_rod_length_mm = 100.0\n"
    (tmp_path / "short.toml").write_text((tmp_path / coarse).read_text() + short)
    document = mapped(capsys, "short.toml", "--colour", "ackermann_percent@0")
    assert document["cannot_stand"] == ["short"]
    assert "short" not in [mark["name"] for mark in document["marks"]]
    assert set(document["points"]["value"]) == {None}
    text = printed(capsys, "map", "short.toml", "--colour", "ackermann_percent@0", "--csv", "x.csv")
    assert "short: cannot stand straight ahead and is not marked" in text
    assert "nan" not in text.lower() + (tmp_path / "x.csv").read_text().lower()


@pytest.mark.parametrize(
    ("suffix", "opens"),
    [
        ("svg", b"<?xml"),
        *(pytest.param(*kind, marks=pytest.mark.long) for kind in (("png", b"\x89PNG"), ("pdf", b"%PDF-"))),
    ],
)
def test_the_picture_is_what_its_suffix_says(coarse, tmp_path, suffix, opens):
    place = tmp_path / f"map.{suffix}"
    assert cli.main(["map", coarse, "--plot", str(place), "--dark"]) == 0
    assert place.read_bytes().startswith(opens)


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ([], "map needs --plot FILE, --json FILE or --csv FILE"),
        (["--plot", "x.bmp"], "must end in one of .png, .svg, .pdf"),
        (["--plot", "none/x.png"], "the folder"),
        (["--csv", "x.csv", "--dark"], "--dark needs --plot"),
        (["--csv", "-", "--json", "-"], "would overwrite"),
        (["--csv", "x.csv", "--colour", "wheel_drp_left_mm@3"], "did you mean 'wheel_drop_left_mm'"),
        (["--csv", "x.csv", "--colour", "camber_left_deg@80"], "is beyond the stop at 75 deg"),
        (
            ["--csv", "x.csv", "--colour", "camber_left_deg@wide"],
            "'wide' in 'camber_left_deg@wide' is not a number",
        ),
        (["--csv", "x.csv", "--colour", "inside_rear_load_n@8"], "name the load case"),
        (["--csv", "x.csv", "--colour", "inside_rear_load_n@8@slow"], "did you mean 'slow corner'"),
        (["--csv", "x.csv", "--mark", "mor-caster"], "did you mean 'more-caster'?"),
        (["--csv", "x.csv", "--from", "mor-caster"], "did you mean 'more-caster'?"),
        (["--csv", "x.csv", "--want", "caster_left_deg=3..2"], "impossible range"),
        (["--csv", "x.csv", "--limit", "9"], "9 must be at least 1 and at most 8"),
        (["--csv", "x.csv", "--both", "rod=100"], "its tie rods cannot be joined straight ahead"),
        (["empty.toml", "--csv", "x.csv"], "kit.bush: the box is empty"),
    ],
)
def test_refusals_are_one_line_and_write_nothing(capsys, coarse, tmp_path, arguments, said):
    text = scenarios.builtin_text("training-kart")
    (tmp_path / "empty.toml").write_text(text[: text.index("[kit]")] + text[text.index("# SETTINGS") :])
    arguments = arguments if arguments and arguments[0].endswith(".toml") else [coarse, *arguments]
    assert said in refused(capsys, "map", *arguments)
    assert sorted(p.name for p in tmp_path.iterdir()) == [coarse, "empty.toml"]
