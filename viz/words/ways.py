"""Figures that lock to the left and to the right have each of their own: told once where they read alike."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

Value = float | None
EITHER = "either"
"""Lock to whichever side."""


def told(by_way: Mapping[str, Sequence[Value]], digits: Sequence[int]) -> Mapping[str, Sequence[Value]]:
    """Values under 'either', the mean of both, where no two are a unit of the last shown digit apart.

    An even kart so has one row where an uneven one has two, and a mirrored kart reads as the kart itself.
    """
    left, right = by_way.values()
    pairs = list(zip(left, right, strict=True))
    if all(_alike(*pair, shown) for pair, shown in zip(pairs, digits, strict=True)):
        return {EITHER: [None if a is None or b is None else 0.5 * (a + b) for a, b in pairs]}
    return by_way


def _alike(left: Value, right: Value, digits: int) -> bool:
    if left is None or right is None:
        return left is right
    return abs(left - right) < 10.0**-digits
