"""The charts of a hand-out, drawn as the browser page draws its own, with one for each load case."""

from __future__ import annotations

from dataclasses import dataclass

from kinematics.figures import standing, wheel
from kinematics.figures.figure import Numbers
from scenarios.ask.run import Run
from scenarios.documents.run import column_values
from viz.handout.content import Content
from viz.page.charts import Chart, curves, draw

GEOMETRY = (
    Chart("camber", "Camber, + top outward", "°", curves(wheel.CAMBER)),
    Chart("drop", "Wheel drop from straight ahead, + down", "mm", curves(wheel.WHEEL_DROP)),
    Chart("trail", "Caster trail", "mm", curves(wheel.CASTER_TRAIL)),
)


@dataclass(frozen=True)
class Drawn:
    """A chart as SVG text with the title that stands over it."""

    title: str
    svg: str


def charts(content: Content) -> list[Drawn]:
    """Camber, wheel drop and trail, then the load on the inside rear wheel in every load case."""
    lock = list(content.through["A"].handwheel_deg)
    geometry = [_drawn(chart, lock, content, None) for chart in GEOMETRY]
    cases = enumerate(content.scenario.load_cases)
    return geometry + [_drawn(_load_chart(i, case.name), lock, content, i) for i, case in cases]


def _load_chart(i: int, case: str) -> Chart:
    return Chart(f"load{i}", f"Inside rear load: {case}", "N", curves(standing.INSIDE_REAR_LOAD))


def _drawn(chart: Chart, lock: list[float], content: Content, case: int | None) -> Drawn:
    through = {
        slot: {name: column_values(_column(run, name, case)) for name, _, _ in chart.curves}
        for slot, run in content.through.items()
    }
    return Drawn(f"{chart.title} ({chart.unit})", draw(chart, lock, through))


def _column(run: Run, name: str, case: int | None) -> Numbers:
    return run.columns[name] if case is None else run.cases[case].columns[name]
