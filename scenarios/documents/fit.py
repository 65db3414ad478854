"""A fit as data."""

from __future__ import annotations

from math import isfinite
from typing import Any

from scenarios.documents.answer import banded
from scenarios.documents.head import head
from scenarios.gauged.blank import row_of
from scenarios.gauged.fit import Fit, FittedNumber
from scenarios.gauged.told import FitTold


def document(told: FitTold) -> dict[str, Any]:
    """The JSON document: numbers with standard errors and correlations, readings with what they should be."""
    found = told.fit
    names = [one.name for one in found.numbers]
    return {
        **head(found.scenario),
        "numbers": [_number(one) for one in found.numbers],
        "correlations": [[found.correlation(one, other) for other in names] for one in names],
        "told_only_together": [
            dict(zip(found.names_of(one), one.shares, strict=True)) for one in found.together
        ],
        "readings": _readings(found),
        "readings_without_a_value": told.left_out,
        "chi_square": found.chi_square,
        "degrees_of_freedom": found.freedom,
        "chance_of_so_much": found.chance,
        "do_not_fit": [
            {
                "reading": one.reading.line,
                "should_be": one.should_be,
                "standard_uncertainty": one.sure,
                "may_be": list(one.reasons),
            }
            for one in told.suspects
        ],
        "clocks_read_from_below": [one.setting for one in told.upside_down],
        "left_less_right": [
            {
                "number": one.name,
                "unit": one.unit,
                "difference": one.value,
                "standard_uncertainty": one.sure,
                "beyond_chance": one.beyond,
                "read_again_first": one.first.line if one.first else None,
            }
            for one in told.sides
        ],
        "figures_before": {one.address.name: banded(one) for one in told.before},
        "figures_after": {one.address.name: banded(one) for one in told.after},
        "warnings": list(found.scenario.warnings),
        "inputs": found.scenario.resolved,
    }


def _number(one: FittedNumber) -> dict[str, Any]:
    return {
        "name": one.name,
        "unit": one.unit,
        "was": one.was,
        "was_standard_uncertainty": one.was_sure if isfinite(one.was_sure) else None,
        "value": one.value,
        "standard_error": one.sure if isfinite(one.sure) else None,
    }


def _readings(found: Fit) -> list[dict[str, Any]]:
    each = zip(found.readings, found.foretold, found.misses, found.sigmas, found.weights, strict=True)
    return [
        {
            **row_of(one),
            "should_be": float(should_be),
            "standard_uncertainty": float(sigma),
            "miss_in_uncertainties": float(miss),
            "counts": float(weight),
        }
        for one, should_be, miss, sigma, weight in each
    ]
