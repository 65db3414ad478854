"""What one visitor has chosen: settings A and B and their bushes, load case, twist drawn, readings typed.

Choices are frozen; a change is a small mapping from the page, checked here, that makes new choices. What a
change asks for in numbers is checked by the scenario itself, with the same words as in a file.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from math import isfinite
from typing import Any

from scenarios import Scenario, ScenarioError, from_mapping
from scenarios.errors import Refusal
from scenarios.gauged.record import Reading
from scenarios.kit import PLACES, SIDES, Size, called, offset_mm, size_keys
from scenarios.schema.changes import AT_A_CORNER, CHANGES
from viz.browser.chosen import readings
from viz.browser.chosen.wording import plain

Tables = dict[str, Any]
SLOTS = ("A", "B")
BY_KEY = {one.key: one for one in CHANGES}
BY_KEY_AT_A_CORNER = {one.key: one for one in AT_A_CORNER}
RODS = ("tie_rod_length_mm", "tie_rod_toe_deg")
"""What a corner says of its tie rod, one of them; without either the rod is kept as it was."""
TWISTS = (1, 3, 5, 10)
"""How many times the frame's twist may be drawn."""


class ChoiceError(Refusal):
    """A change, or a query, that cannot be made; one line for the visitor."""


@dataclass(frozen=True)
class Slot:
    """What stands in A or B: the setting it started from and its table as in a scenario file."""

    name: str
    table: Mapping[str, Any]
    edited: bool = False

    @property
    def title(self) -> str:
        """The name shown: whether all is still as the setting has it."""
        return f"{self.name}, edited" if self.edited else self.name


@dataclass(frozen=True)
class Choices:
    """Everything one visitor has chosen."""

    scenario: Scenario
    a: Slot
    b: Slot
    case: int = 0
    twist: int = 1
    readings: tuple[Reading, ...] = ()
    """Of the real kart, each with its value."""

    def slot(self, name: str) -> Slot:
        """Slot A or B."""
        return self.a if one_of(name, SLOTS, "slot") == "A" else self.b


def start(scenario: Scenario, names: Sequence[str] = ()) -> Choices:
    """The choices of a new visitor: the first two settings named, or the default one and the next."""
    wanted = [
        *names,
        scenario.default_setting,
        *(n for n in scenario.settings if n != scenario.default_setting),
    ]
    first = wanted[0]
    second = next((name for name in wanted[1:] if name != first), first)
    return Choices(scenario, fitted(scenario, first), fitted(scenario, second))


def fitted(scenario: Scenario, name: str) -> Slot:
    """A slot with one of the scenario's settings in it."""
    return Slot(name, scenario.resolved["setting"][one_of(name, scenario.settings, "setting")])


def one_of(value: object, allowed: Sequence[Any] | Mapping[str, Any], what: str) -> Any:
    """The value, when it is one of those allowed; else a ChoiceError that names them."""
    if isinstance(value, (str, int, float)) and value in allowed:
        return value
    raise ChoiceError(f"{what}: {value!r} is not one of {', '.join(str(a) for a in allowed)}")


def number(value: object, what: str, unit: str) -> float:
    """A finite number from the page, or a ChoiceError."""
    if isinstance(value, (int, float)) and not isinstance(value, bool) and isfinite(value):
        return float(value)
    raise ChoiceError(f"{what}: {value!r} is not a number in {unit}")


def changed(choices: Choices, change: Mapping[str, Any]) -> Choices:
    """The choices after one change from the page; a ChoiceError leaves the old ones in force."""
    kind = one_of(change.get("kind"), _CHANGES, "change")
    new = _CHANGES[kind](choices, change)
    compared(new)
    return new


def told(change: Mapping[str, Any]) -> str:
    """A change in a few words, in those of the page: 'top bush of A'."""
    slot, kind = change.get("slot"), change.get("kind")
    if kind == "bush":
        return f"{change.get('seat')} bush of {slot}"
    if kind in ("corner", "kart"):
        told = {**BY_KEY, **BY_KEY_AT_A_CORNER}[str(change.get("key"))].told
        return f"{told}, of {slot}"
    return f"{_TOLD.get(str(kind), '')} {slot or ''}".strip()


_TOLD = {
    "rod": "tie rods of",
    "toe": "toe of",
    "ballast": "ballast of",
    "setting": "setting",
    "copy": "copy into",
    **readings.TOLD,
}


def compared(choices: Choices) -> Scenario:
    """The scenario whose settings are A and B as chosen, checked as a file would be."""
    tables = {"A": dict(choices.a.table), "B": dict(choices.b.table)}
    mapping = {**choices.scenario.resolved, "setting": tables, "default_setting": "A"}
    try:
        return from_mapping(mapping, "this page", choices.scenario.name)
    except ScenarioError as error:
        raise ChoiceError(plain(str(error))) from None


def _with_slot(choices: Choices, name: str, slot: Slot) -> Choices:
    return replace(choices, a=slot) if name == "A" else replace(choices, b=slot)


def with_table(choices: Choices, name: str, table: Tables) -> Choices:
    """The choices with a table in slot A or B; one that is as the file has it is not edited."""
    slot = choices.slot(name)
    edited = table != choices.scenario.resolved["setting"][slot.name]
    return _with_slot(choices, name, replace(slot, table=table, edited=edited))


