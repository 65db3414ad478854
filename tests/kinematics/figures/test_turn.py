"""Columns and headline figures of load cases, against the stance they are read from."""

from dataclasses import replace

import numpy as np
import pytest

import scenarios
from kinematics.choose.box import with_row
from kinematics.drive.rear_axle import AxleGrip, locked_axle
from kinematics.figures.solved import Solved
from kinematics.lock import sweep
from kinematics.parts import CornerSetting, Kart, LoadCase, Setting
from kinematics.stance.equilibrium import RL, RR
from kinematics.standing.effort import effort
from kinematics.standing.stand import stand
from tests.helpers.reading import (
    AT_LOCK,
    JACKING,
    LIFT_OFF,
    WHOLE_TURN,
    case_columns,
    case_figures,
    jacking_figures,
    some_figures,
)

SCENARIO = scenarios.load()
KART = SCENARIO.kart
CASES = {case.name: case for case in SCENARIO.load_cases}
AT_A_SPEED = LoadCase("at a speed", speed=9.7, grip_limit_g=1.6)
AT = np.radians(40.0)


def figures(setting: str, case: LoadCase, kart: Kart = KART):
    return case_figures(kart, SCENARIO.settings[setting], case, AT)


def stood(handwheel, case, setting="as-delivered"):
    swept = sweep(KART, SCENARIO.settings[setting], np.atleast_1d(handwheel))
    return swept, stand(swept, case)


def value(figure):
    assert bool(figure.known)
    return float(figure.values)


@pytest.mark.parametrize("case", ["slow corner", "fast corner"])
def test_lift_off_is_where_the_load_has_gone_and_the_clearance_begins(case):
    told = figures("more-caster", CASES[case])
    angle = np.radians(value(told["lift_off_handwheel_left_deg"]))
    near = np.radians(0.01)
    swept, standing = stood([angle - near, angle, angle + near], CASES[case], "more-caster")
    assert standing.loads[0, RL] > 0.0
    assert standing.clearance[0, RL] == 0.0
    assert standing.loads[1, RL] == pytest.approx(0.0, abs=0.01)  # N
    assert standing.clearance[1, RL] == pytest.approx(0.0, abs=0.001)  # mm
    assert standing.clearance[2, RL] > 0.0
    steer = 0.5 * np.degrees(swept.left.steer[1] - swept.right.steer[1])
    # The figure is to the road as the kart stands, the sweep's to the reference plane: they differ a little.
    assert value(told["lift_off_steer_left_deg"]) == pytest.approx(steer, abs=0.2)
    assert value(told["least_inside_rear_load_left_n"]) == 0.0
    assert told["least_inside_rear_load_at_left_deg"].values == told["lift_off_handwheel_left_deg"].values


def test_a_wheel_that_stays_down_has_no_lift_off_and_its_least_load_is_the_columns():
    told = figures("as-delivered", CASES["standing"])
    assert not told["lift_off_handwheel_left_deg"].known
    _, standing = stood(np.radians(np.linspace(0.0, 75.0, 301)), CASES["standing"])
    assert value(told["least_inside_rear_load_left_n"]) == pytest.approx(
        standing.loads[:, RL].min(), abs=0.05
    )


def test_jacking_rate_in_newtons_is_the_slope_of_the_load():
    told = figures("as-delivered", CASES["gentle corner"])
    swept, standing = stood(np.radians([0.0, 1.0]), CASES["gentle corner"])
    steer = np.degrees(0.5 * (swept.left.steer - swept.right.steer))
    slope = np.diff(standing.loads[:, RL])[0] / np.diff(steer)[0]
    # Read over a degree of handwheel here, between 0.1 and 0.2 deg there: 1 per cent apart at most.
    assert value(told["jacking_rate_left_n_per_deg"]) == pytest.approx(-slope, rel=0.01)


def test_an_uneven_kart_jacks_the_same_way_to_either_side():
    """A bent stub's toe moves the zero of the mean road steer off straight ahead; the rate keeps its sign."""
    bent = scenarios.load("bent-right-stub")
    told = jacking_figures(bent.kart, bent.settings["as-delivered"])
    rates = [value(told[f"jacking_rate_{way}_mm_per_deg"]) for way in ("left", "right")]
    assert min(rates) > 0.8
    assert rates[0] == pytest.approx(rates[1], rel=0.02)


def test_jacking_rate_in_mm_is_the_slope_of_the_rigid_lift():
    told = jacking_figures(KART, SCENARIO.settings["as-delivered"])
    swept = sweep(KART, SCENARIO.settings["as-delivered"], np.radians([0.5, 1.0, -0.5, -1.0]))
    steer = np.degrees(0.5 * np.abs(swept.left.steer - swept.right.steer))
    lift = swept.rigid_inside_rear_lift
    for way, a, b in (("left", 0, 1), ("right", 2, 3)):
        slope = (lift[b] - lift[a]) / (steer[b] - steer[a])
        assert value(told[f"jacking_rate_{way}_mm_per_deg"]) == pytest.approx(slope, rel=0.01)
    assert slope > 0.0


