"""Karts as the page draws them: bodies with a matrix for each lock position, labels and cameras."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np

from viz.browser import bundling, packing
from viz.browser.bundling import Bundle
from viz.browser.memory import Memory
from viz.browser.solving import Stood
from viz.scene.data import Label, SceneData, Seen
from viz.scene.scene import OF_A_CORNER
from viz.scene.stories.against import comparison

Told = dict[str, Any]


def kart(name: str, solved: Stood, data: SceneData | None, memory: Memory, meshes: dict[str, Told]) -> Told:
    """The kart of a slot; `at` leads from a lock position to its matrix, -1 for none."""
    at = positions(solved, data)
    if data is None:
        return {**EMPTY, "at": at}
    over = bundling.telling(data) if name == "B" else []
    return {
        **drawn(data, memory, meshes, OF_A_CORNER),
        "at": at,
        "outline": [_told(b, "edges", memory, meshes, OF_A_CORNER) for b in over],
        "notes": list(data.notes),
        "tips": solved.standing.tips.tolist(),
    }


EMPTY: Told = {"at": [], "solid": [], "outline": [], "labels": [], "notes": [], "cameras": {}, "told": {}}


def positions(solved: Stood, data: SceneData | None) -> list[int]:
    """From each lock position to that of a scene, -1 where it has none."""
    at = np.full(len(solved.sweep.handwheel), -1)
    if data is not None:
        at[solved.sweep.reach] = np.arange(data.count)
    return [int(i) for i in at]


def drawn(data: SceneData, memory: Memory, meshes: dict[str, Told], elsewhere: tuple[str, ...] = ()) -> Told:
    """A scene's bodies, labels and cameras, with a matrix for each of its own lock positions.

    elsewhere are views from which another scene is seen in its place.
    """
    return {
        "at": list(range(data.count)),
        "solid": [_told(b, "mesh", memory, meshes, elsewhere) for b in bundling.solid(data)],
        "labels": [_label(label, seen.but(elsewhere), data.count) for label, seen in data.told_labels()],
        "cameras": _cameras(data, data.views),
    }


def corners(solved: Mapping[str, Stood], memory: Memory) -> Told:
    """What is told of the front ends of A and B held still, and of B laid over A, with new meshes."""
    meshes: dict[str, Told] = {}
    is_fresh = memory.outgrown()
    scenes = {name: memory.corner(name, one) for name, one in solved.items()}
    told = {name: _corner(solved[name], data, memory, meshes) for name, data in scenes.items()}
    a, b = scenes.values()
    if a is not None and b is not None:
        over = SceneData("", a.handwheel_deg, (), (), (), "", {}, stories=comparison(a, b))
        told["over"] = _corner(solved["A"], over, memory, meshes)
    return {"corner": told, "meshes": meshes, "fresh": is_fresh}


def _corner(solved: Stood, data: SceneData | None, memory: Memory, meshes: dict[str, Told]) -> Told:
    """What is seen of a scene from the views of a corner alone, with what each says."""
    at = positions(solved, data)
    if data is None:
        return {**EMPTY, "at": at}
    stories = {view: story for story in data.stories for view in story.cameras}
    return {
        **EMPTY,
        "at": at,
        "solid": [_told(b, "mesh", memory, meshes) for b in bundling.alone(data, OF_A_CORNER)],
        "labels": [
            _label(label, where, data.count)
            for label, seen in data.told_labels()
            if (where := seen.among(OF_A_CORNER)) is not None
        ],
        "cameras": _cameras(data, OF_A_CORNER),
        "told": {view: [said.split("\n")[0] for said in one.captions] for view, one in stories.items()},
    }


def _cameras(data: SceneData, views: tuple[str, ...]) -> Told:
    return {view: vars(data.camera(view, data.straight)) for view in views}


_MAKERS = {"mesh": packing.surface, "edges": packing.outline}


def _told(
    bundle: Bundle, what: str, memory: Memory, meshes: dict[str, Told], elsewhere: tuple[str, ...] = ()
) -> Told:
    """A body with the name of its mesh; the mesh itself is added when the page lacks it."""
    name = f"{what}-{packing.digest(bundle.mesh)}"
    if name not in memory.sent:
        meshes[name] = _MAKERS[what](bundle.mesh)
        memory.sent.add(name)
    return {
        "name": bundle.name,
        "moves": packing.moves(bundle.matrices),
        "seen": bundle.visible.astype(np.uint8).tobytes(),
        "views": vars(bundle.seen.but(elsewhere)),
        "opacity": bundle.opacity,
        "clear": bundle.clear.astype("<f4").tobytes(),
        "mesh": name,
    }


def _label(label: Label, seen: Seen, count: int) -> Told:
    """A label with what it says at each lock position; nothing where it is not shown."""
    return {
        "of": label.text,
        "texts": list(label.texts or (label.text,) * count),
        "role": label.role,
        "points": label.points.astype("<f4").tobytes(),
        "shift": label.shift,
        "views": vars(seen),
    }
