"""`lockarc sweep`: headline figures and the table through lock, and the same as JSON, CSV or a plot."""

from __future__ import annotations

import argparse
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache, partial
from typing import TYPE_CHECKING, Any

from scenarios.ask.asked import Asked, concerning
from viz.cli.options.asked import TYPED, add_case_argument, add_run_arguments, ask, run_question
from viz.cli.options.outputs import (
    Content,
    add_answer_arguments,
    add_output_arguments,
    as_data,
    check_at,
    deliver,
    outputs_of,
    shades,
    worked_out,
)
from viz.words.progress import progress_bar

if TYPE_CHECKING:
    from matplotlib.figure import Figure

    from scenarios import Scenario
    from scenarios.ask.answer import FirstAnswer
    from scenarios.ask.run import Run

DESCRIPTION = """\
Says in a few lines what a setting is, what steering takes off the inside rear wheel and where that
wheel leaves the road in each corner, and how sure that is; with --tables every figure through lock.
Without any argument it is about the built-in training kart as delivered."""

HINT = ("", "Every figure through lock: --tables. What a figure means: lockarc columns.")


def add_to(commands: Any) -> None:
    """Add the command to the parser."""
    parser = commands.add_parser("sweep", description=DESCRIPTION, epilog=TYPED)
    add_run_arguments(parser)
    add_case_argument(parser)
    output = parser.add_argument_group("output")
    add_answer_arguments(output)
    output.add_argument("--all-rows", action="store_true", help="every lock position in the tables")
    add_output_arguments(
        output,
        "columns, figures and all inputs as JSON",
        "one row a lock position as CSV",
        "curves through lock",
    )
    parser.set_defaults(run=run)


def run(arguments: argparse.Namespace) -> int:
    """Check where output may go, compute, prepare every output, then write and print."""
    outputs, question = outputs_of(arguments), run_question(arguments)
    at_deg, all_rows = arguments.at, bool(arguments.all_rows)
    asked = ask(question)
    scenario, at_deg = asked.scenario, asked.at_deg if at_deg is None else abs(at_deg)
    check_at(scenario, at_deg)
    from scenarios.ask import run as solved
    from scenarios.documents.chunks import json_chunks
    from scenarios.documents.run import csv_pieces, document

    solved.check_amount(scenario, len(asked.settings), len(asked.cases))
    runs = [solved.run(scenario, name, asked.cases, at_deg) for name in asked.settings]
    tables, sure = bool(arguments.tables), arguments.sure != "none"
    answered = cache(partial(_answered, asked, at_deg, sure))

    contents: dict[str, Content] = {
        "--json": lambda: json_chunks(
            {**document(scenario, runs, at_deg), "first_answer": as_data(answered, sure)}
        ),
        "--csv": lambda: csv_pieces(runs),
        "--plot": lambda: _figure(scenario, runs, answered() if sure else None, outputs.dark),
    }
    told = Report(scenario, runs, question.cases, all_rows)
    if tables or outputs.targets:
        with progress_bar("settings") as progress:
            for done, one in enumerate(runs, 1):
                one.work_out(columns=bool(outputs.targets))
                progress(done, len(runs))

    def printed() -> Iterator[str]:
        yield from first_answer(answered(), sure, tables)
        yield from ["", *report(told)] if tables else HINT

    deliver(outputs, contents, printed, concerning(scenario, asked.settings))
    return 0


def _answered(asked: Asked, at_deg: float | None, sure: bool) -> FirstAnswer:
    from scenarios.ask.answer import FEW, answer

    few = FEW if sure else 1
    return worked_out(
        lambda pulse: answer(asked.scenario, asked.settings, asked.cases, at_deg, few, pulse=pulse)
    )


def first_answer(told: FirstAnswer, sure: bool, tables: bool = False) -> Iterator[str]:
    """What is said first of each setting; with tables, the table of its bands."""
    from viz.tables.answer import sweep_answer
    from viz.tables.bands import bands_table
    from viz.words.width import headed, laid

    scenario, names = told.scenario, told.found.lineup.names
    for name in names:
        whose = headed(scenario.title, scenario.source, f": {name}")
        yield from ["", *laid([whose])][name == names[0] :]
        yield from sweep_answer(told, name, sure)
        if tables and sure:
            yield from ["", *bands_table(told, name)]


def _figure(scenario: Scenario, runs: Sequence[Run], told: FirstAnswer | None, dark: bool) -> Figure:
    from viz.plots.lock import columns_drawn, lock_figure

    if told is None:
        return lock_figure(scenario.title, runs, dark)
    case = runs[0].cases[0].case if runs[0].cases else None
    drawn = columns_drawn(case is not None)
    bands = shades([run.name for run in runs], lambda name: told.found.columns(name, case, drawn))
    return lock_figure(scenario.title, runs, dark, bands)


@dataclass(frozen=True)
class Report:
    """What the command prints of its runs."""

    scenario: Scenario
    runs: Sequence[Run]
    cases: Sequence[str] = ()
    """The load cases whose table is shown; without any it is the first one's."""
    all_rows: bool = False


def report(told: Report) -> Iterator[str]:
    """What the command prints: headline figures, then for each setting its tables through lock."""
    from viz.tables import cases as tables_cases
    from viz.tables import headline as tables
    from viz.tables import lock as tables_lock
    from viz.words.width import filled

    scenario, all_rows = told.scenario, told.all_rows
    yield from [*filled(f"{scenario.title} ({scenario.source})"), "", *tables.headline(told.runs)]
    for run in told.runs:
        yield from ["", *_fitted(scenario, run), *filled(tables.binding_line(run, scenario.kart)), ""]
        yield from tables_lock.geometry_table(run, all_rows)
        yield from ["", *tables_cases.case_summary(run)]
        for case in [c for c in run.cases if c.name in told.cases] or run.cases[:1]:
            yield from ["", *filled(f"{run.name}, load case {case.name}:")]
            yield from tables_lock.standing_table(run, case, all_rows)
    legends = {
        "Geometry": tables_lock.GEOMETRY_LEGEND,
        "Load cases": tables_cases.LEGEND,
        "In a load case": tables_lock.STANDING_LEGEND,
    }
    for title, legend in legends.items():
        yield from ["", f"{title}:", *filled(legend)]


def _fitted(scenario: Scenario, run: Run) -> list[str]:
    from scenarios.schema.changes import changes_told
    from viz.tables import headline as tables
    from viz.words.width import filled, laid

    fitted = scenario.resolved["setting"][run.name]
    lines = filled(f"{run.name}: {fitted['note']}" if fitted["note"] else run.name)
    return lines + laid(
        [
            *(tables.fitted_line(scenario, run.name, side) for side in ("left", "right")),
            *changes_told(fitted),
        ]
    )
