"""What is told of a search: short lists whose candidates are numbered once."""

from __future__ import annotations

import pytest

import scenarios
from kinematics.choose.search import search, verdict
from kinematics.choose.targets import Target
from scenarios.ask.choose import FIRST, box_of, choose, hidden_bend, told
from tests.helpers.reading import named
from tests.helpers.scenario_edit import edited, tables


def test_lists_are_cut_and_candidates_numbered_once():
    scenario = scenarios.load()
    targets = (
        Target(named("caster_left_deg"), 13.0, 13.0),
        Target(named("caster_trail_left_mm"), 15.0, 15.0),
    )
    found = search(scenario.kart, scenario.settings["as-delivered"], box_of(scenario), targets)
    cut = told(scenario, "as-delivered", "both", "reset", found, 3)
    assert list(cut.best) == [1, 2, 3]
    assert [cut[n].fit for n in cut.by_work] == [candidate.fit for candidate in found.by_work]
    assert len(found.between) > 3
    ends = [cut[n].fit for n in (cut.between[0], cut.between[-1])]
    assert ends == [found.between[0].fit, found.between[-1].fit]
    assert len(cut.between) == 3
    assert max([*cut.best, *cut.by_work, *cut.between]) == len(cut.candidates)
    assert verdict(found)
    assert cut.easiest == []
    assert list(cut.first) == [1]


def test_what_meets_it_all_is_numbered_from_one():
    found = choose(scenarios.load(), ["caster_left_deg=now+1"], limit=5)
    assert list(found.easiest) == [1, 2, 3, 4, 5]
    assert list(found.first) == [1, 2, 3][:FIRST]
    assert [found[n].work for n in found.first] == [(2, 2)] * 3
    assert list(choose(scenarios.load(), ["caster_left_deg=now+1"], limit=1).first) == [1]


@pytest.mark.parametrize(
    ("kart", "sides", "warned"),
    [
        ("bent-right-stub", "left", True),
        ("bent-right-stub", "right", True),
        ("bent-right-stub", "both", False),
        ("training-kart", "left", False),
    ],
)
def test_bushes_that_are_not_alike_hide_a_bend(kart, sides, warned):
    found = choose(scenarios.load(kart), ["caster_left_deg=now+1", "caster_right_deg=now+1"], sides=sides)
    said = hidden_bend(found)
    assert (said is not None) is warned
    if warned:
        assert said.startswith("Uneven corners: 1.4 deg of camber between them. Unlike bushes would hide")


def test_a_kart_left_as_it_is_hides_nothing():
    """Also where its bushes are not alike already."""
    kart = edited(
        tables("bent-right-stub"),
        {"setting.trimmed": {"left": {"top_rated_deg": 1.0, "top_clock_deg": 90.0}}},
    )
    scenario = scenarios.from_mapping(kart, "kart.toml")
    as_it_is = choose(scenario, ["caster_left_deg=now+30"], present="trimmed", sides="left", limit=1)
    assert hidden_bend(as_it_is) is not None
    met = choose(scenario, ["caster_left_deg=now-50..now+50"], present="trimmed", sides="both", limit=1)
    assert [met[n].work for n in met.first] == [(0, 0)]
    assert hidden_bend(met) is None
