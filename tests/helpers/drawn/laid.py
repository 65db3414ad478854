"""What stands where in a window, and what lies over something else, out of its box, or over the edge."""

from __future__ import annotations

import itertools

from viz.canvas.pane import Pane

ROOM = 1.5
"""Pixels by which letters may lean over their box."""


def faults(stage):
    """Everything that is not where it belongs, in words."""
    stage.prepare()
    window = Pane(0, 0, *stage.layout.size)
    boxes = {k: b for k, b in stage.panel.boxes.items() if b.height > 0.0 and not _unused(stage, k)}
    if stage.help:
        del boxes["scene"]
    found = [f"{key} leaves the window" for key, box in boxes.items() if not box.within(window)]
    found += [f"{key} has no room" for key, box in boxes.items() if box.width < 8.0 or box.height < 8.0]
    found += [f"{a} lies over {b}" for a, b in _over(boxes)]
    for key, text in stage.panel.measured().items():
        if not text.within(boxes[key].shrunk(-ROOM)):
            found.append(f"the text of {key} leaves its box")
    return found + (label_faults(stage) if not stage.help else [])


def label_faults(stage):
    """Labels that lie over each other or the picture's edge, or have found no place."""
    scene = stage.layout.boxes["scene"]
    room = Pane(0, 0, scene.width, scene.height)
    labels = {f"label {i} {text!r}": box for i, (text, box) in enumerate(stage.labels.placed)}
    found = [f"{key} has no place" for key, box in labels.items() if box.width == 0.0]
    found += [
        f"{key} lies over the edge" for key, box in labels.items() if box.width and not box.within(room)
    ]
    return found + [f"{a} lies over {b}" for a, b in _over(labels)]


def _unused(stage, key):
    return key == "chart" and not stage.charted


def _over(boxes):
    pairs = itertools.combinations(boxes.items(), 2)
    return [(a, b) for (a, one), (b, other) in pairs if one.width and other.width and one.over(other)]
