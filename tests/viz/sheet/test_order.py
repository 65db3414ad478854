"""The order of work names what a change needs, and nothing that it leaves alone."""

from __future__ import annotations

import pytest

import scenarios
from scenarios.ask.worksheet import figures
from scenarios.schema.changes import CHANGES
from viz.sheet import sheet_of, words
from viz.sheet.order import order

TOE = "toe=-0.1"


def steps(both: str = "", kart: str = "") -> list[str]:
    """The steps to what is typed, over the kart as delivered."""
    made = scenarios.typed(scenarios.load(), "new", both=both, based_on="as-delivered", kart=kart)
    return [str(line[0]) for line in order(figures(made, "as-delivered", "new")).steps]


def whole(text: str) -> str:
    return " ".join(text.split())


def test_a_bush_is_changed_with_the_kingpin_out():
    said = steps("top=2@180")
    for part in (words.START, words.KINGPIN_OFF, words.BUSHES, words.KINGPIN_ON, words.BUSH_SCREWS):
        assert [one for one in said if one in part] == list(part)
    assert said[-len(words.FINISH) :] == list(words.FINISH)


def test_a_spacer_takes_the_kingpin_out_and_leaves_the_bushes_in():
    said = steps("spacer=3")
    assert set(words.KINGPIN_OFF) < set(said)
    assert not set(words.BUSHES) & set(said)
    assert not set(words.BUSH_SCREWS) & set(said)


def test_a_hub_spacer_leaves_the_kingpin_alone():
    said = steps("hub=5")
    assert set(words.HUBS) < set(said)
    assert not any("kingpin" in step for step in said)


@pytest.mark.parametrize("hole", ["arm=4", "spade=4"])
def test_a_joint_goes_into_another_hole(hole):
    assert set(words.JOINTS) < set(steps(hole))
    assert not any("kingpin" in step for step in steps(hole))


@pytest.mark.parametrize("change", CHANGES, ids=lambda change: change.word)
def test_a_change_of_the_whole_kart_has_a_step_of_its_own_and_no_kingpin(change):
    said = steps(kart=f"{change.word}=4")
    mine = whole(words.ON_THE_KART[change.key])
    others = {whole(text) for key, text in words.ON_THE_KART.items() if key != change.key}
    assert said.count(mine) == 1
    assert not others & set(said)
    assert not any("kingpin" in step for step in said)


def test_ballast_is_bolted_on():
    assert whole(words.ON_THE_KART["ballast"]) in steps(kart="ballast=5@600/-200/150")


def test_a_sheet_without_a_bush_to_change_does_not_say_so():
    made = scenarios.typed(scenarios.load(), "new", both="spade=4", based_on="as-delivered", kart="axle=5")
    sheet = sheet_of(made, "as-delivered", "new")
    assert sheet.title == "Bench sheet: change of setting"
    text = str(sheet)
    assert "Left tie rod's joint moved along the spade" in text
    assert "Rear axle moved in the frame" in text
    assert sheet_of(made, "as-delivered", "more-caster").title == "Bench sheet: change of bushes"
