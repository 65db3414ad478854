"""Every figure in words: name, unit and meaning, as lists for a document. Nothing is solved for it."""

from __future__ import annotations

from collections.abc import Callable

from kinematics.figures import catalog
from kinematics.figures.figure import Address, Given, Group, each
from kinematics.figures.verdict import MEANINGS

Entry = dict[str, str]


def _plain(one: Address, given: Given) -> str:
    return one.said(given)


def entries(group: Group, given: Given, said: Callable[[Address, Given], str] = _plain) -> list[Entry]:
    """Name, unit and meaning of each figure of a group, in order."""
    return [
        {"name": one.name, "unit": one.figure.unit.text, "meaning": said(one, given)} for one in each(group)
    ]


def glossary(given: Given) -> dict[str, list[Entry]]:
    """Columns and headline figures, those of a load case, and the words for how a kart stands in it."""
    ahead = (*catalog.HEADLINE, *catalog.NEAR)
    return {
        "columns": entries(catalog.THROUGH_LOCK, given),
        "figures": entries(ahead, given, catalog.straight),
        "case_columns": entries(catalog.IN_CASE, given),
        "case_figures": entries(catalog.OF_TURN, given),
        "stands": [{"name": word, "unit": "", "meaning": said} for word, said in MEANINGS.items()],
    }
