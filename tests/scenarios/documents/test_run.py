"""A run as JSON and CSV: how the kart stands where it has no number, and where it has two resting places."""

from __future__ import annotations

import csv
import io
import json
from dataclasses import replace

import numpy as np
import pytest

import scenarios
from kinematics.figures.verdict import MEANINGS, ON_TWO, STANDS, TIPS
from kinematics.parts import LoadCase
from scenarios.ask.run import run
from scenarios.documents.chunks import json_bytes
from scenarios.documents.run import csv_pieces, document
from tests.helpers.uneven import MUCH_CASTER, TABLE


def at(g):
    """The training kart in a turn of so many g."""
    return replace(scenarios.load(), load_cases=(LoadCase("hard", lateral_g=g),))


def told_of(scenario, made):
    """What JSON says of the first load case."""
    told = json.loads(json_bytes(document(scenario, [made])))
    assert {entry["name"]: entry["meaning"] for entry in told["stands"]} == MEANINGS
    return told["settings"][0]["cases"][0]


@pytest.mark.parametrize(
    ("g", "expected"), [(1.0, {STANDS}), (2.02, {STANDS, ON_TWO}), (2.15, {ON_TWO, TIPS})]
)
def test_json_and_csv_say_the_word_where_there_is_no_number(g, expected):
    scenario = at(g)
    made = run(scenario, "as-delivered")
    case = told_of(scenario, made)
    assert set(case["stands"]) == expected
    missing = [load is None for load in case["columns"]["load_front_left_n"]]
    assert missing == [word != STANDS for word in case["stands"]]
    assert case["rests_twice_at_deg"] == case["falls_at_deg"] == []
    rows = list(csv.DictReader(io.StringIO(b"".join(csv_pieces([made])).decode())))
    assert [row["hard.stands"] for row in rows] == case["stands"]
    assert [row["hard.load_front_left_n"] == "" for row in rows] == missing


def test_json_says_at_which_angles_there_are_two_resting_places_and_where_it_falls():
    still = (LoadCase("standing"),)
    table = replace(scenarios.load(), kart=TABLE, settings={"as-delivered": MUCH_CASTER}, load_cases=still)
    table = replace(table, handwheel_deg=(-78.0, 78.0, 27))
    case = told_of(table, run(table, "as-delivered"))
    assert set(case["stands"]) == {STANDS}
    assert case["falls_at_deg"] == pytest.approx([-68.7, 68.7], abs=0.1)
    twice = np.array(case["rests_twice_at_deg"])
    assert (np.abs(twice) > 30.0).all()
    assert {-60.0, 60.0} <= set(twice.round(9))
    assert len(twice) < 27


def test_a_run_without_a_load_case_has_no_words():
    made = run(scenarios.load(), cases=[])
    rows = list(csv.reader(io.StringIO(b"".join(csv_pieces([made])).decode())))
    assert len(rows) == 62
    assert not any("stands" in name for name in rows[0])
