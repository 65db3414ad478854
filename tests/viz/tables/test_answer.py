"""The first answer: what it says is what the solver finds, in a dozen lines of eighty columns."""

from __future__ import annotations

import re
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

import scenarios
from kinematics.figures.figure import FRONT
from kinematics.figures.read import read
from kinematics.figures.turn import LOAD_AT_LOCK
from kinematics.parts import GRAVITY, LoadCase
from scenarios.ask.answer import FEW, answer
from scenarios.ask.facing import Side, facing
from scenarios.ask.steps import Stepped
from scenarios.sure.places import other_side
from tests.helpers.command import printed
from tests.helpers.cost.depth import deep
from tests.helpers.scenario_edit import edited, tables
from viz.tables.answer import sweep_answer
from viz.tables.change import compare_answer
from viz.tables.steps import report
from viz.words.width import WIDTH

MOST_LINES = 12
EVEN = {f"kart.scale_{wheel}_kg": kg for wheel, kg in zip(
    ("front_left", "front_right", "rear_left", "rear_right"), (34.0, 34.0, 45.0, 45.0), strict=True
)}  # fmt: skip


def even():
    """The training kart with the same on both sides, as most think of theirs."""
    return scenarios.from_mapping(edited(tables(), EVEN), "kart.toml", "kart")


def told(scenario, *names, count=FEW, way="as set"):
    return answer(scenario, names, [case.name for case in scenario.load_cases], count=count, way=way)


@pytest.fixture(scope="module")
def of_even():
    return told(even(), "as-delivered", "more-caster", count=FEW, way="reset")


def test_an_even_kart_is_told_of_in_a_dozen_lines(of_even):
    assert of_even.even
    for lines in (sweep_answer(of_even, "as-delivered"), compare_answer(of_even, "more-caster")):
        assert len(lines) <= MOST_LINES, "\n".join(lines)
        assert max(map(len, lines)) <= WIDTH
        assert not any(re.search("left .* right", line) for line in lines)


BESIDE = {
    "spacer": {"right": {"spacer_shift_mm": 3.0}},
    "bushes": {"right": {"top_rated_deg": 3.0, "top_clock_deg": 0.0, "hub_spacer_mm": 10.0}},
    "seat": {"seat_left_mm": 20.0},
    "ballast": {"ballast": [{"mass_kg": 5.0, "at_mm": [600.0, -200.0, 150.0]}]},
}
"""One-sided changes and some of the catalogue, against what a kart has."""


@pytest.mark.parametrize("kart", scenarios.builtin_names())
def test_every_setting_of_every_kart_is_told_in_a_dozen_lines_of_a_narrow_terminal(kart):
    whole = scenarios.load(kart)
    changes = {f"setting.{name}": table for name, table in BESIDE.items()}
    scenario = scenarios.from_mapping(edited(whole.resolved, changes), "kart.toml", kart)
    names = list(scenario.settings)
    found = told(scenario, *names, count=32, way="reset")
    assert len(names) > len(BESIDE)
    for lines in (["title", *sweep_answer(found, name)] for name in names):
        assert max(map(len, lines)) <= WIDTH
        assert len(lines) <= MOST_LINES, "\n".join(lines)
    for lines in (compare_answer(found, name) for name in names[1:]):
        assert max(map(len, lines)) <= WIDTH
        assert 6 <= len(lines) <= MOST_LINES, "\n".join(lines)


def test_loads_are_those_of_the_solver_in_kilograms(of_even):
    scenario = of_even.scenario
    corner = of_even.corners[0]
    where = LOAD_AT_LOCK.at("left", corner.at, corner.case.name)
    cases = {case.name: case for case in scenario.load_cases}
    [(load, _)] = read(scenario.kart, scenario.settings["as-delivered"], [where], cases, scenario.given)
    text = " ".join(sweep_answer(of_even, "as-delivered"))
    said = re.search(rf"{corner.case.name}.*?: ([\d.]+) .*?kg", text)
    assert float(said[1]) == pytest.approx(float(load) / GRAVITY, abs=0.5)


def test_what_steering_takes_off_the_inside_rear_is_the_fall_of_its_scale(of_even):
    text = " ".join(" ".join(sweep_answer(of_even, "as-delivered")).split())
    size, was, now = re.search(r"takes ([\d.]+) .*?\(([\d.]+) → ([\d.]+)\)", text).groups()
    assert float(was) - float(now) == pytest.approx(float(size), abs=0.1)
    assert float(was) == pytest.approx(45.0, abs=0.1)


