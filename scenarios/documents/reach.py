"""A map as data: the JSON document, and a CSV row for each point."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain
from typing import Any

import numpy as np

from scenarios.ask.reach import Mapped
from scenarios.documents.chunks import csv_chunks
from scenarios.documents.head import head
from scenarios.kit import clean_deg

HEADS = (
    "top_offset_mm",
    "top_clock_deg",
    "bottom_offset_mm",
    "bottom_clock_deg",
    "caster_deg",
    "camber_deg",
    "value",
)


def document(mapped: Mapped) -> dict[str, Any]:
    """The JSON document of a map: a list for each heading, a point that cannot stand left out."""
    address, points = mapped.address, list(zip(*_points(mapped), strict=True))
    return {
        **head(mapped.scenario),
        "corner": mapped.corner,
        "sides": mapped.sides,
        "tie_rods": mapped.rods,
        "figure": {
            "name": address.name,
            "unit": mapped.unit,
            "handwheel_deg": address.lock_deg,
            "case": address.case,
        },
        "points": {head: list(values) for head, values in zip(HEADS, points, strict=True)},
        "pairs": mapped.total,
        "marks": [
            {
                "name": mark.name,
                "kind": mark.kind,
                "caster_deg": mark.caster,
                "camber_deg": mark.camber,
                "value": mark.value,
            }
            for mark in mapped.marks
        ],
        "cannot_stand": list(mapped.missing),
        "warnings": list(mapped.scenario.warnings),
        "inputs": mapped.scenario.resolved,
    }


def _points(mapped: Mapped) -> Iterator[tuple[float | None, ...]]:
    spots = mapped.spots
    for i in np.flatnonzero(spots.stands).tolist():
        top, top_clock, bottom, bottom_clock = mapped.rows[i].tolist()
        value = float(spots.value[i]) if spots.known[i] else None
        place = (float(spots.caster[i]), float(spots.camber[i]))
        yield top, clean_deg(top_clock), bottom, clean_deg(bottom_clock), *place, value


def csv_pieces(mapped: Mapped) -> Iterator[bytes]:
    """A row for each point; the figure's column is headed by its name, lock and case."""
    points = (["" if value is None else repr(value) for value in point] for point in _points(mapped))
    return csv_chunks(chain([[*HEADS[:-1], mapped.address.words]], points))