def test_more_caster_jacks_more():  # common practice, no source
    base, more = (jacking_figures(KART, SCENARIO.settings[s]) for s in ("as-delivered", "more-caster"))
    name = "jacking_rate_left_mm_per_deg"
    assert value(more[name]) > value(base[name])
    name = "jacking_rate_left_n_per_deg"
    case = CASES["standing"]
    assert value(figures("more-caster", case)[name]) > value(figures("as-delivered", case)[name])


def test_a_speed_does_not_count_as_jacking():
    name = "jacking_rate_left_n_per_deg"
    slow, standing = (value(figures("as-delivered", c)[name]) for c in (AT_A_SPEED, CASES["standing"]))
    assert slow == pytest.approx(standing, rel=1e-9)


def test_each_case_of_a_kart_solved_once_is_read_at_its_own_lock():
    cases = tuple(case for case in CASES.values() if case.handwheel is not None)
    assert len({case.handwheel for case in cases}) == len(cases) > 3
    solved = Solved(KART, SCENARIO.settings["more-caster"], np.zeros(1), cases)
    for case in cases:
        alone = case_figures(KART, SCENARIO.settings["more-caster"], case, case.handwheel)
        for name in AT_LOCK:
            found = solved.case_figures[case.name][name]
            assert value(found) == pytest.approx(value(alone[name]), abs=1e-6), (case.name, name)


def test_columns_of_a_case_are_the_stances_own_numbers():
    swept, standing = stood(np.radians([-30.0, 0.0, 30.0]), CASES["slow corner"])
    told = case_columns(swept, CASES["slow corner"])
    loads = standing.loads
    assert (told["load_rear_right_n"].values == loads[:, RR]).all()
    assert (told["lateral_acceleration_g"].values == standing.lateral_g).all()
    total = loads.sum(axis=-1)
    share = told["cross_weight_percent"].values / 100.0
    assert told["diagonal_split_n"].values == pytest.approx((2.0 * share - 1.0) * total, rel=1e-9)


def test_effort_and_rear_axle_are_the_models_own_numbers_in_newton_metres():
    swept, standing = stood(np.radians([-20.0, 20.0]), CASES["slow corner"])
    grip = AxleGrip(friction=1.4, slip_stiffness=9.0)
    told = case_columns(swept, CASES["slow corner"], 12.0, grip)
    felt = effort(swept, standing, 12.0)
    assert told["handwheel_torque_nm"].values == pytest.approx(felt.handwheel / 1000.0, rel=1e-12)
    assert told["handwheel_torque_nm"].values == pytest.approx(
        told["handwheel_torque_loads_nm"].values + told["handwheel_torque_side_nm"].values, rel=1e-9
    )
    moment = locked_axle(swept, standing, grip).yaw_moment / 1000.0
    assert told["axle_yaw_moment_nm"].values == pytest.approx(moment, rel=1e-12)
    assert moment[0] > 0.0 > moment[1]  # it opposes the turn


def test_caster_to_the_road_grows_as_the_nose_rises():
    speeding = LoadCase("speeding up", longitudinal_g=0.3)
    swept, _ = stood([0.0], CASES["standing"])
    names = [f"standing_caster_{side}_deg" for side in ("left", "right")]
    still, up = (case_columns(swept, case) for case in (CASES["standing"], speeding))
    assert up["pitch_deg"].values[0] < still["pitch_deg"].values[0]
    for name in names:
        assert up[name].values[0] > still[name].values[0]


def test_steer_and_camber_as_it_stands_keep_their_signs_on_both_corners():
    swept, _ = stood(np.radians([20.0]), CASES["standing"])
    told = case_columns(swept, CASES["standing"])
    for side, corner, sign in (("left", swept.left, 1.0), ("right", swept.right, -1.0)):
        steer, camber = told[f"standing_steer_{side}_deg"], told[f"standing_camber_{side}_deg"]
        assert steer.values[0] == pytest.approx(sign * np.degrees(corner.steer[0]), abs=0.3)
        assert camber.values[0] == pytest.approx(np.degrees(corner.camber[0]), abs=1.0)


def test_a_rod_that_cannot_be_fitted_leaves_every_figure_unknown():
    setting = Setting(left=replace(Setting().left, rod_length=100.0))
    told = case_figures(KART, setting, CASES["standing"], AT)
    assert not any(bool(figure.known) for figure in told.values())
    assert not any(bool(figure.known) for figure in jacking_figures(KART, setting).values())
    assert all(np.isfinite(figure.values) for figure in told.values())


PAIRS = np.concatenate(
    [np.random.default_rng(5).uniform(0.0, (4.0, 6.3, 4.0, 6.3), (23, 4)), np.zeros((1, 4))]
)


