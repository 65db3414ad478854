"""Many settings of one corner through lock, fast: the same chain as `sweep`, in cache-sized blocks.

For searching a kit or mapping what it can reach. The readable chain in `sweep` is the reference, and a
test holds the two together. Component arrays are used because a (..., 3) array costs three to five times
as much here: the turn of a stub needs no angle, only its cosine and sine, and every component of the spin
axis and the wheel centre is of the form p + q cos(delta) + r sin(delta) with three numbers a setting.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, fields, replace

import numpy as np
import numpy.typing as npt

from kinematics.corner.contact import support_depth
from kinematics.corner.joints import inner_joint
from kinematics.corner.linkage import assembly_branch, closure_coefficients, rod_length_for
from kinematics.corner.stub import SeatedStub, seat_stub
from kinematics.frames import Array, Mask, Road, cross, dot
from kinematics.parts import Column, Corner, CornerSetting, Tyre

PREPARED = 4096  # settings whose constants are worked out at a time
BLOCK = 12288  # poses a block: some twenty scratch arrays of this length stay in a core's own cache


@dataclass(frozen=True)
class Poses:
    """Poses of a block of settings, each (settings, N), left-hand convention, rad and mm, road axes.

    x runs along the road's heading, y to its left, z along its normal, from the frame's origin. In a block
    the arrays are scratch: use or copy them before the next block. Where reach is False they are finite
    but mean nothing.
    """

    reach: Mask
    steer: Array
    camber: Array
    centre_x: Array
    centre_y: Array
    centre_z: Array
    contact_x: Array
    contact_y: Array
    contact_z: Array


def take(setting: CornerSetting, size: int, rows: slice) -> CornerSetting:
    """The given rows of a setting whose numbers broadcast to (size,)."""

    def rows_of(number: float | Array) -> Array:
        chosen: Array = np.broadcast_to(np.asarray(number, float), (size,))[rows]
        return chosen

    given = {f.name: getattr(setting, f.name) for f in fields(setting)}
    return replace(setting, **{name: rows_of(n) for name, n in given.items() if n is not None})


def rows_of_road(road: Road, rows: slice) -> Road:
    """The given rows of roads (settings, 3); a road (3,) for all of them stays as it is."""
    return road if road.normal.ndim == 1 else Road(road.normal[rows], road.heading[rows])


def _on_circle(seated: SeatedStub, vector: Array, origin: Array | None, road: Road) -> Array:
    """Heading, left and up components of a turned vector over (1, cos, sin): (3 components, 3, settings)."""
    along = dot(vector, seated.k)[:, None] * seated.k
    parts = np.stack([along if origin is None else along + origin, vector - along, cross(seated.k, vector)])
    return np.stack([dot(parts, axis) for axis in (road.heading, road.left, road.normal)])


@dataclass(frozen=True)
class _Constants:
    closure: Array
    """(3 of a b c, settings, 3)."""
    spin: Array
    """(3 components, 3 of 1 cos sin, settings)."""
    centre: Array


def _constants(corner: Corner, setting: CornerSetting, column: Column, road: Road) -> _Constants:
    seated = seat_stub(corner, setting)
    length, possible = rod_length_for(corner, setting, seated, column, road)
    straight = inner_joint(corner, setting, column)
    closure = closure_coefficients(seated, column, straight, np.where(possible, length, 0.0))
    spin = _on_circle(seated, seated.spin, None, road)
    centre = _on_circle(seated, seated.wheel_centre - seated.foot, seated.foot, road)
    return _Constants(np.ascontiguousarray(np.moveaxis(closure, -2, 0)), spin, centre)


def _component(out: Array, scratch: Array, weights: Array, cos: Array, sin: Array) -> None:
    """out = p + q cos + r sin, with p, q, r (3, settings) and cos, sin, out (settings, N)."""
    np.multiply(cos, weights[1][:, None], out=out)
    np.multiply(sin, weights[2][:, None], out=scratch)
    out += scratch
    out += weights[0][:, None]


def _solve(
    poses: Poses, scratch: list[Array], made: _Constants, rows: slice, basis: Array, branch: Array
) -> None:
    """Cosine and sine of the turn into the first two scratch arrays, and reach."""
    a, b, c, q, r2, t = scratch
    for out, rows_of in zip((a, b, c), made.closure, strict=True):
        np.matmul(rows_of[rows], basis, out=out)
    np.multiply(a, a, out=r2)
    np.multiply(b, b, out=t)
    r2 += t
    np.multiply(c, c, out=t)
    np.subtract(r2, t, out=q)
    np.greater(q, 0.0, out=poses.reach)
    np.maximum(q, 0.0, out=q)
    np.sqrt(q, out=q)
    q *= branch
    np.divide(1.0, r2, out=r2)
    q *= r2
    c *= r2
    np.multiply(a, c, out=r2)
    np.multiply(b, q, out=t)
    r2 -= t  # cosine
    b *= c
    a *= q
    a += b  # sine
    scratch[0], scratch[1], scratch[4] = r2, a, b


def _pose(poses: Poses, scratch: list[Array], made: _Constants, rows: slice, radius: float) -> None:
    """Wheel pose, steer, camber and contact from the cosine and sine of the turn."""
    cos, sin, ahead, side, up, t = scratch
    for out, weights in zip((ahead, side, up), made.spin, strict=True):
        _component(out, t, weights[:, rows], cos, sin)
    places = (poses.centre_x, poses.centre_y, poses.centre_z)
    for out, weights in zip(places, made.centre, strict=True):
        _component(out, t, weights[:, rows], cos, sin)
    np.divide(ahead, side, out=t)
    np.arctan(t, out=poses.steer)
    np.negative(poses.steer, out=poses.steer)
    np.multiply(up, up, out=t)
    np.subtract(1.0, t, out=t)
    np.sqrt(t, out=t)  # cosine of camber
    np.divide(up, t, out=up)  # minus the tangent of camber
    np.arctan(up, out=poses.camber)
    np.negative(poses.camber, out=poses.camber)
    t *= radius
    np.subtract(poses.centre_z, t, out=poses.contact_z)
    up *= radius
    ahead *= up
    np.add(poses.centre_x, ahead, out=poses.contact_x)
    side *= up
    np.add(poses.centre_y, side, out=poses.contact_y)


def pose_blocks(
    corner: Corner,
    setting: CornerSetting,
    column: Column,
    tyre: Tyre,
    road: Road,
    handwheel: npt.ArrayLike,
) -> Iterator[tuple[slice, Poses]]:
    """Poses of a one-dimensional batch of settings at handwheel angles (N,) in rad, block by block.

    The road is (3,), or (settings, 3), each its own. Yields the rows and their poses; the arrays are
    overwritten by the next block. reach is True where the closure has a real solution; unlike `sweep` it does
    not look for a linkage that bound and closed again between two positions.
    """
    theta = np.atleast_1d(np.asarray(handwheel, float))
    basis = np.stack([np.ones_like(theta), np.cos(theta), np.sin(theta)])
    branch, size = assembly_branch(corner, column), int(np.prod(setting.batch_shape))
    step = max(1, min(BLOCK // theta.size, PREPARED))
    shape = (step, theta.size)
    whole = Poses(np.empty(shape, dtype=bool), *(np.empty(shape) for _ in fields(Poses)[1:]))
    work = [np.empty(shape) for _ in range(6)]
    for start in range(0, size, PREPARED):
        stop = min(start + PREPARED, size)
        some = slice(start, stop)
        made = _constants(corner, take(setting, size, some), column, rows_of_road(road, some))
        for at in range(0, stop - start, step):
            rows = slice(at, min(at + step, stop - start))
            poses = Poses(*(getattr(whole, f.name)[: rows.stop - at] for f in fields(Poses)))
            scratch = [w[: rows.stop - at] for w in work]
            _solve(poses, scratch, made, rows, basis, branch)
            _pose(poses, scratch, made, rows, tyre.radius)
            yield slice(start + at, start + rows.stop), poses


def support_height(poses: Poses, tyre: Tyre) -> Array:
    """Height of the support point along the road's normal, mm, in the shape of the poses."""
    height: Array = poses.centre_z - support_depth(tyre, np.sin(poses.camber))
    return height
