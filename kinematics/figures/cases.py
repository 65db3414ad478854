"""Named columns of a load case: how the swept kart stands at every lock position, each with its unit."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from kinematics.drive.rear_axle import AxleGrip, locked_axle
from kinematics.figures.columns import Column
from kinematics.figures.four_wheels import four_wheel_columns
from kinematics.frames import Array
from kinematics.lock import Sweep
from kinematics.parts import LoadCase
from kinematics.stance.effort import effort
from kinematics.stance.equilibrium import FL, FR, RL, RR, Stance
from kinematics.stance.standing import StandingCorner, stance, standing_corners

NMM_PER_NM = 1000.0
PLAUSIBLE_GRIP = AxleGrip()
Rows = Iterator[tuple[str, str, str, Array]]


def _acceleration(standing: Stance) -> Rows:
    yield "lateral_acceleration_g", "g", "lateral acceleration, + in a left turn", standing.lateral_g
    yield "longitudinal_acceleration_g", "g", "+ speeding up, - braking", standing.longitudinal_g


def _diagonals(standing: Stance) -> Rows:
    loads = standing.loads
    split = loads[..., FR] + loads[..., RL] - loads[..., FL] - loads[..., RR]
    meaning = "load on front right and rear left less that on front left and rear right"
    yield "diagonal_split_n", "N", meaning, split


def _corner(side: str, corner: StandingCorner) -> Rows:
    sign = 1.0 if side == "left" else -1.0
    as_it_lies = f"as the kart stands, {side} front"
    yield (
        f"standing_steer_{side}_deg",
        "deg",
        f"steer on the road, + left, {as_it_lies}",
        np.degrees(sign * corner.steer),
    )
    for name, meaning, angle in (
        ("camber", "camber to the road, + top outward", corner.camber),
        ("caster", "caster to the road, + top rearward", corner.caster),
    ):
        yield f"standing_{name}_{side}_deg", "deg", f"{meaning}, {as_it_lies}", np.degrees(angle)


def _steering(sweep: Sweep, standing: Stance, pneumatic_trail: float) -> Rows:
    felt = effort(sweep, standing, pneumatic_trail)
    for name, meaning, torque in (
        ("handwheel_torque_nm", "what the driver holds at the handwheel, + to the left", felt.handwheel),
        ("handwheel_torque_loads_nm", "its share from the vertical loads", felt.handwheel_vertical),
        ("handwheel_torque_side_nm", "its share from the side forces", felt.handwheel_side),
        ("kingpin_torque_left_nm", "road on the left wheel about its axis, + left", felt.kingpin_left),
        (
            "kingpin_torque_right_nm",
            "road on the right wheel about its axis, + left",
            felt.kingpin_right,
        ),
    ):
        yield name, "N·m", meaning, torque / NMM_PER_NM


def _rear_axle(sweep: Sweep, standing: Stance, grip: AxleGrip) -> Rows:
    meaning = "yaw moment of the one-piece rear axle on the kart, + to the left: a model, without sideslip"
    yield "axle_yaw_moment_nm", "N·m", meaning, locked_axle(sweep, standing, grip).yaw_moment / NMM_PER_NM


def standing_columns(
    sweep: Sweep, standing: Stance, pneumatic_trail: float = 0.0, grip: AxleGrip = PLAUSIBLE_GRIP
) -> dict[str, Column]:
    """Every column of a stance of the sweep by name, (..., N); unknown where a rod binds or the kart tips.

    pneumatic_trail in mm puts the side force behind the contact; grip is how the rear tyres hold the road
    lengthways.
    """
    known = sweep.reach & ~standing.tips
    left, right = standing_corners(sweep, standing)
    rows = (
        *_acceleration(standing),
        *_diagonals(standing),
        *_corner("left", left),
        *_corner("right", right),
        *_steering(sweep, standing, pneumatic_trail),
        *_rear_axle(sweep, standing, grip),
    )
    mine = {
        name: Column(name, unit, meaning, np.where(known, values, 0.0), known)
        for name, unit, meaning, values in rows
    }
    return {**four_wheel_columns(sweep, standing), **mine}


def case_columns(
    sweep: Sweep, case: LoadCase, pneumatic_trail: float = 0.0, grip: AxleGrip = PLAUSIBLE_GRIP
) -> dict[str, Column]:
    """Every column of the sweep in a load case, by name; the rest as in standing_columns."""
    return standing_columns(sweep, stance(sweep, case), pneumatic_trail, grip)
