"""What a search says of itself in plain words."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from kinematics.choose.box import WORK
from kinematics.choose.corners import separable
from kinematics.choose.scan import Scan, Task
from kinematics.choose.targets import Target
from kinematics.figures.scanning import CLOSER
from kinematics.figures.turning import COARSE_SCAN
from kinematics.frames import Array


def notes_on(task: Task, scanned: Scan, each: bool, refined: bool, finest: float) -> tuple[str, ...]:
    """What a search covered and what it did not; each: the corners need not be alike.

    finest is the clock step of the box, rad, 0 where clocks turn freely.
    """
    notes = [
        f"Every pair the box allows was looked at, in clock steps of {np.degrees(task.dial.between):g} deg."
    ]
    if scanned.seen < scanned.total:
        notes = [f"Stopped early: {scanned.seen} of {scanned.total} pairs were looked at."]
    if refined and finest:
        notes.append(
            f"The box's clock step of {np.degrees(finest):g} deg makes more pairs than can all be looked at:"
            " the best of each kind were refined to it. With a coarser clock step every pair is looked at."
        )
    elif refined:
        notes.append("Clocks turn freely: the best of each kind were refined between the steps.")
    if each and not separable(task):
        notes.append(
            "The corners were searched in turns, one held while the other was searched completely: a better"
            " pair of changes at both corners at once is possible and was not looked for."
        )
    best = f"near the best); the best {task.keep} were worked out exactly."
    if scanned.predicted is not None:
        notes.append(
            "Targets in load cases ranked the whole grid by a fitted cubic (root mean square error"
            f" {scanned.predicted:.2g} scales {best}"
        )
    if scanned.coarse is not None:
        notes.append(
            "Figures of lift-off and least load ranked the whole grid read off"
            f" at most {COARSE_SCAN + sum(CLOSER[False])} positions of a turn"
            f" (root mean square error {scanned.coarse:.2g} scales {best}"
        )
    if task.cases and scanned.predicted is None and scanned.coarse is None:
        notes.append("Every figure of every pair was worked out exactly.")
    if any(target.address.figure.may_lack and not target.or_none for target in task.targets):
        notes.append(
            "A pair with which the inside rear stays down to the stop has no lift-off and is left out;"
            " 'or none' behind the range counts it as met."
        )
    return tuple(notes)


def work_words(work: tuple[int, int]) -> str:
    """Work at the left and the right corner in words: both corners alike, or left and right."""
    left, right = (WORK[level] for level in work)
    return f"{left} on both sides" if left == right else f"left: {left}; right: {right}"


def miss_words(targets: Sequence[Target], missed: Array) -> str:
    """By how much each missed target is missed, in its unit; '' when all are reached."""
    return ", ".join(
        f"{target.address.words} by {miss:.3g} {target.address.figure.unit.text}"
        for target, miss in zip(targets, missed.tolist(), strict=True)
        if miss > target.tolerance
    )
