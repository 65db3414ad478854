"""`lockarc sweep`: headline figures and the table through lock, and the same as JSON, CSV or a plot."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from textwrap import wrap
from typing import TYPE_CHECKING, Any

from viz.cli_run import add_run_arguments, chosen, concerning
from viz.cli_setting import HELP
from viz.output import Output, Target, check_suffix, check_targets, write_all
from viz.terminal import Refusal, warn

if TYPE_CHECKING:
    from scenarios import Scenario
    from viz.payload import Run

DESCRIPTION = """\
Sweeps the handwheel through lock and prints a headline block and a table for each setting.
Without any argument it runs the built-in training kart as delivered."""
PLOT_SUFFIXES = ("png", "svg", "pdf")


def add_to(commands: Any) -> None:
    """Add the command to the parser."""
    parser = commands.add_parser(
        "sweep", help="what lock does: headline figures and a table", description=DESCRIPTION, epilog=HELP
    )
    add_run_arguments(parser)
    output = parser.add_argument_group("output")
    output.add_argument("--all-rows", action="store_true", help="every lock position in the table")
    output.add_argument(
        "--json", metavar="FILE", help="columns, figures and all inputs as JSON; '-' is stdout"
    )
    output.add_argument("--csv", metavar="FILE", help="one row a lock position as CSV; '-' is stdout")
    output.add_argument("--plot", metavar="FILE", help="curves through lock, as .png, .svg or .pdf")
    output.add_argument("--dark", action="store_true", help="the plot on a dark ground")
    parser.set_defaults(run=run)


def run(arguments: argparse.Namespace) -> int:
    """Check where output may go, compute, prepare every output, then write and print."""
    targets = _targets(arguments)
    scenario, names = chosen(arguments)
    from viz.payload import run_setting

    runs = [run_setting(scenario, name) for name in names]
    outputs = [Output(target, _content(target, scenario, runs, arguments.dark)) for target in targets]
    warn(concerning(scenario.warnings, names))
    write_all(outputs)
    if not any(target.to_stdout for target in targets):
        print("\n".join(report(scenario, runs, arguments.all_rows)))
    return 0


def _targets(arguments: argparse.Namespace) -> list[Target]:
    given = {option: getattr(arguments, option) for option in ("json", "csv", "plot")}
    targets = [Target(f"--{option}", path) for option, path in given.items() if path is not None]
    for target in targets:
        if target.option == "--plot":
            check_suffix(target, PLOT_SUFFIXES)
    if arguments.dark and arguments.plot is None:
        raise Refusal("--dark needs --plot FILE beside it")
    check_targets(targets, [arguments.scenario] if arguments.scenario else [])
    return targets


def _content(target: Target, scenario: Scenario, runs: list[Run], dark: bool) -> bytes:
    from viz.payload import csv_bytes, document, json_bytes

    if target.option == "--json":
        return json_bytes(document(scenario, runs))
    if target.option == "--csv":
        return csv_bytes(runs)
    from viz.plots import figure_bytes, lock_figure

    return figure_bytes(lock_figure(scenario.title, runs, dark), check_suffix(target, PLOT_SUFFIXES))


def report(scenario: Scenario, runs: Sequence[Run], all_rows: bool = False) -> list[str]:
    """What the command prints: scenario, headline figures, then for each setting its table through lock."""
    from viz import tables

    lines = [f"{scenario.title} ({scenario.source})", "", *tables.headline(runs)]
    for run in runs:
        fitted = scenario.resolved["setting"][run.name]
        lines += ["", *wrap(f"{run.name}: {note}" if (note := fitted["note"]) else run.name, tables.WIDTH)]
        lines += [tables.fitted_line(side, fitted[side]) for side in ("left", "right")]
        if fitted["rear_axle_shift_mm"]:
            lines.append(f"rear axle moved {fitted['rear_axle_shift_mm']:+g} mm in the frame, + up")
        lines += [tables.binding_line(run, scenario.kart), "", *tables.lock_table(run, all_rows)]
    return [*lines, "", *tables.LEGEND]
