"""The first answer as data: the numbers that are printed, each under the address by which it is asked for."""

import json

import pytest

import scenarios
from kinematics.figures.catalog import address
from scenarios.ask.answer import FEW, answer
from scenarios.documents.answer import document
from scenarios.documents.chunks import json_bytes


@pytest.fixture(scope="module")
def told():
    kart = scenarios.load()
    return answer(kart, ["as-delivered", "more-caster"], ["slow corner"], None, FEW, "reset")


def test_every_figure_of_every_setting_has_its_band(told):
    found = json.loads(json_bytes(document(told)))
    assert [one["name"] for one in found["settings"]] == ["as-delivered", "more-caster"]
    assert found["likely_karts"] == FEW
    figures = found["settings"][1]["figures"]
    assert set(figures) == {str(one) for one in told.found.addresses}
    for one in told.found.addresses:
        own, said = told.found.of("more-caster", one), figures[str(one)]
        assert said["value"] == own.value or said["value"] is None
        if said["low"] is not None and said["high"] is not None:
            assert said["low"] <= said["high"]
    asked = "caster_left_deg"
    assert address(asked) == next(one for one in told.found.addresses if str(one) == asked)
    assert figures[asked]["low"] < figures[asked]["value"] < figures[asked]["high"]


def test_a_change_is_that_of_each_other_setting_and_says_what_it_hangs_on(told):
    [only] = document(told, changes=True)["settings"]
    assert only["name"] == "more-caster"
    caster = only["changes"]["caster_left_deg"]
    assert caster["value"] == pytest.approx(3.06, abs=0.01)
    assert caster["told_apart"]
    shares = list(caster["unsure_of"].values())
    assert shares == sorted(shares, reverse=True)
    assert "left top bush 2 deg: size" in caster["unsure_of"]


def test_what_never_is_has_no_number(told):
    lifts = document(told)["settings"][0]["figures"]["lift_off_handwheel_left_deg@slow corner"]
    assert lifts["high"] is None or lifts["high"] <= 75.0
    assert lifts["low"] > 0.0
