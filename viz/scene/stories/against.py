"""A second setting laid over the first in every story of a front end that is held still."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from viz.scene.data import Body, SceneData, Story
from viz.scene.meshes import in_role


def against(first: SceneData, second: SceneData) -> SceneData:
    """The stories of a setting with what a second one's say in comparison laid over them.

    Both scenes are of one kart; the second is shown at the lock position nearest to the first's.
    """
    index = np.array([second.nearest(angle) for angle in first.handwheel_deg])
    pairs = zip(first.stories, second.stories, strict=True)
    return replace(first, stories=tuple(_over(one, other, second, index) for one, other in pairs))


def _over(one: Story, other: Story, second: SceneData, index: np.ndarray) -> Story:
    known = {body.name: body for body in (*second.bodies, *other.bodies)}
    bodies = [
        Body(
            f"B {name}",
            in_role(known[name].mesh, "second"),
            known[name].matrices[index],
            "second",
            known[name].opacity,
        )
        for name in other.over
    ]
    words = [
        replace(
            label,
            text=f"B: {label.text}",
            points=label.points[index],
            role="second",
            texts=tuple(f"B: {label.texts[i]}" for i in index) if label.texts else (),
        )
        for label in other.said_over
    ]
    captions = tuple(f"{caption}; B {second.name}" for caption in one.captions)
    return replace(one, bodies=(*one.bodies, *bodies), labels=(*one.labels, *words), captions=captions)
