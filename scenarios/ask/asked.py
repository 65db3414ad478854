"""What is asked of a scenario: which of its settings, what is typed over one, which lock and load cases."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from scenarios.ask.typed import AS_GIVEN, Tables, typed_setting
from scenarios.errors import Refusal, suggestion

if TYPE_CHECKING:
    from scenarios import Scenario


@dataclass(frozen=True)
class Typed:
    """Corner tables typed for both corners and over that for each, None where nothing is."""

    both: Tables | None = None
    left: Tables | None = None
    right: Tables | None = None

    def __bool__(self) -> bool:
        return any(table is not None for table in (self.both, self.left, self.right))


@dataclass(frozen=True)
class Question:
    """What is asked, by name and not yet looked up; what is left out is as the scenario has it."""

    source: str | None = None
    settings: Sequence[str] = ()
    typed: Typed = Typed()
    based_on: str | None = None
    """The setting over which the typed corners are laid; None: over concentric bushes."""
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
    if question.settings or question.typed:
        names = tuple(dict.fromkeys(question.settings))
    for name in (*names, *([question.based_on] if question.based_on else [])):
        check_named(scenario, name)
    cases = tuple(dict.fromkeys(question.cases)) or start.cases
    for case in cases:
        check_named(scenario, case, "load case", [c["name"] for c in inputs["load_case"]])
    if question.typed:
        typed, base = question.typed, inputs["setting"][question.based_on] if question.based_on else None
        table = typed_setting(base, typed.both, typed.left, typed.right)
        inputs["setting"] = {**inputs["setting"], AS_GIVEN: table}
        names = (*(n for n in names if n != AS_GIVEN), AS_GIVEN)
    inputs["sweep"] = _lock(question, inputs["sweep"])
    if inputs != scenario.resolved:
        scenario = scenarios.from_mapping(inputs, scenario.source, scenario.name)
    return Asked(scenario, names, cases, start.at_deg)


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
