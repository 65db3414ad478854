"""The numbers on the page: headline figures straight ahead, and columns through lock as the kart stands.

Every number comes from the solver; here it gets a name, a label, a unit and a number of decimals. None
stands where there is no value.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from kinematics.figures.columns import headline
from kinematics.frames import Array
from kinematics.stance.standing import StandingCorner, inside_rear_clearance, inside_rear_load
from viz.browser.solving import Solved
from viz.page.charts import Chart, sides


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


_HEADLINE = (
    ("caster", "deg", "Caster", "°", 2),
    ("kingpin_inclination", "deg", "Kingpin inclination", "°", 2),
    ("camber", "deg", "Camber", "°", 2),
    ("toe", "deg", "Toe (+ in)", "°", 2),
    ("caster_trail", "mm", "Caster trail", "mm", 1),
    ("scrub", "mm", "Scrub radius", "mm", 1),
    ("rod_length", "mm", "Tie rod", "mm", 1),
)
HEADLINE = (
    *(
        Shown(f"{name}_{side}_{unit}", f"{label}, {side}", printed, decimals)
        for name, unit, label, printed, decimals in _HEADLINE
        for side in ("left", "right")
    ),
    Shown("toe_total_mm", "Toe of both (+ in)", "mm", 2),
)
"""Straight ahead, the frame held still: names of kinematics.figures.columns.headline."""


def _of_corner(
    index: int, read: Callable[[StandingCorner], Array], sign: float = 1.0
) -> Callable[[Solved], Array]:
    return lambda solved: sign * read(solved.corners[index])


def _load(wheel: int) -> Callable[[Solved], Array]:
    return lambda solved: solved.standing.loads[..., wheel]


def _both(
    name: str,
    unit: str,
    label: str,
    printed: str,
    decimals: int,
    read: Callable[[StandingCorner], Array],
    mirrored: bool = False,
) -> tuple[Through, Through]:
    """The same quantity at both front wheels."""
    signs = (1.0, -1.0 if mirrored else 1.0)
    left, right = (
        Through(
            Shown(f"{name}_{side}_{unit}", f"{label}, {side}", printed, decimals),
            _of_corner(i, read, signs[i]),
        )
        for i, side in enumerate(("left", "right"))
    )
    return left, right


THROUGH = (
    *_both("standing_steer", "deg", "Steer (+ left)", "°", 2, lambda c: np.degrees(c.steer), mirrored=True),
    *_both("standing_camber", "deg", "Camber", "°", 2, lambda c: np.degrees(c.camber)),
    Through(Shown("wheel_drop_left_mm", "Wheel drop, left", "mm", 2), lambda s: s.sweep.left.wheel_drop),
    Through(Shown("wheel_drop_right_mm", "Wheel drop, right", "mm", 2), lambda s: s.sweep.right.wheel_drop),
    Through(Shown("caster_trail_left_mm", "Caster trail, left", "mm", 1), lambda s: s.sweep.left.trail),
    Through(Shown("caster_trail_right_mm", "Caster trail, right", "mm", 1), lambda s: s.sweep.right.trail),
    Through(Shown("load_front_left_n", "Load, front left", "N", 0), _load(0)),
    Through(Shown("load_front_right_n", "Load, front right", "N", 0), _load(1)),
    Through(Shown("load_rear_left_n", "Load, rear left", "N", 0), _load(2)),
    Through(Shown("load_rear_right_n", "Load, rear right", "N", 0), _load(3)),
    Through(
        Shown("inside_rear_load_n", "Load, inside rear", "N", 0),
        lambda s: inside_rear_load(s.sweep, s.standing),
    ),
    Through(
        Shown("inside_rear_clearance_mm", "Inside rear off the road", "mm", 2),
        lambda s: inside_rear_clearance(s.sweep, s.standing),
    ),
    Through(Shown("twist_deg", "Frame twist", "°", 3), lambda s: np.degrees(s.standing.twist)),
)
"""Through lock, as the kart stands in the load case; drop and trail with the frame held still."""

CHARTS = (
    Chart("camber", "Camber to the road", "°", sides("standing_camber", "deg")),
    Chart("drop", "Wheel drop from straight ahead", "mm", sides("wheel_drop", "mm")),
    Chart("load", "Load on the inside rear wheel", "N", (("inside_rear_load_n", "", "plain"),)),
    Chart("trail", "Caster trail, frame held still", "mm", sides("caster_trail", "mm")),
)
"""What is drawn against lock; every column is one of THROUGH."""


def headline_values(solved: Solved) -> dict[str, float | None]:
    """The headline figures by name."""
    figures = headline(solved.sweep, solved.ahead, solved.toe_diameter_mm)
    return {s.name: float(figures[s.name].value) if figures[s.name].known else None for s in HEADLINE}


def through_values(solved: Solved) -> dict[str, list[float | None]]:
    """Every column through lock by name, one value for each lock position."""
    shown = solved.shown.tolist()
    return {
        through.shown.name: [
            value if known else None for value, known in zip(through.of(solved).tolist(), shown, strict=True)
        ]
        for through in THROUGH
    }
