"""A visitor's A and B as JSON and CSV: the command line's documents, and how the kart stands beside them."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable
from typing import Any

from kinematics.columns import columns, headline
from viz import payload
from viz.browser import figures, replies, solving
from viz.browser.choices import SLOTS, Choices


def document(chosen: Choices) -> dict[str, Any]:
    """The JSON document of A and B: as `lockarc` writes it, with the load case and the columns standing."""
    compared, solved = replies.solve_both(chosen)
    runs = [
        payload.Run(name, s.sweep, columns(s.sweep, s.toe_diameter_mm), headline(s.sweep, s.ahead, s.toe_diameter_mm))
        for name, s in solved.items()
    ]
    shown = [through.shown for through in figures.THROUGH]
    return {
        **payload.document(compared, runs),
        "standing": {
            "load_case": chosen.scenario.resolved["load_case"][chosen.case],
            "columns": [{"name": s.name, "unit": s.unit, "meaning": s.label} for s in shown],
            "settings": [
                {"name": name, "title": s.title, "columns": figures.through_values(s)} for name, s in solved.items()
            ],
        },
    }


def json_bytes(chosen: Choices) -> bytes:
    """The document as strict JSON."""
    return payload.json_bytes(document(chosen))


def csv_bytes(chosen: Choices) -> bytes:
    """What the charts and the table show: a row for each of A and B and each lock position."""
    _, solved = replies.solve_both(chosen)
    text = io.StringIO(newline="")
    rows = csv.writer(text, lineterminator="\n")
    names = [through.shown.name for through in figures.THROUGH]
    rows.writerow(["slot", "setting", "load_case", "handwheel_deg", *names])
    case = chosen.scenario.load_cases[chosen.case].name
    for slot in SLOTS:
        values = figures.through_values(solved[slot])
        for i, lock in enumerate(solving.lock_deg(chosen.scenario).tolist()):
            numbers = ["" if values[name][i] is None else repr(values[name][i]) for name in names]
            rows.writerow([slot, solved[slot].title, case, repr(lock), *numbers])
    return text.getvalue().encode()


FORMATS: dict[str, Callable[[Choices], bytes]] = {"csv": csv_bytes, "json": json_bytes}
"""What can be saved, by the file's ending."""
