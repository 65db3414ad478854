"""A slot as the page shows it: its bushes for the dials, what else is changed, and what that did to toe."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from scenarios import Scenario
from scenarios.kit import PLACES, SIDES, called, in_deg, size_in, stock
from scenarios.schema.changes import AT_A_CORNER, CHANGES, changes_told
from viz.browser.chosen.choices import RODS, Slot
from viz.words.numbers import PAGE, number

Told = dict[str, Any]
Toes = Mapping[str, float | None]
"""Toe of each wheel by side, deg; None where there is none."""
BALLAST_AT = 0.4
"""Share of the wheelbase at which ballast is offered."""
SAME_TOE = 0.005
"""deg: what a page of hundredths cannot show."""


def told(scenario: Scenario, slot: Slot, toe: Toes, measured: Toes) -> Told:
    """A slot's bushes, rods and changes; its toe is told where kept rods have moved it from the measured."""
    return {
        "name": slot.name,
        "title": slot.title,
        "edited": slot.edited,
        **{side: _corner(scenario, side, slot.table[side]) for side in SIDES},
        "kart": {change.key: slot.table.get(change.key, 0.0) for change in CHANGES},
        "ballast": _ballast(scenario, slot.table.get("ballast", [])),
        "changes": _changes(slot.table),
        "toe_moved": _moved(slot, toe, measured),
    }


def _changes(table: Mapping[str, Any]) -> list[str]:
    """What is changed on the whole kart, each with its way and its unit."""
    made = [f"{one.told}: {table[one.key]:+g} {one.unit}" for one in CHANGES if table.get(one.key)]
    return made + changes_told({"ballast": table.get("ballast", [])})


def _moved(slot: Slot, toe: Toes, measured: Toes) -> Told | None:
    """What rods that were kept did to toe, and what it was; None where it is as it was."""
    pairs = [(toe[side], measured[side]) for side in SIDES]
    kept = not any(key in slot.table[side] for side in SIDES for key in RODS)
    if not kept or any(one is None for pair in pairs for one in pair):
        return None
    if all(abs(now - was) < SAME_TOE for now, was in pairs if now is not None and was is not None):
        return None
    now, was = (_said(toes) for toes in (toe, measured))
    line = f"The tie rods are as they were, so toe has moved: {now}, from {was} as measured (+ in)."
    return {
        "line": line,
        "was": was,
        **{f"{side}_deg": round(float(measured[side] or 0.0), 6) for side in SIDES},
    }


def _said(toes: Toes) -> str:
    left, right = (f"{number(toes[side], 2, hand=PAGE)}°" for side in SIDES)
    return f"{left} each side" if left == right else f"{left} left and {right} right"


def _ballast(scenario: Scenario, pieces: Sequence[Mapping[str, Any]]) -> Told:
    """All ballast as one piece at its middle; none stands ready behind the seat's middle."""
    mass = sum(one["mass_kg"] for one in pieces)
    if not mass:
        return {"mass_kg": 0.0, "at_mm": [round(BALLAST_AT * scenario.kart.wheelbase), 0, 200]}
    middle = [sum(one["mass_kg"] * one["at_mm"][way] for one in pieces) / mass for way in range(3)]
    return {"mass_kg": mass, "at_mm": [round(mm, 3) for mm in middle]}


def _corner(scenario: Scenario, side: str, table: Mapping[str, Any]) -> Told:
    return {
        **{seat: _bush(scenario, side, seat, table) for seat in PLACES},
        "toe_deg": table.get("tie_rod_toe_deg"),
        "rod_length_mm": table.get("tie_rod_length_mm"),
        **{change.key: table.get(change.key, 0.0) for change in AT_A_CORNER},
    }


def _bush(scenario: Scenario, side: str, seat: str, table: Mapping[str, Any]) -> Told:
    """A bush in degrees over the left yoke's span, as the dial counts, and in mm where that is its word."""
    own, kit = size_in(table, getattr(scenario.kart, side).yoke.span, f"{seat}_"), scenario.kit
    size, largest = called(kit, own.offset), max((one.offset for one in kit.sizes), default=0.0)
    odd = "larger than any in the box" if size.offset > largest else "not in the box"
    return {
        "size_deg": in_deg(size, scenario.kart.left.yoke.span),
        "offset_mm": size.number if size.unit == "mm" and not size.centred else None,
        "clock_deg": table.get(f"{seat}_clock_deg", 0.0),
        "odd": odd if stock(kit, size) == 0 and kit.sizes else "",
    }
