"""The page tells a refusal in the words of its own labels."""

from __future__ import annotations

from functools import lru_cache
from typing import Any

import pytest

import scenarios
from scenarios import Scenario
from scenarios.schema.changes import AT_A_CORNER, CHANGES
from viz.browser.chosen import choices, wording
from viz.browser.chosen.choices import ChoiceError


@lru_cache
def scenario() -> Scenario:
    return scenarios.load()


BOTH = ["left", "right"]


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (
            {"kind": "bush", "slot": "A", "sides": BOTH, "seat": "top", "size_deg": 99, "clock_deg": 0},
            "A, left top bush, size 99°: must be at least 0 and at most 15°",
        ),
        (
            {"kind": "rod", "slot": "B", "sides": ["right"], "toe_deg": 50.5},
            "B, right toe 50.5°: must be at least -10 and at most 10°",
        ),
        (
            {"kind": "ballast", "slot": "A", "mass_kg": 500.0, "at_mm": [1.0, 2.0, 3.0]},
            "A, ballast 500 kg: must be at least -60 and at most 60 kg",
        ),
        (
            {"kind": "ballast", "slot": "A", "mass_kg": 5.0, "at_mm": [1e6, 2.0, 3.0]},
            "A, place of the ballast 1e+06 mm: must be",
        ),
    ],
)
def test_a_refusal_names_what_the_page_calls_it(change: dict[str, Any], said: str) -> None:
    with pytest.raises(ChoiceError) as refused:
        choices.changed(choices.start(scenario()), change)
    assert str(refused.value).startswith(said)


@pytest.mark.parametrize("change", [*AT_A_CORNER, *CHANGES], ids=lambda change: change.key)
def test_every_number_of_the_catalogue_is_refused_by_its_workshop_name(change: Any) -> None:
    kind = "corner" if change in AT_A_CORNER else "kart"
    asked = {"kind": kind, "slot": "B", "sides": BOTH, "key": change.key, "value": 1e6}
    with pytest.raises(ChoiceError) as refused:
        choices.changed(choices.start(scenario()), asked)
    assert change.told.partition(",")[0] in str(refused.value)
    assert "_" not in str(refused.value)
    assert "setting" not in str(refused.value)


def test_warnings_of_both_sides_are_said_once() -> None:
    size = {"kind": "bush", "slot": "A", "sides": BOTH, "seat": "top", "size_deg": 14, "clock_deg": 7}
    made = choices.compared(choices.changed(choices.start(scenario()), size))
    assert list(wording.folded([wording.plain(line) for line in made.warnings])) == [
        "A: left and right top bush of 14° is not in the box",
        "A: left and right top bush at clock 7° is off the box's step of 15°",
    ]
    assert list(wording.folded(["a left b", "c", "a right d"])) == ["a left b", "c", "a right d"]
