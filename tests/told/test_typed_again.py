"""What a command prints to be typed or pasted means the same bushes, whatever the kit calls them."""

from __future__ import annotations

import json
import re
import tomllib
from dataclasses import replace
from math import radians
from pathlib import Path

import pytest
from hypothesis import Phase, given
from hypothesis import strategies as st

import scenarios
from kinematics.lock import sweep
from kinematics.parts import CornerSetting, Setting
from scenarios.ask.fitting import parts, snippet, typed_corner, work_steps
from scenarios.kit import bushes, kit_warnings, stock, work
from tests.helpers.cost.depth import deep
from tests.helpers.kits import CLOCKS, karts
from tests.helpers.scenario_edit import edited, stepped, tables
from tests.helpers.typed_again import assert_same_bushes, command_lines, meant, said
from viz.words.lines import sheet_line


@st.composite
def candidates(draw):
    """A kart, and a candidate made of bushes from its box and from itself, at any clock."""
    mapping = draw(karts())
    scenario = scenarios.from_mapping(mapping, "kart.json", "kart")
    base = scenario.settings["as it is"]
    fitted = [o for c in (base.left, base.right) for o in (c.top_offset, c.bottom_offset)]
    offset = st.sampled_from([0.0, *(size.offset for size in scenario.kit.sizes), *fitted])
    clock = CLOCKS.map(radians)

    def corner(was):
        pair = (draw(offset), draw(clock), draw(offset), draw(clock))
        return CornerSetting(*pair, rod_toe=was.rod_toe)

    return mapping, scenario, Setting(corner(base.left), corner(base.right))


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    return tmp_path_factory.mktemp("typed")


def in_file(folder: Path, mapping) -> str:
    """The mapping as a scenario file."""
    (folder / "a kart.json").write_text(json.dumps(mapping))
    return str(folder / "a kart.json")


@pytest.mark.slow
@given(candidates())
@deep(60, 300)
def test_a_sheet_command_means_the_candidates_bushes(folder, made):
    mapping, scenario, candidate = made
    corners = {side: typed_corner(scenario, "as it is", candidate, side) for side in ("left", "right")}
    [words] = command_lines(f"  {sheet_line(in_file(folder, mapping), 'as it is', corners)}")
    found = meant(words)
    assert_same_bushes(found.setting, candidate)
    agrees(scenario, candidate, found.scenario, found.setting)


@pytest.mark.slow
@given(candidates())
@deep(60, 300)
def test_a_setting_to_paste_is_the_candidate_and_checks_alike(made):
    mapping, scenario, candidate = made
    lines = snippet(scenario, "as it is", candidate, "a new one")
    [(name, table)] = tomllib.loads("\n".join(lines))["setting"].items()
    mapping = {**mapping, "setting": {**mapping["setting"], name: table}}
    again = scenarios.from_mapping(mapping, "kart.json", "kart")
    assert_same_bushes(again.settings[name], candidate)
    agrees(scenario, candidate, again, again.settings[name])


def agrees(scenario, candidate, again, found):
    """What is read back is called, counted, warned of and worked at as the candidate itself."""
    before = scenario.settings["as it is"]
    assert work_steps(again, before, found) == work_steps(scenario, before, candidate)
    assert parts(again, before, found) == parts(scenario, before, candidate)
    assert work_steps(again, candidate, found) == []
    assert kit_warnings("x", found, again.kit) == kit_warnings("x", candidate, scenario.kit)
    for place, bush in bushes(again.kit, found).items():
        assert str(bush.size) == str(bushes(scenario.kit, candidate)[place].size)
        assert stock(again.kit, bush.size) == stock(scenario.kit, bush.size)
        listed = [size for size in scenario.kit.sizes if abs(size.offset - bush.size.offset) < 1e-7]
        assert not listed or bush.size in listed


WANTS = ("--want", "caster_left_deg=now+1", "--limit", "3")


