"""Where a standing kart's parts are drawn: matrices (N, 4, 4) from frame axes to a level road at z = 0.

Nothing is solved here. With `times` above 1 every height above the road, and with it heave, pitch, roll and
twist, moves `times` as far from the reference stance as it does. Wheels keep their own steer and camber to
the road, so a front corner is shifted as one and the frame's arm that carries it leans to meet it.
"""

from __future__ import annotations

from dataclasses import dataclass, fields, replace
from typing import Any

import numpy as np

from kinematics.corner.contact import support_point
from kinematics.frames import FLAT_ROAD, Y_LEFT, Array, Mask, cross, mirror, turn, unit
from kinematics.lock import Sweep, rear_wheel_centres
from kinematics.parts import Tyre
from kinematics.stance.equilibrium import Stance
from kinematics.standing.stand import inside_is_left
from viz.scene.pose import matrices

WHEELS = ("front left", "front right", "rear left", "rear right")
TIPPED = np.radians(14.0)
"""How far a kart that tips is drawn over, rad: plainly not standing."""
FLATTEST = 0.6
"""A tyre is not drawn flatter than this share of its height."""


@dataclass(frozen=True, eq=False)
class PartMatrices:
    """A standing kart as drawn at every lock position (N); wheels in the order FL FR RL RR."""

    front: Array
    """Of the frame's front part (N, 4, 4)."""
    seat: Array
    rear: Array
    corners: tuple[Array, Array]
    """Of what the left and the right yoke carry, and the yokes themselves (N, 4, 4)."""
    centres: Array
    """Wheel centres on the road (4, N, 3), mm."""
    supports: Array
    """Support points (4, N, 3), mm: their height is 0 on the road, else the clearance drawn."""
    squash: Array
    """Height of each tyre as drawn, in shares of that at the loaded radius (4, N)."""
    loads: Array
    """(4, N), N."""
    clearance: Array
    """(4, N), mm, as it is."""
    tips: Mask
    """Where there are no numbers to show: it falls over, or rests on two wheels."""
    fallen: Mask
    """Where it is drawn lying over."""
    inside_left: Mask

    @property
    def in_the_air(self) -> Mask:
        """Which wheels are off the road while the kart stands (4, N)."""
        air: Mask = (self.clearance > 0.0) & ~self.fallen
        return air


def at_positions(standing: Stance, where: Mask) -> Stance:
    """The stance at some of its lock positions (N,)."""
    arrays: dict[str, Any] = {
        f.name: getattr(standing, f.name)[where] for f in fields(standing) if f.name != "kart"
    }
    return replace(standing, **arrays)


def attitude(standing: Stance, twist: Array | float, times: float = 1.0) -> Array:
    """Matrices (N, 4, 4) of a part twisted (N,) rad against the seat; level where the kart falls over."""
    up = np.where(_fallen(standing), 0.0, times)
    axis_height = standing.kart.frame.axis_height
    pitch, roll = up * standing.pitch, up * (standing.roll + twist)
    sp, cp, sr, cr = np.sin(pitch), np.cos(pitch), np.sin(roll), np.cos(roll)
    rows = [[cp, sp * sr, sp * cr], [0.0 * sr, cr, -sr], [-sp, cp * sr, cp * cr]]
    rotation = np.moveaxis(np.array(rows), -1, 0)
    shift = -axis_height * rotation[:, :, 2]
    shift[:, 2] += axis_height + up * (standing.height - axis_height)
    return matrices(rotation, shift)


def _fallen(standing: Stance) -> Mask:
    """Where it has no resting place, not even on two wheels (N,)."""
    fallen: Mask = standing.tips & ~standing.on_two_wheels
    return fallen


def moved(moves: Array, points: Array) -> Array:
    """Points (3,) or (N, 3) carried by matrices (N, 4, 4)."""
    carried: Array = np.einsum("nij,...nj->...ni", moves[:, :3, :3], np.broadcast_to(points, (len(moves), 3)))
    return carried + moves[:, :3, 3]


