"""The page's address: what a visitor has chosen is read back from it, what it asks for in vain is told."""

from __future__ import annotations

from functools import lru_cache
from typing import Any
from urllib.parse import parse_qsl

import pytest
from hypothesis import given
from hypothesis import strategies as st

import scenarios
from scenarios import Scenario
from scenarios.schema.changes import AT_A_CORNER, CHANGES
from viz.browser.chosen import choices, queries
from viz.browser.chosen.choices import Choices
from viz.browser.chosen.queries import Opening
from viz.scene.moment import STOPS, seen_best

BOTH = ["left", "right"]


@lru_cache
def scenario() -> Scenario:
    return scenarios.load()


def asked(query: str) -> Opening:
    return queries.chosen(scenario(), [], dict(parse_qsl(query, keep_blank_values=True)))


def made(*changes: dict[str, Any]) -> Choices:
    now = choices.start(scenario(), ["more-caster", "camber-and-caster"])
    for change in changes:
        now = choices.changed(now, change)
    return now


def change(kind: str, slot: str = "A", **more: Any) -> dict[str, Any]:
    return {"kind": kind, "slot": slot, **more}


CHANGED = st.sampled_from(
    [
        change("setting", "B", name="less-caster"),
        change("bush", sides=["left"], seat="top", size_deg=1.2345678, clock_deg=355),
        change("bush", "B", sides=BOTH, seat="bottom", size_deg=0, clock_deg=10),
        change("rod", sides=BOTH, toe_deg=None),
        change("rod", "B", sides=["right"], toe_deg=-1e-5),
        *(change("corner", sides=["right"], key=one.key, value=-3.5) for one in AT_A_CORNER),
        *(change("kart", "B", key=one.key, value=2.25) for one in CHANGES),
        change("ballast", mass_kg=-1.5, at_mm=[600.0, -200.0, 150.0]),
        change("copy", "B"),
        {"kind": "case", "name": "slow corner"},
        {"kind": "twist", "times": 5},
    ]
)


@given(st.lists(CHANGED, max_size=6))
def test_an_address_opens_what_it_was_made_of(changes: list[dict[str, Any]]) -> None:
    now = made(*changes)
    read = asked(queries.address(now))
    assert read.refused == []
    assert (read.choices.case, read.choices.twist) == (now.case, now.twist)
    assert choices.compared(read.choices).settings == choices.compared(now).settings
    assert [read.choices.slot(name).title for name in "AB"] == [now.slot(name).title for name in "AB"]
    assert queries.address(read.choices) == queries.address(now)


def test_what_an_address_does_not_say_is_as_a_and_b_are_told_apart_best() -> None:
    best = seen_best(scenario(), ["as-delivered", "more-caster"])
    first, last, _ = scenario().handwheel_deg
    there = first + (last - first) * best.stop / (STOPS - 1)
    found = asked("a=as-delivered&b=more-caster")
    assert (found.choices.case, found.choices.twist, found.looks["lock"]) == (best.case, best.times, there)
    assert scenario().load_cases[best.case].name == "slow corner"
    said = asked("a=as-delivered&b=more-caster&case=standing&twist=5")
    assert (said.choices.case, said.choices.twist) == (0, 5)
    assert said.looks["lock"] > 0.0
    whole = asked("case=standing&twist=1&lock=0")
    assert (whole.choices.case, whole.choices.twist, whole.looks) == (0, 1, {"lock": 0.0})
    refused = asked("case=flying&lock=2")
    assert (refused.choices.case, refused.looks["lock"]) == (best.case, 2.0)


def test_what_was_changed_is_typed_as_on_the_command_line() -> None:
    now = made(
        change("bush", sides=BOTH, seat="top", size_deg=3, clock_deg=90),
        change("kart", key="seat_up_mm", value=5),
    )
    assert queries.address(now) == (
        "a=more-caster&a-both=top=3@90,bottom=1@0,toe=-0.1&a-kart=seat-up=5&b=camber-and-caster&case=standing&twist=1"
    )


def test_looks_are_read_and_a_view_that_there_is_not_is_told() -> None:
    looks = {"lock": -20.0, "view": "rock", "together": "side", "theme": "dark", "charts": ["load", "air"]}
    looks |= {"shades": True, "eye": [2000, -1000, 900.5, 0, 0, 0, 0]}
    query = (
        "lock=-20&view=rock&together=side&theme=dark&charts=load,air&shades=yes&eye=2e3,-1000,900.5,0,0,0,0"
    )
    assert queries.seen(asked(query), ["overview", "rock"]) == (looks, "")
    looks, told = queries.seen(asked("view=%3Cb%3E&lock=5"), ["overview", "rock"])
    assert looks == {"lock": 5.0}
    assert told == "In the address, view: nothing is seen from '<b>'. All else is as asked."


@pytest.mark.parametrize(
    ("query", "said"),
    [
        ("lock=61", "lock: 61 is not between -60 and 60 deg"),
        ("lock=nan", "lock: nan is not a finite number"),
        ("lock=%00", "lock: '\x00' is not a number"),
        ("twist=4", "twist: twist drawn: 4.0 is not one of 1, 3, 5, 10"),
        ("charts=camber,wings", "charts: chart: 'wings' is not one of camber"),
        ("eye=1,2,3", "eye: 7 numbers of mm"),
        ("eye=1,2,3,1,2,3,0", "eye: 7 numbers of mm"),
        ("eye=1e9,2,3,1,2,3,0", "none beyond 100000"),
        ("lesson=none", "lesson: lesson: 'none' is not one of why"),
        ("step=x", "step: 'x' is not a number"),
        ("theme=loud", "theme: colours: 'loud' is not one of auto, light, dark"),
        ("a=gone&case=standing", "a: setting: 'gone' is not one of as-delivered"),
        ("a-both=top=99@0", "a-both: A, left top bush, size 99°: must be at least 0"),
        ("b-kart=wings=3", "b-kart: 'wings=3' in 'wings=3' is not one of"),
        ("speed=3", "'speed' is no part of it"),
        ("&".join(f"{'x' * 500}{n}=1" for n in range(200)), "is no part of it"),
    ],
)
def test_what_cannot_be_had_is_told_in_one_short_line_and_all_else_holds(query: str, said: str) -> None:
    found = asked(f"{query}&b=less-caster")
    _, told = queries.seen(found, ["overview"])
    assert said in told
    assert len(told) <= 300
    assert "\n" not in told
    assert found.choices.b.name == "less-caster"
    assert found.choices.a == choices.start(scenario()).a


@given(st.dictionaries(st.sampled_from([*queries.KEYS, "x"]), st.text(max_size=40), max_size=5))
def test_no_address_breaks_the_page(query: dict[str, str]) -> None:
    found = queries.chosen(scenario(), [], query)
    looks, told = queries.seen(found, ["overview"])
    assert len(told) <= 300
    assert set(looks) <= set(queries.LOOK_KEYS)
    choices.compared(found.choices)
