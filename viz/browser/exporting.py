"""A visitor's A and B as JSON and CSV: the documents of the command line, for the load case chosen."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from scenarios import Scenario
from scenarios.ask.run import Run, run
from scenarios.documents import chunks
from scenarios.documents import run as payload
from viz.browser.chosen.choices import SLOTS, Choices, compared


def _runs(chosen: Choices) -> tuple[Scenario, list[Run]]:
    scenario, case = compared(chosen), chosen.scenario.load_cases[chosen.case].name
    return scenario, [run(scenario, name, [case]) for name in SLOTS]


def json_bytes(chosen: Choices) -> bytes:
    """The JSON document of A and B in the load case, and which settings they came from."""
    scenario, runs = _runs(chosen)
    document: dict[str, Any] = payload.document(scenario, runs)
    return chunks.json_bytes({**document, "titles": {name: chosen.slot(name).title for name in SLOTS}})


def csv_bytes(chosen: Choices) -> bytes:
    """A row for each of A and B and each lock position."""
    return b"".join(payload.csv_pieces(_runs(chosen)[1]))


FORMATS: dict[str, Callable[[Choices], bytes]] = {"csv": csv_bytes, "json": json_bytes}
"""What can be saved, by the file's ending."""
