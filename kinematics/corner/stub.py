"""The stub axle on its kingpin: seated by the bushes, then turned about the axis.

A stub seated at turn 0 has followed the steering axis by the smallest rotation; that choice only fixes
where turn 0 lies, and no result may depend on it.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from kinematics.corner.bush import seat_centres, steering_axis
from kinematics.corner.joints import arm_end
from kinematics.frames import Array, axis_direction, tilt, turn
from kinematics.parts import Corner, CornerSetting, Stub


@dataclass(frozen=True)
class SeatedStub:
    """A stub axle on its kingpin at turn 0, left-hand convention, all (..., 3).

    k is the unit steering axis upward, foot and top the hole centres it passes through; wheel_centre and
    arm_end are points in mm, spin the unit spin axis outboard.
    """

    k: Array
    foot: Array
    top: Array
    wheel_centre: Array
    spin: Array
    arm_end: Array

    def at_every_lock(self) -> SeatedStub:
        """The same with an axis for the lock position put before xyz: (..., 1, 3)."""
        return SeatedStub(*(v[..., None, :] for v in vars(self).values()))


def spin_axis(stub: Stub) -> Array:
    """Unit spin axis outboard (..., 3) from static camber (+ top outward) and toe (+ toe-in), left-hand."""
    toe, camber = np.broadcast_arrays(np.asarray(stub.toe, float), np.asarray(stub.camber, float))
    level = np.cos(camber)
    return np.stack([level * np.sin(toe), level * np.cos(toe), -np.sin(camber)], axis=-1)


def seat_stub(corner: Corner, setting: CornerSetting) -> SeatedStub:
    """Seat the stub axle on the axis of a bush pair, with its spacers; the batch is that of both.

    The stub keeps its place along the kingpin, measured from the bottom hole, plus the spacer shift; the
    hub spacer moves the wheel outward along its own spin axis.
    """
    yoke, stub = corner.yoke, corner.stub
    axis = steering_axis(yoke, setting)
    k0, seat = axis_direction(yoke.caster, yoke.kingpin_inclination), seat_centres(yoke)[0]
    lifted = axis.bottom + np.asarray(setting.spacer_shift, float)[..., None] * axis.k

    def carried(point: npt.ArrayLike) -> Array:
        place: Array = lifted + tilt(np.asarray(point, float) - seat, k0, axis.k)
        return place

    spin = tilt(spin_axis(stub), k0, axis.k)
    centre = carried(stub.wheel_centre) + np.asarray(setting.hub_spacer, float)[..., None] * spin
    places = (axis.k, axis.bottom, axis.top, centre, spin, carried(arm_end(corner, setting)))
    shape = np.broadcast_shapes((*setting.batch_shape, 3), *(v.shape for v in places))
    return SeatedStub(*(np.broadcast_to(v, shape) for v in places))


def neutral_stub(corner: Corner) -> SeatedStub:
    """The stub axle on concentric bushes, without spacers (..., 3)."""
    k0, (bottom, top) = (
        axis_direction(corner.yoke.caster, corner.yoke.kingpin_inclination),
        seat_centres(corner.yoke),
    )
    stub = corner.stub
    places = (k0, bottom, top, stub.wheel_centre, spin_axis(stub), stub.arm_end)
    return SeatedStub(*np.broadcast_arrays(*(np.asarray(place, float) for place in places)))


def turned(seated: SeatedStub, point: Array, delta: npt.ArrayLike) -> Array:
    """A stub point (..., 3) in mm after a turn delta (...) in rad about the axis, + top view left."""
    place: Array = seated.foot + turn(point - seated.foot, seated.k, delta)
    return place


def stub_matrix(corner: Corner, setting: CornerSetting, delta: npt.ArrayLike) -> Array:
    """Homogeneous matrix (..., 4, 4) from the stub's neutral place to its place at turn delta (...).

    It carries what is fixed to the stub axle inboard of the hub spacer. delta's leading axes broadcast
    against the setting's batch, its last is the lock position: the result is (..., N, 4, 4).
    """
    yoke, axis = corner.yoke, steering_axis(corner.yoke, setting)
    k0, seat = axis_direction(yoke.caster, yoke.kingpin_inclination), seat_centres(yoke)[0]
    delta = np.asarray(delta, float)[..., None]
    k = axis.k[..., None, None, :]
    columns = turn(tilt(np.eye(3), k0, k), k, delta)  # (..., N, 3 unit vectors, xyz)
    rotation = np.swapaxes(columns, -1, -2)
    lifted = (axis.bottom + np.asarray(setting.spacer_shift, float)[..., None] * axis.k)[..., None, :]
    matrix = np.zeros((*np.broadcast_shapes(rotation.shape[:-2], lifted.shape[:-1]), 4, 4))
    matrix[..., :3, :3] = rotation
    matrix[..., :3, 3] = lifted - rotation @ seat
    matrix[..., 3, 3] = 1.0
    return matrix
