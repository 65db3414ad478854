"""A setting at rest: straight ahead on its four wheels, without acceleration.

Spacers, bushes and a moved rear axle rake and lean the frame; what stands then is the road to which a
setting's angles are taken, and the floor on which the road's forces act.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from kinematics.batches import once_beside
from kinematics.corner.linkage import turn_straight_ahead
from kinematics.corner.stub import SeatedStub, seat_stub, turned
from kinematics.fitted import fitted as changed
from kinematics.frames import FLAT_ROAD, Array, Road, mirror, mirrored_road, turn
from kinematics.parts import Kart, Setting
from kinematics.stance.equilibrium import Floor, equilibrium, floor_of

ROUNDS = 8
SAME_TURN = 1e-9
"""rad: a toe is set on the road that the frame then stands on, by rounds that end with so small a turn: the
next would be some two hundred times smaller."""


@dataclass(frozen=True)
class Rest:
    """How settings (...) stand."""

    road: Road
    """Seen from the frame's front part, which carries the front wheels (..., 3)."""
    floor: Floor
    """(...)."""
    seated: tuple[SeatedStub, SeatedStub]
    """The left and the right stub axle on their kingpins, each in its left-hand convention."""


def rest(kart: Kart, setting: Setting) -> Rest:
    """How a setting, or a batch of them, stands at handwheel angle 0.

    Tie rods that are re-set to a toe are set on that same road. Where a rod cannot be assembled or the kart
    tips the numbers mean nothing; a sweep says so.
    """
    return _rest(kart.as_measured, setting)


@once_beside
def _rest(kart: Kart, setting: Setting) -> Rest:
    kart = changed(kart, setting.chassis)
    corners, fitted = (kart.left, kart.right), (setting.left, setting.right)
    seated = seat_stub(kart.left, setting.left), seat_stub(kart.right, setting.right)
    road, before = FLAT_ROAD, [np.asarray(np.inf)] * 2
    for _ in range(ROUNDS if any(one.rod_toe is not None for one in fitted) else 1):
        facing = road, mirrored_road(road)
        turns = [
            turn_straight_ahead(corner, one, stub, kart.column, way)
            for corner, one, stub, way in zip(corners, fitted, seated, facing, strict=True)
        ]
        if max(float(np.max(np.abs(now - was))) for now, was in zip(turns, before, strict=True)) < SAME_TURN:
            break
        left, right = (_wheel(*one) for one in zip(seated, turns, strict=True))
        standing = equilibrium(kart, *left, mirror(right[0]), mirror(right[1]), setting.rear_axle_shift)
        before = turns
        road = standing.road_front
    return Rest(road, floor_of(standing), seated)


def _wheel(stub: SeatedStub, angle: Array) -> tuple[Array, Array]:
    """Centre and spin axis (..., 3) of a front wheel, left-hand convention."""
    return turned(stub, stub.wheel_centre, angle), turn(stub.spin, stub.k, angle)