def poses(sweep: Sweep, standing: Stance, times: float) -> PartMatrices:
    """How a sweep's kart is drawn in a stance of its lock positions (N).

    Raises ValueError where so large an exaggeration would draw a tyre flat.
    """
    parts = [attitude(standing, t, times) for t in (standing.twist_front, 0.0, standing.twist_rear)]
    true = attitude(standing, standing.twist_front)
    hubs = [sweep.left.wheel_centre, mirror(sweep.right.wheel_centre)]
    rest = [c.stub.wheel_centre[2] for c in (sweep.kart.left, sweep.kart.right)]
    corners = [_shifted(true, hub, z, times) for hub, z in zip(hubs, rest, strict=True)]
    hubs += [np.broadcast_to(c, hubs[0].shape) for c in rear_wheel_centres(sweep.kart, sweep.setting)]
    spins = [sweep.left.spin, mirror(sweep.right.spin), Y_LEFT, -Y_LEFT]
    carriers = [*corners, parts[2], parts[2]]
    centres, supports = _stood(sweep, carriers, hubs, spins)
    over = _tilt(standing, supports)
    parts, corners = [over @ m for m in parts], [over @ m for m in corners]
    centres, supports = _stood(sweep, [*corners, parts[2], parts[2]], hubs, spins)
    lift = np.where(_fallen(standing), -supports[..., 2].min(axis=0), 0.0)
    for raised in (*(m[:, :3, 3] for m in (*parts, *corners)), *centres, *supports):
        raised[:, 2] += lift
    target = times * np.moveaxis(standing.clearance, -1, 0)
    squash = np.where(_fallen(standing), 1.0, (centres[..., 2] - target) / (centres - supports)[..., 2])
    if np.min(squash) < FLATTEST:
        raise ValueError(f"drawn x{times:g} a tyre would lie flat: choose a smaller exaggeration")
    supports[..., 2] = centres[..., 2] - squash * (centres - supports)[..., 2]
    return PartMatrices(
        front=parts[0],
        seat=parts[1],
        rear=parts[2],
        corners=(corners[0], corners[1]),
        centres=centres,
        supports=supports,
        squash=squash,
        loads=np.moveaxis(standing.loads, -1, 0),
        clearance=np.moveaxis(standing.clearance, -1, 0),
        tips=standing.tips,
        fallen=_fallen(standing),
        inside_left=inside_is_left(sweep, standing),
    )


def _shifted(true: Array, hub: Array, rest: float, times: float) -> Array:
    """A corner's attitude, shifted until its wheel centre is `times` as far from its height at rest."""
    shifted = true.copy()
    shifted[:, 2, 3] += (times - 1.0) * (moved(true, hub)[:, 2] - rest)
    return shifted


def _stood(sweep: Sweep, carriers: list[Array], hubs: list[Array], spins: list[Array]) -> tuple[Array, Array]:
    """Wheel centres and support points of undeflected tyres on the road (4, N, 3) each."""
    front, rear = sweep.kart.front_tyre, sweep.kart.rear_tyre
    tyres: list[Tyre] = [front, front, rear, rear]
    centres = np.stack([moved(m, h) for m, h in zip(carriers, hubs, strict=True)])
    turned = [
        np.einsum("nij,nj->ni", m[:, :3, :3], np.broadcast_to(s, (len(m), 3)))
        for m, s in zip(carriers, spins, strict=True)
    ]
    points = [support_point(c, s, t, FLAT_ROAD) for c, s, t in zip(centres, turned, tyres, strict=True)]
    return centres, np.stack(points)


def _tilt(standing: Stance, supports: Array) -> Array:
    """What lays a kart over the two wheels it falls over (N, 4, 4); the identity elsewhere."""
    order = np.argsort(standing.loads, axis=-1)[..., None]
    points = np.take_along_axis(np.moveaxis(supports, 0, 1), order, axis=1) * [1.0, 1.0, 0.0]
    low, foot, line = points[:, :2].mean(axis=1), points[:, 2], unit(points[:, 3] - points[:, 2])
    angle = np.copysign(TIPPED, cross(line, low - foot)[:, 2])
    turned = np.swapaxes(turn(np.eye(3), line[:, None, :], angle[:, None]), -1, -2)
    over = matrices(turned, foot - np.einsum("nij,nj->ni", turned, foot))
    return np.where(_fallen(standing)[:, None, None], over, np.eye(4))


def bridged(moves: Array, start: Array, end: Array, target: Array) -> Array:
    """Matrices that carry start as moves do and end to target (N, 3), and what lies between in proportion.

    moves is (N, 4, 4); start and end are points (3,) or (N, 3) before the move. Where target is already the
    place of end the move is unchanged and rigid.
    """
    along = np.broadcast_to(end - start, target.shape)
    share = along / np.sum(along * along, axis=-1, keepdims=True)
    off = target - moved(moves, end)
    bend = off[:, :, None] * share[:, None, :]
    out: Array = moves.copy()
    out[:, :3, :3] += bend
    out[:, :3, 3] -= np.einsum("nij,nj->ni", bend, np.broadcast_to(start, target.shape))
    return out


def flattened(carried: Array, centre: Array, squash: Array) -> Array:
    """Matrices (N, 4, 4) of a tyre, its heights about the wheel centre (N, 3) in shares squash (N,)."""
    out: Array = carried.copy()
    out[:, 2, :] *= squash[:, None]
    out[:, 2, 3] += (1.0 - squash) * centre[:, 2]
    return out


def standing_up(points: Array, height: Array) -> Array:
    """A body of unit height along z stood on points (N, 3) and stretched to a height (N,), mm."""
    scale = np.zeros((len(points), 3, 3))
    scale[:, 0, 0] = scale[:, 1, 1] = 1.0
    scale[:, 2, 2] = height
    return matrices(scale, points)
