"""Unlikely numbers are told, with what is usual and why; the built-in karts have none."""

import pytest

from scenarios import builtin_names, load
from scenarios.ranges import RANGES
from scenarios.sure.plausible import PLAUSIBLE, unlikely
from tests.helpers.scenario_edit import scenario


@pytest.mark.parametrize("name", builtin_names())
def test_the_built_in_karts_are_likely(name):
    assert list(unlikely(load(name).resolved)) == []


def test_a_range_lies_within_the_hard_one_and_has_a_reason():
    for row, likely in PLAUSIBLE.items():
        hard = RANGES[row]
        assert hard.low <= likely.low < likely.high <= hard.high, row
        assert (hard.low, hard.high) != (likely.low, likely.high), row
        assert len(likely.why) > 10


@pytest.mark.parametrize(
    ("changes", "line"),
    [
        (
            {"kart.cog_height_mm": 27.0},
            "kart.cog_height_mm = 27 mm is unlikely; 180 to 400 mm is usual: published karts have 250 to 370",
        ),
        (
            {"rear.stiffness_n_per_mm": 300.0},
            "rear.stiffness_n_per_mm = 300 N/mm is unlikely; 50 to 240 N/mm is usual: published tyres "
            "have 60 to 200",
        ),
        (
            {"frame.front_compliance_share": 0.1},
            "frame.front_compliance_share = 0.1 is unlikely; 0.4 to 0.95 is usual: two published "
            "karts have 0.8",
        ),
    ],
)
def test_an_unlikely_number_is_told_once_with_what_is_usual(changes, line):
    assert list(unlikely(scenario(changes).resolved)) == [line]
    assert len(line) < 290


def test_a_number_that_serves_both_corners_is_told_once_and_the_rights_own_by_its_name():
    assert len(list(unlikely(scenario({"yoke.caster_deg": 30.0}).resolved))) == 1
    [line] = unlikely(scenario({"right": {"stub": {"toe_deg": 3.0}}}).resolved)
    assert line.startswith("right.stub.toe_deg = 3 deg is unlikely")
