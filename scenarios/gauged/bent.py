"""Bent or not: the two sides of a kart fitted each for itself, and where they differ beyond error."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from kinematics.frames import Array
from scenarios.gauged.fit import Fit
from scenarios.gauged.record import Reading

BEYOND = 3.0
"""Standard uncertainties of a difference beyond which a straight kart is not believed: one number in 370 by
chance."""


@dataclass(frozen=True)
class SideDifference:
    """A number of the left corner less that of the right one."""

    name: str
    """As the left corner's is called."""
    unit: str
    value: float
    sure: float
    """Its standard uncertainty, both being found together."""
    first: Reading | None
    """The reading that it hangs on most: the one to take again first."""

    @property
    def beyond(self) -> bool:
        """Whether it is more than chance."""
        return abs(self.value) > BEYOND * self.sure


def differences(found: Fit) -> list[SideDifference]:
    """Every number that both sides have, of a fit with the sides apart, what is most beyond chance first."""
    names = found.space.names
    by_name = {one.name: one for one in found.numbers}
    grows = found.space.slopes_of_values(found.found.values)
    covariance = found.found.covariance
    pull = (
        covariance @ found.slopes.T
    )  # (p, m): by how much a reading one uncertainty higher moves each score
    told = []
    for name, left in by_name.items():
        right = by_name.get(f"right.{name}")
        if right is None:
            continue
        way = np.zeros(len(names))
        for one, sign in ((name, 1.0), (right.name, -1.0)):
            way[names.index(one)] = sign * grows[names.index(one)]
        sure = float(np.sqrt(np.maximum(way @ covariance @ way, 0.0)))
        first = _first(found.readings, np.abs(way @ pull))
        told.append(SideDifference(name, left.unit, left.value - right.value, sure, first))
    return sorted(told, key=lambda one: -abs(one.value) / max(one.sure, 1e-300))


def _first(readings: Sequence[Reading], moves: Array) -> Reading | None:
    return readings[int(np.argmax(moves))] if len(readings) else None
