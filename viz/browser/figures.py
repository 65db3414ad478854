"""The numbers on the page: headline figures straight ahead, and columns through lock as the kart stands.

Every number comes from the solver; here it gets a name, a label, a unit and a number of decimals. None
stands where there is no value.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from kinematics.figures.figure import Given
from kinematics.figures.read import headline
from kinematics.frames import Array
from kinematics.stance.standing import StandingCorner, inside_rear_clearance, inside_rear_load
from viz.browser.solving import Solved
from viz.words.numbers import decimals


@dataclass(frozen=True)
class Shown:
    """How a quantity is shown: its name as in exports, label, unit as printed, decimals."""

    name: str
    label: str
    unit: str
    decimals: int


@dataclass(frozen=True)
class Through:
    """A quantity through lock: how it is shown and where it is read, in the unit shown."""

    shown: Shown
    of: Callable[[Solved], Array]


def _shown(name: str, unit: str, label: str) -> Shown:
    return Shown(name, label, "°" if unit == "deg" else unit, decimals(name, unit))


_HEADLINE = (
    ("caster", "deg", "Caster"),
    ("kingpin_inclination", "deg", "Kingpin inclination"),
    ("camber", "deg", "Camber"),
    ("toe", "deg", "Toe (+ in)"),
    ("caster_trail", "mm", "Caster trail"),
    ("scrub", "mm", "Scrub radius"),
    ("rod_length", "mm", "Tie rod"),
)
HEADLINE = (
    *(
        _shown(f"{name}_{side}_{unit}", unit, f"{label}, {side}")
        for name, unit, label in _HEADLINE
        for side in ("left", "right")
    ),
    _shown("toe_total_mm", "mm", "Toe of both (+ in)"),
)
"""Straight ahead, the frame held still: names of kinematics.figures.columns.headline."""


def _of_corner(
    index: int, read: Callable[[StandingCorner], Array], sign: float = 1.0
) -> Callable[[Solved], Array]:
    return lambda solved: sign * read(solved.corners[index])


def _load(wheel: int) -> Callable[[Solved], Array]:
    return lambda solved: solved.standing.loads[..., wheel]


def _both(
    name: str, label: str, read: Callable[[StandingCorner], Array], mirrored: bool = False
) -> tuple[Through, Through]:
    """The same angle, read in deg, at both front wheels."""
    signs = (1.0, -1.0 if mirrored else 1.0)
    left, right = (
        Through(_shown(f"{name}_{side}_deg", "deg", f"{label}, {side}"), _of_corner(i, read, signs[i]))
        for i, side in enumerate(("left", "right"))
    )
    return left, right


THROUGH = (
    *_both("standing_steer", "Steer (+ left)", lambda c: np.degrees(c.steer), mirrored=True),
    *_both("standing_camber", "Camber", lambda c: np.degrees(c.camber)),
    Through(_shown("wheel_drop_left_mm", "mm", "Wheel drop, left"), lambda s: s.sweep.left.wheel_drop),
    Through(_shown("wheel_drop_right_mm", "mm", "Wheel drop, right"), lambda s: s.sweep.right.wheel_drop),
    Through(_shown("caster_trail_left_mm", "mm", "Caster trail, left"), lambda s: s.sweep.left.trail),
    Through(_shown("caster_trail_right_mm", "mm", "Caster trail, right"), lambda s: s.sweep.right.trail),
    Through(_shown("load_front_left_n", "N", "Load, front left"), _load(0)),
    Through(_shown("load_front_right_n", "N", "Load, front right"), _load(1)),
    Through(_shown("load_rear_left_n", "N", "Load, rear left"), _load(2)),
    Through(_shown("load_rear_right_n", "N", "Load, rear right"), _load(3)),
    Through(
        _shown("inside_rear_load_n", "N", "Load, inside rear"),
        lambda s: inside_rear_load(s.sweep, s.standing),
    ),
    Through(
        _shown("inside_rear_clearance_mm", "mm", "Inside rear off the road"),
        lambda s: inside_rear_clearance(s.sweep, s.standing),
    ),
    Through(_shown("twist_deg", "deg", "Frame twist"), lambda s: np.degrees(s.standing.twist)),
)
"""Through lock, as the kart stands in the load case; drop and trail with the frame held still."""


def headline_values(solved: Solved) -> dict[str, float | None]:
    """The headline figures by name."""
    figures = headline(solved.ahead, Given(solved.toe_diameter_mm))
    return {s.name: float(figures[s.name].values) if figures[s.name].known else None for s in HEADLINE}


def through_values(solved: Solved) -> dict[str, list[float | None]]:
    """Every column through lock by name, one value for each lock position."""
    shown = solved.shown.tolist()
    return {
        through.shown.name: [
            value if known else None for value, known in zip(through.of(solved).tolist(), shown, strict=True)
        ]
        for through in THROUGH
    }
