"""One setting solved for the page: swept through lock and stood on the road under a load case."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from kinematics.figures.solved import Solved
from kinematics.frames import Array, Mask
from kinematics.lock import Sweep
from kinematics.parts import LoadCase, Setting
from kinematics.stance.equilibrium import Stance
from scenarios import Scenario


@dataclass(frozen=True, eq=False)
class Stood:
    """A setting at every lock position (N) of the scenario, under one load case."""

    title: str
    solved: Solved
    case: LoadCase

    @property
    def sweep(self) -> Sweep:
        """Through lock."""
        return self.solved.sweep

    @property
    def standing(self) -> Stance:
        """How it stands there."""
        return self.solved.standing[self.case].stance

    @property
    def shown(self) -> Mask:
        """Where there is something to show (N): the linkage reaches and the kart does not fall over."""
        return self.solved.standing[self.case].known()


def lock_deg(scenario: Scenario) -> Array:
    """Handwheel angles (N,) in degrees of the scenario's sweep."""
    return np.linspace(*scenario.handwheel_deg)


def solve(scenario: Scenario, title: str, setting: Setting, case: LoadCase) -> Stood:
    """A setting of the scenario in the load case; each thing is solved when it is asked for."""
    handwheel = np.radians(lock_deg(scenario))
    return Stood(title, Solved(scenario.kart, setting, handwheel, (case,), given=scenario.given), case)
