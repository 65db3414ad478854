"""Who carries the kart: from behind and above, four loads and the diagonal that takes the most of them.

Turned, the wheels of one diagonal carry more than those of the other; where the inside rear carries nothing
the kart stands on that diagonal and one wheel more.
"""

from __future__ import annotations

from math import degrees

import numpy as np

from kinematics.frames import Array, Mask
from kinematics.lock import Sweep
from kinematics.parts import GRAVITY
from viz.scene.arrows import feet, lengths
from viz.scene.attitude import PartMatrices
from viz.scene.camera import from_behind
from viz.scene.data import Label, Story
from viz.scene.stories.ground import STRAIGHT, diagonal, shadows
from viz.scene.stories.wheels import INSIDE_FRONT, NAMES, OUTSIDE_REAR, InTurn
from viz.scene.words import heading
from viz.words.numbers import number


def rear(sweep: Sweep, drawn: PartMatrices, name: str, case_name: str) -> Story:
    """The story of a sweep's kart as it is drawn in a stance of its lock positions (N)."""
    wheels, stands = InTurn(drawn), ~drawn.tips
    turned = np.abs(sweep.handwheel) > STRAIGHT
    return Story(
        cameras={"rear": from_behind(sweep.kart)},
        bodies=(*shadows(sweep.kart, drawn), diagonal(wheels, stands & turned)),
        labels=_labels(sweep, wheels, stands),
        captions=_captions(sweep, wheels, stands, name, case_name),
        hides=("axis", "axis_point", "contact"),
    )


def _labels(sweep: Sweep, wheels: InTurn, stands: Mask) -> tuple[Label, ...]:
    """At each wheel its part in the turn and what it carries, over the tip of its arrow."""
    drawn = wheels.drawn
    tips = feet(sweep.kart, drawn)
    tips[..., 2] = np.where(drawn.tips, 60.0, lengths(drawn)) + 45.0
    made = []
    for place, which in enumerate(NAMES):
        loads, air = wheels.of(drawn.loads, place), wheels.of(drawn.clearance, place)
        texts = [_carries(which, *row) for row in zip(loads, air, stands, strict=True)]
        made.append(Label(texts[0], wheels.of(tips, place), "load", (0, 8), tuple(texts)))
    return tuple(made)


def _carries(which: str, load: float, air: float, stands: bool) -> str:
    if not stands:
        return which
    if air > 0.0:
        return f"{which}: {number(air, 1)} mm of air"
    return f"{which}: {number(load / GRAVITY, 1)} kg"


def _captions(sweep: Sweep, wheels: InTurn, stands: Mask, name: str, case_name: str) -> tuple[str, ...]:
    share = _share(wheels)
    made = []
    for angle, there, part in zip(sweep.handwheel, stands, share, strict=True):
        said = f"inside front and outside rear carry {number(100.0 * part, 0)} % of the kart"
        said = said if there else "it does not stand on its wheels"
        made.append(f"{said}\n{heading(name, degrees(angle))}   {case_name}")
    return tuple(made)


def _share(wheels: InTurn) -> Array:
    """Of the weight on the diagonal from the inside front to the outside rear wheel (N,), 0..1."""
    loads = wheels.drawn.loads
    both = wheels.of(loads, INSIDE_FRONT) + wheels.of(loads, OUTSIDE_REAR)
    share: Array = both / np.sum(loads, axis=0)
    return share
