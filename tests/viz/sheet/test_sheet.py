"""Every number on a bench sheet against the solver, and the sheet against itself in HTML and PDF."""

from __future__ import annotations

import copy
import os
import re
import stat
from collections import Counter
from datetime import date
from functools import cache

import numpy as np
import pytest

import scenarios
from scenarios import ScenarioError
from scenarios.errors import Refusal
from tests.helpers import sheet_expected
from tests.helpers.sheet_pages import Page, numbers_in, pdf_pages
from viz.sheet import render, sheet_of, write
from viz.sheet.blocks import Corners, numbers_of

ON = date(2026, 3, 14)


def changed(edit, base="training-kart"):
    """A built-in scenario with its inputs edited."""
    inputs = copy.deepcopy(scenarios.load(base).resolved)
    edit(inputs)
    return scenarios.from_mapping(inputs, "edited.toml", "edited")


def awkward(inputs):
    """Uneven settings, a short kit, spacers, tools and a kart too wide."""
    inputs["setting"] = {
        "from": inputs["setting"]["more-caster"],
        "to": {
            "left": {
                "top_rated_deg": 2.0,
                "top_clock_deg": 240.0,
                "bottom_rated_deg": 3.0,
                "bottom_clock_deg": 22.5,
                "spacer_shift_mm": 2.0,
                "hub_spacer_mm": 150.0,
            },
            "right": {
                "top_rated_deg": 2.0,
                "top_clock_deg": 165.0,
                "bottom_rated_deg": 1.0,
                "bottom_clock_deg": 0.0,
                "hub_spacer_mm": 145.0,
                "tie_rod_toe_deg": 0.2,
            },
            "rear_axle_shift_mm": 5.0,
        },
    }
    inputs["default_setting"] = "from"
    inputs["kit"]["bush"] = [{"rated_deg": 2.0, "count": 1}, {"rated_deg": 0.0, "count": 4}]
    inputs["workshop"] |= {"kingpin_nut_tool_mm": 17.0, "kingpin_nut_torque_nm": 22.5}


def wide_lock(inputs):
    """A spade that steers further, so that both wheels reach twenty degrees within the stop."""
    inputs["column"]["stop_deg"] = 80.0
    for table in (inputs["tie_rod"], inputs["right"]["tie_rod"]):
        x, y, z = table["inner_joint_mm"]
        table["inner_joint_mm"] = [x - 10.0, y, z - 10.0]


CASES = {
    "more caster": (scenarios.load(), "as-delivered", "more-caster", (20.0, 15.0), 2.0),
    "bent stub": (scenarios.load("bent-right-stub"), "as-delivered", "camber-and-caster", (20.0, 15.0), 2.0),
    "nothing": (scenarios.load("published-kart"), "as-published", "as-published", (20.0, 15.0), 10.0),
    "wide lock": (changed(wide_lock), "more-caster", "less-caster", (20.0,), 2.0),
    "awkward": (changed(awkward), "from", "to", (20.0, 15.0), 1.0),
}


@cache
def made(name):
    """The sheet of a case, worked out once."""
    return sheet_of(*CASES[name][:3], ON)


@pytest.fixture(scope="module", params=CASES)
def case(request):
    scenario, base, new, steers, enlargement = CASES[request.param]
    return scenario, made(request.param), sheet_expected.numbers(scenario, base, new, steers, enlargement)


def test_every_number_is_the_solvers(case):
    _, sheet, expected = case
    page = Page(render(sheet, "html").decode())
    found = {key: value for key, value, _ in page.marked}
    assert set(found) == set(expected)
    for key, value in expected.items():
        assert found[key] == pytest.approx(value, abs=2e-6), key


def test_every_number_is_printed_as_it_is(case):
    """The printed digits round the value: half a unit of the last one, and never a minus zero."""
    _, sheet, _ = case
    for key, value, text in Page(render(sheet, "html").decode()).marked:
        digits = numbers_in(text)[0]
        decimals = len(digits.partition(".")[2])
        printed = float(digits.replace("−", "-"))
        assert printed == pytest.approx(value, abs=0.5 * 10.0**-decimals + 1e-9), key
        assert (printed < 0.0) == ("−" in digits), key


def test_no_number_stands_on_the_sheet_unmarked(case):
    """What is not the solver's is fixed: clock numerals, scale bar, a paper's number, the weighing angle."""
    scenario, sheet, _ = case
    rest = "\n".join(Page(render(sheet, "html").decode()).other)
    given = (scenario.title, scenario.limits.source, ON.isoformat(), *scenario.notes.values())
    for text in sorted(given, key=len, reverse=True):
        rest = rest.replace(text, "")
    assert set(numbers_in(rest)) <= {"0", "90", "180", "270", "1", "850219", "30"}


def test_pdf_prints_the_same_numbers_as_html(case):
    _, sheet, _ = case
    html = Page(render(sheet, "html").decode())
    words = [w["text"] for words, _ in pdf_pages(render(sheet, "pdf")) for w in words]
    steps = Counter(str(n) for n in range(1, 16))  # which the HTML numbers by its style
    assert Counter(numbers_in(" ".join(words))) == Counter(numbers_in(html.text)) + steps


