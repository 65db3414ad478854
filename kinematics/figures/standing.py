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
from kinematics.stance.equilibrium import FL, FR, RL, RR, Stance
from kinematics.standing.effort import Effort, effort
from kinematics.standing.stand import (
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


def _deg(angle: str) -> Callable[[Standing, str], Array]:
    return lambda source, _: np.degrees(getattr(source.stance, angle))


def _corner_deg(angle: str) -> Callable[[Standing, str], Array]:
    return lambda source, side: np.degrees(getattr(source.corners[side], angle))


def _nm(torque: str) -> Callable[[Standing, str], Array]:
    return lambda source, side: getattr(source.effort, torque.format(side=side)) / NMM_PER_NM


def _wheel(quantity: str) -> Callable[[Standing, str], Array]:
    return lambda source, wheel: getattr(source.stance, quantity)[..., WHEELS.index(wheel)]


def _diagonals(source: Standing, _: str) -> Array:
    loads = source.stance.loads
    split: Array = loads[..., FR] + loads[..., RL] - loads[..., FL] - loads[..., RR]
    return split


def _steer(source: Standing, side: str) -> Array:
    return np.degrees(turned_left(side) * source.corners[side].steer)


def _ride(source: Standing, axle: str) -> Array:
    rise: Array = getattr(source.stance, f"ride_height_change_{axle}")
    return rise


row = partial(Figure, of=Of.CASE)
wheel = partial(row, sides=WHEELS)
LOAD = wheel("load_{side}", N, "load on the {side} wheel", "", "load", 0, 5.0, _wheel("loads"))
ABOVE = "{side} wheel above the road, 0 on it"
CLEARANCE = wheel("clearance_{side}", MM, ABOVE, "", "air", 1, 0.5, _wheel("clearance"))
SHARE = "share of the weight on front right and rear left"
_cross = _of(lambda s: 100.0 * s.stance.cross_weight)
CROSS_WEIGHT = row("cross_weight", PERCENT, SHARE, "", "cross", 1, 0.5, _cross)
_load = _of(lambda s: inside_rear_load(s.sweep, s.stance))
INSIDE_REAR_LOAD = row(
    "inside_rear_load", N, "load on the inside rear wheel", "", "inside rear", 0, 5.0, _load
)
INSIDE = "inside rear wheel above the road, 0 on it"
_air = _of(lambda s: inside_rear_clearance(s.sweep, s.stance))
INSIDE_REAR_CLEARANCE = row("inside_rear_clearance", MM, INSIDE, "", "air", 1, 0.5, _air)
ROLL = row("roll", DEG, "roll of the seat", "+ left side up", "roll", 2, 0.1, _deg("roll"))
PITCH = row("pitch", DEG, "pitch of the frame", "+ nose down", "pitch", 2, 0.1, _deg("pitch"))
TWIST = row("twist", DEG, "frame twist", "+ front left side up", "twist", 2, 0.1, _deg("twist"))
axle = partial(row, sides=("front", "rear"))
RISE = "rise of the frame above the {side} axle since the reference stance"
RIDE_HEIGHT = axle("ride_height_change_{side}", MM, RISE, "", "ride height", 1, 0.5, _ride)
_lateral, _along = _of(lambda s: s.stance.lateral_g), _of(lambda s: s.stance.longitudinal_g)
LATERAL = "lateral acceleration"
LATERAL_G = row("lateral_acceleration", G, LATERAL, "+ in a left turn", "lat.", 2, 0.02, _lateral)
SPEEDING = "+ speeding up, - braking"
LONGITUDINAL_G = row("longitudinal_acceleration", G, SPEEDING, "", "long.", 2, 0.02, _along)
SPLIT = "load on front right and rear left less that on front left and rear right"
DIAGONAL_SPLIT = row("diagonal_split", N, SPLIT, "", "diagonals", 0, 5.0, _diagonals)

lies = partial(row, sides=FRONT, whose=", as the kart stands, {side} front")
STANDING_STEER = lies("standing_steer_{side}", DEG, "steer on the road", "+ left", "steer", 1, 0.2, _steer)
STANDING_CAMBER, STANDING_CASTER = (
    lies(f"standing_{angle}_{{side}}", DEG, f"{angle} to the road", way, angle, 2, 0.1, _corner_deg(angle))
    for angle, way in (("camber", "+ top outward"), ("caster", "+ top rearward"))
)
HOLDS = "what the driver holds at the handwheel"
_held, _by_loads, _by_side = (_nm(f"handwheel{share}") for share in ("", "_vertical", "_side"))
HANDWHEEL_TORQUE = row("handwheel_torque", NM, HOLDS, "+ to the left", "torque", 1, 0.2, _held)
TORQUE_OF_LOADS, TORQUE_OF_SIDE_FORCES = (
    row(f"handwheel_torque_{of}", NM, f"its share from the {what}", "", f"of {what}", 1, 0.2, read)
    for of, what, read in (("loads", "vertical loads", _by_loads), ("side", "side forces", _by_side))
)
ABOUT = "road on the {side} wheel about its axis"
KINGPIN_TORQUE = row(
    "kingpin_torque_{side}", NM, ABOUT, "+ left", "kingpin", 1, 0.2, _nm("kingpin_{side}"), sides=FRONT
)
YAW = "yaw moment of the one-piece rear axle on the kart, + to the left: a model, without sideslip"
_yaw = _of(lambda s: s.yaw_moment / NMM_PER_NM)
AXLE_YAW_MOMENT = row("axle_yaw_moment", NM, YAW, "", "axle", 0, 1.0, _yaw)

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
