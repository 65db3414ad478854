"""`lockarc compare`: figures, work and curves against the solver, three ways of leaving the kart."""

import csv
import io
import json
import re

import numpy as np
import pytest

import scenarios
from kinematics.change.rods import with_rods_kept, with_rods_reset, with_spacers_moved
from kinematics.drive.rear_axle import AxleGrip
from kinematics.lock import sweep
from kinematics.standing.readings import readings
from tests.helpers.command import TABLE_WIDTH, printed, refused
from tests.helpers.reading import case_columns, case_figures, columns, headline
from tests.helpers.rods import turned_rods
from viz.cli import main as cli
from viz.tables.compare import UPSET
from viz.words import cautions
from viz.words.numbers import number, signed

SETTING, BASE = "more-caster", "as-delivered"
FEW = ("--lock", "-40", "40", "--positions", "5", "--case", "slow corner")

UNSURE = ("--sure", "none")


@pytest.fixture(scope="module")
def scenario():
    return scenarios.load()


def compared(capsys, *arguments):
    return json.loads(printed(capsys, "compare", *arguments, *UNSURE, "--json", "-"))


@pytest.fixture
def one(capsys):
    return compared(capsys, "--setting", SETTING, *FEW)


def ways(scenario, entry):
    """The three ways of leaving the kart, built plainly from the base and what the document says."""
    kart, base, setting = scenario.kart, scenario.settings[BASE], scenario.settings[entry["name"]]
    ahead = sweep(kart, base, 0.0)
    kept, reset = with_rods_kept(ahead, setting), with_rods_reset(ahead, setting)
    moves = entry["spacers_mm"]
    return {
        "alone": kept,
        "reset": reset,
        "spacers": with_spacers_moved(reset, moves["left"], moves["right"]),
    }


def figures(scenario, setting):
    return headline(sweep(scenario.kart, setting, 0.0), 280.0)


def test_headline_figures_and_differences_are_the_solvers(scenario, one):
    [entry] = one["settings"]
    base = figures(scenario, scenario.settings[BASE])
    for way, setting in ways(scenario, entry).items():
        for name, figure in figures(scenario, setting).items():
            told = entry["left_as"][way]["figures"][name]
            if not figure.known:
                assert told == {"base": None, "now": None, "change": None}
                continue
            assert told["base"] == pytest.approx(float(base[name].values), abs=1e-9)
            assert told["now"] == pytest.approx(float(figure.values), abs=1e-9)
            assert told["change"] == pytest.approx(told["now"] - told["base"], abs=1e-12)
    assert entry["left_as"]["alone"]["figures"]["toe_left_deg"]["change"] == pytest.approx(0.33, abs=0.01)
    assert entry["left_as"]["reset"]["figures"]["toe_left_deg"]["change"] == pytest.approx(0.0, abs=1e-9)


def test_curves_and_load_cases_are_the_solvers(scenario, one):
    [entry] = one["settings"]
    [case] = [c for c in scenario.load_cases if c.name == "slow corner"]
    lock = np.radians(one["handwheel_deg"])
    before = sweep(scenario.kart, scenario.settings[BASE], lock)
    for way, setting in ways(scenario, entry).items():
        full, told = sweep(scenario.kart, setting, lock), entry["left_as"][way]
        in_case = told["cases"][0]
        axle, trail = scenario.rear_axle, scenario.pneumatic_trail_mm
        grip = AxleGrip(axle.friction_ratio, axle.longitudinal_stiffness_n_per_n)
        for solver, base, shown in (
            (columns(full, 280.0), columns(before, 280.0), told["columns"]),
            (
                case_columns(full, case, trail, grip),
                case_columns(before, case, trail, grip),
                in_case["columns"],
            ),
        ):
            for name in shown:
                known = solver[name].known & base[name].known
                assert [v is not None for v in shown[name]["now"]] == known.tolist()
                now = [v for v in shown[name]["now"] if v is not None]
                change = [v for v in shown[name]["change"] if v is not None]
                assert np.allclose(now, solver[name].values[known], rtol=0, atol=1e-6)
                assert np.allclose(
                    change, (solver[name].values - base[name].values)[known], rtol=0, atol=1e-6
                )
        heads = case_figures(scenario.kart, setting, case, np.radians(40.0))
        lift = in_case["figures"]["lift_off_handwheel_left_deg"]["now"]
        assert lift == pytest.approx(float(heads["lift_off_handwheel_left_deg"].values), abs=1e-6)


