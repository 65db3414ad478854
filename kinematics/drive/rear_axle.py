"""The locked rear axle: why a kart must lift its inside rear wheel to turn.

Both rear wheels turn at one speed. In a turn the road passes them at two speeds, so each slips, and the
axle resists the turn until the inside wheel carries no load. This is a model, with these assumptions:

- the kart follows the path its front wheels point at, without sideslip, slowly turning (path curvature of
  the sweep at the middle of the rear axle);
- both rear tyres roll on the same radius; their ground speeds differ by the rear track over the path radius;
- a tyre's longitudinal force follows the brush model with parabolic pressure (Pacejka, Tyre and Vehicle
  Dynamics, chapter 3, from memory): slip_stiffness times load at small slip, friction times load when the
  whole contact slides, with no drop after;
- the axle is neither driven nor braked: its speed is the one at which the two forces cancel;
- side force takes no grip away, so near the limit of grip the moment shown is too large.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from kinematics.batches import at_every_lock, refuse_unless
from kinematics.frames import Array
from kinematics.lock import Sweep
from kinematics.stance.equilibrium import RL, RR, Stance

_HALVINGS = 50


@dataclass(frozen=True)
class AxleGrip:
    """How a rear tyre holds the road lengthways. The defaults are plausible, not measured: set your own."""

    friction: float = 1.0
    """Largest longitudinal force per load."""
    slip_stiffness: float = 15.0
    """Longitudinal force per load and slip, at small slip."""

    def __post_init__(self) -> None:
        allowed = "rear-axle friction and slip stiffness must be above 0, not {} and {}"
        both = np.minimum(self.friction, self.slip_stiffness)
        refuse_unless(both > 0.0, allowed, self.friction, self.slip_stiffness)


@dataclass(frozen=True)
class LockedAxle:
    """What a locked rear axle does at each lock position, (..., N)."""

    yaw_moment: Array
    """Of the two longitudinal forces on the kart, N·mm, + to the left: it opposes the turn."""
    force_left: Array
    """Longitudinal force of the road on the left rear tyre, N, + forward; the right one's is its opposite."""
    slip_left: Array
    """How much faster the tread runs than the road passes, in shares of the kart's speed; + driving."""
    slip_right: Array


def brush_force(slip: npt.ArrayLike, load: npt.ArrayLike, grip: AxleGrip) -> Array:
    """Longitudinal force (...) in N at a slip and a load (N) each (...), + forward for a driving slip."""
    slip = np.asarray(slip, float)
    used = np.minimum(grip.slip_stiffness / (3.0 * grip.friction) * np.abs(slip), 1.0)
    share = used * (3.0 - 3.0 * used + used * used)
    force: Array = np.copysign(grip.friction * np.asarray(load, float) * share, slip)
    return force


def locked_axle(sweep: Sweep, standing: Stance, grip: AxleGrip) -> LockedAxle:
    """The yaw moment of a locked rear axle at every lock position of a stance of the sweep.

    Where sweep.reach is False or the kart tips the numbers must not be shown.
    """
    track, grip = at_every_lock(sweep.kart).rear_track, at_every_lock(grip)
    spread = 0.5 * track * sweep.path_curvature
    left, right = standing.loads[..., RL], standing.loads[..., RR]
    faster = axle_speed(spread, left, right, grip)
    slip_left, slip_right = faster + spread, faster - spread
    lighter_left = left <= right
    force = np.where(lighter_left, brush_force(slip_left, left, grip), -brush_force(slip_right, right, grip))
    return LockedAxle(-track * force, force, slip_left, slip_right)


def axle_speed(spread: Array, left: Array, right: Array, grip: AxleGrip) -> Array:
    """How much faster the axle runs than the road under its middle (...), in shares of the kart's speed.

    spread (...) is the share by which the road passes the left wheel slower, and the right one faster, than
    the middle; left and right are the loads in N. The sum of the two forces grows with the axle's speed and
    is zero between the two road speeds, where halving finds it.
    """
    low, high = -np.abs(spread), np.abs(spread)
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        driving = brush_force(middle + spread, left, grip) + brush_force(middle - spread, right, grip) > 0.0
        low, high = np.where(driving, low, middle), np.where(driving, middle, high)
    speed: Array = 0.5 * (low + high)
    return speed
