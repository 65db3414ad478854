"""`lockarc clocks`: its clocks against the forward chain, what it says out of reach, the lines it prints."""

import json
import re
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import Phase, given
from hypothesis import strategies as st

import scenarios
from kinematics.change.rods import with_rods_kept
from kinematics.corner.bush import bush_offset
from kinematics.lock import sweep
from scenarios.ask.clocks import clocks
from scenarios.ask.typed import size_text
from scenarios.kit import bushes
from tests.helpers.command import printed, refused
from tests.helpers.cost.depth import deep
from tests.helpers.kits import SIZES, karts
from tests.helpers.scenario_edit import scenario
from tests.helpers.typed_again import assert_same_bushes, command_lines, meant, said

FREE = {"kit.clock_step_deg": 0.0}
LEANING = {**FREE, "setting.less-caster.rear_axle_shift_mm": 12.0, "right.yoke.span_mm": 68.5}


def corner(kart, setting, side):
    return getattr(sweep(kart, setting, 0.0), side)


def asked(made, present, side, top, bottom, caster, inclination=None):
    return clocks(made, present, side, [size_text(top), size_text(bottom)], caster, inclination)


def rows(text):
    """The table's rows by their first word: top, bottom, caster, inclination, camber, toe."""
    found = {}
    for line in text.splitlines():
        cells = re.split(r"\s{2,}", line.strip())
        if len(cells) == 7 and cells[0] != "#":
            found[cells[0]] = cells[1:3] + [float(cell) if cell != "-" else None for cell in cells[3:]]
    return found


@pytest.mark.parametrize("side", ["left", "right"])
@pytest.mark.parametrize("present", ["as-delivered", "less-caster"])
@pytest.mark.parametrize("inclination", [None, 9.3])
def test_both_pairs_of_clocks_give_the_angles_asked_for(side, present, inclination):
    made = scenario(LEANING)
    kart, base = made.kart, made.settings[present]
    now = np.degrees(corner(kart, base, side).kingpin_inclination)
    found = asked(made, present, side, "2.5", "2.3mm", 13.4, inclination)
    assert found.exact
    assert found.reach is None
    assert len(found.answers) == 2
    for answer in found.answers:
        solved = corner(kart, answer.setting, side)
        assert np.degrees(solved.caster) == pytest.approx(13.4, abs=1e-9)
        wanted = now if inclination is None else inclination
        assert np.degrees(solved.kingpin_inclination) == pytest.approx(float(wanted), abs=1e-9)
        assert answer.caster == pytest.approx(13.4, abs=1e-9)
        assert answer.camber == pytest.approx(float(np.degrees(solved.ahead[1])), abs=1e-9)
        toe = corner(kart, base, side).ahead[2]
        assert float(solved.ahead[2]) == pytest.approx(float(toe), abs=1e-9)  # set again as it was
        alone = corner(kart, with_rods_kept(sweep(kart, base, 0.0), answer.setting), side)
        assert answer.toe_alone == pytest.approx(float(np.degrees(alone.ahead[2])), abs=1e-9)
        fitted = getattr(answer.setting, side)
        assert float(fitted.top_offset) == pytest.approx(
            float(bush_offset(np.radians(2.5), getattr(kart, side).yoke.span))
        )
        assert float(fitted.bottom_offset) == 2.3
        other = "right" if side == "left" else "left"
        assert getattr(answer.setting, other).top_offset == getattr(base, other).top_offset
    clock = [[bush.clock_deg for bush in answer.bushes] for answer in found.answers]
    assert np.abs(np.subtract(*clock)).max() > 1.0