def _setting(choices: Choices, change: Mapping[str, Any]) -> Choices:
    slot = one_of(change.get("slot"), SLOTS, "slot")
    return _with_slot(choices, slot, fitted(choices.scenario, change.get("name", "")))


def _bush(choices: Choices, change: Mapping[str, Any]) -> Choices:
    seat, kart = one_of(change.get("seat"), PLACES, "seat"), choices.scenario.kart
    rated = number(change.get("size_deg"), "bush size", "deg")
    clock = {f"{seat}_clock_deg": number(change.get("clock_deg"), "clock", "deg") % 360.0}
    offset = offset_mm(rated, "deg", kart.left.yoke.span)
    size = called(choices.scenario.kit, offset, Size(offset, rated, "deg"))
    gone = (f"{seat}_rated_deg", f"{seat}_offset_mm", f"{seat}_clock_deg")
    new = {side: size_keys(size, getattr(kart, side).yoke.span, f"{seat}_") | clock for side in SIDES}
    return _edited(choices, change, gone, new)


def _rod(choices: Choices, change: Mapping[str, Any]) -> Choices:
    toe = change.get("toe_deg")
    new = {} if toe is None else {"tie_rod_toe_deg": number(toe, "toe", "deg")}
    return _edited(choices, change, RODS, dict.fromkeys(SIDES, new))


def _toe(choices: Choices, change: Mapping[str, Any]) -> Choices:
    """Both tie rods re-set, each wheel to a toe of its own."""
    toes = {side: {"tie_rod_toe_deg": number(change.get(f"{side}_deg"), "toe", "deg")} for side in SIDES}
    return _edited(choices, {**change, "sides": list(SIDES)}, RODS, toes)


def _corner(choices: Choices, change: Mapping[str, Any]) -> Choices:
    found = one_of(change.get("key"), BY_KEY_AT_A_CORNER, "change of a corner")
    new = {found: number(change.get("value"), found, BY_KEY_AT_A_CORNER[found].unit)}
    return _edited(choices, change, (found,), dict.fromkeys(SIDES, new))


def _kart(choices: Choices, change: Mapping[str, Any]) -> Choices:
    found = one_of(change.get("key"), BY_KEY, "change of the kart")
    return _whole(choices, change, {found: number(change.get("value"), found, BY_KEY[found].unit)})


def _ballast(choices: Choices, change: Mapping[str, Any]) -> Choices:
    """One piece of ballast, which takes the place of what was on; none where its mass is 0."""
    mass, at = number(change.get("mass_kg"), "ballast", "kg"), change.get("at_mm")
    if not isinstance(at, list) or len(at) != 3:
        raise ChoiceError("ballast: give its place as x, y, z in mm")
    place = [number(mm, "ballast's place", "mm") for mm in at]
    return _whole(choices, change, {"ballast": [{"mass_kg": mass, "at_mm": place}] if mass else []})


def _whole(choices: Choices, change: Mapping[str, Any], new: Tables) -> Choices:
    name = one_of(change.get("slot"), SLOTS, "slot")
    return with_table(choices, name, {**choices.slot(name).table, **new})


def _edited(
    choices: Choices, change: Mapping[str, Any], gone: Sequence[str], new: Mapping[str, Tables]
) -> Choices:
    """The choices with keys replaced, by what is new at each side, at the sides that the change names."""
    name = one_of(change.get("slot"), SLOTS, "slot")
    sides = change.get("sides")
    if not isinstance(sides, list) or not sides:
        raise ChoiceError("sides: give left, right or both")
    slot = choices.slot(name)
    named = [one_of(side, SIDES, "side") for side in sides]
    kept = {side: {k: v for k, v in slot.table[side].items() if k not in gone} for side in named}
    corners = {side: {**table, **new[side]} for side, table in kept.items()}
    return with_table(choices, name, {**slot.table, **corners})


def _case(choices: Choices, change: Mapping[str, Any]) -> Choices:
    names = [case.name for case in choices.scenario.load_cases]
    return replace(choices, case=names.index(one_of(change.get("name"), names, "load case")))


def _twist(choices: Choices, change: Mapping[str, Any]) -> Choices:
    return replace(choices, twist=int(one_of(change.get("times"), TWISTS, "twist drawn")))


def _copy(choices: Choices, change: Mapping[str, Any]) -> Choices:
    name = one_of(change.get("slot"), SLOTS, "slot")
    return _with_slot(choices, name, choices.b if name == "A" else choices.a)


def _readings(choices: Choices, change: Mapping[str, Any]) -> Choices:
    return replace(choices, readings=readings.changed(choices.scenario, choices.readings, change))


_CHANGES: dict[str, Callable[[Choices, Mapping[str, Any]], Choices]] = {
    "setting": _setting,
    "bush": _bush,
    "rod": _rod,
    "toe": _toe,
    "corner": _corner,
    "kart": _kart,
    "ballast": _ballast,
    "case": _case,
    "twist": _twist,
    "copy": _copy,
    **dict.fromkeys(readings.TOLD, _readings),
}
