"""Motions of bodies through lock as glTF keeps them: a move, a turn and a scale at each moment, per node."""

from __future__ import annotations

from collections.abc import Mapping, MutableMapping
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from kinematics.frames import Array
from viz.scene.data import Body

METRES = 1e-3
FLOAT = 5126
"""glTF's code for a float of 32 bits."""
STILL = 1e-9
"""What changes less than this through lock has no keys."""
KINDS = {"translation": "VEC3", "rotation": "VEC4", "scale": "VEC3"}
NAME = "lock"
Tree = dict[str, Any]


@dataclass(frozen=True, eq=False)
class Motion:
    """A body's place at each lock position (N): m, quaternions x y z w, factors along its own axes."""

    translation: Array
    rotation: Array
    scale: Array
    off_mm: float
    """How far at most a corner of its box stands from where the body's own matrices put it, mm."""
    hides: bool
    """Whether it is not to be seen at some lock position: its scale is 0 there."""

    def at(self, index: int) -> dict[str, list[float]]:
        """The place at a lock position, as a node has it."""
        return {kind: getattr(self, kind)[index].tolist() for kind in KINDS}


def motion(body: Body) -> Motion:
    """The move, turn and scale nearest to each of a body's matrices; the middle of its box stands right.

    Matrices that neither shear nor mirror are kept exactly.
    """
    linear, origin = body.matrices[:, :3, :3], body.matrices[:, :3, 3]
    left, _, right = np.linalg.svd(linear)
    turn = left @ right
    scale = np.einsum("nji,nji->ni", turn, linear)
    low, high = body.mesh.vertices.min(axis=0), body.mesh.vertices.max(axis=0)
    missed = linear - turn * scale[:, None, :]
    off = np.abs(missed) @ (0.5 * (high - low))
    return Motion(
        translation=METRES * (origin + missed @ (0.5 * (low + high))),
        rotation=_quaternions(turn),
        scale=np.where(body.visible[:, None], scale, 0.0),
        off_mm=float(np.linalg.norm(off[body.visible], axis=-1).max(initial=0.0)),
        hides=not body.visible.all(),
    )


def _quaternions(turns: Array) -> Array:
    """Rotations (N, 3, 3) as quaternions (N, 4), x y z w, each on the same side as the one before it."""
    from trimesh.transformations import quaternion_from_matrix

    whole = np.tile(np.eye(4), (len(turns), 1, 1))
    whole[:, :3, :3] = turns
    found = np.array([np.roll(quaternion_from_matrix(one), -1) for one in whole])
    along = np.einsum("ni,ni->n", found[1:], found[:-1])
    found[1:] *= np.cumprod(np.where(along < 0.0, -1.0, 1.0))[:, None]
    return found


def animate(
    buffers: MutableMapping[Any, bytes],
    tree: Tree,
    motions: Mapping[str, Motion],
    order: npt.NDArray[np.intp],
    seconds: Array,
) -> None:
    """Give the nodes of a glTF tree their motions, at the lock positions in order at so many seconds (M,).

    Buffers and accessors are those that trimesh hands out before it lays them end to end.
    """
    channels: list[Tree] = []
    samplers: list[Tree] = []
    clock = _stored(buffers, tree, "seconds", seconds, "SCALAR")
    for number, node in enumerate(tree["nodes"]):
        of = motions.get(node.get("name"))
        for kind in KINDS if of else ():
            values = getattr(of, kind)
            if np.ptp(values, axis=0).max() <= STILL:
                continue
            place = _stored(buffers, tree, f"{node['name']} {kind}", values[order], KINDS[kind])
            steps = of is not None and of.hides and kind == "scale"
            way = "STEP" if steps else "LINEAR"
            samplers.append({"input": clock, "output": place, "interpolation": way})
            channels.append({"sampler": len(samplers) - 1, "target": {"node": number, "path": kind}})
    if channels:
        tree["animations"] = [{"name": NAME, "channels": channels, "samplers": samplers}]


def _stored(buffers: MutableMapping[Any, bytes], tree: Tree, name: str, values: Array, kind: str) -> int:
    """The number of the accessor of values (M,) or (M, 3 or 4), which are put into a buffer of their own."""
    data = np.ascontiguousarray(values.reshape(len(values), -1), "<f4")
    buffers[name] = data.tobytes()
    tree["accessors"][name] = {
        "bufferView": len(buffers) - 1,
        "componentType": FLOAT,
        "type": kind,
        "count": len(data),
        "min": data.min(axis=0).tolist(),
        "max": data.max(axis=0).tolist(),
    }
    return len(tree["accessors"]) - 1
