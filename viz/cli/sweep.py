"""`lockarc sweep`: headline figures and the table through lock, and the same as JSON, CSV or a plot."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from dataclasses import dataclass
from math import degrees
from textwrap import wrap
from typing import TYPE_CHECKING, Any

from scenarios.ask.typed import HELP
from scenarios.errors import Refusal
from viz.cli.asked import add_case_argument, add_run_arguments, chosen, concerning
from viz.cli.outputs import PLOT_SUFFIXES, add_output_arguments, output_targets
from viz.files import Output, Target, check_suffix, write_all
from viz.words.terminal import warn

if TYPE_CHECKING:
    from scenarios import Scenario
    from scenarios.ask.run import Run

DESCRIPTION = """\
Sweeps the handwheel through lock and prints a headline block and a table for each setting.
Without any argument it runs the built-in training kart as delivered."""


def add_to(commands: Any) -> None:
    """Add the command to the parser."""
    parser = commands.add_parser(
        "sweep", help="what lock does: headline figures and a table", description=DESCRIPTION, epilog=HELP
    )
    add_run_arguments(parser)
    add_case_argument(parser)
    output = parser.add_argument_group("output")
    output.add_argument("--all-rows", action="store_true", help="every lock position in the table")
    add_output_arguments(
        output,
        "columns, figures and all inputs as JSON",
        "one row a lock position as CSV",
        "curves through lock",
    )
    parser.set_defaults(run=run)


def run(arguments: argparse.Namespace) -> int:
    """Check where output may go, compute, prepare every output, then write and print."""
    targets = output_targets(arguments)
    choice = chosen(arguments)
    at_deg = choice.at_deg if arguments.at is None else abs(arguments.at)
    _check_lock(choice.scenario, at_deg)
    from scenarios.ask import run as asked

    runs = [asked.run(choice.scenario, name, choice.cases, at_deg) for name in choice.settings]
    ready = Ready(choice.scenario, runs, at_deg, arguments.dark)
    outputs = [Output(target, _content(target, ready)) for target in targets]
    warn(concerning(choice.scenario.warnings, choice.settings))
    write_all(outputs)
    if not any(target.to_stdout for target in targets):
        print("\n".join(report(ready, arguments.case, arguments.all_rows)))
    return 0


@dataclass(frozen=True)
class Ready:
    """What has been computed, ready to be written and printed."""

    scenario: Scenario
    runs: Sequence[Run]
    at_deg: float | None
    dark: bool = False


def _check_lock(scenario: Scenario, at_deg: float | None) -> None:
    stop = degrees(scenario.kart.column.stop)
    if at_deg is not None and at_deg > stop + 1e-9:
        raise Refusal(
            f"{scenario.source}: --at {at_deg:g} deg is beyond the mechanical stop of ±{stop:g} deg"
        )


def _content(target: Target, ready: Ready) -> bytes:
    from scenarios.documents.run import csv_bytes, document, json_bytes

    if target.option == "--json":
        return json_bytes(document(ready.scenario, ready.runs, ready.at_deg))
    if target.option == "--csv":
        return csv_bytes(ready.runs)
    from viz.plots.lock import figure_bytes, lock_figure

    figure = lock_figure(ready.scenario.title, ready.runs, ready.dark)
    return figure_bytes(figure, check_suffix(target, PLOT_SUFFIXES))


def report(ready: Ready, cases: Sequence[str] = (), all_rows: bool = False) -> list[str]:
    """What the command prints: headline figures, then for each setting its tables through lock.

    cases name the load cases whose table is shown; without any it is the first one's.
    """
    from scenarios.ask.run import lock_read_at
    from viz.tables import cases as tables_cases
    from viz.tables import headline as tables
    from viz.tables import lock as tables_lock
    from viz.tables.grid import WIDTH

    scenario = ready.scenario
    lines = [*wrap(f"{scenario.title} ({scenario.source})", WIDTH), "", *tables.headline(ready.runs)]
    for run in ready.runs:
        lines += ["", *_fitted(scenario, run), tables.binding_line(run, scenario.kart), ""]
        lines += tables_lock.geometry_table(run, all_rows)
        lines += ["", *tables_cases.case_summary(run, lock_read_at(scenario, ready.at_deg))]
        for case in [c for c in run.cases if c.name in cases] or run.cases[:1]:
            lines += ["", *wrap(f"{run.name}, load case {case.name}:", WIDTH)]
            lines += tables_lock.standing_table(run, case, all_rows)
    legends = {
        "Geometry": tables_lock.GEOMETRY_LEGEND,
        "Load cases": tables_cases.LEGEND,
        "In a load case": tables_lock.STANDING_LEGEND,
    }
    for title, legend in legends.items():
        lines += ["", f"{title}:", *legend]
    return lines


def _fitted(scenario: Scenario, run: Run) -> list[str]:
    from viz.tables import headline as tables
    from viz.tables.grid import WIDTH

    fitted = scenario.resolved["setting"][run.name]
    lines = wrap(f"{run.name}: {fitted['note']}" if fitted["note"] else run.name, WIDTH)
    lines += [tables.fitted_line(scenario, run.name, side) for side in ("left", "right")]
    if fitted["rear_axle_shift_mm"]:
        lines.append(f"rear axle moved {fitted['rear_axle_shift_mm']:+g} mm in the frame, + up")
    return lines