@pytest.mark.slow
@given(karts(steps=(0.0, 90.0), most=2), st.sampled_from(["both", "each", "left", "right"]))
@deep(3, 20, phases=[Phase.generate])  # a search takes long to shrink
def test_what_choose_prints_is_the_candidate_it_picked(folder, mapping, sides):
    path = in_file(folder, mapping)
    asked = ("choose", path, *WANTS, "--sides", sides)
    text, _ = said(*asked, "--json", str(folder / "found.json"), "--keep-as", "picked")
    document = json.loads((folder / "found.json").read_text())
    [words] = [words for words in command_lines(text) if words[0] == "sheet"]
    found = meant(words)
    chosen = {"exact": document["candidates"][0]["setting"]}
    exact = scenarios.from_mapping({**mapping, "setting": mapping["setting"] | chosen}, "exact")
    assert_same_bushes(found.setting, exact.settings["exact"])
    pasted = tomllib.loads(text[text.index("[setting.picked]") : text.index("To print")])
    kept = scenarios.from_mapping({**mapping, "setting": mapping["setting"] | pasted["setting"]}, "kept")
    assert_same_bushes(kept.settings["picked"], exact.settings["exact"])
    was = bushes(found.scenario.kit, found.scenario.settings["as it is"])
    now = bushes(found.scenario.kit, found.setting)
    done = {place: work(was[place], now[place]) for place in now}
    steps = " ".join(document["candidates"][0]["steps"])
    for verb in ("swap", "turn"):
        assert (f"{verb} " in steps) == (verb in done.values())


@pytest.mark.slow
@given(karts(steps=(90.0,), most=1), st.sampled_from(["reset", "alone"]))
@deep(3, 20, phases=[Phase.generate])
def test_the_other_adjustment_that_choose_prints_is_the_one_it_reckoned(folder, mapping, rods):
    """20 mm of scrub more, which hubs give and no bush does."""
    path = in_file(folder, mapping)
    asked = ("choose", path, "--want", "scrub_left_mm=now+20", "--limit", "3", "--rods", rods)
    text, _ = said(*asked, "--json", str(folder / "found.json"))
    document = json.loads((folder / "found.json").read_text())
    first = document["other_adjustments"]["listed"][0]
    assert (first["adjustment"], first["unit"]) == ("front hubs out", "mm")
    [words] = [words for words in command_lines(text) if words[0] == "sweep"]
    found = meant(words).setting
    exact = scenarios.from_mapping(
        {**mapping, "setting": mapping["setting"] | {"exact": first["setting"]}}, "e"
    )
    wanted = exact.settings["exact"]
    assert_same_bushes(found, wanted)
    assert found.chassis == wanted.chassis
    for side in ("left", "right"):
        corners = getattr(found, side), getattr(wanted, side)
        assert len({float(corner.hub_spacer) for corner in corners}) == 1
    toes = [sweep(exact.kart, one, 0.0) for one in (found, wanted)]
    for side in ("left", "right"):
        one, other = (float(getattr(toe, side).ahead[..., 2]) for toe in toes)
        assert one == pytest.approx(other, abs=radians(2e-3))
    said(*words)


def test_typed_corners_keep_what_the_present_setting_says_of_the_rods():
    scenario = scenarios.from_mapping(
        edited(
            tables(),
            {"default_setting": "as it is", "setting": {"as it is": {"both": {"tie_rod_length_mm": 343.0}}}},
        ),
        "kart.json",
    )
    fitted = scenario.settings["as it is"]
    corner = replace(fitted.left, top_offset=1.0, rod_length=None, rod_toe=radians(0.1234567))
    assert typed_corner(scenario, "as it is", replace(fitted, left=corner), "left") == (
        "top=1mm@0,bottom=0,toe=0.123457"
    )
    assert typed_corner(scenario, "as it is", fitted, "right") == "top=0,bottom=0"


