"""What a standing kart says on screen: loads at the wheels, air under them, attitude, exaggeration."""

from __future__ import annotations

import numpy as np

from kinematics.figures.standing import (
    CROSS_WEIGHT,
    INSIDE_REAR_CLEARANCE,
    INSIDE_REAR_LOAD,
    LATERAL_G,
    LOAD,
    LONGITUDINAL_G,
    TWIST,
)
from kinematics.figures.verdict import STANDS, words
from kinematics.figures.verdict import TIPS as FALLS
from kinematics.frames import Array
from kinematics.lock import Sweep
from kinematics.parts import GRAVITY
from kinematics.stance.equilibrium import RL, RR, Stance
from kinematics.standing.stand import StandingCorner, standing_corners
from viz.scene.attitude import WHEELS, PartMatrices
from viz.scene.data import Label
from viz.scene.words import heading, wheels
from viz.words.numbers import number, told

MM_PER_N = 0.4
"""Length of a load arrow."""
TIPS = "TIPS OVER: no stance in this load case; what is drawn is not how it stands"
ON_TWO = "ON 2 WHEELS: held up by wide treads alone; it is drawn so, and has no numbers"


def stated(times: float) -> str:
    """How much is drawn larger than it is; to be on screen always."""
    if times == 1.0:
        return "drawn to scale: frame twist and air under a wheel are not exaggerated"
    return f"frame twist, roll, ride height and air under a wheel drawn x{times:g}; steer and camber to scale"


def legend() -> str:
    """What arrows and marks mean."""
    return (
        f"arrow: load on a wheel, {number(100.0 / MM_PER_N, 0)} N a grid square     level road, grid 100 mm\n"
        "cross: contact centre     diamond: kingpin axis meets the road     post: wheel off the road\n"
        "+ steer to the left, + camber top outward, both to the road"
    )


def captions(
    sweep: Sweep, standing: Stance, name: str, case_name: str, said: tuple[str, ...]
) -> tuple[str, ...]:
    """Setting, case, handwheel, wheel angles to the road, and a line `said`; one text a lock position (N)."""
    corners = standing_corners(sweep, standing)
    rows = np.degrees(np.stack([sweep.handwheel, *_angles(corners)], axis=-1))
    accelerations = zip(standing.lateral_g, standing.longitudinal_g, rows[:, 0], strict=True)
    cases = [_case(case_name, *there) for there in accelerations]
    return tuple(
        f"{heading(name, row[0])}   {case}\n{last if tips else wheels(*row[1:]) + chr(10) + last}"
        for row, case, last, tips in zip(rows, cases, said, standing.tips, strict=True)
    )


def _angles(corners: tuple[StandingCorner, StandingCorner]) -> tuple[Array, ...]:
    left, right = corners
    return (left.steer, left.camber, -right.steer, right.camber)


def _case(name: str, lateral: float, longitudinal: float, handwheel: float) -> str:
    words = []
    if abs(lateral) >= 0.005:
        to = f"to the {'left' if lateral > 0.0 else 'right'}"
        if abs(handwheel) >= 0.05:
            to = "into the turn" if lateral * handwheel > 0.0 else f"{to}, against the lock"
        words.append(f"{told(LATERAL_G, abs(lateral), sign=False)} {to}")
    if abs(longitudinal) >= 0.005:
        does = "speeding up" if longitudinal > 0.0 else "braking"
        words.append(f"{told(LONGITUDINAL_G, abs(longitudinal), sign=False)} {does}")
    said = " and ".join(words) or "no acceleration"
    return f"load case {name}: {said}" if name else said


def notes(standing: Stance, drawn: PartMatrices) -> tuple[str, ...]:
    """Inside rear, cross weight and twist in a line for each lock position (N)."""
    inside = np.where(drawn.inside_left, RL, RR)
    across = np.arange(len(inside))
    columns = (
        inside,
        drawn.loads[inside, across],
        drawn.clearance[inside, across],
        100.0 * standing.cross_weight,
        np.degrees(standing.twist),
        words(np.ones(len(inside), dtype=bool), standing),
    )
    return tuple(_note(*row) for row in zip(*columns, strict=True))


def _note(inside: int, load: float, clearance: float, cross: float, twist: float, stands: str) -> str:
    if stands != STANDS:
        return TIPS if stands == FALLS else ON_TWO
    side = "left" if inside == RL else "right"
    rear = _air(clearance) if clearance > 0.0 else told(INSIDE_REAR_LOAD, load, sign=False)
    weight = told(CROSS_WEIGHT, cross, sign=False)
    twisted = told(TWIST, twist)
    return f"inside rear ({side}): {rear}   cross weight {weight}   frame twist {twisted}"


def _air(clearance: float) -> str:
    return f"IN THE AIR {told(INSIDE_REAR_CLEARANCE, clearance)}"


def wheel_labels(drawn: PartMatrices, tips: Array) -> list[Label]:
    """Load in N and kg above each arrow's tip (4, N, 3), and the air under a wheel that is off the road."""
    made = []
    for i, name in enumerate(WHEELS):
        role = name.split()[1]
        loads = tuple(_load(name, n, over) for n, over in zip(drawn.loads[i], drawn.tips, strict=True))
        made.append(Label(name, tips[i], role, (0, 24), loads))
        air = zip(drawn.in_the_air[i], drawn.clearance[i], strict=True)
        words = tuple(_air(gap) if off else "" for off, gap in air)
        if any(words):
            made.append(Label("IN THE AIR", tips[i], "air", (0, 58), words))  # over the load of its wheel
    return made


def tipping_labels(drawn: PartMatrices) -> list[Label]:
    """A word in the middle of a kart that tips, or rests on two wheels; nothing where it stands."""
    made = []
    for word, where in (("TIPS OVER", drawn.fallen), ("ON 2 WHEELS", drawn.tips & ~drawn.fallen)):
        if where.any():
            texts = tuple(word if over else "" for over in where)
            made.append(Label(word, drawn.centres.mean(axis=0), "air", (0, 0), texts))
    return made


def _load(name: str, newton: float, over: bool) -> str:
    if over:
        return name
    return f"{name}\n{told(LOAD, newton, sign=False)}  {number(newton / GRAVITY, 1)} kg"
