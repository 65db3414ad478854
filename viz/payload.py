"""A run as data: the JSON document and the CSV rows of a sweep, with all that is needed to run it again.

Both are documented by the list of columns, which stands in the JSON too. Where there is no value the JSON
says null and the CSV leaves the cell empty; NaN and infinity never appear.
"""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Mapping
from dataclasses import dataclass, replace
from importlib.metadata import version
from typing import Any

import numpy as np

from kinematics.columns import Column, Figure, columns, headline
from kinematics.sweep import Sweep, sweep
from scenarios import Scenario

FORMAT = 1
DISTRIBUTION = "lockarc"


@dataclass(frozen=True)
class Run:
    """One setting swept through lock, with its columns and headline figures by name."""

    name: str
    sweep: Sweep
    columns: Mapping[str, Column]
    headline: Mapping[str, Figure]


def run_setting(scenario: Scenario, name: str) -> Run:
    """Sweep one setting of a scenario through the scenario's lock."""
    degrees = np.linspace(*scenario.handwheel_deg)
    setting, diameter = scenario.settings[name], scenario.toe_diameter_mm
    swept = sweep(scenario.kart, setting, np.radians(degrees))
    ahead = sweep(scenario.kart, setting, 0.0)
    named = columns(swept, diameter)
    named["handwheel_deg"] = replace(named["handwheel_deg"], values=degrees)  # as asked for, unrounded
    return Run(name, swept, named, headline(swept, ahead, diameter))


def column_values(column: Column) -> list[float | None]:
    """A column's values as plain numbers, None where there is none."""
    pairs = zip(
        column.values.tolist(), np.broadcast_to(column.known, column.values.shape).tolist(), strict=True
    )
    return [value if known else None for value, known in pairs]


def figure_value(figure: Figure) -> float | None:
    """A headline figure as a plain number, None where there is none."""
    return float(figure.value) if bool(figure.known) else None


def glossary(entries: Mapping[str, Column] | Mapping[str, Figure]) -> list[dict[str, str]]:
    """Name, unit and meaning of each column or figure, in order."""
    return [{"name": e.name, "unit": e.unit, "meaning": e.meaning} for e in entries.values()]


def document(scenario: Scenario, runs: list[Run]) -> dict[str, Any]:
    """The JSON document of a run; scenario is what was run, the lock and typed settings in it."""
    first, last, positions = scenario.handwheel_deg
    return {
        "program": DISTRIBUTION,
        "version": version(DISTRIBUTION),
        "format": FORMAT,
        "scenario": {"name": scenario.name, "title": scenario.title, "inputs_sha256": scenario.digest},
        "lock": {"handwheel_from_deg": first, "handwheel_to_deg": last, "positions": positions},
        "columns": glossary(runs[0].columns),
        "figures": glossary(runs[0].headline),
        "settings": [_setting(scenario, run) for run in runs],
        "warnings": list(scenario.warnings),
        "inputs": scenario.resolved,
    }


def _setting(scenario: Scenario, run: Run) -> dict[str, Any]:
    return {
        "name": run.name,
        "fitted": scenario.resolved["setting"][run.name],
        "headline": {name: figure_value(figure) for name, figure in run.headline.items()},
        "columns": {name: column_values(column) for name, column in run.columns.items()},
    }


def json_bytes(payload: Mapping[str, Any]) -> bytes:
    """Strict JSON text in UTF-8, ending in a line feed."""
    return (json.dumps(payload, indent=1, allow_nan=False, ensure_ascii=False) + "\n").encode()


def csv_bytes(runs: list[Run]) -> bytes:
    """CSV text: a row for each setting and lock position, the setting's name first."""
    text = io.StringIO(newline="")
    rows = csv.writer(text, lineterminator="\n")
    rows.writerow(["setting", *runs[0].columns])
    for run in runs:
        values = [column_values(column) for column in run.columns.values()]
        for row in zip(*values, strict=True):
            rows.writerow([run.name, *("" if value is None else repr(value) for value in row)])
    return text.getvalue().encode()
