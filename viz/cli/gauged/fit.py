"""`lockarc fit`: the kart that readings mean, how sure that is, and which reading to take again."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from itertools import count
from pathlib import Path
from typing import TYPE_CHECKING, Any

from scenarios.ask.asked import Question
from viz.cli.options.asked import ask
from viz.cli.options.outputs import add_wide_argument
from viz.files import Destination, Output, check_suffix, check_targets, write_all
from viz.words.progress import progress_bar
from viz.words.terminal import say, warn

if TYPE_CHECKING:
    from scenarios.gauged.told import FitTold

DESCRIPTION = """\
Fits the numbers of a scenario to readings taken on the kart, on the same model that everything
else is computed with, and says what is now surer, what the readings cannot tell apart, and which
reading does not fit the others and why that may be. --out writes the scenario with the numbers
found and how sure they are: every band that is then computed is as narrow as the readings allow."""
EPILOG = """\
A blank to fill in, what it means, and the same kept:
  lockarc measure my-kart.toml --out readings.csv
  lockarc fit my-kart.toml readings.csv
  lockarc fit my-kart.toml readings.csv --out my-kart-fitted.toml
What the file says of its numbers counts as known from before; --no-prior leaves that out for the
numbers named. A file of readings holds what was read, where, on which setting, with the handwheel
where: 'lockarc measure --all --out all.csv' writes one of every kind."""


def add_to(commands: Any) -> None:
    """Add the command to the parser."""
    parser = commands.add_parser("fit", description=DESCRIPTION, epilog=EPILOG)
    parser.add_argument("scenario", metavar="SCENARIO", help="a scenario file or a built-in name")
    told = "a file of readings, TOML or CSV; left out, of the training kart: an invented example"
    parser.add_argument("readings", metavar="READINGS", nargs="?", help=told)
    group = parser.add_argument_group("what is fitted")
    group.add_argument(
        "--number",
        metavar="NAME",
        action="append",
        default=[],
        help="a number of the scenario by its key; may be repeated; left out: all that are uncertain",
    )
    group.add_argument(
        "--apart", action="store_true", help="left and right corner each for itself: bent or not"
    )
    group.add_argument(
        "--no-prior", action="store_true", help="what the file says of the numbers fitted counts for nothing"
    )
    group.add_argument(
        "--others-exact",
        action="store_true",
        help="what is not fitted counts as exact, not as sure as stated",
    )
    group.add_argument(
        "--forgiving",
        action="store_true",
        help="readings that fit badly count less, and contradict each other",
    )
    output = parser.add_argument_group("output")
    output.add_argument("--out", metavar="FILE", help="the scenario with what was found, a new .toml file")
    output.add_argument("--json", metavar="FILE", help="all that was found; '-' is stdout")
    output.add_argument("--tables", action="store_true", help="every number and every reading")
    add_wide_argument(output)
    parser.set_defaults(run=run)


def run(arguments: argparse.Namespace) -> int:
    """Fit, then write and print."""
    named = [(option, getattr(arguments, option.strip("-"))) for option in ("--out", "--json")]
    targets = [Destination(option, path) for option, path in named if path is not None]
    for target in targets:
        if target.option == "--out":
            check_suffix(target, ("toml",))
    check_targets(targets, [path for path in (arguments.scenario, arguments.readings) if path])
    scenario = ask(Question(arguments.scenario)).scenario
    from scenarios.bundled import example_readings
    from scenarios.gauged.file import readings_of
    from scenarios.gauged.told import told_of
    from viz.tables.gauged.fit import report

    path = example_readings(arguments.scenario) if arguments.readings is None else arguments.readings
    readings = readings_of(Path(path), scenario)
    options = {
        "apart": arguments.apart,
        "prior": not arguments.no_prior,
        "others": not arguments.others_exact,
        "forgiving": arguments.forgiving,
    }
    with progress_bar("karts") as progress:
        done = count(1)
        told = told_of(scenario, readings, arguments.number, options, lambda: progress(next(done), 0))
    write_all([Output(target, _content(target, told)) for target in targets])
    warn(scenario.warnings)
    if not any(target.to_stdout for target in targets):
        after = list(_after([target.path for target in targets if target.option == "--out"]))
        say(*report(told, arguments.tables, after))
    return 0


def _content(target: Destination, told: FitTold) -> Iterator[bytes]:
    from scenarios.documents.chunks import json_chunks
    from scenarios.documents.fit import document
    from scenarios.gauged.written import rewritten

    if target.option == "--json":
        yield from json_chunks(document(told))
    else:
        yield rewritten(told.fit).encode()


def _after(written: list[str]) -> Iterator[str]:
    """What to type next."""
    from viz.words.lines import command, typed_lines
    from viz.words.width import laid

    if written:
        yield from laid([f"  Written to {written[0]}; the old file is as it was. Now:"])
        yield from typed_lines(command("sweep", written[0]), "    ")
    else:
        yield "  To keep it: the same with --out and a new file's name; every number: --tables."