def test_on_the_kits_step_none_is_nearer(capsys):
    found = asked(scenario(), "as-delivered", "left", "2", "3", 13.3)
    kart, base = scenario().kart, scenario().settings["as-delivered"]
    grid = np.radians(np.arange(0.0, 360.0, 15.0))
    offsets = [float(bush_offset(np.radians(size), 66.0)) for size in (2.0, 3.0)]
    every = replace(
        base.left,
        top_offset=offsets[0],
        top_clock=grid[:, None],
        bottom_offset=offsets[1],
        bottom_clock=grid[None, :],
    )
    solved = sweep(kart, replace(base, left=every), 0.0).left
    wanted = corner(kart, found.answers[0].setting, "left").seated.k
    off = np.linalg.norm(solved.seated.k - wanted, axis=-1)
    nearest = [np.linalg.norm(corner(kart, one.setting, "left").seated.k - wanted) for one in found.on_step]
    assert len(nearest) == 2
    assert nearest[0] == pytest.approx(off.min(), abs=1e-9)
    assert all(bush.clock_deg % 15.0 == 0.0 for one in found.on_step for bush in one.bushes)
    table = rows(printed(capsys, "clocks", "--caster", "13.3", "--top", "2", "--bottom", "3"))
    assert list(table) == ["now", "1", "2", "3", "4"]
    for row, one in zip(list(table.values())[3:], found.on_step, strict=True):
        assert row[:2] == [str(bush) for bush in one.bushes]
        assert row[2:] == pytest.approx([one.caster, one.inclination, one.camber, one.toe_alone], abs=0.005)


def test_out_of_reach_the_nearest_and_the_range_are_told(capsys):
    found = asked(scenario(FREE), "as-delivered", "left", "3", "1", 17.0, 11.0)
    assert not found.exact
    assert found.reach is not None
    [answer] = found.answers
    kart, grid = scenario().kart, np.radians(np.arange(0.0, 360.0, 1.0))
    every = replace(answer.setting.left, top_clock=grid[:, None], bottom_clock=grid[None, :])
    solved = sweep(kart, replace(answer.setting, left=every), 0.0).left
    caster, inclination = np.degrees(solved.caster), np.degrees(solved.kingpin_inclination)
    ideal = np.array([-np.tan(np.radians(17.0)), -np.tan(np.radians(11.0)), 1.0])
    miss = np.linalg.norm(solved.seated.k - ideal / np.linalg.norm(ideal), axis=-1)
    at = np.unravel_index(miss.argmin(), miss.shape)
    assert answer.caster == pytest.approx(caster[at], abs=0.05)
    assert answer.inclination == pytest.approx(inclination[at], abs=0.05)
    level = np.abs(inclination - 11.0) < 0.02
    [low, *_], [*_, high] = found.reach.caster[0], found.reach.caster[-1]
    assert [low, high] == pytest.approx([caster[level].min(), caster[level].max()], abs=0.02)
    assert found.reach.inclination == []
    assert found.reach.any_caster == pytest.approx((caster.min(), caster.max()), abs=0.01)
    text = printed(capsys, "clocks", "--caster", "17", "--inclination", "11", "--top", "3", "--bottom", "1")
    said_of = " ".join(text.split())
    assert "1 deg: out of their reach; nearest is" in said_of
    assert f"caster {low:.2f} to" in said_of
    assert (
        f"{high:.2f}; at that caster, no inclination; in all, caster {found.reach.any_caster[0]:.2f}"
        in said_of
    )
    assert "these bushes lean it by 2.00 to 4.00 deg." in said_of


def test_where_only_the_inclination_cannot_be_kept_the_caster_is_had_with_the_nearest(capsys):
    found = asked(scenario(FREE), "as-delivered", "right", "2", "0", 13.0)
    assert not found.exact
    assert [answer.caster for answer in found.answers] == pytest.approx([13.0, 13.0], abs=1e-9)
    assert [answer.inclination for answer in found.answers] == pytest.approx([8.40, 11.58], abs=0.01)
    assert found.reach.inclination == [(answer.inclination,) * 2 for answer in found.answers] or np.allclose(
        found.reach.inclination, [[answer.inclination] * 2 for answer in found.answers]
    )
    text = printed(capsys, "clocks", "--caster", "13", "--top", "2", "--bottom", "0", "--side", "right")
    assert "they give that caster, but not that inclination; nearest" in " ".join(text.split())
    typed = asked(scenario(FREE), "as-delivered", "right", "2", "0", 13.0, 10.0)
    assert [answer.inclination for answer in typed.answers] == pytest.approx(
        [10.0], abs=0.05
    )  # asked for: kept first
    near = asked(scenario(), "as-delivered", "left", "2", "1", 13.0)
    [answer], [stepped] = near.answers, near.on_step
    assert [bush.clock_deg for bush in answer.bushes] == pytest.approx([178.6, 178.6], abs=0.1)
    assert [str(bush) for bush in stepped.bushes] == ["2 deg @ 180", "1 deg @ 180"]
    assert list(near.fitting) == [2]


