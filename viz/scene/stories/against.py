"""A second setting laid over the first in every story of a front end that is held still."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from kinematics.frames import Array, Mask
from viz.scene.data import Body, Label, SceneData, Story
from viz.scene.meshes import in_role

SAME = 1e-6
"""deg of handwheel; settings are compared at the same lock alone."""


def against(first: SceneData, second: SceneData) -> SceneData:
    """The stories of a setting with what a second one's say in comparison laid over them."""
    stories = [
        replace(
            one,
            bodies=(*one.bodies, *over.bodies),
            labels=(*one.labels, *over.labels),
            captions=tuple(f"{caption}; B {second.name}" for caption in one.captions),
        )
        for one, over in zip(first.stories, comparison(first, second), strict=True)
    ]
    return replace(first, stories=tuple(stories))


def comparison(first: SceneData, second: SceneData) -> tuple[Story, ...]:
    """What the second setting's stories lay over those of the first, alone, at the first's lock positions.

    Both scenes are of one kart; where the second one's linkage does not reach there is nothing of it.
    """
    index = np.array([second.nearest(angle) for angle in first.handwheel_deg])
    there = np.abs(second.handwheel_deg[index] - first.handwheel_deg) < SAME
    return tuple(_over(story, second, index, there) for story in second.stories)


def _over(story: Story, second: SceneData, index: Array, there: Mask) -> Story:
    known = {body.name: body for body in (*second.bodies, *story.bodies)}
    bodies = [
        Body(
            f"B {name}",
            in_role(known[name].mesh, "second"),
            known[name].matrices[index],
            "second",
            known[name].opacity,
            there,
        )
        for name in story.over
    ]
    words = [_said(label, index, there) for label in story.said_over]
    captions = tuple(story.captions[i] for i in index)
    return Story(story.cameras, tuple(bodies), tuple(words), captions)


def _said(label: Label, index: Array, there: Mask) -> Label:
    texts = [label.texts[i] if label.texts else label.text for i in index]
    return replace(
        label,
        text=f"B: {label.text}",
        points=label.points[index],
        role="second",
        texts=tuple(f"B: {text}" if seen else "" for text, seen in zip(texts, there, strict=True)),
    )
