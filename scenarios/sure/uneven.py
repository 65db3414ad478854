"""Where the two front corners of a kart are not alike, in words: a bent part, or a slip in measuring."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from math import degrees, hypot, sqrt
from typing import NamedTuple

from kinematics.parts import Corner, Kart
from scenarios.sure.usual import USUAL
from scenarios.sure.ways import WAYS

FACTOR = 3.0
"""What differs by more than three times what measuring leaves in a difference is uneven."""


class Likeness(NamedTuple):
    """A number that both corners have; row tells how it is usually measured."""

    words: str
    unit: str
    row: str
    of: Callable[[Corner], float]

    @property
    def least(self) -> float:
        """The difference that counts, in its unit."""
        return FACTOR * sqrt(2.0) * WAYS[USUAL[self.row].way].amount


NUMBERS = (
    Likeness("built-in caster", "deg", "yoke.caster_deg", lambda c: degrees(c.yoke.caster)),
    Likeness(
        *("built-in kingpin inclination", "deg", "yoke.kingpin_inclination_deg"),
        lambda c: degrees(c.yoke.kingpin_inclination),
    ),
    Likeness("camber", "deg", "stub.camber_deg", lambda c: degrees(c.stub.camber)),
    Likeness("toe", "deg", "stub.toe_deg", lambda c: degrees(c.stub.toe)),
    Likeness("wheelbase", "mm", "kart.wheelbase_mm", lambda c: c.stub.wheel_centre[0]),
    Likeness("half track", "mm", "front.track_mm", lambda c: c.stub.wheel_centre[1]),
)
POINTS: tuple[tuple[str, str, Callable[[Corner], tuple[float, float, float]]], ...] = (
    ("the yoke's centre", "yoke.centre_mm", lambda c: c.yoke.centre),
    ("the steering arm's end", "stub.arm_end_mm", lambda c: c.stub.arm_end),
    ("the tie rod's inner joint", "tie_rod.inner_joint_mm", lambda c: c.inner_joint),
)


def uneven(kart: Kart) -> Iterator[str]:
    """One line for each number in which the front corners differ more than measuring does."""
    for pair in NUMBERS:
        left, right = pair.of(kart.left), pair.of(kart.right)
        if abs(left - right) > pair.least:
            both = f"left {left:.4g}, right {right:.4g} {pair.unit}"
            yield f"uneven corners: {abs(left - right):.2g} {pair.unit} of {pair.words} between them ({both})"
    for words, row, of in POINTS:
        apart = hypot(*(a - b for a, b in zip(of(kart.left), of(kart.right), strict=True)))
        if apart > FACTOR * sqrt(2.0) * WAYS[USUAL[row].way].amount:
            yield f"uneven corners: {words} lies {apart:.2g} mm away from where the other side has it"
