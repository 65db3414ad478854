"""Readings that a visitor has typed: added, taken out, read from a file, refused in the page's words."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from typing import Any

from scenarios import Scenario
from scenarios.errors import Refusal, ScenarioError
from scenarios.gauged.file import csv_tables, readings_in
from scenarios.gauged.kinds import KINDS, WHEELS
from scenarios.gauged.record import Reading
from viz.browser.chosen.wording import plain

MOST = 60
"""Readings of one visitor."""
TYPED = ("what", "where", "setting", "handwheel_deg", "value")
PAGE, FILE = "this page", "the file"
TOLD = {"reading": "a reading", "unread": "a reading taken out", "readings": "readings of a file"}
"""Kinds of changes of the readings, in the words in which they are undone."""
Readings = tuple[Reading, ...]
_KEY = re.compile(r"reading(?:\[(\d+)\])?\.(\w+)( = )?")
_KINDS = re.compile(rf"\b({'|'.join(KINDS)})\b")
LABELS = {
    "what": "kind",
    "where": "place",
    "handwheel_deg": "handwheel",
    **{f"under_{wheel}_mm": f"shim under {wheel.replace('_', ' ')}" for wheel in WHEELS},
}
"""How the page calls a key of a reading."""


def changed(scenario: Scenario, readings: Readings, change: Mapping[str, Any]) -> Readings:
    """The readings after one change of a kind in TOLD. Raises Refusal in the page's words."""
    try:
        new = _CHANGES[change["kind"]](scenario, readings, change)
    except ScenarioError as error:
        raise Refusal(_plain(str(error))) from None
    if len(new) > MOST:
        many = f"{len(new)} are too many for the page, which takes {MOST}"
        raise Refusal(f"readings: {many}; lockarc fit takes more")
    return new


def numbered(readings: Sequence[Reading]) -> list[Reading]:
    """The readings, each called by its number in the list."""
    return [replace(one, line=f"reading {n}") for n, one in enumerate(readings, 1)]


def _added(scenario: Scenario, readings: Readings, change: Mapping[str, Any]) -> Readings:
    if change.get("value") is None:
        kind = KINDS.get(str(change.get("what")))
        raise Refusal(f"value: write what was read, a number in {kind.unit if kind else 'its unit'}")
    if change.get("handwheel_deg") is None:
        raise Refusal("handwheel: write its angle in °, 0 straight ahead")
    table = {key: change[key] for key in TYPED if change.get(key) is not None}
    if change.get("under"):
        table[f"under_{change['under']}_mm"] = change.get("under_mm")
    return (*readings, *readings_in({"reading": [table]}, PAGE, scenario))


def _taken_out(scenario: Scenario, readings: Readings, change: Mapping[str, Any]) -> Readings:
    at = change.get("at")
    if not isinstance(at, int) or isinstance(at, bool) or not 0 <= at < len(readings):
        raise Refusal("readings: there is no such reading to take out")
    return (*readings[:at], *readings[at + 1 :])


def _of_file(scenario: Scenario, readings: Readings, change: Mapping[str, Any]) -> Readings:
    """Those of a CSV file, in the place of what was there; a line that says no value is left out."""
    lines = change.get("lines")
    if not isinstance(lines, list) or not all(isinstance(line, str) for line in lines):
        raise Refusal("the file: is too long for the page, or a line of it; lockarc fit takes it")
    found = readings_in(csv_tables("\n".join(lines), FILE), FILE, scenario)
    taken = tuple(one for one in found if one.value is not None)
    if not taken:
        raise Refusal("the file: none of its readings has a value yet")
    return taken


_CHANGES: Mapping[str, Callable[[Scenario, Readings, Mapping[str, Any]], Readings]] = {
    "reading": _added,
    "unread": _taken_out,
    "readings": _of_file,
}


def _plain(text: str) -> str:
    """A refusal with what it is called on the page in the place of a file's keys."""
    typed = text.startswith(PAGE)

    def called(found: re.Match[str]) -> str:
        which = "" if typed or not found[1] else f"reading {found[1]}, "
        return f"{which}{LABELS.get(found[2], found[2])}{' ' if found[3] else ''}"

    said = _KINDS.sub(lambda found: found[0].rpartition("_")[0], _KEY.sub(called, plain(text)))
    return said.replace("_", " ")