def test_equal_bushes_at_any_common_clock(capsys):
    text = printed(capsys, "clocks", "--caster", "12", "--top", "2", "--bottom", "2deg")
    assert "any clock gives it, both bushes at the same, to a few hundredths." in " ".join(text.split())
    table = rows(text)
    assert list(table) == ["now", "1"]
    assert table["1"][2:4] == pytest.approx([12.0, 10.0], abs=0.03)  # the shifted axis leans the frame


def test_it_answers_first_within_eighty_columns(capsys):
    text = printed(capsys, "clocks", "--caster", "13", "--top", "2", "--bottom", "2", "--from", "more-caster")
    lines = text.splitlines()
    assert lines[0].startswith("13 deg of caster and 10.00 deg of inclination as now, left corner")
    assert lines[1].endswith("two pairs of clocks give it.")
    assert rows(text)["now"][:2] == ["2 deg @ 180", "1 deg @ 0"]
    assert max(len(line) for line in lines if "lockarc" not in line) <= 80
    assert lines[-1].startswith("Kart on stands")
    assert all(words[words.index("--based-on") + 1] == "more-caster" for words in command_lines(text)[::2])
    wide = said("clocks", "--caster", "13.25", "--top", "1.234567", "--bottom", "2.345678mm")[0]
    told = [cell.partition(" @ ")[0] for cell in rows(wide)["1"][:2]]
    assert told == ["1.23457 deg", "2.34568 mm"]  # no two cells touch
    assert max(len(line) for line in wide.splitlines() if "lockarc" not in line) <= 80


def test_a_bush_that_the_kit_lacks_is_warned_of():
    _, warned = said("clocks", "--caster", "13", "--top", "2.3", "--bottom", "1.5mm", "--side", "right")
    assert warned.splitlines() == [
        "lockarc: warning: right top bush of 2.3 deg is not in the kit",
        "lockarc: warning: right bottom bush of 1.5 mm is not in the kit",
    ]
    assert said("clocks", "--caster", "13", "--top", "2", "--bottom", "0")[1] == ""


def test_from_parts_typed_in_an_earlier_run_it_prints_no_command(capsys, tmp_path):
    run = str(tmp_path / "run.json")
    printed(capsys, "sweep", "--both", "top=1@90", "--json", run)
    text = printed(
        capsys, "clocks", run, "--from", "as given", "--caster", "13", "--top", "2", "--bottom", "2"
    )
    assert rows(text)["now"][:2] == ["1 deg @ 90", "0 deg"]
    assert command_lines(text) == []
    assert "Keep the present setting in the scenario file" in text


