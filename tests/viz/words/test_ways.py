"""What both locks share is told once, what they do not is told of each; a change has its word."""

from __future__ import annotations

from dataclasses import replace

import pytest

import scenarios
from kinematics.figures import turn
from scenarios.ask.compare import compare
from scenarios.ask.run import run
from tests.helpers.scenario_edit import scenario
from viz.tables.cases import case_summary
from viz.tables.compare import case_summary as changes
from viz.words.numbers import PAGE, changed
from viz.words.ways import told
from viz.words.width import WIDE, printed_at

EVEN = {
    f"kart.scale_{axle}_{side}_kg": kg
    for axle, kg in (("front", 34), ("rear", 45))
    for side in ("left", "right")
}


@pytest.mark.parametrize(
    ("left", "right", "shown"),
    [
        ([84.4, None], [84.6, None], {"either": [84.5, None]}),
        ([84.0, 1.0], [85.0, 1.0], None),  # a unit of the last digit apart
        ([84.0, 1.0], [84.0, 1.11], None),
        ([84.0, None], [84.0, 1.0], None),  # one of them has no value
    ],
)
def test_two_ways_are_one_where_no_two_numbers_differ_in_what_is_shown(left, right, shown):
    by_way = {"left": left, "right": right}
    assert told(by_way, [0, 1]) == (by_way if shown is None else shown)


@pytest.mark.parametrize(
    ("figure", "change", "said"),
    [
        (turn.LIFT_OFF, -8.52, "8.5 earlier"),
        (turn.LIFT_OFF, 7.7, "7.7 later"),
        (turn.LIFT_OFF, 0.04, "0.0"),
        (turn.LOAD_AT_LOCK, -37.6, "38 lighter"),
        (turn.LEAST_LOAD, 20.0, "20 heavier"),
        (turn.CLEARANCE_AT_LOCK, 6.1, "6.1 higher"),
        (turn.JACKING, -1.7, "−1.7"),
        (turn.LIFT_OFF, None, "–"),
    ],
)
def test_a_change_in_its_word(figure, change, said):
    assert changed(figure, change, PAGE) == said


@pytest.fixture
def wide():
    """Tables in one block."""
    with printed_at(WIDE):
        yield


@pytest.mark.usefixtures("wide")
def test_an_even_kart_has_a_row_a_case_and_a_bent_one_two():
    even, bent = run(scenario(EVEN), "more-caster"), run(scenarios.load("bent-right-stub"), "more-caster")
    assert sum(" either " in line for line in case_summary(even)) == len(even.cases)
    assert not any(f" {side} " in line for line in case_summary(even)[3:] for side in ("left", "right"))
    told_of_bent = case_summary(bent)[3:]
    assert [sum(f" {side} " in line for line in told_of_bent) for side in ("left", "right")] == [5, 5]


@pytest.mark.usefixtures("wide")
def test_a_change_earlier_has_one_sign_to_both_sides():
    """As delivered to more caster in the slow corner: the wheel lifts some 8 deg earlier, left and right."""
    compared = compare(scenarios.load(), "as-delivered", ["more-caster"], ["slow corner"])
    lines = changes(compared, "reset")
    found = [line.split() for line in lines if line.strip().startswith("change")]
    assert [float(cells[2]) for cells in found] == pytest.approx([-8.3, -7.5], abs=0.05)
    once = compare(scenario(EVEN), "as-delivered", ["more-caster"], ["slow corner"])
    assert sum("change" in line for line in changes(once, "reset")) == 1


def test_a_mirrored_kart_reads_word_for_word_as_the_kart():
    """Drivers sit to the right instead: what one says of the left the other says of the right."""
    here = scenarios.load()
    fl, fr, rl, rr = here.kart.loads
    there = replace(here, kart=replace(here.kart, loads=(fr, fl, rr, rl)))
    one, other = (case_summary(run(book, "more-caster"))[3:] for book in (here, there))
    swap = {"left": "right", "right": "left"}
    swapped = [[swap.get(word, word) for word in line.split()] for line in other]
    assert sorted(swapped) == sorted(line.split() for line in one)