def test_what_to_do_with_each_bush_is_said():
    """By hand, from above: on the left corner 180 to 240 goes from the rear to inboard, which is the page's
    right: anticlockwise. On the right corner 180 to 165 goes towards outboard, the page's right as well.
    """
    corners = next(b for b in made("awkward").sections[0].blocks if isinstance(b, Corners))
    said = {
        bush.name: (bush.action, words_of(bush.lines))
        for corner in (corners.left, corners.right)
        for bush in corner.bushes
    }
    assert [action for action, _ in said.values()] == ["Turn it", "Swap it", "Turn it", "Leave it"]
    assert "60 deg anticlockwise" in said["Left top bush"][1]
    assert "15 deg anticlockwise" in said["Right top bush"][1]
    back = sheet_of(CASES["awkward"][0], "to", "from", ON)
    corners = next(b for b in back.sections[0].blocks if isinstance(b, Corners))
    assert "60 deg clockwise" in words_of(corners.left.bushes[0].lines)


def words_of(lines):
    return " ".join("".join(p if isinstance(p, str) else p.text for p in line) for line in lines)


def test_turns_printed_give_back_the_toe_printed():
    scenario = scenarios.load()
    from kinematics.change.rods import turned_rods, with_rods_kept
    from kinematics.lock import sweep

    base, new = scenario.settings["as-delivered"], scenario.settings["more-caster"]
    found = numbers_of(made("more caster"))
    text = render(made("more caster"), "html").decode()
    assert "shorten by" in text
    assert "lengthen by" not in text
    turns = -found["left_rod_turns"].value
    put_back = turned_rods(
        scenario.kart, with_rods_kept(scenario.kart, base, new), turns, turns, scenario.thread_pitch_mm
    )
    toe = -np.degrees(sweep(scenario.kart, put_back, 0.0).left.steer[0])
    assert toe == pytest.approx(-0.1, abs=1e-6)


def test_warnings_name_what_the_box_lacks_and_what_the_rules_limit():
    scenario = CASES["awkward"][0]
    text = Page(render(made("awkward"), "html").decode())
    said = " ".join(" ".join(text.other).split())
    assert "The box has too few bushes of" in said
    assert "is off the kit's clock step of" in said
    assert "Width over the front treads" in said
    assert "OUTSIDE" in said
    assert scenario.limits.source in said
    plain = Page(render(made("more caster"), "html").decode())
    assert not {"OUTSIDE", "Warning."} & {part.strip() for part in plain.other}


def test_tools_are_blank_where_the_scenario_gives_none():
    html = render(made("awkward"), "html").decode()
    row = re.search(r'<th scope="row" role="rowheader">Kingpin nut</th>(.*?)</tr>', html)
    blank = re.search(r'<th scope="row" role="rowheader">Wheel nuts</th>(.*?)</tr>', html)
    assert row is not None
    assert blank is not None
    assert "17 mm" in row[1]
    assert "22.5 N·m" in row[1]
    assert blank[1].count('class="box"') == 2


LONG = "W" * 60


def long_names(inputs):
    inputs["title"] = "W" * 120
    inputs["setting"] = {
        LONG: {**inputs["setting"]["as-delivered"], "note": "i" * 600},
        LONG[:-1] + "2": {**inputs["setting"]["more-caster"], "note": "W" * 600},
    }
    inputs["default_setting"] = LONG
    inputs["limits"]["source"] = "Z" * 600
    inputs["limits"]["wheelbase_max_mm"] = 1011.0


@cache
def long_sheet():
    inputs = copy.deepcopy(scenarios.load().resolved)
    long_names(inputs)
    scenario = scenarios.from_mapping(inputs, "/" + "d" * 240 + ".toml", "long")
    return sheet_of(scenario, LONG, LONG[:-1] + "2", ON)


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("kind", ["long", "awkward"])
def test_nothing_overflows_or_overlaps_in_the_pdf(kind, paper):
    sheet = long_sheet() if kind == "long" else made(kind)
    margin = 12.0 * 72.0 / 25.4
    for words, page in pdf_pages(render(sheet, "pdf", paper)):
        for word in words:
            assert word["x0"] > margin - 1.0, word["text"]
            assert word["x1"] < page.width - margin + 1.0, word["text"]
            assert margin - 2.0 < word["top"] < word["bottom"] < page.height - margin, word["text"]
        overlaps = [
            (a["text"], b["text"]) for i, a in enumerate(words) for b in words[:i] if _overlap(a, b) > 0.6
        ]
        assert not overlaps
        crossed = [(w["text"], e["x0"]) for w in words for e in page.vertical_edges if _crosses(w, e)]
        assert not crossed


