"""How every document begins: which program wrote it, in which form, of which scenario."""

from __future__ import annotations

from typing import Any

from scenarios import Scenario

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
