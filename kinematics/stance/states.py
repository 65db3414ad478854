"""What the solver is asked: a block of states of one kart."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from kinematics.frames import Array
from kinematics.stance.slopes import Wheels


class States(NamedTuple):
    """A block of n states: front wheels, rear axle's height from the torsion axis, accelerations in g.

    floor_front and floor_rear are how far below the torsion axis the side forces of an axle act, mm, in the
    axes of its part.
    """

    wheels: Wheels
    rear_zeta: Array
    lateral: Array
    forward: Array
    floor_front: Array
    floor_rear: Array

    def take(self, which: npt.NDArray[np.intp] | slice) -> States:
        """Some of the states, by index or slice."""
        wheels = Wheels(*(w[:, which] for w in self.wheels))
        return States(wheels, *(values[which] for values in self[1:]))