def test_more_caster_is_told_in_the_words_of_common_practice(of_even):
    """Common practice, no source: the inside rear lighter and sooner off the road, the handwheel heavier."""
    text = " ".join(" ".join(compare_answer(of_even, "more-caster")).split())
    assert "The inside rear lighter" in text
    assert "leaves the road earlier" in text
    assert "Handwheel heavier" in text
    assert "Outside front more negative" in text
    assert "Caster +3.1°" in text
    back = " ".join(" ".join(compare_answer(of_even_back(), "as-delivered")).split())
    assert "The inside rear heavier" in back
    assert "leaves the road later" in back
    assert "Handwheel lighter" in back
    assert "Caster −3.1°" in back


def of_even_back():
    return told(even(), "more-caster", "as-delivered", count=FEW, way="reset")


STRAIGHT = tables()["stub"]
UNALIKE = [
    ({"kart.scale_rear_left_kg": 46.5, "kart.scale_rear_right_kg": 44.0},
     {"kart.scale_rear_left_kg": 44.0, "kart.scale_rear_right_kg": 46.5}),
    ({"stub.camber_deg": 0.9, "right.stub": {**STRAIGHT, "wheel_forward_shift_mm": 0.0}},
     {"right.stub": {"camber_deg": 0.9, "wheel_forward_shift_mm": 0.0}}),
]  # fmt: skip
"""Karts that differ from side to side, and their mirror images."""


@pytest.mark.parametrize(("one", "other"), [*UNALIKE, ({}, {})], ids=["heavier", "bent", "even"])
def test_a_mirrored_kart_is_told_of_word_for_word_but_for_its_sides(one, other):
    """With a bush turned on one side, then on the other; bands, what is most in doubt and all."""
    told_of = []
    for kart, side in ((one, "left"), (other, "right")):
        bush = {
            "both": {"top_rated_deg": 2.0, "top_clock_deg": 180.0},
            side: {"bottom_rated_deg": 1.0, "bottom_clock_deg": 0.0},
        }
        told_of.append(told_in_words({**EVEN, **kart, f"setting.{LONG}": bush}))
    assert other_side(told_of[0]) == told_of[1]
    assert told_of[0] != told_of[1]


@pytest.mark.parametrize("pair", UNALIKE, ids=["heavier", "bent"])
@pytest.mark.parametrize("turned", [False, True], ids=["against an even one", "an even one against it"])
def test_two_karts_are_told_of_as_their_mirror_images_are(pair, turned):
    told_of = []
    for changes in pair:
        karts = [
            scenarios.from_mapping(edited(tables(), {**EVEN, **some}), f"{name}.toml", name)
            for name, some in (("even", {}), ("uneven", changes))
        ]
        one, other = (Side(kart, ("as-delivered",)) for kart in karts[:: -1 if turned else 1])
        found = facing(one, other).answer()
        lines = compare_answer(found, found.found.lineup.names[1])
        assert len(lines) <= MOST_LINES
        told_of.append(" ".join(" ".join(lines).lower().split()))
    assert other_side(told_of[0]) == told_of[1]
    assert told_of[0] != told_of[1]


LONG = "new and of a name that takes two lines"


def told_in_words(changes):
    """Of a setting alone and against what is on the kart, a dozen lines each with the title of the first."""
    scenario = scenarios.from_mapping(edited(tables(), changes), "kart.toml", "kart")
    found = told(scenario, "as-delivered", LONG, way="reset")
    alone, against = sweep_answer(found, LONG), compare_answer(found, LONG)
    assert max(1 + len(alone), len(against)) <= MOST_LINES, "\n".join([*alone, *against])
    assert max(map(len, [*alone, *against])) <= WIDTH
    return " ".join(" ".join([*alone, *against]).lower().split())


CLOCKED = ((1.0, 0.0), (2.0, 180.0), (3.0, 225.0))
BUSHES = [{}, *({"top_rated_deg": deg, "top_clock_deg": at} for deg, at in CLOCKED)]
CORNERS = st.builds(
    lambda bush, others: {**bush, **others},
    st.sampled_from(BUSHES),
    st.fixed_dictionaries(
        {},
        optional={
            "hub_spacer_mm": st.sampled_from([5.0, 10.0]),
            "tie_rod_toe_deg": st.sampled_from([-0.3, 0.2]),
        },
    ),
)


@pytest.mark.slow
@given(CORNERS, CORNERS, st.sampled_from([0.0, 200.0, -200.0]))
@deep(6, 60)
def test_on_an_even_kart_the_mirror_of_a_change_is_told_in_the_same_words(left, right, y_mm):
    """Whatever is on its sides, and where ballast is put: nothing of the kart says which side leads."""
    ballast = {"mass_kg": 6.0, "at_mm": [300.0, y_mm, 200.0]}
    mirrored = {**ballast, "at_mm": [300.0, -y_mm, 200.0]}
    one = told_in_words({**EVEN, f"setting.{LONG}": {"left": left, "right": right, "ballast": [ballast]}})
    other = told_in_words({**EVEN, f"setting.{LONG}": {"left": right, "right": left, "ballast": [mirrored]}})
    even = left == right and not y_mm  # is its own mirror image
    assert (one if even else other_side(one)) == other


