"""Where the bodies of a scene stand on the road: the frame's attitude and twist laid over the solver's poses.

The scene is drawn in frame axes; the stance says how the frame sits. Front parts turn with the front of
the frame, the rear axle with its rear, and the frame itself is cut in slices that turn by and by.
"""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

import numpy as np

from kinematics.equilibrium import Stance
from kinematics.frames import Array
from viz.meshes import Mesh
from viz.scene_data import Body, Label, SceneData

SLICES = 9
"""Slices of the frame: a twist of 1 degree turns two neighbours by an eighth of it."""


def attitude(standing: Stance, twist: Array) -> Array:
    """Matrices (N, 4, 4) from frame axes to the road, for a part twisted (N,) rad against the seat."""
    roll, pitch = standing.roll + twist, standing.pitch
    sr, cr, sp, cp = np.sin(roll), np.cos(roll), np.sin(pitch), np.cos(pitch)
    axis_height, zero = standing.kart.frame.axis_height, np.zeros_like(sr)
    rows = [[cp, sp * sr, sp * cr], [zero, cr, -sr], [-sp, cp * sr, cp * cr]]
    out = np.zeros((*sr.shape, 4, 4))
    out[..., :3, :3] = np.moveaxis(np.array(rows), (0, 1), (-2, -1))
    out[..., :3, 3] = -axis_height * out[..., :3, 2]
    out[..., 2, 3] += standing.height
    out[..., 3, 3] = 1.0
    return out


def placed(data: SceneData, standing: Stance, times: int) -> tuple[list[Body], list[Label]]:
    """Bodies and labels of a scene on the road at z = 0, the frame's twist drawn `times` as large.

    standing holds the lock positions of the scene, (N,).
    """
    front, rear = times * standing.twist_front, times * standing.twist_rear
    turned = {"front": attitude(standing, front), "rear": attitude(standing, rear)}
    still = np.broadcast_to(np.eye(4), turned["front"].shape)
    bodies = []
    for body in data.bodies:
        if body.moves_with == "road":
            bodies.append(replace(body, matrices=still))
        elif body.name == "frame":
            bodies += _slices(body, standing, front, rear)
        else:
            part = "rear" if body.name == "rear" else "front"
            bodies.append(replace(body, matrices=turned[part] @ body.matrices))
    return bodies, [_on_road(label, turned["front"]) for label in data.labels if label.role != "scale"]


def _on_road(label: Label, moves: Array) -> Label:
    points = np.einsum("nij,nj->ni", moves[:, :3, :3], label.points) + moves[:, :3, 3]
    return replace(label, points=points)


def _slices(body: Body, standing: Stance, front: Array, rear: Array) -> list[Body]:
    """The frame in slices along x, each turned by the twist at its middle: even from axle to axle."""
    wheelbase = standing.kart.wheelbase
    made = []
    for i, share, mesh in sliced(body.mesh, wheelbase):
        moves = attitude(standing, rear + share * (front - rear))
        made.append(Body(f"frame_{i}", mesh, moves @ body.matrices, body.moves_with, body.opacity))
    return made


@lru_cache(maxsize=8)
def sliced(mesh: Mesh, wheelbase: float) -> list[tuple[int, float, Mesh]]:
    """The mesh cut along x: number, share of the way from rear to front axle, and mesh of each slice."""
    from trimesh.remesh import subdivide_to_size

    length = float(np.ptp(mesh.vertices[:, 0])) / SLICES
    vertices, faces, came_from = subdivide_to_size(mesh.vertices, mesh.faces, length, return_index=True)
    roles = mesh.roles[mesh.faces[came_from, 0]]
    vertices, same = np.unique(
        vertices.round(6), axis=0, return_inverse=True
    )  # halves of one edge meet again
    faces = same.ravel()[faces]
    middle = vertices[faces, 0].mean(axis=1)
    edges = np.linspace(middle.min(), middle.max(), SLICES + 1)
    number = np.clip(np.searchsorted(edges, middle, side="right") - 1, 0, SLICES - 1)
    made = []
    for i in np.unique(number):
        share = np.clip(0.5 * (edges[i] + edges[i + 1]) / wheelbase, 0.0, 1.0)
        some = number == i
        used, index = np.unique(faces[some], return_inverse=True)
        vertex_roles = np.zeros(len(used), np.uint8)
        vertex_roles[index.ravel()] = np.repeat(roles[some], 3)
        made.append((int(i), float(share), Mesh(vertices[used], index.reshape(-1, 3), vertex_roles)))
    return made
