"""The numbers on the page: headline figures straight ahead, and columns through lock as the kart stands.

Every number comes from the solver; here it gets a name, a label, a unit and a number of decimals. None
stands where there is no value.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np

from kinematics.figures import kart, standing, wheel
from kinematics.figures.figure import DEG, Figure, Given
from kinematics.figures.read import headline
from kinematics.frames import Array
from kinematics.stance.standing import StandingCorner, inside_rear_clearance, inside_rear_load
from viz.browser.solving import Stood
from viz.page.charts import Chart, sides


@dataclass(frozen=True)
class Quantity:
    """How a quantity is shown: its name as in exports, label, unit as printed, decimals."""

    name: str
    label: str
    unit: str
    decimals: int


@dataclass(frozen=True)
class Through:
    """A quantity through lock: how it is shown and where it is read, in the unit shown."""

    shown: Quantity
    of: Callable[[Stood], Array]


def _shown(figure: Figure, label: str, side: str = "") -> Quantity:
    unit = "°" if figure.unit is DEG else figure.unit.text
    return Quantity(
        figure.name(side), f"{label}, {side.replace('_', ' ')}" if side else label, unit, figure.digits
    )


_HEADLINE = (
    (wheel.CASTER, "Caster"),
    (wheel.KINGPIN_INCLINATION, "Kingpin inclination"),
    (wheel.CAMBER, "Camber"),
    (wheel.TOE, "Toe (+ in)"),
    (wheel.CASTER_TRAIL, "Caster trail"),
    (wheel.SCRUB, "Scrub radius"),
    (wheel.ROD_LENGTH, "Tie rod"),
)
HEADLINE = (
    *(_shown(figure, label, side) for figure, label in _HEADLINE for side in figure.sides),
    _shown(kart.TOE_TOTAL_MM, "Toe of both (+ in)"),
)
"""Straight ahead, the frame held still: names of kinematics.figures.read.headline."""


def _of_corner(
    index: int, read: Callable[[StandingCorner], Array], sign: float = 1.0
) -> Callable[[Stood], Array]:
    return lambda solved: sign * read(solved.corners[index])


def _load(wheel: int) -> Callable[[Stood], Array]:
    return lambda solved: solved.standing.loads[..., wheel]


def _both(
    figure: Figure, label: str, read: Callable[[StandingCorner], Array], mirrored: bool = False
) -> Iterator[Through]:
    """The same angle, read in deg, at both front wheels."""
    for i, side in enumerate(figure.sides):
        yield Through(_shown(figure, label, side), _of_corner(i, read, -1.0 if mirrored and i else 1.0))


THROUGH = (
    *_both(standing.STANDING_STEER, "Steer (+ left)", lambda c: np.degrees(c.steer), mirrored=True),
    *_both(standing.STANDING_CAMBER, "Camber", lambda c: np.degrees(c.camber)),
    Through(_shown(wheel.WHEEL_DROP, "Wheel drop", "left"), lambda s: s.sweep.left.wheel_drop),
    Through(_shown(wheel.WHEEL_DROP, "Wheel drop", "right"), lambda s: s.sweep.right.wheel_drop),
    Through(_shown(wheel.CASTER_TRAIL, "Caster trail", "left"), lambda s: s.sweep.left.trail),
    Through(_shown(wheel.CASTER_TRAIL, "Caster trail", "right"), lambda s: s.sweep.right.trail),
    *(Through(_shown(standing.LOAD, "Load", side), _load(i)) for i, side in enumerate(standing.LOAD.sides)),
    Through(
        _shown(standing.INSIDE_REAR_LOAD, "Load, inside rear"),
        lambda s: inside_rear_load(s.sweep, s.standing),
    ),
    Through(
        _shown(standing.INSIDE_REAR_CLEARANCE, "Inside rear off the road"),
        lambda s: inside_rear_clearance(s.sweep, s.standing),
    ),
    Through(_shown(standing.TWIST, "Frame twist"), lambda s: np.degrees(s.standing.twist)),
)
"""Through lock, as the kart stands in the load case; drop and trail with the frame held still."""

CHARTS = (
    Chart("camber", "Camber to the road", "°", sides("standing_camber", "deg")),
    Chart("drop", "Wheel drop from straight ahead", "mm", sides("wheel_drop", "mm")),
    Chart("load", "Load on the inside rear wheel", "N", (("inside_rear_load_n", "", "plain"),)),
    Chart("trail", "Caster trail, frame held still", "mm", sides("caster_trail", "mm")),
)
"""What is drawn against lock; every column is one of THROUGH."""


def headline_values(solved: Stood) -> dict[str, float | None]:
    """The headline figures by name."""
    figures = headline(solved.ahead, Given(solved.toe_diameter_mm))
    return {s.name: float(figures[s.name].values) if figures[s.name].known else None for s in HEADLINE}


def through_values(solved: Stood) -> dict[str, list[float | None]]:
    """Every column through lock by name, one value for each lock position."""
    shown = solved.shown.tolist()
    return {
        through.shown.name: [
            value if known else None for value, known in zip(through.of(solved).tolist(), shown, strict=True)
        ]
        for through in THROUGH
    }
