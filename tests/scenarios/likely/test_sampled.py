"""Many karts at once are the karts one by one; what is drawn is as stated, and shared where it must be."""

from copy import deepcopy
from dataclasses import replace

import numpy as np
import pytest

from kinematics.batches import rows
from kinematics.drive.rear_axle import AxleGrip
from kinematics.figures import read
from kinematics.figures.catalog import address
from scenarios import build, load
from scenarios.likely.sampled import fitted, sampled
from tests.helpers.scenario_edit import scenario

ADDRESSES = tuple(
    map(
        address,
        (
            *("caster_left_deg", "camber_right_deg@20", "scrub_left_mm", "ackermann_percent@25"),
            *("inside_rear_load_n@30@gentle corner", "handwheel_torque_nm@15@gentle corner"),
            *("axle_yaw_moment_nm@20@gentle corner", "jacking_rate_left_n_per_deg@gentle corner"),
            *("lift_off_handwheel_right_deg@standing", "ride_height_change_front_mm@0@standing"),
        ),
    )
)


def figures(kart, setting, given, cases):
    found = read.read(kart, setting, ADDRESSES, {case.name: case for case in cases}, given)
    return [np.broadcast_arrays(*one) for one in found]


@pytest.mark.parametrize("name", ["training-kart", "bent-right-stub"])
def test_many_karts_have_the_figures_of_each_of_them(name):
    from_file = load(name)
    many, count = sampled(from_file, 16), 16
    setting = fitted(from_file.settings["more-caster"], from_file.kit, count).setting
    batch = figures(many.kart, setting, many.given, from_file.load_cases)
    for n in (0, 7, 15):
        one = deepcopy(from_file.resolved)
        for values, input_ in zip(many.values.T, many.inputs, strict=True):
            for place in input_.places:
                _put(one, place, float(values[n]))
        own = figures(
            build.kart(one),
            rows(setting, (count,), np.array([n])),
            _given(many.given, one),
            from_file.load_cases,
        )
        for (values, known), (value, there) in zip(batch, own, strict=True):
            assert known[n] == there[0]
            assert values[n] == pytest.approx(value[0], rel=1e-9, abs=1e-7)


def _put(tables, place, number):
    *way, last = place
    for part in way:
        tables = tables[part]
    tables[last] = number


def _given(given, tables):
    axle = tables["rear_axle"]
    grip = AxleGrip(axle["friction_ratio"], axle["longitudinal_stiffness_n_per_n"])
    return replace(given, pneumatic_trail=tables["pneumatic_trail_mm"], grip=grip)


def test_what_is_drawn_has_the_spread_stated_and_leaves_the_scenario_alone():
    from_file = load()
    before = deepcopy(from_file.resolved)
    many = sampled(from_file, 1024)
    assert from_file.resolved == before
    for values, one in zip(many.values.T, many.inputs, strict=True):
        assert np.median(values) == pytest.approx(one.uncertain.value, abs=0.02 * one.uncertain.spread)
        assert np.std(values) == pytest.approx(one.uncertain.spread, rel=0.03), one.name


def test_a_kart_drawn_is_the_same_whatever_else_is_uncertain():
    one, other = sampled(load(), 64), sampled(scenario({"sure": {"kart": {"wheelbase_mm": 0.0}}}), 64)
    at = {i.name: n for n, i in enumerate(other.inputs)}
    for n, input_ in enumerate(one.inputs):
        if input_.name in at:
            assert np.array_equal(one.values[:, n], other.values[:, at[input_.name]])
    assert other.kart.wheelbase == 1045.0


def test_a_crown_keeps_to_its_tread_however_unsure_both_are():
    wide = {"front": {"crown_radius_mm": 60.0, "tread_width_mm": 30.0}}
    many = sampled(scenario({"front.crown_radius_mm": 70.0, "sure": wide}), 1024)
    crown, width = many.kart.front_tyre.crown_radius, many.kart.front_tyre.tread_width
    assert np.all(crown >= 0.5 * width)
    assert np.all(crown <= 25.0 * width)
    assert np.unique(crown).size == 1024


def test_everything_assumed_at_once_is_still_a_kart_that_steers_and_stands():
    from_file = scenario({"sure": {"others": "assumed"}})
    many = sampled(from_file, 512)
    found = figures(many.kart, from_file.settings["as-delivered"], many.given, from_file.load_cases)
    for one, (_, known) in zip(ADDRESSES, found, strict=True):
        assert known.mean() > 0.95 or one.figure.may_lack, str(one)


def test_a_bush_is_off_alike_where_it_stays_and_anew_where_it_is_turned():
    kart = load()
    stays, turned = (kart.settings[name] for name in ("more-caster", "less-caster"))
    one, same, other = (fitted(setting, kart.kit, 256).setting.left for setting in (stays, stays, turned))
    assert np.array_equal(one.top_offset, same.top_offset)
    assert np.array_equal(one.top_clock, same.top_clock)
    assert np.array_equal(one.top_offset, other.top_offset)  # the same bush
    off, off_other = (c.top_clock - c.top_clock.mean() for c in (one, other))
    assert abs(np.corrcoef(off, off_other)[0, 1]) < 0.2
    assert np.degrees(np.std(one.top_clock)) == pytest.approx(2.0, rel=0.02)
    assert np.std(one.top_offset) / stays.left.top_offset == pytest.approx(0.03, rel=0.02)


def test_concentric_bushes_are_what_they_are():
    kart = load()
    made = fitted(kart.settings["as-delivered"], kart.kit, 8)
    assert made.setting == kart.settings["as-delivered"]
    assert made.errors == {}
