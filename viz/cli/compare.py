"""`lockarc compare`: settings against a base, what each upsets, and the work that puts it right."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from scenarios.ask.asked import Asked, concerning
from scenarios.ask.typed import AS_GIVEN, HELP
from scenarios.errors import Refusal
from viz.cli.asked import add_case_argument, add_run_arguments, ask, run_question
from viz.cli.outputs import Content, add_output_arguments, check_at, deliver, outputs_of
from viz.words.progress import progress_bar

if TYPE_CHECKING:
    from matplotlib.figure import Figure

    from scenarios.ask.compare import Compared

DESCRIPTION = """\
Sets settings against a base: headline figures side by side, what each change upsets (toe, ride
height, track, wheelbase, corner weights) with the turns and moves that put it right, and the
differences through lock. Tie rods left alone and toe re-set are both told."""


def add_to(commands: Any) -> None:
    """Add the command to the parser."""
    parser = commands.add_parser(
        "compare",
        description=DESCRIPTION,
        epilog=HELP,
    )
    add_run_arguments(parser)
    add_case_argument(parser)
    parser.add_argument(
        "--from", dest="base", metavar="NAME", help="the base; left out: the scenario's default setting"
    )
    output = parser.add_argument_group("output")
    output.add_argument(
        "--rods",
        choices=("reset", "alone", "spacers"),
        default="reset",
        help="how the kart is left in tables of figures and the plot: toe re-set, tie rods left alone, or "
        "spacers moved and toe re-set; left out: reset",
    )
    add_output_arguments(
        output,
        "every figure and column three ways",
        "one row a setting, way and lock",
        "curves and differences",
    )
    parser.set_defaults(run=run)


def run(arguments: argparse.Namespace) -> int:
    """Check where output may go, compute, prepare every output, then write and print."""
    outputs, question = outputs_of(arguments), run_question(arguments)
    base, way, at_deg = arguments.base, str(arguments.rods), arguments.at
    named = (*([base] if base else []), *question.settings)
    asked = ask(replace(question, settings=named))
    base = base or asked.scenario.default_setting
    names = _against(asked, base, question.settings)
    at_deg = asked.at_deg if at_deg is None else abs(at_deg)
    check_at(asked.scenario, at_deg)
    from scenarios.ask.compare import compare
    from scenarios.documents.chunks import json_chunks
    from scenarios.documents.compare import csv_pieces, document
    from viz.tables.compare import report

    with progress_bar("settings") as progress:
        compared = compare(asked.scenario, base, names, asked.cases, at_deg, progress)
    contents: dict[str, Content] = {
        "--json": lambda: json_chunks(document(compared)),
        "--csv": lambda: csv_pieces(compared),
        "--plot": lambda: _figure(compared, way, outputs.dark),
    }
    warnings = concerning(asked.scenario, [base, *names])
    deliver(outputs, contents, lambda: report(compared, way), warnings)
    return 0


def _against(asked: Asked, base: str, named: Sequence[str]) -> list[str]:
    """The settings to set against the base: those named or typed, or every other one of the scenario."""
    names = asked.settings if named or AS_GIVEN in asked.settings else asked.scenario.settings
    others = [name for name in names if name != base]
    if not others:
        raise Refusal(f"{asked.scenario.source}: there is no other setting to compare with '{base}'")
    return others


def _figure(compared: Compared, way: str, dark: bool) -> Figure:
    from viz.plots.compare import compare_figure

    return compare_figure(compared, way, dark)