def test_the_line_that_a_copied_scenario_prints_runs_it(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    text, _ = said("scenario", "copy", "training-kart", "my kart's.toml")
    [words] = command_lines(text.partition("now run: ")[2])
    assert words == ["sweep", "my kart's.toml"]
    assert "Training kart (my kart's.toml)" in said(*words)[0]


def in_mm(path: Path, step: float) -> str:
    """The training kart with a kit of 1.2, 1.7, 2.3 and 3.4 mm, four of each, as a file."""
    text = stepped(step)
    start, end = text.index("[[kit.bush]]"), text.index("# SETTINGS")
    kit = "".join(f"[[kit.bush]]\noffset_mm = {size}\ncount = 4\n" for size in (1.2, 1.7, 2.3, 3.4))
    path.write_text(f"{text[:start]}{kit}\n{text[end:]}")
    return str(path)


def words_of(page: Path) -> str:
    return " ".join(re.sub(r"<[^>]+>", " ", page.read_text()).split())


@pytest.mark.parametrize("step", [15.0, 0.0])
def test_a_kit_in_mm_is_typed_kept_and_laid_out_in_mm(tmp_path, monkeypatch, step):
    monkeypatch.chdir(tmp_path)
    kart = in_mm(tmp_path / "kart.toml", step)
    text, _ = said("choose", kart, "--want", "caster_left_deg=now+1", "--keep-as", "mine")
    [words] = command_lines(text)
    left = words[words.index("--both") + 1]
    assert re.fullmatch(r"top=[\d.]+mm(@[\d.]+)?,bottom=[\d.]+mm(@[\d.]+)?", left)
    sizes = re.findall(r"=([\d.]+)mm@", left)
    assert sizes
    assert {float(size) for size in sizes} <= {1.2, 1.7, 2.3, 3.4}
    words[words.index("sheet.pdf")] = "sheet.html"
    _, warned = said(*words)
    assert "as given" not in warned
    page = words_of(tmp_path / "sheet.html")
    assert "too few bushes" not in page
    for size in sizes:
        count = 2 * sizes.count(size)  # off, fitted, to fetch, in the kit
        assert re.search(rf"{size} mm 0 {count} {count} 4\b", page.replace("\xa0", " "))
    kept = text[text.index("[setting.mine]") : text.index("To print")]
    (tmp_path / "kept.toml").write_text(Path(kart).read_text() + kept)
    assert "setting.mine" not in said("scenario", "check", "kept.toml")[1]


def test_a_bush_on_the_kart_that_the_kit_lacks_is_turned_by_choose_and_by_its_sheet(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    text = scenarios.builtin_text("training-kart").replace(
        "top_rated_deg = 0.0\n", "top_rated_deg = 1.73\ntop_clock_deg = 30.0\n", 1
    )
    (tmp_path / "kart.toml").write_text(text)
    text, _ = said(
        "choose",
        "kart.toml",
        "--want",
        "caster_left_deg=now+1",
        "--sides",
        "both",
        "--limit",
        "8",
        "--tables",
    )
    number = re.search(
        r"^ *(\d+)  turn top bush left and right: 30 -> 285\. Parts: none from the box\.", text, re.M
    )
    assert number
    text, _ = said("choose", "kart.toml", "--want", "caster_left_deg=now+1", "--pick", number[1])
    [words] = command_lines(text)
    assert words[words.index("--both") + 1] == "top=1.73@285,bottom=0"
    words[words.index("sheet.pdf")] = "sheet.html"
    said(*words)
    page = words_of(tmp_path / "sheet.html").replace("\xa0", " ")
    assert "Left top bush Turn it top bush: 1.73 deg at clock 30 → 1.73 deg at clock 285" in page
    assert "Left bottom bush Leave it bottom bush: 0 deg" in page
    assert "Swap it" not in page
    assert "1.73 deg 2 2 0 none" in page
