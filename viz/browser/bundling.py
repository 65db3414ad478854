"""A scene's bodies as the page draws them: what always moves and shows as one is one body.

In a browser every body costs a draw call, so that fewer and larger ones move sooner. What is fitted (bushes
and kingpins) stays apart from what the kart alone shapes, so that a bush change sends little.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import lru_cache
from typing import Any

import numpy as np

from kinematics.frames import Array, Mask
from viz.scene import meshes
from viz.scene.data import KEPT_CLEAR, Body, SceneData, Seen
from viz.scene.meshes import Mesh, corners

EVERYWHERE = Seen()
NOTHING = np.zeros((0, 3))
FITTED = ("bushes", "kingpin")
TELLING = ("stub", "wheel", "rod", *FITTED, "tyre", "axis")
"""Roles that tell one setting from another: all of the second setting that is drawn over the first."""


@dataclass(frozen=True, eq=False)
class Bundle:
    """Bodies that move as one: a mesh, its matrices (N, 4, 4), and where it is to be seen (N)."""

    name: str
    mesh: Mesh
    matrices: Array
    visible: Mask
    seen: Seen = EVERYWHERE
    opacity: float = 1.0
    clear: Array = field(default_factory=lambda: NOTHING)
    """Corners (n, 3) of the boxes, eight each, round what words keep off."""


def solid(data: SceneData) -> list[Bundle]:
    """Every body of a scene and its stories, in as few bundles as move apart, show apart or change apart."""
    return _bundled(data.told_bodies())


def alone(data: SceneData, views: tuple[str, ...]) -> list[Bundle]:
    """What is seen from some views of a scene, for these alone."""
    seen = [(body, where.among(views)) for body, where in data.told_bodies()]
    return _bundled([(body, where) for body, where in seen if where is not None])


def telling(data: SceneData) -> list[Bundle]:
    """What of a second setting is drawn in outline over the first.

    An outline has no colour: a tyre that changes colour in the air is one and the same.
    """
    shown: dict[tuple[int, bytes], Body] = {}
    for body in data.bodies:
        if body.role in TELLING:
            key = (id(body.mesh.vertices), body.matrices.tobytes())
            twin = shown.get(key, body)
            shown[key] = replace(twin, visible=twin.visible | body.visible)
    return _bundled([(body, EVERYWHERE) for body in shown.values()])


def _bundled(bodies: list[tuple[Body, Seen]]) -> list[Bundle]:
    groups: dict[Any, list[Body]] = {}
    for body, seen in bodies:
        moves = (np.round(body.matrices, 6) + 0.0).tobytes()
        opacity = 1.0 if body.role == "second" else body.opacity
        key = moves, body.visible.tobytes(), body.role in FITTED, seen, opacity
        groups.setdefault(key, []).append(body)
    return [
        Bundle(
            first.name,
            _merged(tuple(b.mesh for b in group)),
            first.matrices,
            first.visible,
            seen=key[3],
            opacity=key[4],
            clear=np.concatenate([NOTHING, *(corners(b.mesh) for b in group if b.role in KEPT_CLEAR)]),
        )
        for key, group in groups.items()
        for first in group[:1]
    ]


@lru_cache(maxsize=192)
def _merged(parts: tuple[Mesh, ...]) -> Mesh:
    return parts[0] if len(parts) == 1 else meshes.merge(*parts)
