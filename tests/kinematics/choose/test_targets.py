"""Targets: what is refused, in one line, and how misses and fit are counted."""

from __future__ import annotations

from math import inf, nan

import numpy as np
import pytest

from kinematics.choose.targets import Target, check_targets, fit, misses, reached
from kinematics.lock import sweep
from kinematics.parts import LoadCase, Setting
from tests.helpers.karts import KART
from tests.helpers.reading import AT_LOCK, JACKING, WHOLE_TURN, case_columns, named

STOP = np.radians(90.0)
CASES = ["slow corner"]
AT = np.radians(20.0)


def want(name: str, low: float = 0.0, high: float = 0.0, at: float | None = None, case: str | None = None):
    return Target(named(name, at, case), low, high)


@pytest.mark.parametrize(
    ("targets", "message"),
    [
        ([], "no targets are given"),
        ([want("camber_gain_left_deg")], "camber_gain_left_deg is read at a lock position"),
        ([want("caster_left_deg", at=AT)], "caster_left_deg does not change through lock"),
        (
            [want("camber_left_deg", at=2.0)],
            "camber_left_deg at handwheel 114.592 deg is beyond the stop at 90 deg",
        ),
        ([want("camber_left_deg", at=nan)], "beyond the stop"),
        ([want("inside_rear_load_n", at=AT)], "name the load case in which it is wanted"),
        ([want("inside_rear_load_n", case="slow corner")], "is read at a lock position"),
        (
            [want("inside_rear_load_n", at=AT, case="slow coner")],
            "unknown load case 'slow coner'",
        ),
        ([want("camber_left_deg", at=AT, case="slow corner")], "does not depend on a load case"),
        (
            [want("scrub_left_mm", 60.0, 70.0), want("scrub_left_mm", 75.0, 80.0)],
            "contradictory targets: scrub_left_mm at least 75 and at most 70",
        ),
        (
            [want("camber_left_deg", 1.0, 1.0), want("camber_left_deg", 2.0, 3.0, 0.0)],
            "contradictory targets: camber_left_deg at handwheel 0 deg at least 2 and at most 1",
        ),
        (
            [want("camber_left_deg", 1.0, 1.0, AT), want("camber_left_deg", 2.0, 2.0, AT)],
            "contradictory targets: camber_left_deg at handwheel 20 deg at least 2 and at most 1",
        ),
    ],
)
def test_refused_in_one_clear_line(targets, message):
    with pytest.raises(ValueError, match=message) as caught:
        check_targets(targets, CASES, STOP)
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize(
    ("make", "message"),
    [
        (lambda: want("scrub_left_mm", 3.0, 2.0), "scrub_left_mm: impossible range, 3 is above 2"),
        (lambda: want("scrub_left_mm", nan, 2.0), "holds no number"),
        (lambda: want("scrub_left_mm", inf, inf), "holds no number"),
        (lambda: Target(named("scrub_left_mm"), 1.0, 2.0, weight=0.0), "weight must be above 0"),
        (lambda: Target(named("scrub_left_mm"), 1.0, 2.0, scale=-1.0), "scale must be above 0"),
    ],
)
def test_a_target_refuses_nonsense_when_made(make, message):
    with pytest.raises(ValueError, match=message):
        make()


@pytest.mark.parametrize(
    ("targets", "message"),
    [
        ([want("jacking_rate_left_n_per_deg")], "name the load case in which it is wanted"),
        ([want("jacking_rate_left_n_per_deg", at=AT, case="slow corner")], "leave the handwheel angle out"),
        ([want("jacking_rate_left_n_per_deg", case="slow")], "unknown load case 'slow'"),
        ([want("jacking_rate_left_mm_per_deg", case="slow corner")], "does not depend on a load case"),
        ([want("jacking_rate_left_mm_per_deg", at=AT)], "does not change through lock"),
        ([want("inside_rear_load_at_lock_left_n", case="slow corner")], "is read at a lock position"),
        ([want("inside_rear_load_at_lock_left_n", at=-AT, case="slow corner")], "without a sign"),
        ([want("inside_rear_load_at_lock_left_n", at=2.0, case="slow corner")], "is beyond the stop"),
        (
            [
                want("lift_off_steer_left_deg", 9.0, inf, case="slow corner"),
                want("lift_off_steer_left_deg", 1, 2, case="slow corner"),
            ],
            "contradictory targets",
        ),
    ],
)
def test_figures_of_a_turn_are_refused_in_one_clear_line(targets, message):
    with pytest.raises(ValueError, match=message) as caught:
        check_targets(targets, CASES, STOP)
    assert "\n" not in str(caught.value)


