"""A run as data: the JSON document and the CSV rows of a sweep, with all that is needed to run it again.

Both are documented by the list of columns, which stands in the JSON too. Where there is no value the JSON
says null and the CSV leaves the cell empty; NaN and infinity never appear.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import repeat
from typing import Any

from kinematics.figures.figure import Numbers
from scenarios import Scenario
from scenarios.ask.run import CaseRun, Run
from scenarios.documents.chunks import csv_chunks, series, series_rows
from scenarios.documents.glossary import glossary
from scenarios.documents.head import head


def column_values(column: Numbers) -> list[float | None]:
    """A column's values as plain numbers, None where there is none."""
    return series(column).plain()


def figure_value(figure: Numbers) -> float | None:
    """A headline figure as a plain number, None where there is none."""
    return float(figure.values) if bool(figure.known) else None


def document(scenario: Scenario, runs: Sequence[Run], at_deg: float | None = None) -> dict[str, Any]:
    """The JSON document of a run; scenario is what was run, the lock and typed settings in it.

    at_deg is the handwheel angle at which figures at lock were asked for, None: at each case's own. Columns
    are Series.
    """
    first, last, positions = scenario.handwheel_deg
    return {
        **head(scenario),
        "lock": {"handwheel_from_deg": first, "handwheel_to_deg": last, "positions": positions},
        "figures_at_lock_deg": at_deg,
        **glossary(scenario.given),
        "settings": [_setting(scenario, run) for run in runs],
        "warnings": list(scenario.warnings),
        "inputs": scenario.resolved,
    }


def _setting(scenario: Scenario, run: Run) -> dict[str, Any]:
    return {
        "name": run.name,
        "fitted": scenario.resolved["setting"][run.name],
        **_values(run),
        "cases": [
            {"name": case.name, "figures_at_lock_deg": case.at_deg, **_values(case), **_stands(case)}
            for case in run.cases
        ],
    }


def _values(run: Run | CaseRun) -> dict[str, Any]:
    return {
        "headline": {name: figure_value(figure) for name, figure in run.headline.items()},
        "columns": {name: series(column) for name, column in run.columns.items()},
    }


def _stands(case: CaseRun) -> dict[str, Any]:
    """How it stands at each lock position, in a word; where it has two resting places, where it falls."""
    found = {"stands": case.stands, "rests_twice_at_deg": case.rests_twice_at_deg}
    return {**found, "falls_at_deg": case.falls_at_deg}


def csv_pieces(runs: Sequence[Run]) -> Iterator[bytes]:
    """CSV text: a row for each setting and lock position, the setting's name first.

    A column of a load case is headed by the case's name, a full stop and the column's name; the last ones
    say in a word how it stands.
    """
    return csv_chunks(_rows(runs))


def _rows(runs: Sequence[Run]) -> Iterator[list[str]]:
    yield ["setting", *csv_columns(runs[0]), *(f"{case.name}.stands" for case in runs[0].cases)]
    for run in runs:
        columns = [series(column) for column in csv_columns(run).values()]
        rows = series_rows(columns, columns[0].values.size)
        stands = zip(*(case.stands for case in run.cases), strict=True) if run.cases else repeat(())
        yield from ([run.name, *cells, *words] for cells, words in zip(rows, stands, strict=False))


def csv_columns(run: Run) -> dict[str, Numbers]:
    """Every column of a run by its heading in the CSV."""
    of_cases = {f"{case.name}.{name}": column for case in run.cases for name, column in case.columns.items()}
    return {**run.columns, **of_cases}
