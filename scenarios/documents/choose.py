"""A search as data: the JSON document, and a CSV row for each candidate."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import degrees, isfinite
from typing import Any

from kinematics.choose.box import row_of
from kinematics.choose.search import Candidate, verdict
from kinematics.choose.targets import Target
from kinematics.choose.words import work_words
from scenarios.ask.choose import Told, hidden_bend
from scenarios.ask.fitting import parts, setting_table, work_steps
from scenarios.ask.levers import Levers, changed
from scenarios.documents.chunks import csv_chunks
from scenarios.documents.head import head
from scenarios.kit import PLACES, SIDES, clean_deg


def document(told: Told, now: Sequence[float | None], others: Levers | None = None) -> dict[str, Any]:
    """The JSON document of a search; null where there is no value, or where a range is open.

    Candidates are in the order in which they are told: those that meet every target, least work first, then
    by fit, by work and between the targets as far as they are not among these. others is what could do what
    the box cannot.
    """
    found, scenario, bend = told.found, told.scenario, hidden_bend(told)
    return {
        **head(scenario),
        "from": told.present,
        "sides": told.sides,
        "tie_rods": told.rods,
        "targets": [target_entry(t, value) for t, value in zip(found.targets, now, strict=True)],
        "verdict": verdict(found),
        "reached": any(candidate.reached for candidate in told.candidates),
        "present": _candidate(told, found.base),
        "candidates": [
            {"number": place, **_candidate(told, candidate)}
            for place, candidate in enumerate(told.candidates, 1)
        ],
        "easiest": list(told.easiest),
        "best": list(told.best),
        "least_work": list(told.by_work),
        "trade_off": {"objectives": list(found.objectives), "candidates": list(told.between)},
        "other_adjustments": None if others is None else _others(told, others),
        "pairs_seen": found.seen,
        "pairs": found.total,
        "notes": list(found.notes),
        "warnings": [*scenario.warnings, *([bend] if bend else [])],
        "inputs": scenario.resolved,
    }


def finite_or_none(value: float) -> float | None:
    """The number, None where it is not one."""
    return float(value) if isfinite(value) else None


def target_entry(target: Target, now: float | None) -> dict[str, Any]:
    """A target with its value in the present setting."""
    address = target.address
    return {
        "figure": address.name,
        "unit": address.figure.unit.text,
        "handwheel_deg": address.lock_deg,
        "case": address.case,
        "low": finite_or_none(target.low),
        "high": finite_or_none(target.high),
        "or_none": target.or_none,
        "weight": target.weight,
        "worth_the_work": target.scale,
        "now": now,
    }


def _candidate(told: Told, candidate: Candidate) -> dict[str, Any]:
    scenario, before = told.scenario, told.scenario.settings[told.present]
    missed = [finite_or_none(miss) for miss in candidate.missed.tolist()]
    values = zip(candidate.values.tolist(), missed, strict=True)
    return {
        "fit": finite_or_none(candidate.fit),
        "reached": candidate.reached,
        "values": [finite_or_none(value) if miss is not None else None for value, miss in values],
        "missed_by": missed,
        "work": work_words(candidate.work),
        "steps": work_steps(scenario, before, candidate.setting),
        "parts": parts(scenario, before, candidate.setting),
        "free_lock_deg": [degrees(angle) for angle in candidate.free_lock],
        "setting": setting_table(scenario, told.present, candidate.setting),
    }


def _others(told: Told, others: Levers) -> dict[str, Any]:
    return {
        "bushes": "present" if others.base is told.found.base else "nearest",
        "listed": [
            {
                "adjustment": one.step.name,
                "amount": one.amount,
                "unit": one.step.unit,
                "minutes": one.step.minutes,
                "values_in_a_straight_line": one.values.tolist(),
                "missed_by": one.missed.tolist(),
                "setting": changed(told, others.base, one),
            }
            for one in others.listed
        ],
    }


def csv_pieces(told: Told) -> Iterator[bytes]:
    """A row for each candidate: bushes, fit, and each figure with its miss."""
    return csv_chunks(_csv_rows(told))


def _csv_rows(told: Told) -> Iterator[list[Any]]:
    fitted = [f"{side}_{place}" for side in SIDES for place in PLACES]
    heads = [f"{bush}_{what}" for bush in fitted for what in ("offset_mm", "clock_deg")]
    figures = [target.address.words for target in told.found.targets]
    missed = [part for f in figures for part in (f, f"{f}, missed by")]
    yield ["number", "fit", "reached", *heads, *missed, "work"]
    for place, candidate in enumerate(told.candidates, 1):
        yield [place, *_csv_row(told, candidate)]


def _csv_row(told: Told, candidate: Candidate) -> list[Any]:
    rows = [row_of(getattr(candidate.setting, side)).tolist() for side in SIDES]
    placed = [repr(n) for row in rows for n in (row[0], clean_deg(row[1]), row[2], clean_deg(row[3]))]
    figures = []
    for value, miss in zip(candidate.values.tolist(), candidate.missed.tolist(), strict=True):
        figures += [repr(n) if isfinite(n) and isfinite(miss) else "" for n in (value, miss)]
    reached = "yes" if candidate.reached else "no"
    return [repr(candidate.fit), reached, *placed, *figures, work_words(candidate.work)]
