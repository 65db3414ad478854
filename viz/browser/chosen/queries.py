"""The page's address holds all that a visitor sees: `?a=more-caster&b=as-delivered&b-both=top=2@180&lock=20`.

A setting is named, what was changed of it is typed behind it as on the command line. What cannot be had is
told in one line, the rest holds.
"""

from __future__ import annotations

from collections.abc import Callable, Container, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial
from typing import Any
from urllib.parse import quote, urlencode

from scenarios import Scenario
from scenarios.ask import chassis
from scenarios.ask.typed import corner_text, finite, table_text
from scenarios.errors import Refusal, cut, middle_out
from scenarios.kit import SIDES
from scenarios.lessons.lesson import BUILT_IN
from scenarios.schema.changes import AT_A_CORNER, CHANGES
from viz.browser import figures
from viz.browser.chosen.choices import (
    SLOTS,
    ChoiceError,
    Choices,
    Slot,
    changed,
    compared,
    number,
    one_of,
    start,
    with_table,
)
from viz.scene.moment import STOPS, seen_best

PARTS = ("both", *SIDES, "kart")
FARTHEST = 1e5
"""How far away (mm) a picture is seen from at most."""
TOGETHER, THEMES = ("over", "side"), ("auto", "light", "dark")
SLOT_KEYS = tuple(key for slot in ("a", "b") for key in (slot, *(f"{slot}-{part}" for part in PARTS)))
LOOK_KEYS = ("lock", "view", "eye", "together", "theme", "charts", "shades", "lesson", "step")
MOMENT = {"case", "twist"}
"""With the lock: what an address need not say."""
KEYS = (*SLOT_KEYS, "case", "twist", *LOOK_KEYS, "token")
PLAIN = "=@,/"
"""Left as they are in an address, beside letters and numbers: those of a typed corner."""


@dataclass(frozen=True)
class Opening:
    """What an address asks for: choices, how they are looked at, what cannot be had, and a line beside it."""

    choices: Choices
    looks: Mapping[str, Any]
    refused: Sequence[str] = ()
    notice: str = ""


def chosen(scenario: Scenario, names: Sequence[str], query: Mapping[str, str]) -> Opening:
    """What a query asks for, over what a new visitor finds.

    Load case, lock and scale are those in which A and B are seen to differ most, as far as it says none.
    """
    now, looks, refused = start(scenario, names), {}, []
    said = set(query)
    refused += [f"{middle_out(key, 20)!r} is no part of it" for key in query if key not in KEYS]
    for key, change in _changes(query):
        try:
            now = change(now)
        except Refusal as error:
            refused.append(f"{key}: {error}")
            said.discard(key)
    for key in (key for key in LOOK_KEYS if key in query):
        try:
            looks[key] = _LOOKS[key](query[key], scenario)
        except Refusal as error:
            refused.append(f"{key}: {error}")
    if not said >= MOMENT or "lock" not in looks:
        now, looks["lock"] = _seen_best(now, said, looks)
    return Opening(now, looks, refused)


def _seen_best(now: Choices, said: Container[str], looks: Mapping[str, Any]) -> tuple[Choices, float]:
    """The choices and the lock, deg, in which A and B are told apart best; what was said stays."""
    case = now.scenario.load_cases[now.case].name if "case" in said else None
    best = seen_best(compared(now), SLOTS, case, now.twist if "twist" in said else None)
    first, last, _ = now.scenario.handwheel_deg
    lock = first + (last - first) * best.stop / (STOPS - 1)
    return replace(now, case=best.case, twist=int(best.times)), looks.get("lock", lock)


def seen(asked: Opening, views: Sequence[str]) -> tuple[Mapping[str, Any], str]:
    """How the page is looked at, from a view that there is, and one line for what cannot be had, or ''."""
    looks, refused = dict(asked.looks), list(asked.refused)
    if looks.get("view", views[0] if views else None) not in views:
        refused.append(f"view: nothing is seen from {middle_out(str(looks.pop('view', '')), 20)!r}")
    told = cut(f"In the address, {'; '.join(refused)}. All else is as asked.") if refused else ""
    return looks, " ".join(filter(None, [asked.notice, told]))


def address(now: Choices) -> str:
    """The query that asks for these choices, without its '?'."""
    pairs = [*_slot_pairs("a", now.scenario, now.a), *_slot_pairs("b", now.scenario, now.b)]
    pairs += [("case", now.scenario.load_cases[now.case].name), ("twist", f"{now.twist}")]
    return encoded(pairs)


