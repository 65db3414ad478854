"""A file of a kart that was measured with a setting on it."""

import numpy as np
import pytest

import scenarios
from kinematics.figures.catalog import address
from kinematics.figures.read import read
from kinematics.parts import GRAVITY
from scenarios.errors import Refusal
from scenarios.likely.bands import bands
from tests.helpers.scenario_edit import edited, tables

NOW = {"top_rated_deg": 2.0, "top_clock_deg": 180.0, "bottom_rated_deg": 1.0, "bottom_clock_deg": 0.0}
CASTER = address("caster_left_deg")


def measured(more=None):
    said = {"fitted_when_measured": "now", "setting.now.both": NOW, **(more or {})}
    return scenarios.from_mapping(edited(tables(), said), "kart.toml", "kart")


def test_with_what_was_fitted_it_reads_as_it_was_measured():
    kart, plain = measured(), scenarios.load()
    asked = [address(name) for name in ("caster_left_deg", "camber_left_deg@0", "toe_right_deg@0")]
    asked += [address(f"load_{wheel}_n@0@standing") for wheel in ("front_left", "rear_right")]
    cases = {case.name: case for case in kart.load_cases}
    now = [float(v) for v, _ in read(kart.kart, kart.settings["now"], asked, cases, kart.given)]
    written = [
        float(v) for v, _ in read(plain.kart, plain.settings["as-delivered"], asked, cases, kart.given)
    ]
    assert now == pytest.approx(written, abs=1e-6)
    scale = kart.resolved["kart"]["scale_rear_right_kg"]
    assert now[-1] == pytest.approx(scale * GRAVITY, abs=1e-6)


def test_concentric_bushes_then_have_so_much_less_caster():
    kart = measured()
    cases = {case.name: case for case in kart.load_cases}
    [(caster, _)] = read(kart.kart, kart.settings["as-delivered"], [CASTER], cases, kart.given)
    assert float(caster) == pytest.approx(12.0 - 3.1, abs=0.05)


def test_how_the_bushes_on_it_are_off_does_not_blur_what_was_measured_with_them():
    told = bands(measured(), ["now", "as-delivered"], (CASTER,), 512)
    exact = bands(measured({"sure.yoke.caster_deg": 0.3}), ["now", "as-delivered"], (CASTER,), 512)
    own, concentric = exact.of("now", CASTER), exact.of("as-delivered", CASTER)
    assert float(own.band.half) == pytest.approx(1.96 * 0.3, rel=0.05)
    assert float(concentric.band.half) > float(own.band.half)
    assert np.isfinite(float(told.of("now", CASTER).band.half))


def test_where_no_default_is_named_it_is_the_setting_on_the_kart():
    assert measured({"default_setting": "more-caster"}).default_setting == "more-caster"
    without = edited(tables(), {"fitted_when_measured": "now", "setting.now.both": NOW})
    del without["default_setting"]
    assert scenarios.from_mapping(without, "kart.toml", "kart").default_setting == "now"


@pytest.mark.parametrize(
    ("more", "said"),
    [
        (
            {"fitted_when_measured": "nwo"},
            "fitted_when_measured = 'nwo': no such setting; did you mean 'now'?",
        ),
        (
            {"setting.now.both.tie_rod_toe_deg": 0.0},
            "setting.now.both.tie_rod_toe_deg: was measured with the kart",
        ),
        ({"setting.now.rear_track_change_mm": 5.0}, "setting.now.rear_track_change_mm: was measured"),
    ],
)
def test_what_cannot_be_reckoned_back_is_refused_with_its_key(more, said):
    with pytest.raises(Refusal) as refused:
        measured(more)
    assert said in str(refused.value)
    assert "\n" not in str(refused.value)


def test_a_run_of_it_can_be_made_again():
    kart = measured()
    again = scenarios.from_mapping(kart.resolved, "again", "kart")
    assert again.kart == kart.kart
    assert again.digest == kart.digest
