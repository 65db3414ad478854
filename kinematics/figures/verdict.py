"""How a kart stands at a lock position, in a word: the same on every surface."""

from __future__ import annotations

import numpy as np

from kinematics.frames import Mask
from kinematics.stance.equilibrium import Stance

STANDS, ON_TWO, TIPS, BINDS = "stands", "on 2", "tips", "binds"
MEANINGS = {
    STANDS: "the kart rests on three wheels or four: it has numbers",
    ON_TWO: "it rests on two wheels, held up by wide treads alone: it has no numbers",
    TIPS: "it falls over: it has no resting place and no numbers",
    BINDS: "a tie rod does not reach: it has no numbers",
}


def words(reach: Mask, standing: Stance) -> list[str]:
    """A word for each lock position (N,)."""
    down = np.where(standing.on_two_wheels, ON_TWO, TIPS)
    found: list[str] = np.where(reach, np.where(standing.tips, down, STANDS), BINDS).tolist()
    return found


def gaps(stands: list[str]) -> list[str]:
    """Which words but `stands` there are, in the order of the list of meanings."""
    return [word for word in MEANINGS if word != STANDS and word in stands]


def falls(reach: Mask, standing: Stance) -> list[float]:
    """Handwheel angles in deg where it falls from one resting place into another on the way (N,) out."""
    found = standing.fell_at[reach & np.isfinite(standing.fell_at)]
    return [float(angle) for angle in np.degrees(np.unique(found))]