def fitted(rows, toe=0.0):
    """Bush pairs (..., 4) at both corners, the right one turned a little further round."""
    turned = rows + np.array([0.0, 0.3, 0.0, 0.0])
    return Setting(*(with_row(CornerSetting(rod_toe=toe), pair) for pair in (rows, turned)))


@pytest.mark.parametrize("case", ["standing", "slow corner", "fast corner", "braking into the corner"])
def test_a_batch_of_settings_has_the_figures_of_each_alone(case):
    batch = case_figures(KART, fitted(PAIRS.reshape(6, 4, 4)), CASES[case], AT)
    some = {
        name: some_figures(KART, fitted(PAIRS), CASES[case], [name], AT)[name]
        for name in (*WHOLE_TURN, *AT_LOCK)
    }
    lifted = []
    for i, row in enumerate(PAIRS):
        alone = case_figures(KART, fitted(row), CASES[case], AT)
        assert {*WHOLE_TURN, *AT_LOCK} == set(alone)
        lifted.append(bool(alone["lift_off_steer_left_deg"].known))
        for name, figure in alone.items():
            for found, place in ((batch[name], (i // 4, i % 4)), (some[name], (i,))):
                assert bool(found.known[place]) == bool(figure.known), name
                if figure.known:
                    assert found.values[place] == pytest.approx(float(figure.values), abs=1e-6), name
                elif name in LIFT_OFF and found is some[name] and "_left_" in name:
                    assert found.values[place] == np.inf, name  # sure to stay down
    assert set(lifted) == {"fast corner": {False, True}, "slow corner": {True}}.get(case, {False})


def test_jacking_rates_in_mm_of_a_batch_are_those_of_each_alone():
    batch = jacking_figures(KART, fitted(PAIRS.reshape(6, 4, 4)))
    assert set(batch) == set(JACKING)
    for i, row in enumerate(PAIRS):
        for name, figure in jacking_figures(KART, fitted(row)).items():
            assert batch[name].values[i // 4, i % 4] == pytest.approx(float(figure.values), abs=1e-9)


def test_a_rod_that_cannot_be_fitted_is_unknown_beside_one_that_can():
    length = np.array([100.0, np.nan])
    length[1] = sweep(KART, Setting(), 0.0).left.linkage.rod_length
    both = Setting(left=CornerSetting(rod_length=length))
    told = some_figures(KART, both, CASES["standing"], (*WHOLE_TURN, *AT_LOCK), AT)
    for name, figure in told.items():
        assert not figure.known[0], name
        assert np.isfinite(figure.values[0]), name  # nothing is said of its lift-off
        assert figure.known[1] or (name in LIFT_OFF and figure.values[1] == np.inf), name


def test_a_coarse_scan_is_near_the_figures_it_ranks_by():
    name, least = "lift_off_handwheel_left_deg", "least_inside_rear_load_left_n"
    for case in ("slow corner", "fast corner"):
        fine, coarse = (
            some_figures(KART, fitted(PAIRS), CASES[case], (name, least), coarse=c) for c in (False, True)
        )
        assert (fine[name].known == coarse[name].known).all()
        lifts = fine[name].known
        off = np.abs(fine[name].values[lifts] - coarse[name].values[lifts])
        assert off.size > 15
        assert off.max() < 2.0  # deg; a stand-in, not a figure
        assert np.abs(fine[least].values - coarse[least].values).max() < 10.0


def test_an_uneven_kart_lifts_its_wheel_at_a_speed_though_straight_ahead_it_runs_the_other_way():
    toe_out = Setting(CornerSetting(rod_toe=0.01), CornerSetting(rod_toe=0.0))
    case = AT_A_SPEED
    swept = sweep(KART, toe_out, 0.0)
    assert stand(swept, case).lateral_g[0] < 0.0
    told = case_figures(KART, toe_out, case, AT)
    assert told["lift_off_handwheel_left_deg"].known
    assert told["lift_off_handwheel_right_deg"].known


def test_settings_swept_each_at_its_own_handwheel_angles_are_as_each_alone():
    own = np.random.default_rng(6).uniform(-1.0, 1.0, (len(PAIRS), 3))
    batch = sweep(KART, fitted(PAIRS), own)
    for i, row in enumerate(PAIRS):
        alone = sweep(KART, fitted(row), own[i])
        assert batch.rigid_inside_rear_lift[i] == pytest.approx(alone.rigid_inside_rear_lift, abs=1e-9)
        assert batch.path_curvature[i] == pytest.approx(alone.path_curvature, abs=1e-10)
        assert batch.ackermann[i] == pytest.approx(alone.ackermann, abs=1e-6)
        assert batch.left.delta_rate[i] == pytest.approx(alone.left.delta_rate, abs=1e-9)
        assert batch.right.camber[i] == pytest.approx(alone.right.camber, abs=1e-10)