def test_corner_weights_and_ride_height_are_those_of_the_scales(scenario, one):
    [entry] = one["settings"]
    for way, setting in ways(scenario, entry).items():
        stands = readings(scenario.kart, setting, 0.0)
        told = entry["left_as"][way]["figures"]
        places = ("front_left", "front_right", "rear_left", "rear_right")
        assert [told[f"load_{p}_n"]["now"] for p in places] == pytest.approx(
            stands.loads[0].tolist(), abs=1e-4
        )
        ride = told["ride_height_change_front_mm"]["now"]
        assert ride == pytest.approx(float(stands.ride_front[0]), abs=1e-5)
        loads = stands.loads[0]
        cross = 100.0 * (loads[1] + loads[2]) / loads.sum()
        assert told["cross_weight_percent"]["now"] == pytest.approx(cross, abs=1e-5)


@pytest.mark.parametrize("arguments", [(), ("bent-right-stub",)])
def test_the_turns_told_give_the_toe_back(capsys, arguments):
    document = compared(capsys, *arguments, *FEW[:5])
    scenario = scenarios.load(*arguments)
    kart, base = scenario.kart, scenario.settings[document["base"]]
    toes = sweep(kart, base, 0.0)
    for entry in document["settings"]:
        setting = scenario.settings[entry["name"]]
        kept = with_rods_kept(toes, setting)
        moved = with_spacers_moved(kept, *(entry["spacers_mm"][s] for s in ("left", "right")))
        for start, rods in ((kept, entry["tie_rods"]), (moved, entry["tie_rods_after_spacers"])):
            turns = [rods[side]["turns"] for side in ("left", "right")]
            after = sweep(kart, turned_rods(kart, start, *turns, scenario.thread_pitch_mm), 0.0)
            for side in ("left", "right"):
                wanted = getattr(setting, side).rod_toe
                wanted = getattr(toes, side).ahead[2] if wanted is None else wanted
                assert abs(np.degrees(getattr(after, side).ahead[2] - wanted)) < 0.001
                word = rods[side]["direction"]
                assert word == ("lengthen" if rods[side]["turns"] > 0.0 else "shorten")


def test_text_tells_the_numbers_of_the_json(capsys):
    text = printed(capsys, "compare", "--setting", "less-caster", *FEW, *UNSURE, "--tables", "--wide")
    [entry] = compared(capsys, "--setting", "less-caster", *FEW)["settings"]
    lines = text[text.index("What it upsets") :].splitlines()[1:]
    for address, line in zip(UPSET, lines, strict=False):
        label, unit, *cells = re.split(r" {2,}", line)
        assert label == f"{address.figure.label} {address.side}".strip().replace("_", " ")
        assert unit == address.figure.unit.text
        digits = address.figure.digits
        each = [entry["left_as"][way]["figures"][address.name] for way in ("alone", "reset", "spacers")]
        wanted = [number(each[0]["base"], digits)]
        for figure in each:
            wanted += [number(figure["now"], digits), signed(figure["change"], digits)]
        assert cells == wanted
    rods = entry["tie_rods"]["left"]
    assert f"left tie rod: lengthen by {rods['turns']:.2f} turns" in " ".join(text.split())
    camber = entry["left_as"]["reset"]["columns"]["camber_left_deg"]["change"]
    through = text[text.index("Through lock, toe re-set") :].splitlines()[4:9]
    assert [float(line.split()[3]) for line in through] == pytest.approx(camber, abs=0.006)
    load = entry["left_as"]["reset"]["cases"][0]["columns"]["inside_rear_load_n"]["now"]
    rows = text[text.index("Inside rear load (N)") :].splitlines()[4:9]
    assert [float(line.split()[1]) for line in rows] == pytest.approx(load, abs=0.6)


@pytest.mark.parametrize("name", scenarios.builtin_names())
def test_every_built_in_scenario_fits_the_width(capsys, name):
    others = [n for n in scenarios.load(name).settings if n != scenarios.load(name).default_setting]
    if not others:
        assert "there is no other setting" in refused(capsys, "compare", name)
        return
    text = printed(
        capsys, "compare", name, "--lock", "-20", "20", "--positions", "3", "--case", "standing", "--tables"
    )
    assert max(map(len, text.splitlines())) <= TABLE_WIDTH
    assert all(f"\n{other}" in text for other in others)


def test_more_settings_than_fit_abreast_make_a_second_block(capsys):
    text = printed(
        capsys,
        "compare",
        "--tables",
        "--both",
        "top=3@90,bottom=3@270",
        *FEW[:5],
        "--case",
        "standing",
        *(part for n in ("more-caster", "less-caster", "camber-and-caster") for part in ("--setting", n)),
    )
    head = text[: text.index("more-caster:")]
    assert sum(line.startswith("caster left") for line in head.splitlines()) == 2
    assert max(map(len, text.splitlines())) <= TABLE_WIDTH


