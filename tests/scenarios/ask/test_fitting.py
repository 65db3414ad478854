"""The work from one setting to another, in words, and the parts that it takes."""

from __future__ import annotations

import scenarios
from scenarios.ask.fitting import parts, work_steps
from tests.helpers.scenario_edit import edited, tables


def test_turning_a_bush_is_told_as_turning_and_parts_are_what_the_kart_lacks():
    scenario = scenarios.load()
    before = scenario.settings["more-caster"]
    inputs = edited(
        tables(), {"setting.more-caster.both.top_clock_deg": 135.0, "setting.more-caster.left": {}}
    )
    inputs["setting"]["more-caster"]["left"] = {"bottom_rated_deg": 0.0}
    after = scenarios.from_mapping(inputs, "turned").settings["more-caster"]
    assert work_steps(scenario, before, after) == [
        "turn top bush left and right: 180 -> 135",
        "swap bottom bush left: 1 deg @ 0 -> 0 deg",
    ]
    assert parts(scenario, before, after) == {"0 deg": 1}
    assert parts(scenario, before, before) == {}
