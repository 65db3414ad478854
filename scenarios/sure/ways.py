"""Ways of measuring, and the standard uncertainty that each leaves in a number: one table.

Two readings in three of a careful workshop lie within one standard uncertainty. All of these are choices of
this program, about what such a workshop repeats with driver, floor and marks set up anew; no source is known.
"""

from __future__ import annotations

from typing import NamedTuple

SHARE = "%"


class Spread(NamedTuple):
    """A standard uncertainty: in a unit, or as a share of the number where the unit is SHARE."""

    amount: float
    unit: str
    why: str

    def of(self, value: float) -> float:
        """The standard uncertainty of a number of this value, in its own unit."""
        return self.amount * abs(value) if self.unit == SHARE else self.amount


MEASURED, ASSUMED = "measured", "assumed"
OTHERS, TOGETHER = "others", "together"
"""Keys of [sure] that are no number's: what holds of all not named, and which numbers go together."""
WAYS: dict[str, Spread] = {
    "tape": Spread(1.0, "mm", "between two marks of chalk"),
    "plumb line": Spread(2.0, "mm", "a mark under a point in the air, and the tape from a chalk line"),
    "square": Spread(1.0, "mm", "a height over a floor that is not quite level"),
    "raised axle": Spread(20.0, "mm", "half a kilogram on the rear scales with the front 300 mm up"),
    "angle gauge": Spread(0.2, "deg", "a tenth read, on an edge that lies as well as it can"),
    "toe marks": Spread(0.05, "deg", "a quarter of a millimetre over 280 mm"),
    "scale": Spread(0.5, "kg", "a driver does not sit down twice alike, nor are four scales quite level"),
    "straight edge": Spread(0.1, SHARE, "where a round tread begins to touch, and the gap beside it"),
    "known weight": Spread(0.08, SHARE, "a load hung on, and the little that it gives"),
}


def ways_for(unit: str) -> tuple[str, ...]:
    """The words that may be said of a number of this unit: measured as is usual, assumed, or the way."""
    ways = (way for way, spread in WAYS.items() if spread.unit in (unit, SHARE))
    return (MEASURED, ASSUMED, *ways)