def test_csv_holds_the_columns_of_the_json(capsys, one):
    text = printed(capsys, "compare", "--setting", SETTING, *FEW, *UNSURE, "--csv", "-")
    rows = list(csv.DictReader(io.StringIO(text)))
    assert [(row["setting"], row["left_as"]) for row in rows[::5]] == [
        (BASE, "base"),
        *((SETTING, way) for way in ("alone", "reset", "spacers")),
    ]
    [entry] = one["settings"]
    for way, start in (("alone", 5), ("reset", 10), ("spacers", 15)):
        told = entry["left_as"][way]
        for name, shown in (
            ("camber_left_deg", told["columns"]["camber_left_deg"]),
            ("slow corner.inside_rear_load_n", told["cases"][0]["columns"]["inside_rear_load_n"]),
        ):
            mine = rows[start : start + 5]
            assert [float(row[name]) for row in mine] == shown["now"]
            assert [float(row[f"{name}.change"]) for row in mine] == shown["change"]
            base = [float(row[name]) for row in rows[:5]]
            assert np.allclose(np.array(shown["now"]) - shown["change"], base, rtol=0, atol=1e-9)


def test_a_rod_of_a_given_length_is_what_the_turns_end_at(capsys, scenario):
    [entry] = compared(capsys, "--both", "rod=344", *FEW)["settings"]
    length = entry["left_as"]["reset"]["figures"]["rod_length_left_mm"]
    assert length["now"] == pytest.approx(344.0, abs=1e-6)
    assert entry["tie_rods"]["left"]["turns"] == pytest.approx((344.0 - length["base"]) / 2.5, abs=1e-6)


def test_where_a_rod_binds_no_number_is_told(capsys):
    arguments = ("--from", "as given", "--both", "rod=300", "--setting", "as-delivered", "--case", "standing")
    assert "setting 'as given' is unknown" in refused(capsys, "compare", *arguments)
    arguments = ("--both", "rod=300", "--lock", "-60", "60", "--positions", "7", "--case", "standing")
    document = compared(capsys, *arguments)
    curve = document["settings"][0]["left_as"]["reset"]["columns"]["steer_left_deg"]
    assert curve["now"][-1] is None
    assert curve["change"][-1] is None
    assert curve["now"][3] is not None
    text = printed(capsys, "compare", *arguments, "--tables")
    assert "nan" not in text.lower()
    last = text[text.index("Through lock, toe re-set") :].splitlines()[10].split()
    assert last[:2] == ["60.0", "-"]


def test_a_setting_the_kit_cannot_make_is_warned_of(capsys):
    assert cli.main(["compare", "--both", "top=2.3@180", *FEW]) == 0
    assert "2.3 deg is not in the kit" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["--from", "as-deliverd"], "did you mean 'as-delivered'?"),
        (["--setting", "mor-caster"], "did you mean 'more-caster'?"),
        (["--setting", "as-delivered"], "there is no other setting to compare with 'as-delivered'"),
        (["--case", "slow cornr"], "did you mean 'slow corner'?"),
        (["--at", "76"], "--at 76 deg is beyond the mechanical stop of ±75 deg"),
        (["--lock", "-80", "10"], "must lie within the column's stop"),
        (["--rods", "kept"], "'kept' is unknown"),
        (["--both", "rod=100"], "setting 'as given': its tie rods cannot be joined straight ahead"),
        (["--both", "tpo=1@0"], "did you mean 'top'?"),
        (["--plot", "x.bmp"], "must end in one of .png, .svg, .pdf"),
        (["--dark"], "--dark needs --plot"),
        (["--csv", "none/x.csv"], "the folder"),
        (["--csv", "-", "--json", "-"], "would overwrite"),
        (["gone.toml"], "gone.toml: no such file"),
        (["good.toml", "--csv", "good.toml"], "would overwrite the scenario file"),
    ],
)
def test_refusals_are_one_line_and_write_nothing(capsys, monkeypatch, tmp_path, arguments, said):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "good.toml").write_text(scenarios.builtin_text("training-kart"))
    kept = {"--csv", "--json", "--plot", "--dark"} & set(arguments)
    outputs = [] if kept else ["--json", "out.json", "--plot", "out.png", "--csv", "out.csv"]
    assert said in refused(capsys, "compare", *arguments, *outputs)
    assert [p.name for p in tmp_path.iterdir()] == ["good.toml"]


def test_work_is_told_with_its_cautions(capsys):
    assert cli.main(["compare", "--setting", "more-caster", *UNSURE, "--tables"]) == 0
    out = " ".join(capsys.readouterr().out.split())
    assert all(sentence in out for sentence in cautions.WITH_WORK)
