"""A fit written back: comments kept, numbers and uncertainties as found, ties drawn again, bands narrower."""

import json
import tomllib

import numpy as np
import pytest

import scenarios
from scenarios.errors import Refusal
from scenarios.gauged.fit import fit
from scenarios.gauged.space import uncertain_inputs
from scenarios.gauged.told import told_of
from scenarios.gauged.written import refitted, rewritten, told
from scenarios.likely.sampled import sampled
from tests.twins.read_karts import Truth, session

TRAINING = scenarios.load("training-kart")
SESSION = session()


@pytest.fixture(scope="module")
def found():
    return fit(TRAINING, Truth(TRAINING, SESSION, 3).readings)


@pytest.fixture(scope="module")
def text(found):
    return rewritten(found)


def test_comments_and_order_are_kept(text):
    was = (scenarios.bundled.DATA / "training-kart.toml").read_text()
    comments = [line for line in was.splitlines() if line.startswith("#")]
    assert [line for line in text.splitlines() if line.startswith("#")] == comments
    before = [line.partition("=")[0] for line in was.splitlines()]
    assert [line.partition("=")[0] for line in text.splitlines()][: len(before)] == before


def test_numbers_and_how_sure_they_are_read_back(found, text):
    again = {one.name: one for one in uncertain_inputs(tomllib_scenario(text).resolved)}
    for number in told(found):
        assert again[number.name].uncertain.value == pytest.approx(number.value, abs=0.006 * number.sure)
        assert again[number.name].uncertain.spread == pytest.approx(number.sure, rel=0.006)
    kept = {one.name for one in found.numbers} - {one.name for one in told(found)}
    assert "pneumatic_trail_mm" in kept
    for name in kept:
        [was] = [one for one in uncertain_inputs(TRAINING.resolved) if one.name == name]
        assert again[name].uncertain == was.uncertain


def tomllib_scenario(text):
    return scenarios.from_mapping(tomllib.loads(text), "fitted")


def test_the_text_and_the_scenario_at_once_are_the_same(found, text):
    assert tomllib_scenario(text).resolved["sure"] == refitted(found).resolved["sure"]
    assert tomllib_scenario(text).kart == refitted(found).kart


def test_what_readings_tied_together_is_drawn_together(found, text):
    karts = sampled(tomllib_scenario(text), 2048)
    names = [one.name for one in karts.inputs]
    drawn = np.corrcoef(karts.values.T)
    every = [one.name for one in told(found)]
    pairs = [(one, other) for one in every for other in every if one < other]
    want = np.array([found.correlation(*pair) for pair in pairs])
    seen = np.array([drawn[names.index(one), names.index(other)] for one, other in pairs])
    assert np.abs(want).max() > 0.3, "something is tied"
    np.testing.assert_allclose(seen, want, atol=0.12)


def test_bands_narrow(found):
    told = told_of(TRAINING, list(found.readings), (), {})
    [before], [after] = told.before, told.after
    assert float(after.band.high - after.band.low) < 0.75 * float(before.band.high - before.band.low)


def test_the_sides_apart_are_written_apart():
    bent = scenarios.load("bent-right-stub")
    found = fit(bent, Truth(bent, SESSION[:-8], 2, apart=True).readings, apart=True)
    table = tomllib.loads(rewritten(found))
    by_name = {one.name: one.value for one in found.numbers}
    assert table["right"]["stub"]["camber_deg"] == pytest.approx(by_name["right.stub.camber_deg"], abs=0.01)
    assert table["stub"]["camber_deg"] == pytest.approx(by_name["stub.camber_deg"], abs=0.01)
    assert "camber_deg" in table["sure"]["right"]["stub"]


def test_a_scenario_that_is_no_toml_is_refused(tmp_path, found):
    path = tmp_path / "kart.json"
    path.write_text(json.dumps(TRAINING.resolved))
    other = fit(scenarios.load(path), found.readings[:4])
    with pytest.raises(Refusal, match="this is JSON"):
        rewritten(other)


def test_a_tie_that_is_none_is_refused():
    wrong = {**TRAINING.resolved, "sure": {"together": [["kart.cog_height_mm", "frame.x", 1.5]]}}
    with pytest.raises(scenarios.ScenarioError, match=r"sure\.together\[1\]\[3\] = 1\.5"):
        scenarios.from_mapping(wrong, "x")
    wrong["sure"] = {"together": [["kart.cog_height_mm", "kart.wheelbase", 0.5]]}
    with pytest.raises(scenarios.ScenarioError, match="no number of the kart; did you mean"):
        scenarios.from_mapping(wrong, "x")
    wrong["sure"] = {"together": [["kart.cog_height_mm", 3.0]]}
    with pytest.raises(scenarios.ScenarioError, match="must be two names and a number"):
        scenarios.from_mapping(wrong, "x")
