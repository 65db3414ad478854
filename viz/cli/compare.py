"""`lockarc compare`: settings against a base, what each upsets, and the work that puts it right."""

from __future__ import annotations

import argparse
from math import degrees
from typing import TYPE_CHECKING, Any

from scenarios.ask.typed import AS_GIVEN, HELP
from scenarios.errors import Refusal
from viz.cli.asked import add_case_argument, add_run_arguments, concerning
from viz.cli.outputs import PLOT_SUFFIXES, add_output_arguments, output_targets
from viz.cli.present import ask
from viz.files import Output, Target, check_suffix, write_all
from viz.words.terminal import warn

if TYPE_CHECKING:
    from scenarios.ask.compare import Compared
    from viz.cli.asked import Choice

DESCRIPTION = """\
Sets settings against a base: headline figures side by side, what each change upsets (toe, ride
height, track, wheelbase, corner weights) with the turns and moves that put it right, and the
differences through lock. Tie rods left alone and toe re-set are both told."""


def add_to(commands: Any) -> None:
    """Add the command to the parser."""
    parser = commands.add_parser(
        "compare",
        help="settings against a base, and what each change upsets",
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
    targets = output_targets(arguments)
    choice, base, names = _asked(arguments)
    at_deg = choice.at_deg if arguments.at is None else abs(arguments.at)
    check_lock(choice, at_deg)
    from scenarios.ask.compare import compare
    from viz.tables.compare import report

    compared = compare(choice.scenario, base, names, choice.cases, at_deg)
    outputs = [Output(target, _content(target, compared, arguments)) for target in targets]
    lines = report(compared, arguments.rods)
    warn(concerning(choice.scenario.warnings, [base, *names]))
    write_all(outputs)
    if not any(target.to_stdout for target in targets):
        print("\n".join(lines))
    return 0


def _asked(arguments: argparse.Namespace) -> tuple[Choice, str, list[str]]:
    """The scenario, the base and the settings to set against it."""
    base = [arguments.base] if arguments.base else []
    choice = ask(arguments, [*base, *arguments.setting], arguments.based_on)
    scenario = choice.scenario
    name = arguments.base or scenario.default_setting
    typed = AS_GIVEN in choice.settings
    names = choice.settings if arguments.setting or typed else list(scenario.settings)
    names = [other for other in names if other != name]
    if not names:
        raise Refusal(f"{scenario.source}: there is no other setting to compare with '{name}'")
    return choice, name, names


def check_lock(choice: Choice, at_deg: float | None) -> None:
    """Refuse a lock for figures beyond the mechanical stop."""
    stop = degrees(choice.scenario.kart.column.stop)
    if at_deg is not None and abs(at_deg) > stop + 1e-9:
        raise Refusal(
            f"{choice.scenario.source}: --at {at_deg:g} deg is beyond the mechanical stop of ±{stop:g} deg"
        )


def _content(target: Target, compared: Compared, arguments: argparse.Namespace) -> bytes:
    if target.option == "--plot":
        from viz.plots.compare import compare_figure
        from viz.plots.lock import figure_bytes

        figure = compare_figure(compared, arguments.rods, arguments.dark)
        return figure_bytes(figure, check_suffix(target, PLOT_SUFFIXES))
    from scenarios.documents.compare import csv_bytes, document
    from scenarios.documents.run import json_bytes

    return json_bytes(document(compared)) if target.option == "--json" else csv_bytes(compared)
