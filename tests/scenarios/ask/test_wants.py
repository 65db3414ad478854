"""What is wanted as typed: read part by part, and resolved against the present setting."""

import numpy as np
import pytest

import scenarios
from scenarios.ask.wants import End, targets_of, want_text
from scenarios.errors import Refusal


@pytest.mark.parametrize(
    ("asked", "low", "high"),
    [
        ("-2..-1.5", -2.0, -1.5),
        ("3", 3.0, 3.0),
        ("..4", -np.inf, 4.0),
        (".5..", 0.5, np.inf),
        ("now", -2.0, -2.0),
        ("now+1", -1.0, -1.0),
        ("now-0.5..now", -2.5, -2.0),
        ("now-10%", -1.8, -1.8),
        ("now+50%", -3.0, -3.0),
        ("..now-1e-1", -np.inf, -2.1),
        (" now - 1 .. 7 ", -3.0, 7.0),
    ],
)
def test_ranges_are_read_and_resolved_against_now(asked, low, high):
    want = want_text(f"camber_left_deg@-30={asked}*2.5")
    assert (str(want.address), want.weight) == ("camber_left_deg@-30", 2.5)
    assert (want.address.name, want.address.lock_deg, want.address.case) == ("camber_left_deg", -30.0, None)
    assert (want.low.value(-2.0), want.high.value(-2.0)) == pytest.approx((low, high))


def test_names_locks_and_cases_are_read_whatever_the_case_is_called():
    want = want_text("inside_rear_load_n @ 30 @ a=b @ c = now")
    found = want.address
    assert (found.name, found.lock_deg, found.case) == ("inside_rear_load_n", 30.0, "a=b @ c")
    assert want.low == End(0.0, True)


@pytest.mark.parametrize(
    ("text", "lock", "case"),
    [
        ("jacking_rate_left_n_per_deg@standing=now-10%", None, "standing"),
        ("lift_off_steer_left_deg @ a @ b = 20.. or none", None, "a @ b"),
        ("lift_off_steer_left_deg@30=20..", None, "30"),
        ("lift_off_steer_left_deg@30@slow=20..", 30.0, "slow"),
        ("inside_rear_load_at_lock_left_n@30@slow=20..", 30.0, "slow"),
    ],
)
def test_a_figure_of_a_whole_turn_has_a_case_and_no_lock(text, lock, case):
    want = want_text(text)
    assert (want.address.lock_deg, want.address.case) == (lock, case)
    assert want.or_none == text.endswith("or none")


@pytest.mark.parametrize(
    "text", ["", "x", "=1", "x=", "x=1..2..3", "x=nan", "x=inf", "x=now*", "x=now+", "x@l=1", "x=.."]
)
def test_what_is_not_a_want_is_not_read(text):
    with pytest.raises(Refusal):
        want_text(text)


def test_a_percentage_of_a_negative_figure_keeps_its_range_in_order():
    scenario = scenarios.load()
    [target] = targets_of([want_text("camber_left_deg=now-10%..now")], scenario, "as-delivered")
    assert (target.low, target.high) == pytest.approx((-0.5, -0.45))


def test_more_wants_than_can_be_weighed_are_refused():
    wants = [want_text(f"camber_left_deg@{lock}=now") for lock in range(-50, 51)]
    assert len(targets_of(wants[1:], scenarios.load(), "as-delivered")) == 100
    with pytest.raises(Refusal, match=r"^--want: 101 figures .* at most 100"):
        targets_of(wants, scenarios.load(), "as-delivered")
