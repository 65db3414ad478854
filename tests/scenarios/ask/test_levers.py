"""Which other adjustments could do what the box cannot: each is the step it names, as typed and reckoned."""

from __future__ import annotations

from dataclasses import asdict, replace

import numpy as np
import pytest

import scenarios
from kinematics.figures.catalog import address
from kinematics.figures.read import read
from scenarios.ask.choose import choose
from scenarios.ask.levers import Lever, changed, levers, typed
from scenarios.ask.steps import STEPS
from scenarios.schema.changes import BY_KEY
from tests.helpers.scenario_edit import edited, tables
from viz.tables.steps import moved

BOX = {"kit.bush": [{"rated_deg": 0.0, "count": 4}]}
"""Bushes that do nothing: what is wanted, another adjustment has to do."""
KART = scenarios.from_mapping(edited(tables(), BOX), "kart.toml", "kart")
OUT_OF_REACH = "scrub_left_mm=now+20"
BY_NAME = {step.name: step for step in STEPS}


def told(*wants, present="as-delivered", kart=KART, **options):
    return choose(kart, wants, present=present, **options)


def settled(scenario, table):
    """A resolved setting's table as the solver's record."""
    inputs = {**scenario.resolved, "setting": {**scenario.resolved["setting"], "tried": table}}
    return scenarios.from_mapping(inputs, "tried").settings["tried"]


def numbers(part, at=""):
    """Every number of a record, by where it stands; what is None is left out."""
    found = {}
    for key, value in part.items():
        if isinstance(value, dict):
            found |= numbers(value, f"{at}{key}.")
        elif value is not None:
            found[f"{at}{key}"] = float(value)
    return found


def test_an_adjustment_is_called_as_the_catalogue_calls_it_onward_and_back():
    for step in STEPS:
        if step.key:
            called = BY_KEY[step.key]
            assert (step.name, step.back, step.unit) == (called.more, called.less, called.unit)
    hub, track = BY_NAME["front hubs out"], BY_NAME["rear track"]
    assert (moved(hub, 5.0), moved(hub, -5.0)) == ("front hubs out about 5 mm", "front hubs in about 5 mm")
    assert (moved(track, 20.0), moved(track, -20.0)) == ("rear track about +20 mm", "rear track about −20 mm")


@pytest.mark.parametrize("present", ["as-delivered", "more-caster"])
@pytest.mark.parametrize("step", [step for step in STEPS if step.key], ids=lambda step: step.name)
def test_a_step_as_a_file_has_it_is_the_step(step, present):
    found = told(OUT_OF_REACH, present=present)
    base = found.found.base
    table = changed(found, base, Lever(step, step.amount, np.zeros(1), np.zeros(1)))
    made, meant = (numbers(asdict(one)) for one in (settled(KART, table), step.change(base.setting, KART)))
    assert made == pytest.approx(meant, abs=1e-9)


def test_every_step_but_those_of_bushes_can_be_typed():
    assert [step.name for step in STEPS if not step.key] == ["top bush rearward", "top bush inboard"]


def solved(kart, table, name):
    """A figure of a resolved setting's table."""
    cases = {case.name: case for case in kart.load_cases}
    [(values, known)] = read(kart.kart, settled(kart, table), [address(name)], cases, kart.given)
    assert known
    return float(values)


@pytest.mark.parametrize(
    ("figure", "wanted", "first"),
    [
        ("scrub_left_mm", "now+20", ("front hubs out", 20.0)),
        ("scrub_left_mm", "..now-8", ("front hubs out", -8.0)),
        ("toe_left_deg", "now+0.33", ("toe-in a wheel", 0.35)),
        ("caster_left_deg", "..now-0.5", ("stub axles up", 10.0)),
        ("inside_rear_load_n@20@gentle corner", "now-4..now-2", ("rear tyres stiffer", 19.0)),
    ],
)
def test_what_is_listed_first_does_it_when_it_is_solved(figure, wanted, first):
    found = told(f"{figure}={wanted}")
    others = levers(found)
    lever, [target] = others.listed[0], found.found.targets
    assert (lever.step.name, lever.amount) == first
    truth = solved(KART, changed(found, others.base, lever), figure)
    way = abs(float(lever.values[0]) - float(others.base.values[0]))
    assert truth == pytest.approx(float(lever.values[0]), abs=0.1 * way)
    assert target.low - target.tolerance <= lever.values[0] <= target.high + target.tolerance
    assert lever.missed.tolist() == pytest.approx([0.0], abs=0.5 * target.tolerance + 1e-9)


