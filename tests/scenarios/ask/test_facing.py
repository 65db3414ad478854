"""One kart against another: number by number the same draws, so that what both have in common cancels."""

from __future__ import annotations

import numpy as np
import pytest

import scenarios
from kinematics.figures.read import read
from scenarios.ask.answer import answer
from scenarios.ask.facing import Side, facing
from scenarios.errors import Refusal
from tests.helpers.scenario_edit import edited, tables

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


def test_each_kart_is_solved_with_its_own_numbers_and_the_difference_turns_its_sign(training):
    wider = kart(rear__track_mm=1150.0, kart__cog_height_mm=300.0)
    there, back = facing(side(training), side(wider), [CORNER]), facing(side(wider), side(training), [CORNER])
    one, other = there.answer(None, FEW), back.answer(None, FEW)
    load = one.corners[0].addresses["load"]
    by, of = (
        one.found.change("other as-delivered", load),
        other.found.change("training-kart as-delivered", load),
    )
    assert by.value == pytest.approx(-of.value)
    assert float(by.band.low) == pytest.approx(-float(of.band.high))
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
