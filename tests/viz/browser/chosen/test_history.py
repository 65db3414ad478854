"""What a visitor changed is taken back and made again, step by step."""

from __future__ import annotations

from functools import lru_cache

import pytest

import scenarios
from scenarios import Scenario
from viz.browser.chosen import choices, history
from viz.browser.chosen.choices import ChoiceError
from viz.browser.chosen.history import History


@lru_cache
def scenario() -> Scenario:
    return scenarios.load()


def changed(before: History, change: dict[str, object]) -> History:
    return before.made(choices.told(change), choices.changed(before.now, change))


AXLE = {"kind": "kart", "slot": "A", "key": "rear_axle_shift_mm", "value": 5.0}
SIZE = {"kind": "bush", "slot": "B", "sides": ["left"], "seat": "top", "size_deg": 3, "clock_deg": 0}
CASE = {"kind": "case", "name": "slow corner"}


def test_changes_are_undone_last_first_and_redone_and_a_case_is_no_step() -> None:
    first = History(choices.start(scenario()))
    second = changed(first, AXLE)
    third = changed(changed(second, CASE), SIZE)
    assert third.told() == {"undo": "top bush of B", "redo": None}
    back = third.undo()
    assert back.told() == {"undo": "rear axle moved in the frame, + up, of A", "redo": "top bush of B"}
    assert (back.now.a, back.now.b) == (second.now.a, second.now.b)
    assert back.now.case == third.now.case  # how the kart is seen stays
    assert back.undo().now.a == first.now.a
    assert back.undo().redo().redo().now == third.now
    assert changed(back, {"kind": "copy", "slot": "A"}).told()["redo"] is None


def test_there_is_an_end_both_ways() -> None:
    first = History(choices.start(scenario()))
    for way in history.WAYS.values():
        with pytest.raises(ChoiceError, match="nothing to"):
            way(first)
    many = first
    for size in range(history.MOST + 10):
        many = changed(many, {**SIZE, "size_deg": 1 + size / 1000})
    assert len(many.done) == history.MOST
