"""Write a scene as a GLB file (glTF 2.0) for any 3D viewer: how it stands at one lock position, and the lock.

glTF counts in metres with y up and the front along z, so x forward, y left, z up become z, x, y. Every body
is a node under one node that turns the axes; its name is the body's, and beneath it is a mesh for each
material. One animation, "lock", takes all of them from right lock to left lock and back: a node has a
move, a turn and a scale, so what the scene shears (a rail that twists with the frame, a tyre pressed flat)
has the nearest of these, and what would then stand more than ASTRAY off is left out. A body is scaled to
nothing where it is not to be seen; the road comes only when it is asked for. A file has no words: what the
scene says, and by how much it exaggerates, is not in it.
"""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt

from kinematics.frames import Array
from scenarios.files import put
from viz.canvas.motion import METRES, Motion, animate, motion
from viz.canvas.movie import Progress, there_and_back
from viz.canvas.surfaces import shaded
from viz.look.palette import LIGHT, ROLES, Theme
from viz.scene.data import Body, SceneData

TO_GLTF = np.array([[0.0, 1.0, 0.0, 0.0], [0.0, 0.0, 1.0, 0.0], [1.0, 0.0, 0.0, 0.0], [0.0, 0.0, 0.0, 1.0]])
"""From vehicle axes (x forward, y left, z up) to glTF's (x left, y up, z forward): a turn, no mirror."""
ROOT = "kart"
ASTRAY = 2.0
"""How far a body may stand from where the scene has it, mm."""
KEYS = 121
"""Most lock positions of the animation on one way."""
SECONDS = 8.0
"""What the animation takes, there and back."""
METAL, RUBBER, PAINT, MARK = (0.4, 0.4), (0.0, 0.85), (0.1, 0.5), (0.0, 0.7)
"""How metallic a surface is, and how rough: no more than a viewer without surroundings to mirror can show."""
SURFACES = {
    **dict.fromkeys(("rim", "steel", "kingpin", "column"), METAL),
    **dict.fromkeys(("tyre", "handwheel", "driver", "road"), RUBBER),
    **dict.fromkeys(("yoke", "frame", "bush"), PAINT),
}


def write(
    path: str | Path,
    data: SceneData,
    *,
    at_deg: float = 0.0,
    theme: Theme = LIGHT,
    road: bool = False,
    progress: Progress | None = None,
) -> int:
    """Write the scene, standing at the lock position nearest to at_deg (deg, + left); returns the bytes.

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
    """The scene at a lock position, and its way through lock, as the bytes of a GLB file."""
    from trimesh import Scene
    from trimesh.exchange.gltf import export_glb

    scene = Scene(base_frame="world")
    scene.graph.update(frame_to=ROOT, frame_from="world", matrix=TO_GLTF)
    bodies = [b for b in data.bodies if b.visible.any() and (road or b.role != "road")]
    motions: dict[str, Motion] = {}
    for done, body in enumerate(bodies, 1):
        found = motion(body)
        if found.off_mm <= ASTRAY:
            motions[body.name] = found
            _add(scene, body, theme)
        if progress is not None:
            progress(done, len(bodies))
    order, seconds = _lock(data)
    finish = partial(_finish, motions=motions, index=index, order=order, seconds=seconds)
    content: bytes = export_glb(scene, include_normals=True, buffer_postprocessor=finish)
    return content


def _add(scene: Any, body: Body, theme: Theme) -> None:
    """A node for the body, and beneath it one for what it has of each role."""
    from trimesh import Trimesh
    from trimesh.visual import TextureVisuals

    scene.graph.update(frame_to=body.name, frame_from=ROOT)
    surface = shaded(body.mesh)
    faces, roles = surface.regular_faces, surface.point_data["role"]
    for role in np.unique(roles):
        own = faces[roles[faces[:, 0]] == role]
        used, numbered = np.unique(own, return_inverse=True)
        mesh = Trimesh(
            METRES * np.asarray(surface.points)[used],
            numbered.reshape(-1, 3),
            vertex_normals=np.asarray(surface.point_data["Normals"])[used],
            visual=TextureVisuals(material=_material(theme, ROLES[role], body.opacity)),
            process=False,
        )
        name = f"{body.name}: {ROLES[role]}"
        scene.add_geometry(mesh, geom_name=name, node_name=name, parent_node_name=body.name)


def _material(theme: Theme, role: str, opacity: float) -> Any:
    from trimesh.visual.material import PBRMaterial

    metallic, rough = SURFACES.get(role, MARK)
    colour = linear(theme.palette()[ROLES.index(role)])
    clear = opacity < 1.0
    return PBRMaterial(
        name=role,
        baseColorFactor=[*colour.tolist(), round(255 * opacity)],
        metallicFactor=metallic,
        roughnessFactor=rough,
        alphaMode="BLEND" if clear else "OPAQUE",
        doubleSided=clear,
    )


def _lock(data: SceneData) -> tuple[npt.NDArray[np.intp], Array]:
    """The lock positions of the animation in order, and when each is reached: an even turn of the wheel."""
    order = there_and_back(data.count, KEYS)
    loop = np.array([*order, order[0]])
    turned = np.concatenate([[0.0], np.cumsum(np.abs(np.diff(data.handwheel_deg[loop])))])
    return loop, SECONDS * turned / max(turned[-1], 1e-9)


def _finish(
    buffers: Any,
    tree: dict[str, Any],
    motions: dict[str, Motion],
    index: int,
    order: npt.NDArray[np.intp],
    seconds: Array,
) -> None:
    """Put the bodies' nodes where they stand at a lock position, and let them move."""
    for node in tree["nodes"]:
        if node.get("name") in motions:
            node.pop("matrix", None)
            node.update(motions[node["name"]].at(index))
    if len(order) > 2:
        animate(buffers, tree, motions, order, seconds)


def linear(colours: npt.NDArray[np.uint8]) -> npt.NDArray[np.uint8]:
    """Screen colours (..., 3), 0..255, as the linear ones that glTF keeps (IEC 61966-2-1)."""
    c = colours / 255.0
    straight = np.where(c <= 0.04045, c / 12.92, ((c + 0.055) / 1.055) ** 2.4)
    return np.round(255.0 * straight).astype(np.uint8)
