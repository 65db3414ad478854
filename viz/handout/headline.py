"""The headline table of a hand-out: figures straight ahead, then those of each load case."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from kinematics.figures import kart, turn, wheel
from kinematics.figures.figure import FRONT, Figure, Numbers
from scenarios.documents.run import figure_value
from viz.handout.content import DIFFERENCE, SLOTS, Content
from viz.words.numbers import PAGE, changed, number, short
from viz.words.ways import EITHER, Value, told

STAYS_DOWN = "stays down"
Figures = Mapping[str, Mapping[str, Numbers]]


@dataclass(frozen=True)
class Row:
    """A row: label, unit and the printed number of each slot and of the difference."""

    label: str
    unit: str
    printed: Mapping[str, str]


@dataclass(frozen=True)
class Group:
    """Rows under one heading."""

    heading: str
    rows: tuple[Row, ...]


@dataclass(frozen=True)
class Wanted:
    """A figure in the table with its label; two says what left and right are."""

    figure: Figure
    label: str
    two: Callable[[str], str]

    @property
    def unit(self) -> str:
        """As it is printed."""
        return self.figure.unit.text.replace("deg", "°")


def _wheel(side: str) -> str:
    return "both sides" if side == EITHER else side


def _turn(side: str) -> str:
    return "turning either way" if side == EITHER else f"turning {side}"


STRAIGHT = (
    Wanted(wheel.CASTER, "Caster", _wheel),
    Wanted(wheel.KINGPIN_INCLINATION, "Kingpin inclination", _wheel),
    Wanted(wheel.CAMBER, "Camber", _wheel),
    Wanted(wheel.TOE, "Toe, + toe-in", _wheel),
    Wanted(wheel.CASTER_TRAIL, "Caster trail", _wheel),
    Wanted(wheel.SCRUB, "Scrub radius", _wheel),
    Wanted(wheel.ROD_LENGTH, "Tie rod between joints", _wheel),
    Wanted(kart.JACKING_RIGID, "Inside rear lift of a rigid kart per ° of steer", _turn),
)
IN_A_CASE = (
    Wanted(turn.JACKING, "Load off the inside rear per ° of steer", _turn),
    Wanted(turn.LOAD_AT_LOCK, "Inside rear load at {lock}° of handwheel", _turn),
    Wanted(turn.CLEARANCE_AT_LOCK, "Inside rear off the road at {lock}° of handwheel", _turn),
    Wanted(turn.LIFT_OFF, "Inside rear leaves the road at handwheel", _turn),
    Wanted(turn.CAMBER_AT_LOCK, "Outside front camber at {lock}° of handwheel", _turn),
)


def groups(content: Content) -> list[Group]:
    """The table in order: straight ahead, then each load case that has figures."""
    runs = content.through
    made = [Group("Straight ahead", tuple(_rows(STRAIGHT, {s: r.headline for s, r in runs.items()})))]
    for i, case in enumerate(content.scenario.load_cases):
        figures = {slot: run.cases[i].headline for slot, run in runs.items()}
        lock = short(runs["A"].cases[i].at_deg)
        made.append(Group(f"Load case: {case.name}", tuple(_rows(IN_A_CASE, figures, lock))))
    return [group for group in made if group.rows]


def _rows(wanted: tuple[Wanted, ...], figures: Figures, lock: str = "") -> Iterator[Row]:
    """The rows of what is wanted: both ways as one where they read alike in every setting."""
    for want in wanted:
        by_way = {side: _values(want.figure.name(side), figures) for side in FRONT}
        missing = {side: _missing(want, side, figures) for side in FRONT}
        digits = [want.figure.digits] * len(by_way[FRONT[0]])
        alike = missing[FRONT[0]] == missing[FRONT[1]]
        for side, values in (told(by_way, digits) if alike else by_way).items():
            texts = _printed(want.figure, values, missing.get(side, missing[FRONT[0]]))
            if set(texts.values()) != {PAGE.missing}:
                yield Row(f"{want.label.format(lock=lock)}, {want.two(side)}", want.unit, texts)


def _values(name: str, figures: Figures) -> list[Value]:
    """A figure in every slot, and the difference of two."""
    values = [figure_value(found[name]) for found in figures.values()]
    if len(values) < len(SLOTS):
        return values
    a, b = values
    return [a, b, None if a is None or b is None else b - a]


def _missing(want: Wanted, side: str, figures: Figures) -> dict[str, str]:
    """What stands where a slot has no value: a wheel that stays down is not one that is not known."""
    least = turn.LEAST_LOAD.name(side)
    return {
        slot: STAYS_DOWN if want.figure.may_lack and figure_value(found[least]) is not None else PAGE.missing
        for slot, found in figures.items()
    }


def _printed(figure: Figure, values: Sequence[Value], missing: Mapping[str, str]) -> dict[str, str]:
    slots = dict(zip(missing, values, strict=False))
    printed = {slot: number(v, figure.digits, missing[slot], PAGE) for slot, v in slots.items()}
    if len(slots) == len(SLOTS):
        printed[DIFFERENCE] = changed(figure, values[-1], PAGE)
    return printed