def encoded(pairs: Sequence[tuple[str, str]]) -> str:
    """Pairs as a query that can be read."""
    return urlencode(pairs, quote_via=quote, safe=PLAIN)


def _slot_pairs(key: str, scenario: Scenario, slot: Slot) -> Iterator[tuple[str, str]]:
    yield key, slot.name
    named, own = scenario.resolved["setting"][slot.name], slot.table
    corners = {side: _corner_text(own[side]) for side in SIDES if own[side] != named[side]}
    both = len(set(corners.values())) == 1 < len(corners)
    for part, text in {"both": corners["left"]}.items() if both else corners.items():
        yield f"{key}-{part}", text or "top=0"
    whole = _whole_text(own)
    if whole != _whole_text(named):
        yield f"{key}-kart", whole or "axle=0"


def _corner_text(table: Mapping[str, Any]) -> str:
    unmoved = {change.key for change in AT_A_CORNER if not table.get(change.key)}
    return table_text({key: value for key, value in table.items() if key not in unmoved})


def _whole_text(table: Mapping[str, Any]) -> str:
    changes = {change.key: table[change.key] for change in CHANGES if table.get(change.key)}
    return chassis.table_text({**changes, "ballast": table.get("ballast", [])})


def _changes(query: Mapping[str, str]) -> Iterator[tuple[str, Callable[[Choices], Choices]]]:
    """What a query changes in turn, each with the key under which it is refused."""
    for key, name in zip(("a", "b"), SLOTS, strict=True):
        typed = {part: query[f"{key}-{part}"] for part in PARTS if f"{key}-{part}" in query}
        if key in query:
            yield key, partial(changed, change={"kind": "setting", "slot": name, "name": query[key]})
        if typed:
            yield f"{key}-{'/'.join(typed)}", partial(_edited, name=name, typed=typed)
    if "case" in query:
        yield "case", partial(changed, change={"kind": "case", "name": query["case"]})
    if "twist" in query:
        yield "twist", lambda now: changed(now, {"kind": "twist", "times": finite(query["twist"])})


def _edited(now: Choices, name: str, typed: Mapping[str, str]) -> Choices:
    """The choices with what is typed of a slot in the place of what it had; what is not typed stays."""
    slot = now.slot(name)
    whole = {key: value for key, value in slot.table.items() if key not in SIDES}
    if "kart" in typed:
        whole = {"note": whole["note"], **chassis.kart_text(typed["kart"])}
    corners = {side: typed.get(side, typed.get("both")) for side in SIDES}
    read = {side: slot.table[side] if text is None else corner_text(text) for side, text in corners.items()}
    new = with_table(now, name, {**whole, **read})
    compared(new)
    return new


def _lock(text: str, scenario: Scenario) -> float:
    first, last, _ = scenario.handwheel_deg
    angle = finite(text)
    if not first <= angle <= last:
        raise ChoiceError(f"{angle:g} is not between {first:g} and {last:g} deg")
    return angle


def _eye(text: str, scenario: Scenario) -> list[float]:
    """Where from, where to, and the scale of a view without perspective, all mm."""
    numbers = [finite(number) for number in text.split(",")]
    if len(numbers) != 7 or numbers[:3] == numbers[3:6] or max(map(abs, numbers)) > FARTHEST:
        raise ChoiceError(
            f"7 numbers of mm, none beyond {FARTHEST:g}, say where from, where to and the scale"
        )
    return numbers


def _step(text: str, scenario: Scenario) -> int:
    """The step of a lesson, which an address counts from 1; whether there is one is told later."""
    return int(number(finite(text), "step", "whole steps")) - 1


def _charts(text: str, scenario: Scenario) -> list[str]:
    known = [chart.key for chart in figures.CHARTS]
    return [one_of(key, known, "chart") for key in text.split(",") if key]


_LOOKS: Mapping[str, Callable[[str, Scenario], Any]] = {
    "lock": _lock,
    "view": lambda text, _: text,  # which there are the scene says, when it is made
    "eye": _eye,
    "together": lambda text, _: one_of(text, TOGETHER, "A and B"),
    "theme": lambda text, _: one_of(text, THEMES, "colours"),
    "charts": _charts,
    "lesson": lambda text, _: one_of(text, BUILT_IN, "lesson"),
    "step": _step,
    "shades": lambda text, _: one_of(text, ("yes", "no"), "shades") == "yes",
}