def test_where_figures_of_a_turn_stand_and_what_they_are_worth():
    assert named("inside_rear_load_at_lock_right_n", AT, "slow corner").stands_at == -AT
    assert named("inside_rear_load_at_lock_left_n", AT, "slow corner").stands_at == AT
    assert named("lift_off_steer_right_deg", None, "slow corner").stands_at == 0.0
    assert named("jacking_rate_left_mm_per_deg").figure.worth == 0.02
    assert named("jacking_rate_left_n_per_deg").figure.worth == 0.1
    assert named("lift_off_handwheel_left_deg").figure.worth == 0.5
    check_targets([want(n, case="slow corner") for n in WHOLE_TURN], CASES, STOP)
    check_targets(
        [want(n, at=AT, case="slow corner") for n in AT_LOCK] + [want(n) for n in JACKING], CASES, STOP
    )


def test_no_lift_off_is_a_miss_unless_none_is_wanted():
    figure = named("lift_off_steer_left_deg", None, "slow corner")
    targets = [Target(figure, 9.0, inf), Target(figure, 9.0, inf, or_none=True)]
    values, known = np.array([[inf] * 2, [0.0] * 2, [7.0] * 2]), np.array([[False] * 2] * 2 + [[True] * 2])
    # sure to stay down; nothing known; lifts too early
    assert misses(targets, values, known).tolist() == [[inf, 0.0], [inf, inf], [2.0, 2.0]]
    assert str(targets[1]).endswith("at least 9 or none")
    with pytest.raises(ValueError, match="only a figure of lift-off"):
        Target(named("caster_left_deg"), 1.0, 2.0, or_none=True)


def test_what_agrees_is_accepted():
    check_targets(
        [
            want("scrub_left_mm", 60.0, 70.0),
            want("scrub_left_mm", 65.0, inf),  # overlaps
            want("scrub_right_mm", 80.0, 90.0),
            want("camber_left_deg", 1.0, 1.0, AT),
            want("camber_left_deg", -1.0, -1.0, -AT),
            want("camber_left_deg", 0.0, 0.0),
            want("inside_rear_load_n", 100.0, 200.0, AT, "slow corner"),
        ],
        CASES,
        STOP,
    )


@pytest.mark.parametrize(
    ("name", "worth"),
    [
        ("caster_trail_left_mm", 0.5),
        ("caster_left_deg", 0.1),
        ("toe_total_mm", 0.5),
        ("toe_left_deg", 0.05),
        ("inside_rear_load_n", 5.0),
    ],
)
def test_a_miss_is_counted_in_what_is_worth_the_work_unless_a_scale_is_given(name, worth):
    assert Target(named(name), 1.0, 1.0).scale == named(name).figure.worth == worth
    assert Target(named(name), 1.0, 1.0, scale=3.0).scale == 3.0


def test_misses_fit_and_reach_by_hand():
    targets = [
        Target(named("camber_left_deg"), 1.0, 2.0, weight=1.0, scale=0.5),
        Target(named("scrub_left_mm"), 70.0, 70.0, weight=3.0, scale=2.0),
    ]
    values = np.array([[1.5, 70.0], [2.5, 66.0], [0.0, 71.0], [1.0, 72.0]])
    missed = misses(targets, values, np.ones((4, 2), dtype=bool))
    assert np.allclose(missed, [[0.0, 0.0], [0.5, 4.0], [1.0, 1.0], [0.0, 2.0]])
    by_hand = [0.0, np.sqrt((1.0 + 3.0 * 4.0) / 4.0), np.sqrt((4.0 + 3.0 * 0.25) / 4.0), np.sqrt(3.0 / 4.0)]
    assert np.allclose(fit(targets, missed), by_hand)
    assert reached(targets, missed).tolist() == [True, False, False, True]  # a value within its scale is met
    unknown = misses(targets, values, np.array([[True, False]] * 4))
    assert np.isinf(unknown[:, 1]).all()
    assert np.isinf(fit(targets, unknown)).all()


def test_words():
    assert str(want("scrub_left_mm", 60.0, 70.0)) == "scrub_left_mm in 60 to 70"
    assert str(want("scrub_left_mm", -inf, 70.0)) == "scrub_left_mm at most 70"
    assert str(want("scrub_left_mm", 60.0, inf)) == "scrub_left_mm at least 60"
    at = want("inside_rear_load_n", 5.0, 5.0, AT, "slow corner")
    assert str(at) == "inside_rear_load_n at handwheel 20 deg in slow corner = 5"


def test_every_column_of_a_case_can_be_aimed_at():
    names = case_columns(sweep(KART, Setting(), [0.0, AT]), LoadCase("slow corner", 0.5))
    check_targets([want(name, at=AT, case="slow corner") for name in names], CASES, STOP)
