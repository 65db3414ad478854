"""How every document begins: which program wrote it, in which form, of which scenario."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from scenarios import Scenario
from scenarios.quoting import json_escaped

FORMAT = 1
DISTRIBUTION = "lockarc"


def head(scenario: Scenario) -> dict[str, Any]:
    """Program, version, format and scenario."""
    from importlib.metadata import version

    return {
        "program": DISTRIBUTION,
        "version": version(DISTRIBUTION),
        "format": FORMAT,
        "scenario": {"name": scenario.name, "title": scenario.title, "inputs_sha256": scenario.digest},
    }


def json_bytes(payload: Mapping[str, Any]) -> bytes:
    """Strict JSON text in UTF-8, ending in a line feed; what would steer a terminal is escaped in it."""
    return (json_escaped(json.dumps(payload, indent=1, allow_nan=False, ensure_ascii=False)) + "\n").encode()
