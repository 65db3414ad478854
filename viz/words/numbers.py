"""A number on paper: fixed decimals, never a minus zero, a mark where there is none.

The one printer of numbers: tables, page, hand-out, sheet, window and pictures all write with it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

LONGEST = 1e7
"""From here on a number is written as a power of ten, so that no table need be wider than its paper."""


@dataclass(frozen=True)
class Hand:
    """How numbers are written: the sign of one below zero, and the mark where there is none."""

    minus: str
    missing: str


TERMINAL = Hand("-", "-")
PAGE = Hand("−", "–")
"""On a page, a sheet and a picture: a real minus sign, a dash where there is nothing."""

UNIT_DECIMALS = {
    "deg": 2,
    "mm": 1,
    "m": 1,
    "percent": 1,
    "g": 2,
    "N": 0,
    "N·m": 1,
    "N/deg": 2,
    "mm/deg": 2,
    "kg": 1,
}
UNIT_MARKS = {"deg": "°", "percent": " %"}
DECIMALS: Mapping[str, int] = {
    "handwheel_deg": 1,
    "steer_deg": 1,
    "standing_steer_deg": 1,
    "lift_off_handwheel_deg": 1,
    "lift_off_steer_deg": 1,
    "least_inside_rear_load_at_deg": 1,
    "wheel_drop_mm": 2,
    "rigid_inside_rear_lift_mm": 2,
    "ackermann_percent": 0,
    "axle_yaw_moment_nm": 0,
}
"""Of figures that are told coarser or finer than others of their unit, by name without a side."""


def decimals(name: str, unit: str) -> int:
    """Decimals with which a figure is told, it or a difference of it, wherever it stands."""
    plain = name.replace("_left_", "_").replace("_right_", "_")
    return DECIMALS.get(plain, UNIT_DECIMALS.get(unit, 2))


def number(value: float | None, decimals: int, missing: str | None = None, hand: Hand = TERMINAL) -> str:
    """A number with so many decimals; `missing`, or the hand's own mark, where there is none."""
    if value is None:
        return hand.missing if missing is None else missing
    size = abs(value)
    return _signed(value, f"{size:.{decimals}f}" if size < LONGEST else f"{size:.3e}", hand)


def signed(value: float | None, decimals: int, missing: str | None = None, hand: Hand = TERMINAL) -> str:
    """A difference: a number with a plus where it reads above zero."""
    text = number(value, decimals, missing, hand)
    return f"+{text}" if value is not None and value > 0.0 and not _zero(text) else text


def short(value: float, digits: int = 4, hand: Hand = TERMINAL) -> str:
    """A size as a workshop writes it: so many significant digits, no trailing zeros."""
    return _signed(value, f"{abs(value):.{digits}g}", hand)


def told(name: str, unit: str, value: float, sign: bool = True) -> str:
    """A figure with its unit as a picture says it, with a sign unless told otherwise."""
    write = signed if sign else number
    return f"{write(float(value), decimals(name, unit), hand=PAGE)}{UNIT_MARKS.get(unit, f' {unit}')}"


def _signed(value: float, size: str, hand: Hand) -> str:
    return f"{hand.minus}{size}" if value < 0.0 and not _zero(size) else size


def _zero(text: str) -> bool:
    return not text.strip("0.")
