"""The query of the page's address: ?a=SETTING&b=SETTING&case=LOADCASE, each of them optional."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from scenarios import Scenario
from viz.browser.choices import ChoiceError, Choices, changed, start

KEYS = ("a", "b", "case", "token")


def chosen(scenario: Scenario, names: Sequence[str], query: Mapping[str, str]) -> tuple[Choices, list[str]]:
    """The choices that a query asks for, and a line for each part of it that cannot be had."""
    now, refused = start(scenario, names), []
    for key in query:
        if key not in KEYS:
            refused.append(f"In the address: {key!r} is not one of {', '.join(KEYS)}.")
    for key, change in _changes(query).items():
        try:
            now = changed(now, change)
        except ChoiceError as error:
            refused.append(f"In the address, {key}: {error}.")
    return now, refused


def _changes(query: Mapping[str, str]) -> dict[str, dict[str, str]]:
    changes = {
        "a": {"kind": "setting", "slot": "A", "name": query.get("a", "")},
        "b": {"kind": "setting", "slot": "B", "name": query.get("b", "")},
        "case": {"kind": "case", "name": query.get("case", "")},
    }
    return {key: change for key, change in changes.items() if key in query}
