"""What to read next: the readings a workshop would think of come out by themselves, and the sums are
right."""

import numpy as np
import pytest

import scenarios
from scenarios.errors import Refusal
from scenarios.gauged.fit import fit
from scenarios.gauged.plan import asked_of, planned
from tests.twins.read_karts import Truth

TRAINING = scenarios.load("training-kart")
FRAME, HEIGHT, SHARE = (
    "frame.torsional_stiffness_nm_per_deg",
    "kart.cog_height_mm",
    "frame.front_compliance_share",
)


def planned_for(*names, minutes=60.0, taken=()):
    return planned(TRAINING, "as-delivered", asked_of(names, TRAINING), minutes, taken)


def test_a_shim_under_one_front_wheel_tells_the_frame():
    first = planned_for(FRAME).picked[0].session
    assert first.words.startswith("four scales with 10 mm under the front")


def test_the_front_on_blocks_tells_the_height_of_the_centre_of_gravity():
    assert planned_for(HEIGHT).picked[0].session.words == "four scales with the front 300 mm up"


def test_a_side_on_blocks_tells_height_and_front_share_apart():
    """With round treads, which roll under the kart, only a tilted one tells both at once; all being ready."""
    plan = planned_for(HEIGHT, SHARE)
    by_words = {one.words: spread for one, _, spread in plan.alone}
    tilted = by_words["four scales with 100 mm under both left wheels"]
    level = by_words["four scales straight ahead"]
    assert tilted[0] < 0.97 * level[0]
    assert tilted[1] < level[1]


def test_what_is_planned_is_what_a_fit_then_leaves_unknown():
    """The plan's readings, taken of one kart by the slow twin: the fit's standard error is the plan's."""
    plan = planned_for(FRAME, minutes=30.0)
    readings = [one for part in plan.within(30.0) for one in part.session.readings]
    truth = Truth(TRAINING, readings, 8)
    [number] = [one for one in fit(TRAINING, truth.readings).numbers if one.name == FRAME]
    assert number.sure == pytest.approx(float(plan.within(30.0)[-1].spread[0]), rel=0.2)


def test_readings_that_are_taken_count():
    plan = planned_for(FRAME)
    readings = list(plan.picked[0].session.readings)
    taken = Truth(TRAINING, readings, 8).readings
    assert planned_for(FRAME, taken=taken).now[0] == pytest.approx(plan.picked[0].spread[0], rel=1e-6)


def test_an_hour_holds_no_more_than_an_hour_and_leaves_ever_less():
    plan = planned_for(FRAME, HEIGHT, minutes=120.0)
    assert sum(one.minutes for one in plan.within(60.0)) <= 60.0
    frame = planned_for(FRAME)
    assert frame.picked[0].minutes > 15.0, "the first of all takes longer than a quarter of an hour"
    short = frame.within(15.0)
    assert short
    assert sum(one.minutes for one in short) <= 15.0
    assert short[-1].spread[0] < frame.now[0]
    left = np.array([plan.now, *(one.spread for one in plan.picked)])
    assert (np.diff(left, axis=0) <= 1e-12).all()


def test_a_figure_is_asked_as_a_want_is_typed():
    plan = planned_for("inside_rear_load_at_lock_left_n@30@slow corner", minutes=30.0)
    assert plan.asked[0].unit == "N"
    assert plan.picked


@pytest.mark.parametrize(
    ("asked", "line"),
    [
        ("kart.cog_heigth_mm", "did you mean 'kart.cog_height_mm'?"),
        ("camber_left_dg@0", "did you mean"),
        ("lift_off_handwheel_left_deg@gentle corner", "ask for the load at a lock instead"),
    ],
)
def test_what_cannot_be_asked_is_refused_in_a_line(asked, line):
    with pytest.raises(Refusal) as caught:
        planned_for(asked)
    assert line in str(caught.value)
