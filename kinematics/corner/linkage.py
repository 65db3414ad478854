"""The tie-rod linkage: from handwheel angle to the turn of the stub about its kingpin, in closed form.

A spatial four-bar with two revolutes and two ball joints (McCarthy & Soh, Geometric Design of Linkages,
Springer 2011, appendix A). With the arm end on a circle about the kingpin and the spade joint on a circle
about the column, a constant rod length reads a cos(delta) + b sin(delta) = c, where a, b and c are each of
the form p + q cos(theta) + r sin(theta): six numbers a setting, nothing to iterate.

Left-hand convention: the right corner is solved as a left one at the opposite handwheel angle.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from kinematics.corner.joints import column_axis, inner_joint
from kinematics.corner.stub import SeatedStub, neutral_stub, turned
from kinematics.frames import Array, Road, cross, dot, turn
from kinematics.parts import Column, Corner, CornerSetting

_REAL_ROOT = 1e-7  # imaginary part, relative, below which a root of the binding quartic counts as real


@dataclass(frozen=True)
class Linkage:
    """A closed linkage of a setting: a, b, c of the closure over (1, cos theta, sin theta).

    coefficients (..., 3, 3): rows a, b, c; columns 1, cos, sin. branch (...) is the sign of the assembly that
    is continuous from the reference stance straight ahead. rod_length (...) in mm. bind (..., 2) are the
    handwheel angles in rad, negative and positive side, at which the linkage binds (-inf, inf: never; both
    0: the rod cannot be assembled straight ahead at all).
    """

    coefficients: Array
    branch: Array
    rod_length: Array
    bind: Array


@dataclass(frozen=True)
class Closure:
    """Turn of the stub at each handwheel angle, (..., N): rad, + left; rate d(delta)/d(theta).

    Where reach is False the numbers are those of the nearest possible assembly and must not be shown.
    """

    delta: Array
    rate: Array
    reach: npt.NDArray[np.bool_]


def spade_joint(column: Column, straight: npt.ArrayLike, handwheel: npt.ArrayLike) -> Array:
    """Tie-rod inner joint (..., 3) in mm at handwheel angles (...) in rad, from its place straight ahead."""
    foot = np.asarray(column.foot, float)
    arm = np.asarray(straight, float) - foot
    place: Array = foot + turn(arm, column_axis(column), handwheel)
    return place


def _spade_circle(column: Column, straight: Array) -> Array:
    """The inner joint as centre, cosine and sine vectors (..., 3, xyz)."""
    foot, axis = np.asarray(column.foot, float), column_axis(column)
    arm = straight - foot
    along = dot(arm, axis)[..., None] * axis
    return np.stack(np.broadcast_arrays(foot + along, arm - along, cross(axis, arm)), axis=-2)


def closure_coefficients(seated: SeatedStub, column: Column, straight: Array, rod_length: Array) -> Array:
    """Coefficients (..., 3, 3) of a cos(delta) + b sin(delta) = c over (1, cos theta, sin theta).

    straight (..., 3) is the inner joint straight ahead.
    """
    arm = seated.arm_end - seated.foot
    along = dot(arm, seated.k)
    perp, side = arm - along[..., None] * seated.k, cross(seated.k, arm)
    circle = _spade_circle(column, straight)
    w = np.broadcast_to(circle, (*seated.foot.shape[:-1], 3, 3)).copy()
    w[..., 0, :] -= seated.foot
    a, b, up = (np.einsum("...jx,...x->...j", w, v) for v in (perp, side, seated.k))
    squares = np.stack(
        [
            dot(w[..., 0, :], w[..., 0, :]) + dot(w[..., 1, :], w[..., 1, :]),
            2.0 * dot(w[..., 0, :], w[..., 1, :]),
            2.0 * dot(w[..., 0, :], w[..., 2, :]),
        ],
        axis=-1,
    )
    squares[..., 0] += dot(arm, arm) - rod_length**2
    c = 0.5 * squares - along[..., None] * up
    return np.stack(np.broadcast_arrays(a, b, c), axis=-2)


def reference_rod_length(corner: Corner) -> Array:
    """Tie-rod length in mm at the reference stance: concentric bushes, static toe, straight ahead."""
    rod = np.asarray(corner.stub.arm_end, float) - np.asarray(corner.inner_joint, float)
    length: Array = np.sqrt(dot(rod, rod))
    return length


def turn_for_toe(seated: SeatedStub, toe: npt.ArrayLike, road: Road) -> tuple[Array, npt.NDArray[np.bool_]]:
    """Turn (...) in rad that gives the wheel this toe (...) on the road, and whether any turn can.

    The wheel-plane trace along u means spin·u = 0, again a cos + b sin = c in the turn.
    """
    toe = np.asarray(toe, float)
    u = np.cos(toe)[..., None] * road.heading - np.sin(toe)[..., None] * road.left
    along = dot(seated.spin, seated.k)[..., None] * seated.k
    a, b = dot(seated.spin - along, u), dot(cross(seated.k, seated.spin), u)
    c, r2 = -dot(along, u), a * a + b * b
    q = np.sqrt(np.maximum(r2 - c * c, 0.0))
    return np.arctan2(b * c + a * q, a * c - b * q), r2 >= c * c


def rod_length_for(
    corner: Corner, setting: CornerSetting, seated: SeatedStub, column: Column, road: Road
) -> tuple[Array, npt.NDArray[np.bool_]]:
    """Tie-rod length (...) in mm of a setting (kept, given, or re-set to a toe) and whether it exists."""
    shape = seated.foot.shape[:-1]
    if setting.rod_toe is not None:
        delta, possible = turn_for_toe(seated, setting.rod_toe, road)
        rod = turned(seated, seated.arm_end, delta) - inner_joint(corner, setting, column)
        return np.sqrt(dot(rod, rod)), possible
    length = reference_rod_length(corner) if setting.rod_length is None else setting.rod_length
    return np.broadcast_to(np.asarray(length, float), shape), np.ones(shape, dtype=bool)


def turn_straight_ahead(
    corner: Corner, setting: CornerSetting, seated: SeatedStub, column: Column, road: Road
) -> Array:
    """Turn of the stub (...) in rad at handwheel angle 0; finite where the rod cannot be assembled too."""
    if setting.rod_toe is not None:
        return turn_for_toe(seated, setting.rod_toe, road)[0]
    length, _ = rod_length_for(corner, setting, seated, column, road)
    straight = inner_joint(corner, setting, column)
    a, b, c = np.moveaxis(closure_coefficients(seated, column, straight, length)[..., :2].sum(axis=-1), -1, 0)
    cos_delta, sin_delta, _ = _assembled(a, b, c, assembly_branch(corner, column))
    return np.arctan2(sin_delta, cos_delta)


def assembly_branch(corner: Corner, column: Column) -> Array:
    """Sign (...) of the assembly in which the reference stance stands (turn 0, straight ahead)."""
    length = reference_rod_length(corner)
    straight = np.asarray(corner.inner_joint, float)
    neutral = closure_coefficients(neutral_stub(corner), column, straight, length)
    return np.asarray(-np.sign(neutral[..., 1, 0] + neutral[..., 1, 1]))


def close_linkage(
    corner: Corner, setting: CornerSetting, seated: SeatedStub, column: Column, road: Road
) -> Linkage:
    """The linkage of a setting, with its rod and the handwheel angles at which it binds."""
    length, possible = rod_length_for(corner, setting, seated, column, road)
    coefficients = closure_coefficients(seated, column, inner_joint(corner, setting, column), length)
    bind = np.where(possible[..., None], binding_angles(coefficients), 0.0)
    return Linkage(coefficients, assembly_branch(corner, column), length, bind)


def binding_angles(coefficients: Array) -> Array:
    """Handwheel angles (..., 2) in rad at which the linkage binds on either side of straight ahead.

    At binding a² + b² = c²; in t = tan(theta/2) that is a quartic. It is solved for 1/t, whose leading
    coefficient is the value straight ahead and so positive for every linkage that can be assembled; one
    that cannot gives (0, 0). A side on which it never binds within half a turn gives -inf or inf.
    """
    p, q, r = (coefficients[..., i] for i in range(3))
    poly = np.stack([p + q, 2.0 * r, p - q], axis=-1)  # (p + q cos + r sin)(1 + t²) in powers of t
    quartic = _square(poly[..., 0, :]) + _square(poly[..., 1, :]) - _square(poly[..., 2, :])
    assembled = quartic[..., 0] > 0.0
    lead = np.where(assembled, quartic[..., 0], 1.0)
    companion = np.zeros((*quartic.shape[:-1], 4, 4))
    companion[..., 0, :] = -quartic[..., 1:] / lead[..., None]
    companion[..., [1, 2, 3], [0, 1, 2]] = 1.0
    roots = np.linalg.eigvals(companion)
    real = np.abs(roots.imag) <= _REAL_ROOT * (1.0 + np.abs(roots))
    angle = 2.0 * np.arctan2(1.0, np.abs(roots.real)) * np.where(roots.real < 0.0, -1.0, 1.0)
    below = np.where(real & (angle < 0.0), angle, -np.inf).max(axis=-1)
    above = np.where(real & (angle > 0.0), angle, np.inf).min(axis=-1)
    bind: Array = np.where(assembled[..., None], np.stack([below, above], axis=-1), 0.0)
    return bind


def _square(poly: Array) -> Array:
    """Coefficients (..., 5) of the square of a quadratic (..., 3), lowest power first."""
    u, v, w = poly[..., 0], poly[..., 1], poly[..., 2]
    return np.stack([u * u, 2 * u * v, v * v + 2 * u * w, 2 * v * w, w * w], axis=-1)


def _assembled(a: Array, b: Array, c: Array, branch: Array) -> tuple[Array, Array, Array]:
    """Cosine and sine of the turn that solves a cos + b sin = c, and the root they rest on; 0 at binding."""
    r2 = a * a + b * b
    q = branch * np.sqrt(np.maximum(r2 - c * c, 0.0))
    return (a * c - b * q) / r2, (b * c + a * q) / r2, q


def closure(linkage: Linkage, handwheel: npt.ArrayLike) -> Closure:
    """Turn of the stub (..., N) at handwheel angles in rad, in the assembly continuous from straight.

    The angles are (N,), the same for every setting, or (..., N), each setting its own.
    """
    theta = np.asarray(handwheel, float)
    one, cos, sin = np.ones_like(theta), np.cos(theta), np.sin(theta)
    a, b, c = np.moveaxis(linkage.coefficients @ np.stack([one, cos, sin], axis=-2), -2, 0)
    da, db, dc = np.moveaxis(linkage.coefficients @ np.stack([0.0 * one, -sin, cos], axis=-2), -2, 0)
    cos_delta, sin_delta, q = _assembled(a, b, c, linkage.branch[..., None])
    reach = (theta > linkage.bind[..., :1]) & (theta < linkage.bind[..., 1:]) & (q != 0.0)
    slope = (da * cos_delta + db * sin_delta - dc) / np.where(q == 0.0, np.inf, q)
    return Closure(np.arctan2(sin_delta, cos_delta), np.where(reach, slope, 0.0), reach)
