"""The lock that a corner's radius asks for, without slip."""

from __future__ import annotations

import numpy as np

from kinematics.lock import sweep
from kinematics.parts import Kart, Setting

STEPS = 361


def lock_for(kart: Kart, radius: float) -> float | None:
    """Handwheel angle (rad, without sign) at which the kart follows a radius (mm); None where none does.

    The path is that of the rear axle's middle without slip, with concentric bushes, the mean of a turn to
    either side; looked for up to the stop or to where a tie rod binds.
    """
    outward = np.linspace(0.0, kart.column.stop, STEPS)
    swept = sweep(kart, Setting(), np.stack([outward, -outward]).ravel())
    bent, stands = swept.path_curvature.reshape(2, -1), swept.reach.reshape(2, -1).all(axis=0)
    mean = np.maximum.accumulate(0.5 * (bent[0] - bent[1])[stands])
    if not mean.size or mean[-1] < 1.0 / radius:
        return None
    return float(np.interp(1.0 / radius, mean, outward[stands]))
