"""A kart measured with a setting on it: what is read of it, and the kart with concentric bushes behind that.

What is read is written in the records of a kart: axis angles where the yoke's stand, the stub axle as it
stands, points from the floor and from the middle of the rear axle, wheel loads from the scales.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import NamedTuple

import numpy as np

from kinematics.corner.joints import column_axis
from kinematics.corner.pose import CornerSweep
from kinematics.frames import Array, Road, Vector, dot, mirrored_road
from kinematics.lock import Sweep, sweep
from kinematics.parts import Column, Corner, Kart, LoadCase, Setting, Stub, Yoke
from kinematics.stance.equilibrium import Stance
from kinematics.standing.stand import stand

AT_REST = LoadCase("at rest")
ROUNDS, CLOSE = 40, 1e-10
"""Rounds to find the kart behind the readings, each of which leaves a hundredth of the miss; mm, rad, N."""


class Under(NamedTuple):
    """The floor under a standing kart, as a part of the frame sees it."""

    road: Road
    height: Array
    """(...) of the frame's origin above it, mm."""
    behind: Array
    """(..., 3), the rear axle's middle."""

    def place(self, point: Vector | Array) -> Array:
        """A point (..., 3) of the frame from the floor: ahead of the rear axle, to the left, up, mm."""
        from_axle, up = point - self.behind, self.road.normal
        ahead, left = (dot(from_axle, way) for way in (self.road.heading, self.road.left))
        return np.stack(np.broadcast_arrays(ahead, left, dot(point, up) + self.height), axis=-1)


def as_measured(kart: Kart, setting: Setting) -> Kart:
    """What is read of a kart, or of a batch (...), that stands with a setting on it, straight ahead."""
    swept = sweep(kart, setting, 0.0)
    standing = stand(swept, AT_REST)
    floor = _floor(kart, swept, standing)
    mirrored = Under(mirrored_road(floor.road), floor.height, floor.behind)
    return replace(
        kart,
        left=_corner(kart.left, swept.left, floor),
        right=_corner(kart.right, swept.right, mirrored),
        column=_column(kart.column, floor),
        loads=_four([standing.loads[..., 0, wheel] for wheel in range(4)]),
    )


def _floor(kart: Kart, swept: Sweep, standing: Stance) -> Under:
    road, axis = swept.road, kart.frame.axis_height
    behind = np.stack(np.broadcast_arrays(0.0, 0.0, kart.rear_tyre.radius), axis=-1)
    return Under(road, standing.height[..., 0] - road.normal[..., 2] * axis, behind)


def _corner(corner: Corner, swept: CornerSweep, floor: Under) -> Corner:
    yoke = replace(
        corner.yoke,
        centre=_point(floor.place(np.asarray(corner.yoke.centre, float))),
        caster=_one(swept.caster),
        kingpin_inclination=_one(swept.kingpin_inclination),
    )
    stub = Stub(
        _point(floor.place(swept.wheel_centre[..., 0, :])),
        camber=_one(swept.ahead[..., 1]),
        toe=_one(swept.ahead[..., 2]),
        arm_end=_point(floor.place(swept.arm_end[..., 0, :])),
    )
    return Corner(yoke, stub, _point(floor.place(np.asarray(corner.inner_joint, float))))


def _column(column: Column, floor: Under) -> Column:
    foot = floor.place(np.asarray(column.foot, float)) * np.array([1.0, 0.0, 1.0])
    up = np.clip(dot(column_axis(column), floor.road.normal), -1.0, 1.0)
    return replace(column, foot=_point(foot), inclination=_one(np.arcsin(up)))


def neutral(read: Kart, setting: Setting) -> Kart:
    """The kart (...) of which all this is read when a setting is on it: its bushes concentric, rods as found.

    Of the setting, bushes, spacers and hubs count. A ValueError says where no such kart is found. Tyre radii
    and the rear axle's height are taken as read: what the change of load does to them is a tenth of a mm.
    """
    try:
        found = _behind(read, setting)
    except ValueError:  # a record of a kart on the way there that cannot be
        found = None
    if found is None:
        raise ValueError("no kart with concentric bushes would be measured like this one")
    wheels = [np.asarray(corner.stub.wheel_centre, float)[..., 1] for corner in (found.left, found.right)]
    return replace(found, front_track=_one(wheels[0] + wheels[1]))


def _behind(read: Kart, setting: Setting) -> Kart | None:
    """The kart by rounds; None where they do not come to an end."""
    kart, wanted = read, _numbers(read)
    for _ in range(ROUNDS):
        with np.errstate(all="ignore"):  # of a kart that there cannot be
            seen = _numbers(as_measured(kart, setting))
        miss = [np.asarray(want) - now for want, now in zip(wanted, seen, strict=True)]
        if not all(np.all(np.isfinite(one)) for one in miss):
            return None
        kart = _moved(kart, miss)
        if max(float(np.max(np.abs(one))) for one in miss) < CLOSE:
            return kart
    return None


def _numbers(kart: Kart) -> list[Array]:
    """All numbers that are read, in order."""
    found: list[Array] = []
    for corner in (kart.left, kart.right):
        yoke, stub = corner.yoke, corner.stub
        points = (yoke.centre, stub.wheel_centre, stub.arm_end, corner.inner_joint)
        angles = (yoke.caster, yoke.kingpin_inclination, stub.camber, stub.toe)
        found += [np.asarray(one, float) for one in (*points, *angles)]
    column = (kart.column.foot, kart.column.inclination)
    return [*found, *(np.asarray(one, float) for one in (*column, *kart.loads))]


def _moved(kart: Kart, by: list[Array]) -> Kart:
    """The kart with every number that is read moved so far."""
    each: Iterator[Array] = iter([now + one for now, one in zip(_numbers(kart), by, strict=True)])
    corners = [_from(corner, each) for corner in (kart.left, kart.right)]
    foot, inclination = _point(next(each)), _one(next(each))
    column = replace(kart.column, foot=foot, inclination=inclination)
    return replace(kart, left=corners[0], right=corners[1], column=column, loads=_four(list(each)))


def _from(corner: Corner, each: Iterator[Array]) -> Corner:
    centre, wheel, arm, inner = (_point(next(each)) for _ in range(4))
    caster, inclination, camber, toe = (_one(next(each)) for _ in range(4))
    yoke = Yoke(centre, caster, inclination, corner.yoke.span)
    return Corner(yoke, Stub(wheel, camber, toe, arm), inner)


def _four(numbers: list[Array]) -> tuple[float, float, float, float]:
    a, b, c, d = map(_one, numbers)
    return a, b, c, d


def _one(number: Array) -> float:
    """A number as a record holds it; of many karts the array stays."""
    return number if np.ndim(number) else float(number)  # type: ignore[return-value]


def _point(point: Array) -> Vector:
    return point if np.ndim(point) > 1 else tuple(point.tolist())  # type: ignore[return-value]
