"""Figures of a load case at every lock position: loads, clearances, attitude, angles as it lies, effort."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property, partial

import numpy as np

from kinematics.drive.rear_axle import locked_axle
from kinematics.figures.figure import DEG, FRONT, MM, NM, PERCENT, WHEELS, Figure, G, Given, N, Of
from kinematics.figures.wheel import turned_left
from kinematics.frames import Array, Mask
from kinematics.lock import Sweep
from kinematics.parts import LoadCase
from kinematics.stance.effort import Effort, effort
from kinematics.stance.equilibrium import FL, FR, RL, RR, Stance
from kinematics.stance.standing import (
    StandingCorner,
    inside_rear_clearance,
    inside_rear_load,
    stand,
    standing_corners,
)

NMM_PER_NM = 1000.0


@dataclass(frozen=True)
class Standing:
    """The source of figures of a load case: a sweep stood on the road, each thing worked out on demand."""

    sweep: Sweep
    case: LoadCase
    given: Given

    @cached_property
    def stance(self) -> Stance:
        """How it stands, (..., N)."""
        return stand(self.sweep, self.case)

    @cached_property
    def corners(self) -> dict[str, StandingCorner]:
        """Both front corners to the road as it lies."""
        return dict(zip(FRONT, standing_corners(self.sweep, self.stance), strict=True))

    @cached_property
    def effort(self) -> Effort:
        """Torques at kingpins and handwheel."""
        return effort(self.sweep, self.stance, self.given.pneumatic_trail)

    @cached_property
    def yaw_moment(self) -> Array:
        """Of the one-piece rear axle, N·mm."""
        return locked_axle(self.sweep, self.stance, self.given.grip).yaw_moment

    def known(self, _: str = "") -> Mask:
        """Where both corners stand and the kart rests on its wheels (..., N)."""
        known: Mask = self.sweep.reach & ~self.stance.tips
        return known


def _of(read: Callable[[Standing], Array]) -> Callable[[Standing, str], Array]:
    return lambda source, _: read(source)


def _diagonal_split(s: Standing) -> Array:
    loads = s.stance.loads
    split: Array = loads[..., FR] + loads[..., RL] - loads[..., FL] - loads[..., RR]
    return split


def _torque(read: Callable[[Effort], Array]) -> Callable[[Standing, str], Array]:
    return lambda source, _: read(source.effort) / NMM_PER_NM


row = partial(Figure, of=Of.CASE)
LOAD = row(
    "load_{side}",
    N,
    "load on the {side} wheel",
    lambda s, wheel: s.stance.loads[..., WHEELS.index(wheel)],
    "load",
    0,
    5.0,
    sides=WHEELS,
)
CLEARANCE = row(
    "clearance_{side}",
    MM,
    "{side} wheel above the road, 0 on it",
    lambda s, wheel: s.stance.clearance[..., WHEELS.index(wheel)],
    "air",
    1,
    0.5,
    sides=WHEELS,
)
CROSS_WEIGHT = row(
    "cross_weight",
    PERCENT,
    "share of the weight on front right and rear left",
    _of(lambda s: 100.0 * s.stance.cross_weight),
    "cross",
    1,
    0.5,
)
INSIDE_REAR_LOAD = row(
    "inside_rear_load",
    N,
    "load on the inside rear wheel",
    _of(lambda s: inside_rear_load(s.sweep, s.stance)),
    "inside rear",
    0,
    5.0,
)
INSIDE_REAR_CLEARANCE = row(
    "inside_rear_clearance",
    MM,
    "inside rear wheel above the road, 0 on it",
    _of(lambda s: inside_rear_clearance(s.sweep, s.stance)),
    "air",
    1,
    0.5,
)
ROLL = row(
    "roll",
    DEG,
    "roll of the seat",
    _of(lambda s: np.degrees(s.stance.roll)),
    "roll",
    2,
    0.1,
    way="+ left side up",
)
PITCH = row(
    "pitch",
    DEG,
    "pitch of the frame",
    _of(lambda s: np.degrees(s.stance.pitch)),
    "pitch",
    2,
    0.1,
    way="+ nose down",
)
TWIST = row(
    "twist",
    DEG,
    "frame twist",
    _of(lambda s: np.degrees(s.stance.twist)),
    "twist",
    2,
    0.1,
    way="+ front left side up",
)
RIDE_HEIGHT = row(
    "ride_height_change_{side}",
    MM,
    "rise of the frame above the {side} axle since the reference stance",
    lambda s, axle: getattr(s.stance, f"ride_height_change_{axle}"),
    "ride height",
    2,
    0.5,
    sides=("front", "rear"),
)
LATERAL_G = row(
    "lateral_acceleration",
    G,
    "lateral acceleration",
    _of(lambda s: s.stance.lateral_g),
    "lat.",
    2,
    0.02,
    way="+ in a left turn",
)
LONGITUDINAL_G = row(
    "longitudinal_acceleration",
    G,
    "+ speeding up, - braking",
    _of(lambda s: s.stance.longitudinal_g),
    "long.",
    2,
    0.02,
)
DIAGONAL_SPLIT = row(
    "diagonal_split",
    N,
    "load on front right and rear left less that on front left and rear right",
    _of(_diagonal_split),
    "diagonals",
    0,
    5.0,
)
as_it_lies = partial(row, sides=FRONT, whose=", as the kart stands, {side} front")
STANDING_STEER = as_it_lies(
    "standing_steer_{side}",
    DEG,
    "steer on the road",
    lambda s, side: np.degrees(turned_left(side) * s.corners[side].steer),
    "steer",
    1,
    0.2,
    way="+ left",
)
STANDING_CAMBER = as_it_lies(
    "standing_camber_{side}",
    DEG,
    "camber to the road",
    lambda s, side: np.degrees(s.corners[side].camber),
    "camber",
    2,
    0.1,
    way="+ top outward",
)
STANDING_CASTER = as_it_lies(
    "standing_caster_{side}",
    DEG,
    "caster to the road",
    lambda s, side: np.degrees(s.corners[side].caster),
    "caster",
    2,
    0.1,
    way="+ top rearward",
)
HANDWHEEL_TORQUE = row(
    "handwheel_torque",
    NM,
    "what the driver holds at the handwheel",
    _torque(lambda e: e.handwheel),
    "torque",
    1,
    0.2,
    way="+ to the left",
)
TORQUE_OF_LOADS = row(
    "handwheel_torque_loads",
    NM,
    "its share from the vertical loads",
    _torque(lambda e: e.handwheel_vertical),
    "of loads",
    1,
    0.2,
)
TORQUE_OF_SIDE_FORCES = row(
    "handwheel_torque_side",
    NM,
    "its share from the side forces",
    _torque(lambda e: e.handwheel_side),
    "of side forces",
    1,
    0.2,
)
KINGPIN_TORQUE = row(
    "kingpin_torque_{side}",
    NM,
    "road on the {side} wheel about its axis",
    lambda s, side: getattr(s.effort, f"kingpin_{side}") / NMM_PER_NM,
    "kingpin torque",
    1,
    0.2,
    way="+ left",
    sides=FRONT,
)
AXLE_YAW_MOMENT = row(
    "axle_yaw_moment",
    NM,
    "yaw moment of the one-piece rear axle on the kart, + to the left: a model, without sideslip",
    _of(lambda s: s.yaw_moment / NMM_PER_NM),
    "axle",
    0,
    0.2,
)
FOUR_WHEELS = (
    *(LOAD, CLEARANCE, CROSS_WEIGHT, INSIDE_REAR_LOAD, INSIDE_REAR_CLEARANCE),
    *(ROLL, PITCH, TWIST, RIDE_HEIGHT),
)
IN_CASE = (
    *FOUR_WHEELS,
    *(LATERAL_G, LONGITUDINAL_G, DIAGONAL_SPLIT),
    (STANDING_STEER, STANDING_CAMBER, STANDING_CASTER),
    *(HANDWHEEL_TORQUE, TORQUE_OF_LOADS, TORQUE_OF_SIDE_FORCES, KINGPIN_TORQUE, AXLE_YAW_MOMENT),
)
