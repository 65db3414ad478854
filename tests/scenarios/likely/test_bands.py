"""Bands of figures and of differences, and what they are unsure of."""

from dataclasses import replace

import numpy as np
import pytest

from kinematics.figures.catalog import address
from kinematics.tolerance.band import band
from scenarios import bands, load
from scenarios.likely.bands import shares_of
from tests.helpers.scenario_edit import all_exact, scenario

LOAD = address("inside_rear_load_n@30@gentle corner")
JACKING = address("jacking_rate_left_n_per_deg@gentle corner")
LIFT = address("lift_off_handwheel_left_deg@slow corner")
CASTER = address("caster_left_deg")
TOE = address("toe_left_deg")


@pytest.fixture(scope="module")
def found():
    names = ["as-delivered", "more-caster", "less-caster"]
    return bands(load(), names, (LOAD, JACKING, LIFT, CASTER, TOE), way="reset")


def test_a_single_figure_is_vague_and_a_difference_is_not(found):
    own, change = found.of("as-delivered", LOAD), found.change("more-caster", LOAD)
    assert own.band.low < own.value < own.band.high
    assert change.value == found.of("more-caster", LOAD).value - own.value
    assert change.band.half < 0.3 * own.band.half
    assert change.told_apart
    assert change.band.high < 0.0
    assert found.change("less-caster", LOAD).band.low > 0.0


def test_a_setting_cannot_be_told_apart_from_itself_nor_from_a_hair():
    kart = load()
    base = kart.settings["as-delivered"]
    hair = replace(base, left=replace(base.left, top_offset=0.02, top_clock=np.pi))
    told = bands(kart, {"as-delivered": base, "itself": base, "hair": hair}, (LOAD, CASTER))
    assert not told.change("itself", LOAD).told_apart
    assert told.change("itself", LOAD).band.half == 0.0
    assert told.change("hair", CASTER).told_apart  # a thousandth more is more, however little


def test_a_lift_off_may_be_never_and_how_often_is_told():
    guessed = scenario({"sure": {"kart": {"cog_height_mm": 40.0}}})
    found = bands(guessed, ["as-delivered", "more-caster"], (LIFT,))
    own = found.of("as-delivered", LIFT)
    assert own.band.high == np.inf
    assert 0.03 < own.band.never < 0.3
    assert 0.0 < own.band.low < own.value < 75.0
    change = found.change("more-caster", LIFT)
    assert change.value < 0.0
    assert change.band.low == -np.inf  # a kart whose wheel never lifts lifts it with more caster
    assert change.band.high < 0.0


def test_toe_is_reset_on_each_kart_and_kept_rods_upset_it(found):
    free = "camber-and-caster"  # it names no toe of its own
    reset, kept = (
        bands(load(), ["as-delivered", free], (TOE,), way=way).change(free, TOE) for way in ("reset", "kept")
    )
    assert reset.band.half < 1e-9
    assert abs(kept.value) > 0.1
    assert kept.band.half > 0.01
    named = found.of("more-caster", TOE)
    assert (float(named.band.low), float(named.band.high)) == pytest.approx((-0.1, -0.1), abs=1e-9)


def test_caster_has_the_closed_form_of_its_inputs():
    only = {"sure": all_exact() | {"yoke": {**_EXACT_YOKE, "caster_deg": 0.4}}}
    told = bands(scenario(only), ["as-delivered"], (CASTER,), 4096).of("as-delivered", CASTER)
    assert told.value == pytest.approx(12.0, abs=1e-6)
    assert (told.band.low, told.band.high) == pytest.approx((12.0 - 0.784, 12.0 + 0.784), abs=0.02)


def test_load_of_a_standing_kart_has_that_of_its_scale():
    only = {"sure": all_exact() | {"kart": {**_EXACT_KART, "scale_rear_left_kg": 0.7}}}
    at = address("load_rear_left_n@0@standing")
    found = bands(scenario(only), ["as-delivered"], (at,), 1024)
    told = found.of("as-delivered", at)
    assert told.band.half == pytest.approx(1.959964 * 0.7 * 9.80665, rel=0.03)
    [cause] = found.causes("as-delivered", told)
    assert (cause.name, cause.share) == ("kart.scale_rear_left_kg", pytest.approx(1.0, abs=1e-6))