@pytest.mark.parametrize(
    ("arguments", "text"),
    [
        (["--top", "2", "--bottom", "1"], "required: --caster"),
        (["--caster", "13", "--top", "2"], "required: --bottom"),
        (["--caster", "a lot", "--top", "2", "--bottom", "1"], "'a lot' is not a number"),
        (["--caster", "nan", "--top", "2", "--bottom", "1"], "not a finite number"),
        (
            ["--caster", "60", "--top", "2", "--bottom", "1"],
            "--caster 60 deg: must be at least -45 and at most 45 deg",
        ),
        (["--caster", "13", "--inclination", "-50", "--top", "2", "--bottom", "1"], "--inclination -50 deg"),
        (["--caster", "13", "--top", "2in", "--bottom", "1"], "'in' is not deg or mm"),
        (["--caster", "13", "--top", "2@90", "--bottom", "1"], "'@90' is not deg or mm"),
        (["--caster", "13", "--top", "20", "--bottom", "1"], "left.top_rated_deg = 20 deg: must be"),
        (["--caster", "13", "--top", "2", "--bottom=-1mm"], "left.bottom_offset_mm = -1 mm"),
        (["--caster", "13", "--top", "2", "--bottom", "17mm"], "below a quarter of the yoke's span"),
        (["--caster", "13", "--top", "0", "--bottom", "0mm"], "two concentric bushes have no clocks"),
        (["--caster", "13", "--top", "2", "--bottom", "1", "--from", "nope"], "setting 'nope' is unknown"),
        (["--caster", "13", "--top", "2", "--bottom", "1", "--side", "both"], "there are: left, right"),
        (["gone.toml", "--caster", "13", "--top", "2", "--bottom", "1"], "gone.toml: no such file"),
    ],
)
def test_refusals_are_one_line(capsys, arguments, text):
    assert text in refused(capsys, "clocks", *arguments)


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    return tmp_path_factory.mktemp("clocks")


@st.composite
def sizes_typed(draw, mapping):
    """A size as it is typed: one of the kit's, or any other."""
    listed = [next((k, b[k]) for k in SIZES if k in b) for b in mapping["kit"]["bush"]]
    key, number = draw(
        st.sampled_from([*listed, ("rated_deg", 1.73), ("offset_mm", 2.05), ("rated_deg", 0.0)])
    )
    return f"{number!r}{'mm' if key == 'offset_mm' else draw(st.sampled_from(['', 'deg']))}"


def answered(*typed):
    """What the command asks, the answer it has, and what it prints of it."""
    kept = []

    def keeping(*question):
        kept.append((question, clocks(*question)))
        return kept[0][1]

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("scenarios.ask.clocks.clocks", keeping)
        text, _ = said(*typed)
    [(question, answer)] = kept
    return question, answer, text


@pytest.mark.slow
@given(st.data())
@deep(5, 60, phases=[Phase.generate])
def test_every_line_it_prints_means_an_answers_bushes(folder, data):
    mapping = data.draw(karts())
    place, side = folder / "a kart.json", data.draw(st.sampled_from(["left", "right"]))
    place.write_text(json.dumps(mapping))
    top, bottom = data.draw(sizes_typed(mapping)), data.draw(sizes_typed(mapping))
    if float(re.sub("[a-z]", "", top)) == float(re.sub("[a-z]", "", bottom)) == 0.0:
        top = "1.3mm"
    caster = round(data.draw(st.floats(9.0, 15.0)), 2)
    typed = ("--caster", str(caster), "--top", top, "--bottom", bottom, "--side", side)
    (made, *question), found, text = answered("clocks", str(place), *typed)
    assert question == ["as it is", side, (size_text(top), size_text(bottom)), caster, None]
    assert made.digest == scenarios.load(place).digest
    lines = command_lines(text)
    assert [words[0] for words in lines] == ["sweep", "sheet"] * len(found.fitting)
    for answer, *both in zip(found.fitting.values(), lines[::2], lines[1::2], strict=True):
        for words in both:
            again = meant(words)
            assert again.present == "as it is"
            assert_same_bushes(again.setting, answer.setting)
            told = [str(bushes(again.scenario.kit, again.setting)[side, at].size) for at in ("top", "bottom")]
            assert told == [str(bush.size) for bush in answer.bushes]
            solved = corner(again.scenario.kart, again.setting, side)
            axis = corner(again.scenario.kart, answer.setting, side).seated.k
            assert np.abs(solved.seated.k - axis).max() < 1e-6  # its rods are left alone, and so the lean
        swept = corner(found.scenario.kart, meant(both[0]).setting, side)
        if answer.camber is not None:
            assert float(np.degrees(swept.ahead[1])) == pytest.approx(answer.camber, abs=0.01)
