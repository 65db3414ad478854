"""Steering effort: torque about each steering axis from the road, and at the handwheel."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from kinematics.batches import batch_shape
from kinematics.corner.pose import CornerSweep
from kinematics.frames import Array, Number, cross, dot, unit
from kinematics.lock import Sweep
from kinematics.stance.equilibrium import FL, FR, Stance
from kinematics.stance.springs import springs
from kinematics.standing.stand import StandingCorner, standing_corners


@dataclass(frozen=True)
class Effort:
    """Torques of a swept kart in its stance, N·mm, every array (..., N); + to the left.

    kingpin_* is what the road does to the wheel about its steering axis, + turning it to the left.
    handwheel_* is what the driver must hold against it, + to the left; joints and column are free of
    friction.
    """

    kingpin_left: Array
    kingpin_right: Array
    handwheel_vertical: Array
    """The share of the vertical loads: the slope of the standing kart's energy with the handwheel angle."""
    handwheel_side: Array
    """The share of the side forces at the front."""

    @property
    def handwheel(self) -> Array:
        """Torque at the handwheel, N·mm, + to the left."""
        return self.handwheel_vertical + self.handwheel_side


def effort(sweep: Sweep, standing: Stance, pneumatic_trail: Number = 0.0) -> Effort:
    """Steering effort of a stance of the sweep about both kingpins and at the handwheel.

    Each wheel carries its vertical load at its support point. The front axle's side force, its share of the
    inertia by the yaw balance, is shared between the two wheels by their loads; each wheel's part acts in
    the road, square to the wheel's heading, pneumatic_trail (mm) behind the support point, and is so large
    that the parts across the kart make up the axle's force. What their parts along the kart ask of the
    drive is left out. Where sweep.reach is False or the kart tips the numbers must not be shown.
    """
    left, right = standing_corners(sweep, standing)
    loads_left, loads_right = standing.loads[..., FL], standing.loads[..., FR]
    grip = _side_per_load(sweep, standing, left, right)
    sides = grip * loads_left, -grip * loads_right
    up_left, up_right = _vertical(sweep.left, left, loads_left), _vertical(sweep.right, right, loads_right)
    side_left = _side(sweep.left, left, sides[0], pneumatic_trail)
    side_right = _side(sweep.right, right, sides[1], pneumatic_trail)
    rate_left, rate_right = sweep.left.delta_rate, sweep.right.delta_rate
    return Effort(
        up_left + side_left,
        -(up_right + side_right),
        up_right * rate_right - up_left * rate_left,
        side_right * rate_right - side_left * rate_left,
    )


def _side_per_load(sweep: Sweep, standing: Stance, left: StandingCorner, right: StandingCorner) -> Array:
    """Side force of a front wheel per vertical load (..., N), + to the left."""
    fixed, karts = springs(sweep.kart), batch_shape(sweep.kart)
    on_front = np.multiply(fixed.weight, fixed.cog[0]) / fixed.wheelbase
    asked = standing.lateral_g * on_front.reshape((*karts, 1) if karts else ())
    across = standing.loads[..., FL] * np.cos(left.steer) + standing.loads[..., FR] * np.cos(right.steer)
    return asked / np.where(across > 0.0, across, np.inf)


def _about_axis(corner: CornerSweep, point: Array, force: Array) -> Array:
    """Torque (..., N) about the corner's steering axis of a force (..., N, 3) in N at a point in mm."""
    arm = point - corner.seated.foot[..., None, :]
    return dot(corner.seated.k[..., None, :], cross(arm, force))


def _vertical(corner: CornerSweep, at: StandingCorner, load: Array) -> Array:
    return _about_axis(corner, at.support_point, load[..., None] * at.road.normal)


def _side(corner: CornerSweep, at: StandingCorner, force: Array, pneumatic_trail: Number) -> Array:
    """Torque (..., N) of a side force (..., N), + outboard, in the corner's left-hand convention."""
    heading = unit(cross(corner.spin, at.road.normal))
    point = at.support_point - np.asarray(pneumatic_trail)[..., None, None] * heading
    return _about_axis(corner, point, force[..., None] * cross(at.road.normal, heading))
