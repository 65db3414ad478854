"""Readings on the page, without a browser: typed, refused, undone, saved, and what the page tells of them."""

from __future__ import annotations

from functools import lru_cache
from typing import Any

import pytest

import scenarios
from scenarios.errors import Refusal
from scenarios.gauged.blank import as_csv
from scenarios.gauged.file import readings_of
from viz.browser import replies
from viz.browser.asked import gauged
from viz.browser.chosen import choices, history, readings
from viz.browser.chosen.choices import Choices
from viz.browser.memory import Memory

SOUND = (
    ("scale_kg", "front_left", 34.6),
    ("scale_kg", "rear_left", 45.4),
    ("caster_deg", "left", 12.1),
    ("caster_deg", "right", 11.9),
    ("camber_deg", "left", -0.5),
)
"""What the training kart shows, about as well as gauges tell it."""


@lru_cache
def fresh() -> Choices:
    return choices.start(scenarios.load())


def typed(what: Any, where: Any, value: Any, **more: Any) -> dict[str, Any]:
    there = {"setting": "as-delivered", "handwheel_deg": 0.0, **more}
    return {"kind": "reading", "what": what, "where": where, "value": value, **there}


def after(*changes: dict[str, Any], now: Choices | None = None) -> Choices:
    now = now or fresh()
    for change in changes:
        now = choices.changed(now, change)
    return now


def test_three_readings_change_the_band_and_agree() -> None:
    told = gauged.told(after(*(typed(*one) for one in SOUND[:3])))
    before, now = told["bands"]["rows"]
    assert now["high"] - now["low"] < before["high"] - before["low"]
    assert (now["low"], now["high"]) != (before["low"], before["high"])
    low, high = told["bands"]["ends"]
    assert low <= min(before["low"], now["low"]) < max(before["high"], now["high"]) <= high
    assert told["said"][0].startswith("They agree")
    assert [row["words"].partition(".")[0] for row in told["bars"]] == ["1", "2", "3"]
    assert told["worst"] is None
    assert all(abs(row["miss"]) < 2.0 and not row["why"] for row in told["bars"])


@pytest.mark.parametrize("forgiving", [False, True])
def test_a_wrong_sign_is_named_at_its_bar_and_its_wheel(forgiving: bool) -> None:
    wrong = [(*one[:2], -one[2] if one[:2] == ("caster_deg", "left") else one[2]) for one in SOUND]
    told = gauged.told(after(*(typed(*one) for one in wrong)), forgiving)
    [row] = [row for row in told["bars"] if row["why"]]
    assert row["words"] == "3. caster left, straight ahead: −12.1°"
    assert row["why"].endswith("the sign turned round?")
    assert row["miss"] < -6.0
    assert told["worst"]["wheel"] == "front left"
    assert told["worst"]["text"].startswith("worst read: caster −12.1°")
    others = [abs(one["miss"]) for one in told["bars"] if one is not row]
    assert max(others) < (2.5 if forgiving else abs(row["miss"]))


def test_a_planted_fault_is_caught_and_bars_stand_by_place() -> None:
    sound = gauged.told(after(*(typed(*one) for one in SOUND)))
    assert [row["place"] for row in sound["bars"]] == ["front_left", "rear_left", "left", "left", "right"]
    assert not any(row["why"] for row in sound["bars"])
    heavy = typed("scale_kg", "rear_left", 45.4 / 0.45359237)
    told = gauged.told(after(*(typed(*one) for one in SOUND if one[1] != "rear_left"), heavy))
    [row] = [row for row in told["bars"] if row["why"]]
    assert row["place"] == "rear_left"
    assert "pounds written for kg" in row["why"]


