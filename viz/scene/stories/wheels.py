"""The wheels by their part in the turn, whichever way it goes: inside and outside, front and rear."""

from __future__ import annotations

import numpy as np

from kinematics.frames import Array
from kinematics.stance.equilibrium import FL, FR, RL, RR
from viz.scene.attitude import PartMatrices

INSIDE_FRONT, OUTSIDE_REAR = 0, 3
NAMES = ("inside front", "outside front", "inside rear", "outside rear")


class InTurn:
    """A standing kart's wheels in the order inside front, outside front, inside rear, outside rear."""

    def __init__(self, drawn: PartMatrices) -> None:
        left = drawn.inside_left
        pairs = ((FL, FR), (FR, FL), (RL, RR), (RR, RL))
        self.index = np.stack([np.where(left, *pair) for pair in pairs])
        self.drawn, self._across = drawn, np.arange(left.size)

    def of(self, values: Array, place: int) -> Array:
        """What a wheel (4, N, ...) in that part of the turn has (N, ...)."""
        chosen: Array = np.asarray(values)[self.index[place], self._across]
        return chosen

    def foot(self, place: int) -> Array:
        """Where it stands, or would, on the road (N, 3), mm."""
        return self.of(self.drawn.supports, place) * [1.0, 1.0, 0.0]

    def outward(self, place: int) -> Array:
        """Which way is outward of it (N,): 1 to the left, -1 to the right."""
        return np.where(self.index[place] % 2 == 0, 1.0, -1.0)
