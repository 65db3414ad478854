"""`lockarc measure`: what to read next of a kart, and a blank to write it in."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

from scenarios.ask.asked import Question, concerning
from scenarios.bundled import DEFAULT
from scenarios.errors import Refusal, exact
from viz.cli.options.asked import add_scenario_argument, ask
from viz.cli.options.outputs import add_wide_argument
from viz.cli.options.parser import finite, whole
from viz.files import Destination, Output, check_suffix, check_targets, write_all
from viz.words.lines import command
from viz.words.terminal import say, warn

if TYPE_CHECKING:
    from scenarios import Scenario
    from scenarios.gauged.plan import ReadingPlan
    from scenarios.gauged.record import Reading

DESCRIPTION = """\
Says which readings would narrow an answer most for the minutes they take, in the order in which
they tell most, and writes a blank for them: a file to type them into, or a sheet to take along.
'lockarc fit' then finds the kart that they mean."""
EPILOG = """\
  lockarc measure my-kart.toml
  lockarc measure my-kart.toml --know kart.cog_height_mm --minutes 30 --out readings.csv
  lockarc measure my-kart.toml --know 'inside_rear_load_at_lock_left_n@30@slow corner'
What can be known: a number of the file by its key, or a figure as 'lockarc choose' takes it."""
SUFFIXES = ("toml", "csv", "html", "pdf")
TYPED = "readings.csv"
"""The file that a sheet's readings are typed into."""
MOST_SESSIONS = 200
LONGEST = 480.0
"""Minutes: a working day."""


def add_to(commands: Any) -> None:
    """Add the command to the parser."""
    parser = commands.add_parser("measure", description=DESCRIPTION, epilog=EPILOG)
    add_scenario_argument(parser)
    parser.add_argument(
        "--setting", metavar="NAME", help="what is on the kart; left out: the default setting"
    )
    asked = parser.add_argument_group("question")
    asked.add_argument(
        "--know",
        metavar="WHAT",
        action="append",
        default=[],
        help="what is to be known better; may be repeated; left out: the inside rear in a corner",
    )
    asked.add_argument("--have", metavar="READINGS", help="readings that are taken already, as a file")
    asked.add_argument("--minutes", metavar="N", type=finite, default=30.0, help="of the blank; left out: 30")
    asked.add_argument(
        "--take",
        metavar="N",
        type=whole(1, MOST_SESSIONS),
        action="append",
        default=[],
        help="a session for the blank by its number in --tables, instead of the plan's; may be repeated",
    )
    output = parser.add_argument_group("output")
    output.add_argument("--out", metavar="FILE", help=f"the blank: {', '.join('.' + s for s in SUFFIXES)}")
    output.add_argument("--all", action="store_true", help="a blank, or a table, of all that can be read")
    output.add_argument("--tables", action="store_true", help="every session and what it would tell")
    add_wide_argument(output)
    parser.set_defaults(run=run)


def run(arguments: argparse.Namespace) -> int:
    """Plan, then write the blank and print."""
    targets = [Destination("--out", arguments.out)] if arguments.out else []
    for target in targets:
        check_suffix(target, SUFFIXES)
    check_targets(targets, [path for path in (arguments.scenario, arguments.have) if path])
    named = (arguments.setting,) if arguments.setting else ()
    scenario = ask(Question(arguments.scenario, named)).scenario
    setting = arguments.setting or scenario.default_setting
    from scenarios.gauged.blank import by_setup
    from scenarios.gauged.plan import check_minutes, planned
    from viz.tables.gauged.measure import report

    check_minutes(arguments.minutes)
    taken = _taken(arguments.have, scenario)
    plan = planned(scenario, setting, _asked(arguments.know, scenario), LONGEST, taken)
    warn(concerning(scenario, [setting]))
    readings = by_setup(_chosen(plan, arguments.minutes, arguments.all, arguments.take))
    if targets and not readings:
        raise Refusal(f"--minutes {arguments.minutes:g}: no reading that tells of it fits in; give it more")
    write_all([Output(target, _blank(target, readings, scenario, lines_of(arguments))) for target in targets])
    many = f"{len(readings)} reading{'s'[: len(readings) != 1]}"
    after = [f"  {target.path}: {many} to take" for target in targets]
    say(*report(plan, arguments.minutes, arguments.tables or (arguments.all and not targets), after))
    return 0


def _taken(path: str | None, scenario: Scenario) -> list[Reading]:
    from scenarios.gauged.file import readings_of

    return [] if path is None else [one for one in readings_of(Path(path), scenario) if one.value is not None]


def _asked(known: list[str], scenario: Scenario) -> list[Any]:
    from scenarios.gauged.plan import asked_of

    return asked_of(known, scenario)


def _chosen(plan: ReadingPlan, minutes: float, every: bool, taken: list[int]) -> Iterator[Reading]:
    """The readings of the blank, what tells most first; or of sessions taken by their numbers."""
    sessions = [one for one, *_ in plan.alone]
    for number in taken:
        if number > len(sessions):
            raise Refusal(f"--take {number}: there are {len(sessions)} sessions; --tables lists them")
    if taken:
        sessions = [sessions[number - 1] for number in dict.fromkeys(taken)]
    elif not every:
        sessions = [one.session for one in plan.within(minutes)]
    for session in sessions:
        yield from session.readings


def _blank(
    target: Destination, readings: list[Reading], scenario: Scenario, lines: tuple[str, str]
) -> Iterator[bytes]:
    """The file's pieces; lines are what is typed for the same readings again, and to fit them."""
    from scenarios.gauged.blank import as_csv, as_toml

    suffix = check_suffix(target, SUFFIXES)
    if suffix in ("toml", "csv"):
        yield {"toml": as_toml, "csv": as_csv}[suffix](readings, scenario.title).encode()
        return
    from viz.sheet.blank import blank_sheet
    from viz.sheet.writing import render

    yield render(blank_sheet(scenario, readings, *lines), suffix)


def lines_of(arguments: argparse.Namespace) -> tuple[str, str]:
    """The line that writes the file of the same readings, and the line that fits them."""
    named = ("setting", "have")
    options = {key: getattr(arguments, key) for key in named if getattr(arguments, key) is not None}
    options |= {
        "take": list(map(str, arguments.take)),
        "know": arguments.know,
        "minutes": exact(arguments.minutes),
        "out": TYPED,
    }
    again = command("measure", arguments.scenario, *(["--all"] if arguments.all else []), **options)
    return again, command("fit", arguments.scenario or DEFAULT, TYPED)
