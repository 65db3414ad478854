"""`lockarc scenario`: list the built-in scenarios, copy one to start from, print the schema, check a file."""

from __future__ import annotations

import argparse
from typing import Any

from viz.cli.options.outputs import add_wide_argument
from viz.files import Destination, Output, check_targets, write_all
from viz.words.lines import command
from viz.words.terminal import say, warn
from viz.words.width import laid

DESCRIPTION = """\
A scenario file describes a kart, the bushes in its box, named settings and load cases. Copy a
built-in one, change its numbers (its comments say how to measure each) and check it."""

HINT = ("", "What it holds, and every number that is assumed: --tables.")


def add_to(commands: Any) -> None:
    """Add the command and its own commands to the parser."""
    parser = commands.add_parser("scenario", description=DESCRIPTION)
    inner = parser.add_subparsers(metavar="COMMAND", dest="scenario_command", required=True)
    listing = inner.add_parser(
        "list", help="the built-in scenarios", description="Lists the built-in scenarios."
    )
    add_wide_argument(listing)
    listing.set_defaults(run=run_list)
    copy = inner.add_parser(
        "copy",
        help="write a built-in scenario to a file",
        description="Writes a built-in scenario to a new file.",
    )
    copy.add_argument("name", metavar="NAME", help="a name from 'lockarc scenario list'")
    copy.add_argument("file", metavar="FILE", help="where to, for example my-kart.toml")
    copy.add_argument("--overwrite", action="store_true", help="replace the file if it is there already")
    copy.set_defaults(run=run_copy)
    schema = inner.add_parser(
        "schema",
        help="the JSON Schema of a scenario file",
        description="Prints the JSON Schema, for editors.",
    )
    schema.add_argument("--out", metavar="FILE", default="-", help="write it to a file")
    schema.set_defaults(run=run_schema)
    check = inner.add_parser(
        "check",
        help="check a scenario file",
        description="Reads a scenario file and says what is wrong or unusual, how sure its figures are "
        "and what is worth measuring better.",
    )
    check.add_argument("file", metavar="SCENARIO", help="a file, or the name of a built-in scenario")
    says = "what it holds, every band and every assumed number after the answer"
    check.add_argument("--tables", action="store_true", help=says)
    add_wide_argument(check)
    check.set_defaults(run=run_check)


def run_list(arguments: argparse.Namespace) -> int:
    """Print each built-in scenario with its title and settings."""
    import scenarios

    for name in scenarios.builtin_names():
        scenario = scenarios.load(name)
        notes = (f"  {setting}{': ' if note else ''}{note}" for setting, note in scenario.notes.items())
        say(*laid([f"{name}: {scenario.title}", *notes]))
    return 0


def run_copy(arguments: argparse.Namespace) -> int:
    """Copy a built-in scenario to a file."""
    import scenarios

    path = scenarios.copy_builtin(arguments.name, arguments.file, overwrite=arguments.overwrite)
    say(f"{path}: copied from {arguments.name}; now run: {command('sweep', str(path))}")
    return 0


def run_schema(arguments: argparse.Namespace) -> int:
    """Print or write the JSON Schema."""
    import scenarios
    from scenarios.documents.chunks import json_chunks

    target = Destination("--out", arguments.out)
    check_targets([target])
    write_all([Output(target, json_chunks(scenarios.json_schema()))])
    return 0


def run_check(arguments: argparse.Namespace) -> int:
    """Load a scenario, print its warnings and what it holds."""
    import scenarios
    from scenarios.likely.doubts import doubts
    from scenarios.sure.plausible import unlikely
    from scenarios.sure.uneven import uneven
    from viz.tables.doubts import check_answer, doubt_lines

    scenario = scenarios.load(arguments.file)
    warnings = [*scenario.warnings, *unlikely(scenario.resolved), *uneven(scenario.kart)]
    warn(warnings)
    found = doubts(scenario)
    say(*check_answer(scenario, found, len(warnings)))
    if not arguments.tables:
        say(*HINT)
        return 0
    holds = [
        f"Settings: {', '.join(scenario.settings)} (default {scenario.default_setting})",
        f"Load cases: {', '.join(case.name for case in scenario.load_cases)}",
    ]
    say("", *laid(holds), "", *doubt_lines(found))
    return 0
