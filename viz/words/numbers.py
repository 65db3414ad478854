"""A number on paper: fixed decimals, never a minus zero, a mark where there is none.

The one printer of numbers: tables, page, hand-out, sheet, window and pictures all write with it. With how
many decimals a figure is written, it or a difference of it, its row in the registry says.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from kinematics.figures.figure import Figure

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

UNIT_MARKS = {"deg": "°", "percent": " %"}


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


def told(figure: Figure, value: float, sign: bool = True) -> str:
    """A figure with its unit as a picture says it, with a sign unless told otherwise."""
    write, unit = signed if sign else number, figure.unit.text
    return f"{write(float(value), figure.digits, hand=PAGE)}{UNIT_MARKS.get(unit, f' {unit}')}"


def changed(figure: Figure, change: float | None, hand: Hand = TERMINAL) -> str:
    """A difference as a mechanic says it: '8.5 earlier', '20 heavier'; signed where there is no word."""
    if not figure.less_more or change is None:
        return signed(change, figure.digits, hand=hand)
    size = number(abs(change), figure.digits, hand=hand)
    return size if _zero(size) else f"{size} {figure.less_more[change > 0.0]}"


def _signed(value: float, size: str, hand: Hand) -> str:
    return f"{hand.minus}{size}" if value < 0.0 and not _zero(size) else size


def _zero(text: str) -> bool:
    return not text.strip("0.")
