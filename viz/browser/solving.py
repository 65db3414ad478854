"""One setting solved for the page: swept through lock and stood on the road under a load case."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from kinematics.frames import Array, Mask
from kinematics.lock import Sweep, sweep
from kinematics.parts import LoadCase, Setting
from kinematics.stance.equilibrium import Stance
from kinematics.stance.standing import StandingCorner, stand, standing_corners
from scenarios import Scenario


@dataclass(frozen=True, eq=False)
class Stood:
    """A setting at every lock position (N) of the scenario, under one load case."""

    title: str
    sweep: Sweep
    ahead: Sweep
    """The same at the single handwheel angle 0."""
    standing: Stance
    corners: tuple[StandingCorner, StandingCorner]
    toe_diameter_mm: float

    @property
    def shown(self) -> Mask:
        """Where there is something to show (N): the linkage reaches and the kart does not fall over."""
        mask: Mask = self.sweep.reach & ~self.standing.tips
        return mask


def lock_deg(scenario: Scenario) -> Array:
    """Handwheel angles (N,) in degrees of the scenario's sweep."""
    return np.linspace(*scenario.handwheel_deg)


def solve(scenario: Scenario, title: str, setting: Setting, case: LoadCase) -> Stood:
    """Sweep a setting of the scenario and find how the kart stands in the load case."""
    swept = sweep(scenario.kart, setting, np.radians(lock_deg(scenario)))
    standing = stand(swept, case)
    return Stood(
        title,
        swept,
        sweep(scenario.kart, setting, 0.0),
        standing,
        standing_corners(swept, standing),
        scenario.toe_diameter_mm,
    )