def test_a_difference_not_worth_the_work_is_told_as_none():
    """A bush of two hundredths of a degree."""
    hair = {"both": {"top_rated_deg": 0.02, "top_clock_deg": 90.0}}
    scenario = scenarios.from_mapping(edited(tables(), {**EVEN, "setting.hair": hair}), "kart.toml", "kart")
    found = told(scenario, "as-delivered", "hair", count=FEW, way="reset")
    text = " ".join(compare_answer(found, "hair"))
    assert "The inside rear as before" in text
    assert "scales would not show it" in text
    assert not any(word in text for word in ("lighter", "heavier", "earlier", "later", "negative"))


def test_a_difference_within_its_band_is_told_as_one_that_cannot_be_told_apart(of_even):
    """The same difference, once with the samples' band and once with one about 0."""
    load = of_even.corners[0].addresses["load"]
    assert "Cannot be told apart, inside rear: gentle corner" not in " ".join(
        compare_answer(of_even, "more-caster")
    )
    vague = VagueBands(of_even.found, load)
    text = " ".join(compare_answer(replace(of_even, found=vague), "more-caster"))
    assert "Cannot be told apart, inside rear: gentle corner" in text
    assert "Cannot be told apart" not in " ".join(
        compare_answer(replace(of_even, found=vague), "more-caster", False)
    )


class VagueBands:
    """Bands of which one difference lies about 0."""

    def __init__(self, found, vague):
        self.found, self.vague = found, vague

    def __getattr__(self, name):
        return getattr(self.found, name)

    def change(self, name, address):
        told = self.found.change(name, address)
        wide = replace(told.band, low=np.array(-50.0), high=np.array(50.0))
        return replace(told, band=wide) if address == self.vague else told


def test_without_bands_no_band_is_told():
    found = told(even(), "as-delivered", "more-caster", count=1, way="reset")
    text = " ".join(
        [*sweep_answer(found, "as-delivered", False), *compare_answer(found, "more-caster", False)]
    )
    assert "±" not in text
    assert "never" not in text
    assert "likely karts" not in text


def test_what_cannot_be_joined_is_said_and_nothing_else():
    scenario = even()
    long = replace(scenario.settings["as-delivered"].left, rod_length=100.0)
    settings = {"as-delivered": scenario.settings["as-delivered"], "short rods": None}
    settings["short rods"] = replace(settings["as-delivered"], left=long, right=long)
    found = answer(scenario, settings, [], count=4)
    assert sweep_answer(found, "short rods")[0].startswith("Its tie rods cannot be joined")
    assert "cannot be joined" in " ".join(compare_answer(found, "short rods"))


@pytest.mark.parametrize(
    ("g", "rod", "said"),
    [
        (0.5, 300.0, "a tie rod binds before it"),
        (2.06, None, "the kart rests on two wheels ('on 2')"),
        (2.6, None, "the kart falls over ('tips')"),
    ],
)
def test_a_corner_without_numbers_says_whether_it_tips_or_rests_on_two_wheels(g, rod, said):
    scenario = replace(even(), load_cases=(LoadCase("hard", lateral_g=g),))
    good = scenario.settings["as-delivered"]
    fitted = replace(good, **{side: replace(getattr(good, side), rod_length=rod) for side in FRONT})
    found = answer(scenario, {"it": fitted, "more-caster": fitted}, ["hard"], 70.0, count=4)
    assert f"hard, 70°: {said}" in "\n".join(sweep_answer(found, "it"))
    compared = " ".join(line.strip() for line in compare_answer(found, "more-caster"))
    assert f"hard, it: {said}" in compared
    assert f"hard, more-caster: {said}" in compared
    step = Stepped("it", found, {})
    assert f"No numbers: {said}" in " ".join(report(step))


def test_the_commands_print_it_first_and_tables_only_when_asked(capsys):
    first = printed(capsys, "sweep", "--sure", "none")
    assert len(first.splitlines()) <= 2 * MOST_LINES
    assert first.splitlines()[0] == "Training kart (training-kart): as-delivered"
    both = printed(capsys, "sweep", "--sure", "none", "--tables")
    assert both.startswith(first[: first.index("\n\nEvery figure")])
    assert len(both.splitlines()) > 60
    compared = printed(capsys, "compare", "--setting", "more-caster", "--sure", "none")
    assert compared.startswith("more-caster against as-delivered")
    assert max(map(len, compared.splitlines())) <= WIDTH
    assert max(map(len, first.splitlines())) <= WIDTH
