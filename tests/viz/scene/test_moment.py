"""What a hand-out opens at: where the solver has settings differ most; what is asked for stays."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest

import scenarios
from kinematics.lock import sweep
from kinematics.standing.stand import inside_rear_clearance, stand
from scenarios.errors import Refusal
from viz.handout.content import solve
from viz.scene.moment import LARGER, STOPS, moment, seen_best

LOCK = [-60.0, -30.0, 0.0, 30.0, 60.0]


def made(*settings):
    """Runs of settings, each a case's clearances and loads (N,)."""

    def numbers(values):
        values = np.asarray(values, float)
        return SimpleNamespace(values=values, known=np.isfinite(values))

    def one(cases):
        named = [{"inside_rear_clearance_mm": numbers(c), "inside_rear_load_n": numbers(n)} for c, n in cases]
        return SimpleNamespace(handwheel_deg=LOCK, cases=[SimpleNamespace(columns=c) for c in named])

    return dict(zip("AB", map(one, settings), strict=False))


FLAT = [0.0] * 5
ANYWHERE = [None, None]
STEADY = ([0.0] * 5, [300.0, 300.0, 400.0, 300.0, 300.0])


def test_two_settings_are_shown_where_the_air_differs_most_to_the_left():
    low = ([9.0, 0.0, 0.0, 0.0, 5.0], [0.0, 10.0, 400.0, 10.0, 0.0])
    high = ([30.0, 0.0, 0.0, 6.0, 7.0], [0.0, 5.0, 400.0, 0.0, 0.0])
    found = moment(made([STEADY, low], [STEADY, high]), ANYWHERE)
    assert (found.case, found.stop, found.times) == (1, 3, 1.0)


def test_where_no_wheel_leaves_the_road_the_load_decides_and_it_is_drawn_larger():
    other = (FLAT, [300.0, 250.0, 400.0, 200.0, 290.0])
    found = moment(made([STEADY, STEADY], [STEADY, other]), ANYWHERE)
    assert (found.case, found.stop, found.times) == (1, 3, LARGER)


def test_one_setting_is_shown_where_it_differs_most_from_straight_ahead():
    found = moment(made([STEADY, (FLAT, [100.0, 200.0, 400.0, 350.0, 150.0])]), ANYWHERE)
    assert (found.case, found.stop) == (1, 4)


def test_what_has_no_number_is_not_chosen_and_what_is_given_stays():
    wide = ([0.0, 0.0, 0.0, 2.0, np.nan], [300.0, 300.0, 400.0, 300.0, np.nan])
    found = moment(made([STEADY, STEADY], [STEADY, wide]), ANYWHERE)
    assert (found.case, found.stop) == (1, 3)
    assert moment(made([STEADY, STEADY], [STEADY, wide]), ANYWHERE, case=0, times=7.0).case == 0
    assert moment(made([STEADY, STEADY], [STEADY, wide]), ANYWHERE, times=7.0).times == 7.0


def test_no_case_is_shown_at_a_lock_at_which_nobody_drives_it():
    far = ([0.0, 0.0, 0.0, 3.0, 30.0], [300.0, 300.0, 400.0, 100.0, 0.0])
    runs = made([STEADY, STEADY], [STEADY, far])
    assert moment(runs, ANYWHERE).stop == 4
    assert moment(runs, [None, 36.0]).stop == 3
    assert moment(runs, [None, 8.0], case=1).stop == 3  # the first stop there is


def test_of_the_training_kart_it_is_where_the_solver_has_the_largest_difference():
    scenario = scenarios.load()
    found = solve(scenario, ["as-delivered", "more-caster"], 13).moment
    lock = np.radians(np.linspace(*scenario.handwheel_deg[:2], 13))
    swept = [sweep(scenario.kart, scenario.settings[name], lock) for name in ("as-delivered", "more-caster")]
    air = [[inside_rear_clearance(one, stand(one, case)) for case in scenario.load_cases] for one in swept]
    apart = np.abs(np.subtract(*air)) * (lock > 0.0)
    for at, case in enumerate(scenario.load_cases):
        if case.handwheel is not None:
            apart[at, lock > case.handwheel + np.radians(5.0)] = 0.0
    assert (found.case, found.stop) == np.unravel_index(np.argmax(apart), apart.shape)
    assert scenario.load_cases[found.case].name == "slow corner"


@pytest.mark.parametrize(
    ("lock", "there"), [((-60.0, 0.0), -35.0), ((-60.0, -10.0), None), ((0.0, 60.0), 35.0)]
)
def test_a_lock_that_turns_one_way_alone_has_its_moment_on_that_way(lock, there):
    scenario = replace(scenarios.load(), handwheel_deg=(*lock, 31))
    best = seen_best(scenario, ["as-delivered", "more-caster"])
    shown = np.linspace(*lock, STOPS)[best.stop]
    assert scenario.load_cases[best.case].name == "slow corner"
    assert there is None or abs(shown - there) <= 1.5


def test_a_load_case_that_there_is_not_is_refused():
    with pytest.raises(Refusal, match="load case 'slwo corner' is unknown"):
        solve(scenarios.load(), ["as-delivered"], 5, "slwo corner")
