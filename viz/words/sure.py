"""A number with how sure it is, as a workshop says it: '25 ± 4 kg', 'at 39° (22 to 74)', 'cannot be told'."""

from __future__ import annotations

from collections.abc import Callable
from math import floor, isfinite, isinf, log10

from kinematics.parts import GRAVITY
from scenarios.likely.bands import Banded
from viz.words.numbers import PAGE, number, signed

Scale = Callable[[float], float]
ALIKE = "·"
"""Stands where a change makes no difference that can be told."""
MOST_DECIMALS = 2
LOPSIDED = 1.6
"""A band whose one half is so many times the other is told by its ends."""


def kg(newton: float) -> float:
    """A load as a scale shows it."""
    return newton / GRAVITY


def plain(value: float) -> float:
    """A number as it is."""
    return value


def decimals(half: float, most: int = MOST_DECIMALS) -> int:
    """Decimals with which a number is told that is sure to about so much: one digit of it, or two."""
    if half <= 0.0 or not isfinite(half):
        return most
    return min(max(-floor(log10(half / 2.0)), 0), most)


def magnitude(told: Banded, unit: str, scale: Scale = plain, sure: bool = True) -> str:
    """How large a figure or a difference is, without its sign, and give or take what."""
    value, low, high = (
        scale(one) for one in (told.value or 0.0, float(told.band.low), float(told.band.high))
    )
    if value < 0.0:
        value, low, high = -value, -high, -low
    tail = f" {unit}".replace(" °", "°")
    if not sure:
        return f"{number(value, decimals(0.05 * value), hand=PAGE)}{tail}"
    below, above = value - low, high - value
    finite = [half for half in (below, above) if isfinite(half)]
    places = decimals(max(finite, default=0.05 * value))
    while places < 2 and value > 0.0 == round(value, places):  # what is there is not told as nothing
        places += 1
    shown = number(value, places, hand=PAGE)
    even = len(finite) == 2 and max(finite) <= LOPSIDED * max(min(finite), 0.0) + 10.0**-places
    if even and not low > 0.0 >= value - 0.5 * (high - low):
        return f"{shown} ± {number(0.5 * (high - low), places)}{tail}"
    return f"{shown}{tail} ({ends(low, high, places)})"


def ends(low: float, high: float, places: int) -> str:
    """A band by its ends, one of which may be without end."""
    first, last = (number(value, places, hand=PAGE) for value in (low, high))
    if isinf(high):
        return f"{first} or more, or never" if not isinf(low) else "anything"
    return f"{last} or less" if isinf(low) else f"{first} to {last}"


def gain(by: Banded, scale: Scale = plain, band: bool = False) -> str:
    """A difference in a table: with its sign, and give or take what where that is asked for."""
    if by.value is None or isinf(by.value) or not by.told_apart:
        return ALIKE
    value, low, high = (scale(one) for one in (by.value, float(by.band.low), float(by.band.high)))
    half, nearest = 0.5 * (high - low), min(abs(low), abs(high))
    if not round(nearest, MOST_DECIMALS):
        return ALIKE
    places = decimals(half if isfinite(half) else nearest)
    said = signed(value, places, hand=PAGE)
    if not band:
        return said
    if round(half, places) < abs(round(value, places)):
        return f"{said} ± {number(half, places)}"
    places = max(places, decimals(2.0 * nearest))  # its nearer end is not told as nothing
    return f"{signed(value, places, hand=PAGE)} ({ends(low, high, places)})"


def shift(was: float, now: float, places: int, unit: str) -> str:
    """From what to what, and by how much: '+3.1° (12.0 → 15.1)'."""
    tail = f" {unit}".replace(" °", "°")
    change = signed(now - was, places, hand=PAGE)
    return f"{change}{tail} ({number(was, places, hand=PAGE)} → {number(now, places, hand=PAGE)})"
