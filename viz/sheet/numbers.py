"""How a number is printed on the sheet: fixed decimals, a real minus sign, its unit, never a minus zero."""

from __future__ import annotations

from viz.sheet.blocks import Line, Number

NONE: Line = ("not reached",)


def fixed(value: float, decimals: int, signed: bool = False) -> str:
    """The value with so many decimals; with signed, a plus where it is above zero."""
    text = f"{abs(value):.{decimals}f}"
    if float(text) == 0.0:
        return text
    if value < 0.0:
        return f"−{text}"
    return f"+{text}" if signed else text


def plain(value: float) -> str:
    """The value as a workshop writes it: four significant digits, no trailing zeros."""
    text = f"{abs(value):.4g}"
    return text if value >= 0.0 or float(text) == 0.0 else f"−{text}"


def number(key: str, value: float, decimals: int, unit: str = "", signed: bool = False) -> Number:
    """A number with fixed decimals and its unit."""
    return Number(key, float(value), f"{fixed(float(value), decimals, signed)} {unit}".rstrip())


def size(key: str, value: float, unit: str = "") -> Number:
    """A size as it is marked on a part, a limit or a setting: no trailing zeros."""
    return Number(key, float(value), f"{plain(float(value))} {unit}".rstrip())
