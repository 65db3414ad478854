"""The headline table of a hand-out: figures straight ahead, then those of each load case."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from kinematics.figures.figure import Numbers
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
    """A figure in the table: its name with {} for left or right, label, unit.

    two says what left and right are; turned marks the handwheel angle of lift-off: it has the other sign to
    the right, and a turn that the case knows may lack it, then the wheel stays down.
    """

    name: str
    label: str
    unit: str
    two: Callable[[str], str]
    turned: bool = False


def _wheel(side: str) -> str:
    return "both sides" if side == "both" else side


def _turn(side: str) -> str:
    return "turning either way" if side == "both" else f"turning {side}"


STRAIGHT = (
    Wanted("caster_{}_deg", "Caster", "°", _wheel),
    Wanted("kingpin_inclination_{}_deg", "Kingpin inclination", "°", _wheel),
    Wanted("camber_{}_deg", "Camber", "°", _wheel),
    Wanted("toe_{}_deg", "Toe, + toe-in", "°", _wheel),
    Wanted("caster_trail_{}_mm", "Caster trail", "mm", _wheel),
    Wanted("scrub_{}_mm", "Scrub radius", "mm", _wheel),
    Wanted("rod_length_{}_mm", "Tie rod between joints", "mm", _wheel),
    Wanted("jacking_rate_{}_mm_per_deg", "Inside rear lift of a rigid kart per ° of steer", "mm/°", _turn),
)
IN_A_CASE = (
    Wanted("jacking_rate_{}_n_per_deg", "Load off the inside rear per ° of steer", "N/°", _turn),
    Wanted("inside_rear_load_at_lock_{}_n", "Inside rear load at full range", "N", _turn),
    Wanted("inside_rear_clearance_at_lock_{}_mm", "Inside rear off the road at full range", "mm", _turn),
    Wanted("lift_off_handwheel_{}_deg", "Inside rear leaves the road at handwheel", "°", _turn, True),
    Wanted("outside_front_camber_at_lock_{}_deg", "Outside front camber at full range", "°", _turn),
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
        digits = figures["A"][want.name.format("left")].address.figure.digits
        left, right = (_values(want.name.format(side), figures) for side in ("left", "right"))
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
    least = f"least_inside_rear_load_{side}_n"
    return {
        slot: STAYS_DOWN if want.turned and figure_value(found[least]) is not None else PAGE.missing
        for slot, found in figures.items()
    }


def _printed(digits: int, values: Mapping[str, float | None], missing: Mapping[str, str]) -> dict[str, str]:
    printed = {slot: number(v, digits, missing[slot], PAGE) for slot, v in values.items()}
    if len(values) == len(SLOTS):
        printed[DIFFERENCE] = difference(values["A"], values["B"], digits)
    return printed
