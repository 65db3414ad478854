"""Named columns of a load case: how the swept kart stands at every lock position, each with its unit."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from kinematics.columns import Column
from kinematics.equilibrium import FL, FR, RL, RR, Stance
from kinematics.frames import Array
from kinematics.parts import LoadCase
from kinematics.stance import StandingCorner, stance, standing_corners
from kinematics.sweep import Sweep
from kinematics.targets_cases import case_columns as four_wheel_columns

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


def standing_columns(sweep: Sweep, standing: Stance) -> dict[str, Column]:
    """Every column of a load case by name, (..., N); unknown where a tie rod binds or the kart tips."""
    known = sweep.reach & ~standing.tips
    left, right = standing_corners(sweep, standing)
    rows = (
        *_acceleration(standing),
        *_diagonals(standing),
        *_corner("left", left),
        *_corner("right", right),
    )
    mine = {
        name: Column(name, unit, meaning, np.where(known, values, 0.0), known)
        for name, unit, meaning, values in rows
    }
    return {**four_wheel_columns(sweep, standing), **mine}


def case_columns(sweep: Sweep, case: LoadCase) -> dict[str, Column]:
    """Every column of the sweep in a load case, by name."""
    return standing_columns(sweep, stance(sweep, case))
