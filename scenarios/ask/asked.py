"""What is asked of a scenario: which of its settings, what is typed over one, which lock and load cases."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import chain, count
from typing import TYPE_CHECKING, Any

from scenarios.ask.chassis import kart_text
from scenarios.ask.chassis import table_text as kart_said
from scenarios.ask.typed import AS_GIVEN, Tables, corner_text, table_text, typed_setting
from scenarios.errors import Refusal, suggestion

if TYPE_CHECKING:
    from scenarios import Scenario

LONGEST_NAME = 17
"""So many characters of what was typed make a name; a heading above two columns has room for no more."""


@dataclass(frozen=True)
class Typed:
    """Corner tables typed for both corners and over that for each, and what is typed of the whole kart.

    None where nothing is.
    """

    both: Tables | None = None
    left: Tables | None = None
    right: Tables | None = None
    based_on: str | None = None
    """The setting over which all that is laid; None: over concentric bushes, over the default setting where
    no corner is typed."""
    kart: Tables | None = None

    def __bool__(self) -> bool:
        return any(table is not None for table in (self.both, self.left, self.right, self.kart))

    @property
    def words(self) -> str:
        """What was typed, as a name: 'top 2 at 180 hub 5', 'left top 3 at 225'."""
        sides = {"": self.both, "left ": self.left, "right ": self.right}
        said = [f"{side}{table_text(table)}" for side, table in sides.items() if table]
        text = " ".join([*said, *([kart_said(self.kart)] if self.kart else [])])
        return text.replace(",", " ").replace("=", " ").replace("@", " at ")


@dataclass(frozen=True)
class Question:
    """What is asked, by name and not yet looked up; what is left out is as the scenario has it."""

    source: str | None = None
    settings: Sequence[str | Typed] = ()
    """Named or typed, in the order in which they are told."""
    lock_deg: tuple[float, float] | None = None
    positions: int | None = None
    cases: Sequence[str] = ()


@dataclass(frozen=True)
class Asked:
    """The scenario as it is to be run, typed setting and lock in it, and which settings and cases of it."""

    scenario: Scenario
    settings: Sequence[str]
    cases: Sequence[str]
    at_deg: float | None = None
    """Where an earlier run read its figures at lock, deg; None: not said."""


def usual(scenario: Scenario) -> Asked:
    """What is run of a scenario where nothing is asked: its default setting in every load case."""
    return Asked(scenario, (scenario.default_setting,), tuple(case.name for case in scenario.load_cases))


def asked(question: Question, start: Asked) -> Asked:
    """What a question chooses of a start; refused, one line, where the scenario does not have it."""
    import scenarios

    scenario, inputs, names = start.scenario, dict(start.scenario.resolved), start.settings
    if question.settings:
        fitted = _fitted(scenario, question.settings)
        names, inputs["setting"] = tuple(fitted), {**inputs["setting"], **fitted}
    cases = tuple(dict.fromkeys(question.cases)) or start.cases
    for case in cases:
        check_named(scenario, case, "load case", [c["name"] for c in inputs["load_case"]])
    inputs["sweep"] = _lock(question, inputs["sweep"])
    if inputs != scenario.resolved:
        scenario = scenarios.from_mapping(inputs, scenario.source, scenario.name)
    return Asked(scenario, names, cases, start.at_deg)


def _fitted(scenario: Scenario, asked_for: Sequence[str | Typed]) -> dict[str, Tables]:
    """The tables of settings named and typed, by name, in order.

    One typed setting is 'as given'; several are called by what was typed, or numbered where that is too long
    for a name, or taken.
    """
    known, lone = scenario.resolved["setting"], sum(isinstance(one, Typed) for one in asked_for) == 1
    taken = {one for one in asked_for if isinstance(one, str)} if lone else set(known)
    numbered = (f"{AS_GIVEN} {n}" for n in count(2 if lone else 1))
    found: dict[str, Tables] = {}
    for one in asked_for:
        if isinstance(one, Typed):
            wanted = AS_GIVEN if lone else one.words
            short = [wanted] if len(wanted) <= LONGEST_NAME else []
            name = next(name for name in chain(short, numbered) if name not in taken)
            found[name] = _table(scenario, one, known)
            taken.add(name)
        else:
            check_named(scenario, one)
            found[one] = known[one]
    return found


def _table(scenario: Scenario, typed: Typed, known: Mapping[str, Tables]) -> Tables:
    """The table of a typed setting."""
    if typed.based_on is not None:
        check_named(scenario, typed.based_on)
    whole_alone = typed.both is typed.left is typed.right is None
    based_on = scenario.default_setting if typed.based_on is None and whole_alone else typed.based_on
    base = None if based_on is None else known[based_on]
    return typed_setting(base, typed.both, typed.left, typed.right, typed.kart)


def check_named(
    scenario: Scenario, name: str, kind: str = "setting", known: Iterable[str] | None = None
) -> None:
    """Refuse a name that the scenario does not have among its settings, or among those known of a kind."""
    there = scenario.settings if known is None else known
    if name not in there:
        raise Refusal(f"{scenario.source}: {kind} '{name}' is unknown{suggestion(name, there)}")


def _lock(question: Question, table: dict[str, Any]) -> dict[str, Any]:
    lock = dict(table)
    if question.lock_deg is not None:
        lock["handwheel_from_deg"], lock["handwheel_to_deg"] = question.lock_deg
    if question.positions is not None:
        lock["positions"] = question.positions
    return lock


def concerning(scenario: Scenario, names: Iterable[str]) -> list[str]:
    """The scenario's warnings that concern the kart as a whole or one of the settings named."""
    own = tuple(f"setting.{name}:" for name in names)
    return [w for w in scenario.warnings if not w.startswith("setting.") or w.startswith(own)]


def typed(
    scenario: Scenario,
    name: str,
    both: str = "",
    left: str = "",
    right: str = "",
    based_on: str | None = None,
    kart: str = "",
) -> Scenario:
    """The scenario with one more setting, its corners typed like 'top=2@180,bottom=1.5mm@0,hub=5'.

    kart is what is changed on the whole of it, like 'axle=5,rear-track=10,ballast=5@600/-200/150'. What is
    not typed stays as in the setting based_on; without one it is concentric, unmoved and kept, or where no
    corner is typed as in the default setting. A Refusal, one line, says what cannot be read or built.
    """
    import scenarios

    both_, left_, right_ = (corner_text(text) if text else None for text in (both, left, right))
    said = Typed(both_, left_, right_, based_on, kart_text(kart) if kart else None)
    inputs = scenario.resolved
    settings = {**inputs["setting"], name: _table(scenario, said, inputs["setting"])}
    return scenarios.from_mapping({**inputs, "setting": settings}, scenario.source, scenario.name)
