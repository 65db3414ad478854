"""Write a scene at one lock position as a GLB file (glTF 2.0): the assembled front end for any 3D viewer.

glTF counts in metres with y up and the front along z, so x forward, y left, z up become z, x, y. Every body
is a node of its own with its matrix, under one node that turns the axes; its name is the body's. What is
not to be seen at that lock position is left out, and the road unless it is asked for.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt

from kinematics.frames import Array
from scenarios.files import put
from viz.canvas.movie import Progress
from viz.look.palette import LIGHT, Theme
from viz.scene.data import Body, SceneData

METRES = 1e-3
TO_GLTF = np.array([[0.0, 1.0, 0.0, 0.0], [0.0, 0.0, 1.0, 0.0], [1.0, 0.0, 0.0, 0.0], [0.0, 0.0, 0.0, 1.0]])
"""From vehicle axes (x forward, y left, z up) to glTF's (x left, y up, z forward): a turn, no mirror."""
ROOT = "kart"


def write(
    path: str | Path,
    data: SceneData,
    *,
    at_deg: float = 0.0,
    theme: Theme = LIGHT,
    road: bool = False,
    progress: Progress | None = None,
) -> int:
    """Write the scene at the lock position nearest to at_deg (handwheel, deg, + left); returns the bytes.

    Raises ValueError for another suffix, OSError where the file cannot be written; the file appears whole
    or not at all.
    """
    if Path(path).suffix.lower() != ".glb":
        raise ValueError("the file name must end in .glb")
    content = glb(data, data.nearest(at_deg), theme, road, progress)
    put(path, content)
    return len(content)


def glb(
    data: SceneData, index: int, theme: Theme = LIGHT, road: bool = False, progress: Progress | None = None
) -> bytes:
    """The scene at a lock position as the bytes of a GLB file."""
    from trimesh import Scene

    scene = Scene(base_frame="world")
    scene.graph.update(frame_to=ROOT, frame_from="world", matrix=TO_GLTF)
    bodies = [b for b in data.bodies if b.visible[index] and (road or b.role != "road")]
    for done, body in enumerate(bodies, 1):
        _add(scene, body, index, theme)
        if progress is not None:
            progress(done, len(bodies))
    content: bytes = scene.export(file_type="glb")
    return content


def _add(scene: Any, body: Body, index: int, theme: Theme) -> None:
    from trimesh import Trimesh

    mesh = Trimesh(METRES * body.mesh.vertices, body.mesh.faces, process=False)
    mesh.visual.vertex_colors = linear(theme.palette())[body.mesh.roles]
    place = {"node_name": body.name, "parent_node_name": ROOT, "transform": in_metres(body, index)}
    scene.add_geometry(mesh, geom_name=body.name, **place)


def in_metres(body: Body, index: int) -> Array:
    """A body's matrix (4, 4) at a lock position with its translation in metres."""
    matrix = np.array(body.matrices[index], float)
    matrix[:3, 3] *= METRES
    return matrix


def linear(colours: npt.NDArray[np.uint8]) -> npt.NDArray[np.uint8]:
    """Screen colours (..., 3), 0..255, as the linear ones that glTF keeps at vertices (IEC 61966-2-1)."""
    c = colours / 255.0
    straight = np.where(c <= 0.04045, c / 12.92, ((c + 0.055) / 1.055) ** 2.4)
    return np.round(255.0 * straight).astype(np.uint8)
