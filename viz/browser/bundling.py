"""A scene's bodies as the page draws them: what always moves as one is one body, what vanishes is hidden.

In a browser every body costs a draw call, so that fewer and larger ones move sooner. What is fitted (bushes
and kingpins) stays apart from what the kart alone shapes, so that a bush change sends little.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from kinematics.frames import Array, Mask
from viz.scene import meshes
from viz.scene.attitude import AWAY
from viz.scene.data import Body, SceneData
from viz.scene.meshes import Mesh

FITTED = re.compile(r"bushes|kingpin")
TELLING = re.compile(r"stub|wheel|rod|bushes|kingpin|tyre|axis_(left|right)")
"""Bodies that tell one setting from another: all of the second setting that is drawn over the first."""


@dataclass(frozen=True, eq=False)
class Bundle:
    """Bodies that move as one: a mesh, its matrices (N, 4, 4), and where it is to be seen (N)."""

    name: str
    mesh: Mesh
    matrices: Array
    visible: Mask


def solid(data: SceneData) -> list[Bundle]:
    """Every body of a scene, in as few bundles as move apart or change apart."""
    return _bundled(list(data.bodies))


def telling(data: SceneData) -> list[Bundle]:
    """What of a second setting is drawn in outline over the first; a tyre is the same one in the air."""
    aloft = {b.name.replace("air_", "tyre_"): b for b in data.bodies if b.name.startswith("air_")}
    made = []
    for bundle in _bundled([body for body in data.bodies if TELLING.match(body.name)]):
        twin, matrices, seen = aloft.get(bundle.name), bundle.matrices, bundle.visible
        if twin is not None:
            matrices = np.where(seen[:, None, None], matrices, twin.matrices)
            seen = seen | seen_where(twin.matrices)
        made.append(Bundle(bundle.name, bundle.mesh, matrices, seen))
    return made


def seen_where(matrices: Array) -> Mask:
    """Where matrices (N, 4, 4) do not make a body vanish (N)."""
    seen: Mask = np.abs(matrices[:, :3, :3]).max(axis=(1, 2)) > 1.001 * AWAY
    return seen


def _bundled(bodies: list[Body]) -> list[Bundle]:
    groups: dict[tuple[bytes, bool], list[Body]] = {}
    for body in bodies:
        key = ((np.round(body.matrices, 6) + 0.0).tobytes(), bool(FITTED.match(body.name)))
        groups.setdefault(key, []).append(body)
    return [
        Bundle(first.name, _merged(tuple(b.mesh for b in group)), first.matrices, seen_where(first.matrices))
        for group in groups.values()
        for first in group[:1]
    ]


@lru_cache(maxsize=192)
def _merged(parts: tuple[Mesh, ...]) -> Mesh:
    return parts[0] if len(parts) == 1 else meshes.merge(*parts)
