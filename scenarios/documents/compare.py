"""A comparison as data: the JSON document, and CSV rows for each setting, way of leaving it and lock."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from kinematics.change.change import BothRods, Difference, Differences
from kinematics.change.rods import RodTurns
from kinematics.figures.kart import HANDWHEEL
from scenarios.ask.compare import WAY_WORDS, WAYS, Against, Compared, Left, base_columns, one
from scenarios.documents.chunks import Series, csv_chunks, series, series_rows
from scenarios.documents.head import head

DIRECTIONS = {1.0: "lengthen", -1.0: "shorten", 0.0: "leave"}


def document(compared: Compared) -> dict[str, Any]:
    """The JSON document of a comparison; every difference is now less base. Columns are Series."""
    scenario = compared.scenario
    first, last, positions = scenario.handwheel_deg
    return {
        **head(scenario),
        "lock": {"handwheel_from_deg": first, "handwheel_to_deg": last, "positions": positions},
        "figures_at_lock_deg": compared.at_deg,
        "base": compared.base,
        "ways": WAY_WORDS,
        "handwheel_deg": list(compared.handwheel_deg),
        "settings": [_setting(compared, against) for against in compared.settings],
        "warnings": list(scenario.warnings),
        "inputs": scenario.resolved,
    }


def _setting(compared: Compared, against: Against) -> dict[str, Any]:
    work = against.work
    known = bool(work.spacers.known)
    return {
        "name": against.name,
        "fitted": compared.scenario.resolved["setting"][against.name],
        "tie_rods": _rods(work.rods),
        "spacers_mm": {
            side: float(getattr(work.spacers, side)) if known else None for side in ("left", "right")
        },
        "tie_rods_after_spacers": _rods(work.rods_after_spacers),
        "left_as": {way: _left(against.ways[way], compared.locks_deg) for way in WAYS},
    }


def _rods(rods: BothRods) -> dict[str, Any]:
    return {side: _rod(getattr(rods, side)) for side in ("left", "right")}


def _rod(rod: RodTurns) -> dict[str, Any]:
    if not bool(rod.known):
        return {"turns": None, "lengthening_mm": None, "direction": None}
    return {
        "turns": float(rod.turns),
        "lengthening_mm": float(rod.lengthening),
        "direction": DIRECTIONS[float(rod.direction)],
    }


def _left(left: Left, locks_deg: Mapping[str, float]) -> dict[str, Any]:
    return {
        "figures": _figures(left.figures),
        "columns": _curves(left.curves),
        "cases": [
            {
                "name": case,
                "figures_at_lock_deg": locks_deg[case],
                "figures": _figures(left.case_figures[case]),
                "columns": _curves(curves),
            }
            for case, curves in left.cases.items()
        ],
    }


def _figures(figures: Differences) -> dict[str, Any]:
    return {
        name: dict(zip(("base", "now", "change"), one(figure), strict=True))
        for name, figure in figures.items()
    }


def _curves(curves: Differences) -> dict[str, Any]:
    return {
        name: {which: _series(curve, which) for which in ("now", "change")}
        for name, curve in curves.items()
        if name != HANDWHEEL.name()
    }


def _series(curve: Difference, which: str) -> Series:
    return Series(getattr(curve, which), curve.known)


def csv_pieces(compared: Compared) -> Iterator[bytes]:
    """A row for each setting, way of leaving it and lock position; every column, and its change.

    The base's own rows come first, without changes.
    """
    return csv_chunks(_rows(compared))


def _rows(compared: Compared) -> Iterator[list[str]]:
    base = {name: column for name, column in base_columns(compared).items() if name != HANDWHEEL.name()}
    parts = [part for name in base for part in (name, f"{name}.change")]
    yield ["setting", "left_as", "handwheel_deg", *parts]
    columns = [part for column in base.values() for part in (series(column), None)]
    yield from _named_rows(compared, (compared.base, "base"), columns)
    for against in compared.settings:
        for way in WAYS:
            curves = _named(against.ways[way])
            changed = [_series(curves[name], which) for name in base for which in ("now", "change")]
            yield from _named_rows(compared, (against.name, way), changed)


def _named(left: Left) -> Mapping[str, Difference]:
    of_cases = {f"{case}.{name}": c for case, curves in left.cases.items() for name, c in curves.items()}
    return {**left.curves, **of_cases}


def _named_rows(
    compared: Compared, names: tuple[str, str], columns: Sequence[Series | None]
) -> Iterator[list[str]]:
    cells = series_rows(columns, len(compared.handwheel_deg))
    for handwheel, row in zip(compared.handwheel_deg, cells, strict=True):
        yield [*names, repr(handwheel), *row]
