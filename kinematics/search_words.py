"""What a search says of itself in plain words."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from kinematics.frames import Array
from kinematics.search_box import WORK
from kinematics.search_each import separable
from kinematics.search_scan import Scan, Task
from kinematics.targets import Target

UNIT_WORDS = {"n": "N", "nm": "N·m"}


def notes_on(task: Task, scanned: Scan, each: bool, refined: bool) -> tuple[str, ...]:
    """What a search covered and what it did not; each: the corners need not be alike."""
    step = np.degrees(task.step)
    notes = [f"Every pair the box allows was looked at, in clock steps of {step:g} deg."]
    if scanned.seen < scanned.total:
        notes = [f"Stopped early: {scanned.seen} of {scanned.total} pairs were looked at."]
    if refined:
        notes.append("Clocks turn freely: the best of each kind were refined between the steps.")
    if each and not separable(task):
        notes.append(
            "The corners were searched in turns, one held while the other was searched completely: a better"
            " pair of changes at both corners at once is possible and was not looked for."
        )
    if scanned.prediction > 0.0:
        notes.append(
            "Targets in load cases ranked the whole grid by a fitted cubic (root mean square error"
            f" {scanned.prediction:.2g} scales near the best); the best {task.keep} were worked out exactly."
        )
    return tuple(notes)


def work_words(work: tuple[int, int]) -> str:
    """Work at the left and the right corner in words: both corners alike, or left and right."""
    left, right = (WORK[level] for level in work)
    return f"{left} on both sides" if left == right else f"left: {left}; right: {right}"


def miss_words(targets: Sequence[Target], missed: Array) -> str:
    """By how much each missed target is missed, in its unit; '' when all are reached."""
    return ", ".join(
        f"{target.figure} by {miss:.3g} {UNIT_WORDS.get(unit, unit)}"
        for target, miss in zip(targets, missed.tolist(), strict=True)
        if miss > target.tolerance
        for unit in [target.figure.name.rsplit("_", 1)[-1]]
    )
