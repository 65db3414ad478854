"""The headline table of a hand-out: figures straight ahead, then those of each load case."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from kinematics.figures import kart, turn, wheel
from kinematics.figures.figure import FRONT, Figure, Numbers
from scenarios.documents.run import figure_value
from viz.handout.content import DIFFERENCE, SLOTS, Content, difference
from viz.words.numbers import PAGE, number

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

    @property
    def turned(self) -> bool:
        """Whether it is the handwheel angle of lift-off.

        That has the other sign to the right, and a turn that the case knows may lack it: it stays down.
        """
        return self.figure.may_lack


def _wheel(side: str) -> str:
    return "both sides" if side == "both" else side


def _turn(side: str) -> str:
    return "turning either way" if side == "both" else f"turning {side}"


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
    Wanted(turn.LOAD_AT_LOCK, "Inside rear load at full range", _turn),
    Wanted(turn.CLEARANCE_AT_LOCK, "Inside rear off the road at full range", _turn),
    Wanted(turn.LIFT_OFF, "Inside rear leaves the road at handwheel", _turn),
    Wanted(turn.CAMBER_AT_LOCK, "Outside front camber at full range", _turn),
)


def groups(content: Content) -> list[Group]:
    """The table in order: straight ahead, then each load case that has figures."""
    runs = content.through
    made = [Group("Straight ahead", tuple(_rows(STRAIGHT, {s: r.headline for s, r in runs.items()})))]
    for i, case in enumerate(content.scenario.load_cases):
        figures = {slot: run.cases[i].headline for slot, run in runs.items()}
        made.append(Group(f"Load case: {case.name}", tuple(_rows(IN_A_CASE, figures))))
    return [group for group in made if group.rows]


def _rows(wanted: tuple[Wanted, ...], figures: Figures) -> Iterator[Row]:
    for want in wanted:
        digits = want.figure.digits
        left, right = (_values(want.figure.name(side), figures) for side in FRONT)
        stays = _stays(want, "right", figures)
        printed = {"left": _printed(digits, left, _stays(want, "left", figures))}
        printed["right"] = _printed(digits, right, stays)
        opposite = {s: None if v is None else -v for s, v in right.items()} if want.turned else right
        if _printed(digits, opposite, stays) == printed["left"]:
            printed = {"both": printed["left"]}
        for side, texts in printed.items():
            if set(texts.values()) != {PAGE.missing}:
                yield Row(f"{want.label}, {want.two(side)}", want.unit, texts)


def _values(name: str, figures: Figures) -> dict[str, float | None]:
    return {slot: figure_value(found[name]) for slot, found in figures.items()}


def _stays(want: Wanted, side: str, figures: Figures) -> dict[str, str]:
    """What stands where a slot has no value: a wheel that stays down is not one that is not known."""
    least = turn.LEAST_LOAD.name(side)
    return {
        slot: STAYS_DOWN if want.turned and figure_value(found[least]) is not None else PAGE.missing
        for slot, found in figures.items()
    }


def _printed(digits: int, values: Mapping[str, float | None], missing: Mapping[str, str]) -> dict[str, str]:
    printed = {slot: number(v, digits, missing[slot], PAGE) for slot, v in values.items()}
    if len(values) == len(SLOTS):
        printed[DIFFERENCE] = difference(values["A"], values["B"], digits)
    return printed
