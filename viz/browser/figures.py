"""The numbers on the page: headline figures straight ahead, and columns through lock as the kart stands.

Here a figure gets its label on the page; all else its row says. None stands where there is no value.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from kinematics.figures import kart, standing, wheel
from kinematics.figures.figure import DEG, Figure
from scenarios import Scenario
from viz.browser.solving import Stood, lock_deg
from viz.page.charts import Chart, Shade, Values, curves, draw


@dataclass(frozen=True)
class Quantity:
    """How a figure is shown: its name as in exports, label, unit as printed, decimals."""

    name: str
    label: str
    unit: str
    decimals: int


def _shown(figure: Figure, label: str) -> tuple[Quantity, ...]:
    """A figure with each of its sides."""
    unit = "°" if figure.unit is DEG else figure.unit.text
    named = ((figure.name(s), f"{label}, {s.replace('_', ' ')}" if s else label) for s in figure.sides)
    return tuple(Quantity(name, said, unit, figure.digits) for name, said in named)


HEADLINE = (
    *_shown(wheel.CASTER, "Caster"),
    *_shown(wheel.KINGPIN_INCLINATION, "Kingpin inclination"),
    *_shown(wheel.CAMBER, "Camber"),
    *_shown(wheel.TOE, "Toe (+ in)"),
    *_shown(wheel.CASTER_TRAIL, "Caster trail"),
    *_shown(wheel.SCRUB, "Scrub radius"),
    *_shown(wheel.ROD_LENGTH, "Tie rod"),
    *_shown(kart.TOE_TOTAL_MM, "Toe of both (+ in)"),
)
"""Straight ahead, the frame held still."""
THROUGH = (
    *_shown(standing.STANDING_STEER, "Steer (+ left)"),
    *_shown(standing.STANDING_CAMBER, "Camber"),
    *_shown(wheel.WHEEL_DROP, "Wheel drop"),
    *_shown(wheel.CASTER_TRAIL, "Caster trail"),
    *_shown(standing.LOAD, "Load"),
    *_shown(standing.INSIDE_REAR_LOAD, "Load, inside rear"),
    *_shown(standing.INSIDE_REAR_CLEARANCE, "Inside rear off the road"),
    *_shown(standing.TWIST, "Frame twist"),
)
"""Through lock, as the kart stands in the load case; drop and trail with the frame held still."""

CHARTS = (
    Chart("camber", "Camber to the road", "°", curves(standing.STANDING_CAMBER)),
    Chart("drop", "Wheel drop from straight ahead", "mm", curves(wheel.WHEEL_DROP)),
    Chart("load", "Load on the inside rear wheel", "N", curves(standing.INSIDE_REAR_LOAD)),
    Chart("trail", "Caster trail, frame held still", "mm", curves(wheel.CASTER_TRAIL)),
    Chart("air", "Air under the inside rear wheel", "mm", curves(standing.INSIDE_REAR_CLEARANCE)),
    Chart("steer", "Steer of the front wheels", "°", curves(standing.STANDING_STEER)),
    Chart("twist", "Frame twist", "°", curves(standing.TWIST)),
)
"""What is drawn against lock; every column is one of THROUGH."""

CHARTS_FIRST = ("camber", "drop", "load", "trail")
"""What of it is shown until others are asked for."""


def drawn(
    scenario: Scenario,
    through: Mapping[str, Mapping[str, Values]],
    shades: Mapping[str, Mapping[str, Shade]] | None = None,
) -> dict[str, str]:
    """Every chart by its key, with the columns of A and B through lock and their shades, if any."""
    lock = lock_deg(scenario).tolist()
    return {chart.key: draw(chart, lock, through, shades) for chart in CHARTS}


def headline_values(stood: Stood) -> dict[str, float | None]:
    """The headline figures by name."""
    found = stood.solved.headline
    return {q.name: float(found[q.name].values) if found[q.name].known else None for q in HEADLINE}


def through_values(stood: Stood) -> dict[str, list[float | None]]:
    """Every column through lock by name, one value for each lock position."""
    columns = {**stood.solved.columns, **stood.solved.case_columns[stood.case.name]}
    shown = stood.shown.tolist()
    return {
        q.name: [
            value if ok else None for value, ok in zip(columns[q.name].values.tolist(), shown, strict=True)
        ]
        for q in THROUGH
    }
