"""What a hand-out says: settings solved for the charts and again at the stops of the slider.

Every number on the page is a column or a figure of the solver's, printed here and nowhere else.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from kinematics.figures import wheel
from kinematics.figures.figure import Numbers
from kinematics.figures.standing import INSIDE_REAR_CLEARANCE, INSIDE_REAR_LOAD, LOAD
from kinematics.figures.verdict import BINDS, MEANINGS, STANDS
from kinematics.parts import LoadCase
from scenarios import Scenario
from scenarios.ask.asked import check_named
from scenarios.ask.run import Run, run
from scenarios.documents.run import column_values
from viz.scene.moment import STOPS, Moment, at_stops, driven, moment
from viz.words.numbers import PAGE, number, signed

SLOTS = ("A", "B")


@dataclass(frozen=True)
class Content:
    """One or two settings of a scenario by slot, A and B, solved."""

    scenario: Scenario
    names: Mapping[str, str]
    """Name of the setting in each slot."""
    through: Mapping[str, Run]
    """At the scenario's own lock positions: the charts and the headline figures."""
    stops: Mapping[str, Run]
    """At the stops of the slider."""
    moment: Moment
    """What is shown first."""

    @property
    def case(self) -> LoadCase:
        """The load case of the pictures."""
        return self.scenario.load_cases[self.moment.case]

    @property
    def lock_deg(self) -> Sequence[float]:
        """Handwheel angles of the stops, deg."""
        return self.stops["A"].handwheel_deg


def solve(
    scenario: Scenario,
    settings: Sequence[str],
    stops: int = STOPS,
    case: str | None = None,
    times: float | None = None,
) -> Content:
    """Solve one setting, or two to compare, at `stops` slider stops as well as the scenario's positions.

    case is the load case of the pictures and times how much larger its leaning is drawn; left out, where
    and as it is seen best. Raises Refusal for a setting or a load case that the scenario lacks, ValueError
    for too many or too few.
    """
    if not 1 <= len(settings) <= len(SLOTS):
        raise ValueError(f"a hand-out shows one or two settings, not {len(settings)}")
    if not 3 <= stops <= 121:
        raise ValueError(f"a hand-out has 3 to 121 slider stops, not {stops}")
    for name in settings:
        check_named(scenario, name)
    cases = [one.name for one in scenario.load_cases]
    if case is not None:
        check_named(scenario, case, "load case", cases)
    names = dict(zip(SLOTS, settings, strict=False))
    through = {slot: run(scenario, name) for slot, name in names.items()}
    leafed = dict(zip(names, at_stops(scenario, settings, stops), strict=True))
    first_shown = moment(leafed, driven(scenario), None if case is None else cases.index(case), times)
    return Content(scenario, names, through, leafed, first_shown)


@dataclass(frozen=True)
class Line:
    """A row of the numbers that follow the slider; each list has one printed number for every stop."""

    label: str
    unit: str
    printed: Mapping[str, Sequence[str]]
    """For each slot, and 'B − A' where there are two."""


_GEOMETRY = (
    (wheel.STEER, "Steer, + left"),
    (wheel.CAMBER, "Camber"),
    (wheel.WHEEL_DROP, "Wheel drop, + down"),
    (wheel.CASTER_TRAIL, "Caster trail"),
    (wheel.SCRUB, "Scrub radius"),
)
DIFFERENCE = "B − A"


def lines(content: Content) -> list[Line]:
    """The numbers that follow the slider: wheels, loads as drawn, the inside rear in every load case."""
    return [*_wheel_lines(content), *_load_lines(content), *_case_lines(content)]


def _wheel_lines(content: Content) -> Iterator[Line]:
    for figure, label in _GEOMETRY:
        for side in figure.sides:
            columns = {s: run.columns[figure.name(side)] for s, run in content.stops.items()}
            yield Line(f"{label}, {side} front", figure.unit.text.replace("deg", "°"), _printed(columns))


def _load_lines(content: Content) -> Iterator[Line]:
    """The load on each wheel in the load case of the pictures."""
    case = content.moment.case
    for place in LOAD.sides:
        columns = {s: run.cases[case].columns[LOAD.name(place)] for s, run in content.stops.items()}
        label = f"Load, {place.replace('_', ' ')}: {content.case.name}"
        yield Line(label, "N", _printed(columns, _stands(content, case)))


def _case_lines(content: Content) -> Iterator[Line]:
    for i, case in enumerate(content.scenario.load_cases):
        for figure, label in (
            (INSIDE_REAR_LOAD, "Inside rear load"),
            (INSIDE_REAR_CLEARANCE, "Inside rear off the road"),
        ):
            columns = {s: run.cases[i].columns[figure.name()] for s, run in content.stops.items()}
            printed = _printed(columns, _stands(content, i))
            if figure is INSIDE_REAR_LOAD or _ever(printed):
                yield Line(f"{label}: {case.name}", figure.unit.text, printed)


def _ever(printed: Mapping[str, Sequence[str]]) -> bool:
    """Whether there is anything but zero at any stop."""
    zero = number(0.0, INSIDE_REAR_CLEARANCE.digits)
    return any(text not in (zero, *MEANINGS, PAGE.missing) for row in printed.values() for text in row)


def _stands(content: Content, case: int) -> dict[str, list[str]]:
    """What stands for a number that is missing in a load case, at each stop of each slot."""
    words = {slot: run.cases[case].stands for slot, run in content.stops.items()}
    return {slot: [PAGE.missing if w == STANDS else w for w in row] for slot, row in words.items()}


def _printed(
    columns: Mapping[str, Numbers], marks: Mapping[str, Sequence[str]] | None = None
) -> dict[str, list[str]]:
    """Every slot's column as text, and the differences of two; marks say why there is no number."""
    values = {slot: column_values(column) for slot, column in columns.items()}
    digits = columns["A"].address.figure.digits
    why = {slot: [BINDS] * len(row) for slot, row in values.items()} if marks is None else marks
    printed = {
        slot: [number(v, digits, mark, PAGE) for v, mark in zip(row, why[slot], strict=True)]
        for slot, row in values.items()
    }
    if len(values) == len(SLOTS):
        pairs = zip(values["A"], values["B"], strict=True)
        printed[DIFFERENCE] = [difference(a, b, digits) for a, b in pairs]
    return printed


def difference(a: float | None, b: float | None, digits: int) -> str:
    """B less A with its sign, '–' where either is missing."""
    return signed(None if a is None or b is None else b - a, digits, hand=PAGE)