def test_a_kart_known_exactly_has_bands_without_width():
    only = {"sure": all_exact()}
    told = bands(scenario(only), ["as-delivered"], (LOAD, LIFT), 8)
    for one, coarse in ((LOAD, 1e-6), (LIFT, 0.02)):  # lift-off is scanned coarsely on many karts
        own = told.of("as-delivered", one)
        assert (own.band.low, own.band.high) == pytest.approx((own.value, own.value), abs=coarse)


def test_the_height_of_the_centre_of_gravity_rules_the_load_and_the_bush_the_difference(found):
    [first, second, third, *_] = found.causes("as-delivered", found.of("as-delivered", LOAD))
    assert first.name == "kart.cog_height_mm"
    assert 1.0 >= first.share > second.share > third.share > 0.0
    names = [cause.name for cause in found.causes("more-caster", found.change("more-caster", LOAD))[:3]]
    assert "kart.cog_height_mm" not in names
    assert "left top bush 2 deg @ 180: clock" in names


def test_shares_by_fit_are_those_of_what_is_saved_by_knowing_it():
    kart = load()
    told = bands(kart, ["as-delivered"], (LOAD,), 2048)
    own = told.of("as-delivered", LOAD)
    for cause in told.causes("as-delivered", own)[:2]:
        table, _, key = cause.name.partition(".")
        known = scenario({"sure": {table: {key: 0.0}}})
        without = bands(known, ["as-delivered"], (LOAD,), 2048).of("as-delivered", LOAD)
        saved = 1.0 - np.var(without.values[0]) / np.var(own.values[0])
        assert saved == pytest.approx(cause.share, abs=0.02)


def test_samples_without_end_count_as_the_last_that_has_one():
    values = np.where(np.arange(64) < 60, np.arange(64.0), np.inf)
    column = np.arange(64.0)[:, None]
    own = shares_of((values, np.isfinite(values)), column).own
    assert own == pytest.approx([1.0], abs=0.02)


def test_columns_through_lock_have_bands_at_every_position(found):
    kart = load()
    solved = found.through_lock("more-caster", kart.cases(["gentle corner"]))
    camber = solved.columns["camber_left_deg"]
    through = band(camber.values, camber.known)
    assert through.low.shape == (61,)
    assert np.all(through.low < through.high)
    inside = solved.case_columns["gentle corner"][LOAD.name]
    at_30 = band(inside.values, inside.known)
    place = int(np.argmin(np.abs(np.linspace(*kart.handwheel_deg) - 30.0)))
    own = found.of("more-caster", LOAD).band
    ends = float(own.low), float(own.high)
    assert (at_30.low[place], at_30.high[place]) == pytest.approx(ends)


def test_bands_of_columns_through_lock_are_those_of_figures_at_a_lock(found):
    kart = load()
    [case] = kart.cases(["gentle corner"])
    own, change = (found.columns("more-caster", case, [LOAD.name], less)[LOAD.name] for less in (False, True))
    place = int(np.argmin(np.abs(np.linspace(*kart.handwheel_deg) - 30.0)))
    for through, at in ((own, found.of("more-caster", LOAD)), (change, found.change("more-caster", LOAD))):
        ends = float(at.band.low), float(at.band.high)
        assert (through.low[place], through.high[place]) == pytest.approx(ends, abs=1e-6)


def test_of_very_many_positions_the_bands_are_read_between_fewer():
    fine, few = (replace(load(), handwheel_deg=(-40.0, 40.0, count)) for count in (18_001, 181))
    [case] = fine.cases(["gentle corner"])
    names = [LOAD.name, "camber_left_deg"]
    many, at_all = (bands(kart, ["as-delivered"], [LOAD]) for kart in (fine, few))
    assert many.through_lock("as-delivered").columns["camber_left_deg"].values.shape[-1] < 200
    through, solved = (one.columns("as-delivered", case, names) for one in (many, at_all))
    for name in names:
        assert through[name].low.shape == (18_001,)
        for end in ("low", "high", "known"):
            assert getattr(through[name], end)[::100] == pytest.approx(getattr(solved[name], end), abs=1e-6)


_EXACT_YOKE = {"centre_mm": 0.0, "caster_deg": 0.0, "kingpin_inclination_deg": 0.0, "span_mm": 0.0}
_EXACT_KART = {
    **{f"scale_{wheel}_kg": 0.0 for wheel in ("front_left", "front_right", "rear_left", "rear_right")},
    **{"wheelbase_mm": 0.0, "cog_height_mm": 0.0},
}
