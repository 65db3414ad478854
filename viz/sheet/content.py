"""A bench sheet put together: from a scenario and two settings to sections in the order of use."""

from __future__ import annotations

from datetime import date
from importlib.metadata import PackageNotFoundError, version

from kinematics.parts import Setting
from scenarios import Scenario
from scenarios.ask.worksheet import Figures, figures
from viz.sheet import bushes, order, words, work
from viz.sheet import readings as read
from viz.sheet.blocks import BLANK, Line, Para, Section, Sheet

PROGRAM = "lockarc"


def sheet_of(scenario: Scenario, base: str | Setting, new: str | Setting, on: date | None = None) -> Sheet:
    """The bench sheet for going from a base setting to a new one, dated on (today when left out).

    Settings are names of the scenario's, or records. Raises ScenarioError, one line, where a name is
    unknown or the kart cannot be put together that way.
    """
    found = figures(scenario, base, new)
    parts, short = bushes.parts(found)
    limits, limit_notes = read.rules(found)
    rule_warnings = [p for p in limit_notes if p.role == "warning"]
    stack, stack_notes = work.spacers(found)
    first = Section(
        "Bushes",
        (work.cautions(), *short, *rule_warnings, bushes.corners(found), bushes.explained(found), parts),
    )
    second = Section(
        "Spacers and tie rods", (stack, *stack_notes, work.rods(found), work.rod_note(found)), True
    )
    third = Section("Order of work", (order.order(found),))
    checks = Section("Before anyone drives", (work.before_driving(),))
    tools = Section("Tools and torques", (work.tools(found),), True)
    measured = Section(
        "Readings to check", (Para((words.STANDING,), "note"), read.ahead(found), read.scales(found))
    )
    plates = Section(
        "Turn plates", (read.on_plates(found), *read.plates_notes(found), read.kingpin(found)), True
    )
    allowed = Section("Rules", (limits, *limit_notes))
    sections = (first, second, third, tools, measured, checks, plates, allowed)
    what = "bushes" if order.turns_bushes(found) else "setting"
    title = f"Bench sheet: change of {what}"
    tab = f"{found.new_name} · {scenario.title} · {title}"
    return Sheet(title, tab, _facts(found, on or date.today()), sections, footer(scenario))


def _facts(found: Figures, on: date) -> tuple[tuple[str, Line], ...]:
    scenario = found.scenario
    facts: list[tuple[str, Line]] = [
        ("Kart", (scenario.title,)),
        ("From setting", (found.base_name,)),
        ("To setting", (found.new_name,)),
    ]
    note = scenario.notes.get(found.new_name, "")
    if note:
        facts.append(("Note", (note,)))
    facts += [("Scenario", (scenario.source,)), ("Printed", (on.isoformat(),)), ("Done by", BLANK)]
    return tuple(facts)


def footer(scenario: Scenario) -> str:
    """What stands under every page: the program and a digest of its inputs."""
    try:
        program = f"{PROGRAM} {version(PROGRAM)}"
    except PackageNotFoundError:
        program = PROGRAM
    return f"{program} · inputs {scenario.digest[:12]}"
