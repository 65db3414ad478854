"""What a scenario takes on trust is told with what it costs, the costliest first."""

import pytest

from scenarios import load
from scenarios.likely.doubts import doubts, headline
from tests.helpers.scenario_edit import scenario

ASSUMED = {"sure": {"others": "assumed"}}
SHORT = {"handwheel_from_deg": -20.0, "handwheel_to_deg": 20.0}


def test_of_a_copy_everything_is_assumed_and_the_costliest_comes_first():
    found = doubts(scenario(ASSUMED), 256)
    costs = [one.cost for one in found.assumed]
    assert costs == sorted(costs, reverse=True)
    assert len(costs) > 30
    assert costs[0] > 0.2
    assert [one.name for one in found.worth] == [one.input.name for one in found.assumed[:3]]


def test_of_a_measured_kart_little_is_and_it_costs_little():
    found = doubts(load(), 256)
    names = {one.input.name for one in found.assumed}
    assert names == {
        *("frame.torsion_axis_height_mm", "pneumatic_trail_mm"),
        *("rear_axle.longitudinal_stiffness_n_per_n", "rear_axle.friction_ratio"),
    }
    assert max(one.cost for one in found.assumed) < 0.03
    assert "kart.cog_height_mm" in [one.name for one in found.worth]


def test_measuring_what_costs_most_narrows_the_band_most():
    guessed = doubts(scenario(ASSUMED), 512)
    first = guessed.assumed[0].input.name
    table, _, key = first.partition(".")
    known = doubts(
        scenario({"sure": {"others": "assumed", table: {key: "measured", "others": "assumed"}}}), 512
    )
    widths = [float(one.figures[0].band.half) for one in (guessed, known)]
    assert widths[1] < 0.8 * widths[0]


def test_the_figures_are_of_the_first_corner_and_of_the_first_that_lifts():
    addresses = [str(one) for one in headline(load())]
    assert addresses == [
        "inside_rear_load_at_lock_left_n@20@gentle corner",
        "jacking_rate_left_n_per_deg@gentle corner",
        "lift_off_handwheel_left_deg@slow corner",
    ]
    standing = scenario({"load_case": [{"name": "standing"}], "column.stop_deg": 20.0, "sweep": SHORT})
    assert str(headline(standing)[0]) == "inside_rear_load_at_lock_left_n@20@standing"
    driven = {"name": "hairpin", "lateral_g": 0.9, "handwheel_deg": 40.0}
    own = scenario({"load_case": [{"name": "standing"}, driven]})
    assert str(headline(own)[0]) == "inside_rear_load_at_lock_left_n@40@hairpin"


@pytest.mark.parametrize(
    "changes",
    [
        {"kart.cog_height_mm": 20.0},
        {"front.stiffness_n_per_mm": 1e6, "rear.stiffness_n_per_mm": 1e6},
        {"frame.torsional_stiffness_nm_per_deg": 5.0},
        {"frame.front_compliance_share": 0.0},
        {"rear.tread_width_mm": 0.0, "rear.crown_radius_mm": 5.0},
    ],
)
def test_an_odd_kart_is_told_too(changes):
    for figure in doubts(scenario({**changes, **ASSUMED}), 256).figures:
        assert float(figure.band.low) <= float(figure.band.high)


def test_a_centre_of_gravity_near_a_wheel_stays_on_the_kart():
    for changes in ({"kart.cog_x_mm": 15.0}, {"kart.cog_y_mm": 470.0}):
        made = scenario({**changes, **ASSUMED, "load_case": []}, "published-kart")
        assert all(float(one.band.known) > 0.5 for one in doubts(made, 256).figures)