def test_readings_that_contradict_each_other_are_told_where_the_fit_would_stand() -> None:
    told = gauged.told(after(typed("scale_kg", "front_left", 30.0), typed("scale_kg", "front_left", 40.0)))
    assert told["refused"].startswith("reading 1 and reading 2 contradict each other")
    assert told["bars"] == []


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (typed("camber_deg", "left", 99.0), "value 99: camber must be at least -60 and at most 60°"),
        (typed("scale_kg", "front_left", None), "value: write what was read, a number in kg"),
        (typed("scale_kg", "front_left", "x"), "value 'x': must be a number"),
        (typed("scale_kg", "front_left", float("nan")), "value nan: must be a finite number"),
        (typed([1], "left", None), "value: write what was read, a number in its unit"),
        (typed("scale_kg", "left", 30.0), "place 'left': scale is not read there"),
        (typed("scale_kg", "front_left", 30.0, setting="none"), "no such setting"),
        (typed("scale_kg", "front_left", 30.0, handwheel_deg=999.0), "handwheel 999°: must be"),
        (
            typed("scale_kg", "front_left", 30.0, under="front_left", under_mm=900.0),
            "shim under front left 900 mm: must be at least 0 and at most 500 mm",
        ),
        (typed("scale_kg", "front_left", 30.0, handwheel_deg=None), "handwheel: write its angle in °"),
        (
            typed("scale_kg", "front_left", 30.0, under="front_left", under_mm=None),
            "shim under front left None mm: must be a number",
        ),
        ({"kind": "unread", "at": 0}, "there is no such reading"),
        ({"kind": "readings", "lines": None}, "too long for the page"),
        (
            {"kind": "readings", "lines": ["what,where,value", "scale_kg,front_left,900"]},
            "reading 1, value 900",
        ),
        ({"kind": "readings", "lines": ["what,where,value", "scale_kg,front_left,"]}, "has a value yet"),
    ],
)
def test_an_odd_value_is_refused_in_one_line_of_the_pages_words(change: dict[str, Any], said: str) -> None:
    with pytest.raises(Refusal) as refused:
        after(change)
    text = str(refused.value)
    assert said in text
    assert "\n" not in text
    assert "reading[" not in text
    assert "_deg" not in text


def test_no_more_are_taken_than_the_page_shows() -> None:
    lines = ["what,where,value", *["scale_kg,front_left,34"] * readings.MOST]
    full = after({"kind": "readings", "lines": lines})
    assert len(full.readings) == readings.MOST
    with pytest.raises(Refusal, match="61 are too many"):
        after(typed("scale_kg", "rear_left", 44.0), now=full)


def test_readings_are_undone_and_redone_and_told_to_the_page() -> None:
    story = history.History(fresh())
    for change in (typed(*SOUND[0]), typed(*SOUND[2]), {"kind": "unread", "at": 0}):
        story = story.made(choices.told(change), choices.changed(story.now, change))
    assert story.told()["undo"] == "a reading taken out"
    assert [one.what for one in story.now.readings] == ["caster_deg"]
    back = story.undo()
    assert [one.what for one in back.now.readings] == ["scale_kg", "caster_deg"]
    assert back.undo().undo().now.readings == ()
    assert back.redo().now == story.now
    told = replies.reply(back.now, Memory())["readings"]
    assert [one["value"] for one in told] == ["34.6 kg", "12.1°"]


def test_a_saved_file_is_read_by_the_command_and_by_the_page(tmp_path: Any) -> None:
    shimmed = typed("scale_kg", "rear_left", 39.5, under="front_left", under_mm=10.0, handwheel_deg=15.0)
    now = after(*(typed(*one) for one in SOUND), shimmed)
    text = as_csv(now.readings, now.scenario.title)
    path = tmp_path / "readings.csv"
    path.write_text(text)
    assert readings.numbered(readings_of(path, now.scenario)) == readings.numbered(now.readings)
    lines = [line for line in text.splitlines() if not line.startswith("#")]
    opened = after({"kind": "readings", "lines": lines})
    assert readings.numbered(opened.readings) == readings.numbered(now.readings)
