"""One kart against another: what is the same number in both files cancels, what differs does not."""

from __future__ import annotations

from dataclasses import replace
from math import hypot

import numpy as np
import pytest

import scenarios
from kinematics.figures.catalog import address
from kinematics.figures.figure import FRONT
from kinematics.figures.read import read
from kinematics.parts import GRAVITY
from scenarios.ask.answer import answer
from scenarios.ask.facing import Side, facing
from scenarios.errors import Refusal
from tests.helpers.scenario_edit import all_exact, edited, tables

CORNER = "gentle corner"
FEW = 16


def kart(name="other", **changes):
    """The training kart from a file of its own, changed."""
    keys = {key.replace("__", "."): value for key, value in changes.items()}
    return scenarios.from_mapping(edited(tables(), keys), f"{name}.toml", name)


@pytest.fixture(scope="module")
def training():
    return scenarios.load()


def side(scenario, *names):
    return Side(scenario, names or ("as-delivered",))


def test_a_copy_of_the_file_is_compared_as_another_setting_of_the_kart(training):
    """The same draws on both sides: the bands of the differences are those of one kart, to the last digit."""
    both = answer(training, ["as-delivered", "more-caster"], [CORNER], None, FEW)
    met = facing(side(training), side(kart(), "more-caster"), [CORNER]).answer(None, FEW)
    assert met.found.lineup.names == ["training-kart as-delivered", "other more-caster"]
    assert (met.two_karts, both.two_karts) == (True, False)
    assert met.found.addresses == both.found.addresses
    for one in both.found.addresses:
        as_one, as_two = both.found.change("more-caster", one), met.found.change("other more-caster", one)
        for numbers in ("low", "high", "known", "never"):
            pair = [getattr(found.band, numbers) for found in (as_two, as_one)]
            assert float(pair[0]) == pytest.approx(float(pair[1]), rel=1e-6, abs=1e-6), (one, numbers)
        assert as_two.value == (as_one.value and pytest.approx(as_one.value, rel=1e-6, abs=1e-6))
    load = met.corners[0].addresses["load"]
    shares = [
        {cause.name: cause.share for cause in told.found.causes(name, told.found.change(name, load))}
        for told, name in ((met, "other more-caster"), (both, "more-caster"))
    ]
    assert shares[0] == pytest.approx(shares[1], abs=1e-4)


def test_two_that_are_alike_differ_by_nothing_and_surely(training):
    met = facing(side(training), side(kart()), [CORNER]).answer(None, FEW)
    for one in met.found.addresses:
        by = met.found.change("other as-delivered", one)
        assert by.value in (0.0, None)
        assert (float(by.band.low), float(by.band.high)) == (0.0, 0.0)


SCALE = address("load_rear_left_n@0@standing")
LAW = [
    (45.2, 0.7, 45.2, 0.7, 0.0),
    (45.2, 0.7, 46.5, 0.5, hypot(0.7, 0.5)),
    (45.2, 0.7, 46.5, 0.7, hypot(0.7, 0.7)),
    (45.2, 0.7, 45.2, 0.5, hypot(0.7, 0.5)),
    (45.2, 0.7, 46.5, 0.0, 0.7),
]
"""What a scale reads in one file and in the other, each with how sure, and how sure they differ, kg."""


@pytest.mark.parametrize(("was", "sure", "now", "surely", "law"), LAW)
@pytest.mark.parametrize("front", [0.0, 0.4])
def test_the_same_number_is_drawn_once_and_any_other_by_itself(was, sure, now, surely, law, front):
    """A load is as uncertain as its scale; that of a front one, the same in both files, has no part in it."""

    def weighed(name, kg, how):
        exact = all_exact()
        exact["kart"] |= {"scale_rear_left_kg": how, "scale_front_left_kg": front}
        return kart(name, kart__scale_rear_left_kg=kg, sure=exact)

    pair = side(weighed("one", was, sure)), side(weighed("other", now, surely))
    found = replace(facing(*pair, ["standing"]).answer(None, 4096).found, addresses=[SCALE])
    by = found.change("other as-delivered", SCALE)
    assert by.value == pytest.approx(GRAVITY * (now - was), abs=1e-6)
    assert by.band.half == pytest.approx(1.959964 * GRAVITY * law, rel=0.03, abs=1e-9)
    causes = [one.name for one in found.causes("other as-delivered", by) if one.share > 0.01]
    kinds = {"kart.scale_rear_left_kg", *(["kart.scale_rear_left_kg of other.toml"] if surely else [])}
    assert set(causes) == (kinds if law else set())


