"""An earlier run read back: the JSON that a run wrote is a scenario with a choice of settings of its own."""

from __future__ import annotations

import json
from math import isfinite
from pathlib import Path
from typing import Any

import scenarios
from scenarios.ask.asked import Asked, usual
from scenarios.errors import Refusal


def start(source: str | None) -> Asked:
    """The scenario of a source and what is run of it where nothing is asked; None is the default scenario."""
    if source is not None and Path(source).suffix.lower() == ".json":
        document = _document(source)
        if document is not None:
            return _asked(document, source)
    return usual(scenarios.load(source))


def _document(path: str) -> dict[str, Any] | None:
    """The document of an earlier run, None when the file is something else: then a scenario."""
    try:
        document = json.loads(Path(path).read_bytes())
    except (OSError, ValueError, RecursionError):
        return None
    return document if isinstance(document, dict) and "inputs" in document else None


def _asked(document: dict[str, Any], source: str) -> Asked:
    try:
        name, inputs = document["scenario"]["name"], document["inputs"]
        settings = [setting["name"] for setting in document["settings"]]
        cases = [case["name"] for case in document["settings"][0]["cases"]]
        at_deg = float(document["figures_at_lock_deg"])
    except (LookupError, TypeError, ValueError):
        settings = []
    if not settings or not isfinite(at_deg) or not all(isinstance(n, str) for n in (name, *settings, *cases)):
        raise Refusal(f"{source}: is not the JSON of a run that 'lockarc sweep --json' wrote")
    return Asked(scenarios.from_mapping(inputs, source, name), tuple(settings), tuple(cases), at_deg)