def test_no_further_than_six_usual_steps_and_no_further_than_a_setting_may():
    """29 mm of hub are within six times 5 mm, 34 are not; nor is what a file's own range refuses."""
    [within] = levers(told("scrub_left_mm=now+29")).listed
    assert (within.step.name, within.amount) == ("front hubs out", 29.0)
    beyond = levers(told("scrub_left_mm=now+34"))
    assert beyond is not None
    assert beyond.listed == ()
    at_end = edited(tables(), {**BOX, "setting.as-delivered.both.hub_spacer_mm": 140.0})
    assert levers(told(OUT_OF_REACH, kart=scenarios.from_mapping(at_end, "kart.toml"))).listed == ()


@pytest.mark.parametrize(("hole", "told_of"), [(-20.0, True), (-32.0, False)])
def test_what_a_file_would_refuse_is_not_listed(hole, told_of):
    """The spade is 50 mm long; its joint must stay 5 mm off the column, so that 15 mm more are refused."""
    moved = edited(tables(), {**BOX, "setting.as-delivered.both.spade_hole_mm": hole})
    kart = scenarios.from_mapping(moved, "kart.toml")
    listed = levers(told("inside_rear_load_n@30@gentle corner=now+25..now+27", kart=kart)).listed
    assert ("spade holes out" in [one.step.name for one in listed]) is told_of
    assert listed


def test_what_spoils_another_want_is_told_to():
    found = told(OUT_OF_REACH, "wheel_drop_left_mm@30=now")
    [lever] = levers(found).listed
    drop = found.found.targets[1]
    assert lever.missed[1] > drop.tolerance
    truth = solved(KART, changed(found, found.found.base, lever), "wheel_drop_left_mm@30")
    assert abs(truth - drop.low) == pytest.approx(float(lever.missed[1]), rel=0.1)


def test_from_the_nearest_pair_where_none_could_from_what_is_fitted():
    scenario = scenarios.load()
    found = choose(scenario, ["inside_rear_load_n@30@gentle corner=..180"])
    others = levers(found)
    assert others.base is found.found.best[0]
    assert others.listed
    text = typed(found, others.base, others.listed[0])
    assert "top=3@" in text["both"]


def test_nothing_else_is_asked_where_the_box_can_or_where_there_is_no_figure_to_go_on_from():
    assert levers(told("caster_left_deg=now+1", kart=scenarios.load())) is None
    assert levers(told("lift_off_steer_left_deg@standing=14")) is None


def test_tie_rods_left_alone_stay_as_long_as_they_are():
    """A setting that says a toe would re-set it: so the length is typed, and toe is no adjustment."""
    found = told(OUT_OF_REACH, present="more-caster", rods="alone")
    others = levers(found)
    [both] = typed(found, others.base, others.listed[0]).values()
    assert both.startswith("hub=20,rod=")
    names = [one.step.name for one in levers(told("toe_left_deg=now+0.3", rods="alone")).listed]
    assert names
    assert "toe-in a wheel" not in names
    kept = told(OUT_OF_REACH, rods="alone")
    assert typed(kept, kept.found.base, levers(kept).listed[0]) == {"both": "hub=20"}
    reset = told(OUT_OF_REACH)
    assert typed(reset, reset.found.base, levers(reset).listed[0]) == {"both": "hub=20,toe=-0.1"}


def test_corners_that_are_not_alike_are_typed_each_and_ballast_joins_what_is_on():
    changes = {
        "setting.uneven": {
            "left": {"hub_spacer_mm": 5.0},
            "ballast": [{"mass_kg": 2.0, "at_mm": [600.0, 0.0, 150.0]}],
        }
    }
    kart = scenarios.from_mapping(edited(tables(), {**BOX, **changes}), "kart.toml")
    found = told(OUT_OF_REACH, present="uneven", kart=kart)
    others = levers(found)
    assert typed(found, others.base, others.listed[0]) == {
        "left": "hub=25,toe=-0.1",
        "right": "hub=20,toe=-0.1",
    }
    put = replace(others.listed[0], step=BY_NAME["ballast on seat"], amount=7.0)
    assert typed(found, others.base, put)["kart"].startswith("ballast=2@600/0/150,ballast=7@")
