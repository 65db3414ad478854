"""What is told of a search: short lists whose candidates are numbered once."""

from __future__ import annotations

import scenarios
from kinematics.choose.search import search, verdict
from kinematics.choose.targets import Target
from scenarios.ask.choose import box_of, told
from tests.helpers.reading import named


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