@pytest.mark.parametrize("width", [390, 1100])
def test_nothing_overflows_in_the_browser(browser, tmp_path, width):
    """No sideways scroll of the page with long names, no word outside its box, no request, no complaint."""
    path = tmp_path / "sheet.html"
    path.write_bytes(render(long_sheet(), "html"))
    said: list[str] = []
    with browser.new_page(viewport={"width": width, "height": 800}) as page:
        page.on("console", lambda message: said.append(message.text))
        page.on("request", lambda request: said.append(request.url))
        page.goto(path.as_uri())
        wide = page.evaluate("document.documentElement.scrollWidth")
        styled = page.evaluate("getComputedStyle(document.querySelector('.corners')).display")
        out = page.evaluate(OUTSIDE)
    assert said == [path.as_uri()]
    assert wide == width
    assert styled == "grid"  # the policy lets the page's own style through
    assert out == []


OUTSIDE = """[...document.querySelectorAll('dd, p, h3, h4, li, td, th, svg text')].filter(e => {
  const box = (e.closest('svg') || e).getBoundingClientRect(), range = document.createRange();
  range.selectNodeContents(e);
  const text = range.getBoundingClientRect();
  return text.width && (text.left < box.left - 1 || text.right > box.right + 1);
}).map(e => e.textContent)"""


def _overlap(a, b):
    """The smaller side of the rectangle that two words share, pt."""
    wide = min(a["x1"], b["x1"]) - max(a["x0"], b["x0"])
    high = min(a["bottom"], b["bottom"]) - max(a["top"], b["top"]) - 2.0  # a line's leading is its own
    return min(wide, high)


def _crosses(word, edge):
    beside = word["top"] < edge["bottom"] - 2.0 and word["bottom"] > edge["top"] + 2.0
    return beside and word["x0"] + 0.5 < edge["x0"] < word["x1"] - 0.5


def test_left_stands_left_and_right_stands_right():
    words, page = pdf_pages(render(made("more caster"), "pdf"))[0]
    left = next(w for w in words if w["text"] == "LEFT")
    right = next(w for w in words if w["text"] == "RIGHT")
    assert left["x1"] < 0.5 * page.width < right["x0"]
    assert left["top"] == pytest.approx(right["top"], abs=1.0)


def test_html_is_strict_and_self_contained():
    html = render(long_sheet(), "html").decode()
    page = Page(html)
    assert "default-src 'none'; style-src 'sha256-" in html
    assert not re.search(r"<script|<link|<img|<iframe|url\(|@import|https?:", html)
    assert not [a for a in page.attributes if a[1] == "style" or a[1].startswith("on")]
    assert page.tags == []


def test_names_are_escaped():
    def sharp(inputs):
        inputs["title"] = "<b>&\"'</b> kart"

    sheet = sheet_of(changed(sharp), "as-delivered", "more-caster", ON)
    html = render(sheet, "html").decode()
    assert "<b>&" not in html
    assert "&lt;b&gt;&amp;" in html
    words = [w["text"] for w in pdf_pages(render(sheet, "pdf"))[0][0]]
    assert "<b>&\"'</b>" in words


def test_same_inputs_give_the_same_bytes():
    again = sheet_of(*CASES["more caster"][:3], ON)
    for suffix in ("html", "pdf"):
        assert render(made("more caster"), suffix) == render(again, suffix)


@pytest.mark.parametrize("name", ["sheet.html", "sheet.pdf"])
def test_written_whole(tmp_path, name):
    scenario, base, new, *_ = CASES["more caster"]
    sheet = write(tmp_path / name, scenario, base, new, on=ON)
    assert (tmp_path / name).read_bytes() == render(sheet, name.partition(".")[2])
    assert os.listdir(tmp_path) == [name]


@pytest.mark.parametrize("name", ["sheet.doc", "sheet", "nowhere/sheet.pdf", "."])
def test_bad_path_is_one_line_and_leaves_nothing(tmp_path, name):
    scenario, base, new, *_ = CASES["more caster"]
    with pytest.raises(Refusal) as refused:
        write(tmp_path / name, scenario, base, new)
    assert "\n" not in str(refused.value)
    assert os.listdir(tmp_path) == []


def test_full_disk_leaves_the_old_sheet(tmp_path, monkeypatch):
    scenario, base, new, *_ = CASES["more caster"]
    path = tmp_path / "sheet.html"
    path.write_text("old")

    def full(*_args):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("viz.files.os.replace", full)
    with pytest.raises(Refusal, match="No space left"):
        write(path, scenario, base, new)
    assert path.read_text() == "old"
    assert os.listdir(tmp_path) == ["sheet.html"]
    assert stat.S_ISREG(path.stat().st_mode)


def test_unknown_setting_suggests_the_nearest():
    with pytest.raises(ScenarioError, match="did you mean 'more-caster'"):
        sheet_of(scenarios.load(), "as-delivered", "more-castor")


def test_rods_that_cannot_be_joined_are_one_line():
    from dataclasses import replace

    scenario = scenarios.load()
    base = scenario.settings["as-delivered"]
    apart = replace(base, left=replace(base.left, rod_length=20.0))
    with pytest.raises(ScenarioError, match="cannot be joined") as refused:
        sheet_of(scenario, "as-delivered", apart)
    assert "\n" not in str(refused.value)
