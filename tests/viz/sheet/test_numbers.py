"""Every number on a bench sheet against the solver, in HTML and PDF, and the words it stands in."""

from __future__ import annotations

import re
from collections import Counter

import numpy as np
import pytest

import scenarios
from tests.helpers.sheet import expected as sheet_expected
from tests.helpers.sheet.cases import CASES, ON, made
from tests.helpers.sheet.pages import Page, numbers_in, numbers_of, pdf_pages
from viz.sheet import render, sheet_of
from viz.sheet.blocks import Corners, Steps


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
    done = next(b for section in sheet.sections for b in section.blocks if isinstance(b, Steps))
    steps = Counter(str(n) for n in range(1, len(done.steps) + 1))  # which the HTML numbers by its style
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
    from kinematics.change.rods import with_rods_kept
    from kinematics.lock import sweep
    from tests.helpers.rods import turned_rods

    base, new = scenario.settings["as-delivered"], scenario.settings["more-caster"]
    found = numbers_of(made("more caster"))
    text = render(made("more caster"), "html").decode()
    assert "shorten by" in text
    assert "lengthen by" not in text
    turns = -found["left_rod_turns"].value
    kept = with_rods_kept(sweep(scenario.kart, base, 0.0), new)
    put_back = turned_rods(scenario.kart, kept, turns, turns, scenario.thread_pitch_mm)
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
