"""Bench sheets to look at: plain, bent, awkward, with names as long as they may be; each worked out once."""

from __future__ import annotations

import copy
from datetime import date
from functools import cache

import scenarios
from scenarios.gauged.blank import by_setup
from scenarios.gauged.candidates import sessions
from scenarios.gauged.space import uncertain_inputs
from viz.sheet import sheet_of
from viz.sheet.blank import blank_sheet

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


def all_readings():
    """Every reading that can be taken of a kart, its own numbers among them."""
    scenario = scenarios.load("published-kart")
    every = sessions(scenario, scenario.default_setting, uncertain_inputs(scenario.resolved))
    return scenario, by_setup(reading for session in every for reading in session.readings)


@cache
def readings_sheet():
    """The sheet of them."""
    return blank_sheet(*all_readings(), "lockarc measure --all --out readings.csv", "lockarc fit", ON)