@pytest.mark.parametrize("left_first", [True, False])
def test_a_corner_that_is_as_on_the_other_kart_is_off_alike_and_the_bent_one_by_itself(left_first):
    """Camber of either side, turned whichever way the draw is: only the right stub axle has another."""
    exact = all_exact()
    exact["stub"]["camber_deg"] = 0.2
    heavier = {"kart__scale_rear_left_kg": 50.0 if left_first else 40.0, "sure": exact}
    straight, bent = kart("straight", **heavier), kart("bent", **heavier, right__stub={"camber_deg": 0.9})
    told = facing(side(straight), side(bent), [CORNER]).answer(None, 1024)
    left, right = (told.found.change("bent as-delivered", address(f"camber_{one}_deg@0")) for one in FRONT)
    assert float(left.band.half) == pytest.approx(0.0, abs=1e-9)
    assert float(right.band.half) == pytest.approx(1.959964 * hypot(0.2, 0.2), rel=0.05)


def test_each_kart_is_solved_with_its_own_numbers_and_the_difference_turns_its_sign(training):
    wider = kart(rear__track_mm=1150.0, kart__cog_height_mm=300.0)
    there, back = facing(side(training), side(wider), [CORNER]), facing(side(wider), side(training), [CORNER])
    one, other = there.answer(None, 1024), back.answer(None, 1024)  # of what differs other numbers are drawn
    load = one.corners[0].addresses["load"]
    by, of = (
        one.found.change("other as-delivered", load),
        other.found.change("training-kart as-delivered", load),
    )
    assert by.value == pytest.approx(-of.value)
    assert float(by.band.low) == pytest.approx(-float(of.band.high), rel=0.1)
    for scenario, name in ((training, "training-kart as-delivered"), (wider, "other as-delivered")):
        cases = {case.name: case for case in scenario.load_cases}
        setting = scenario.settings["as-delivered"]
        [(alone, _)] = read(scenario.kart, setting, [load], cases, scenario.given)
        assert one.found.of(name, load).value == pytest.approx(float(np.ravel(alone)[0]))


def test_corners_of_the_same_name_are_compared_and_what_is_not_is_told(training):
    cases = [
        {"name": CORNER, "lateral_g": 0.3},
        {"name": "hairpin", "lateral_g": 0.9},
        {"name": "slow corner", "lateral_g": 1.5},
    ]
    met = facing(side(training), side(kart(load_case=cases)))
    assert met.cases == [CORNER, "slow corner"]
    mine, theirs, unlike = met.warnings
    assert mine.startswith("not compared, as only training-kart has it as a load case: 'standing', 'fast")
    assert theirs == "not compared, as only other.toml has it as a load case: 'hairpin'"
    assert unlike.startswith(f"'{CORNER}', 'slow corner': not the same load case in training-kart and other")
    chosen = facing(side(training), side(kart(load_case=[*tables()["load_case"], cases[1]])), [CORNER])
    assert (chosen.cases, list(chosen.warnings)) == ([CORNER], [])
    assert not list(facing(side(training), side(kart())).warnings)


@pytest.mark.parametrize("turned", [False, True])
def test_a_corner_that_only_one_file_has_is_refused(training, turned):
    other = side(kart(load_case=[{"name": "hairpin", "lateral_g": 0.9}]))
    pair = (other, side(training)) if turned else (side(training), other)
    with pytest.raises(Refusal, match=r"^other.toml: load case 'gentle corner' is unknown, and must be in b"):
        facing(*pair, [CORNER])
    with pytest.raises(Refusal, match=r"^training-kart: load case 'hairpin' is unknown, and must be in both"):
        facing(*pair, ["hairpin"])


def test_a_setting_against_itself_is_refused_and_one_that_has_no_toe(training):
    with pytest.raises(Refusal, match="training-kart: 'as-delivered' against itself: name another"):
        facing(side(training), side(training, "more-caster", "as-delivered"))
    fitted = {"short": {"both": {"tie_rod_length_mm": 100.0}}}
    short = kart(setting=fitted, default_setting="short")
    with pytest.raises(Refusal, match=r"other.toml: setting 'short': its tie rods cannot be joined"):
        facing(side(training), side(short, "short"))


def test_karts_of_the_same_name_are_called_by_their_files(training):
    again = scenarios.from_mapping(tables(), "wet/training-kart.toml", "training-kart")
    met = facing(side(training), side(again), [CORNER])
    assert met.karts == ("training-kart", "wet/training-kart.toml")
    assert met.answer(None, 2).found.lineup.names[1] == "wet/training-kart.toml as-delivered"
