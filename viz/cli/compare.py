"""`lockarc compare`: settings against a base, what each upsets, and the work that puts it right."""

from __future__ import annotations

import argparse
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from functools import cache, partial
from typing import TYPE_CHECKING, Any

from scenarios.ask.asked import Asked, Typed, concerning
from scenarios.errors import Refusal
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

    from scenarios.ask.answer import FirstAnswer
    from scenarios.ask.compare import Compared

DESCRIPTION = """\
Sets settings against a base, of one kart or with --other-kart of another, and says in a few lines
what gets lighter, earlier and heavier, by how much and how sure that is, what must be set again and
which reading checks it. With --tables headline figures side by side, what each change upsets (toe,
ride height, track, wheelbase, corner weights) with the turns and moves that put it right, and the
differences through lock."""

OF_ONE_KART = ("tables", "rods", "json", "csv", "plot")
"""Options that tell of settings of one kart."""
HINT = ("", "Every figure three ways: --tables. What a figure means: lockarc columns.")


def add_to(commands: Any) -> None:
    """Add the command to the parser."""
    parser = commands.add_parser(
        "compare",
        description=DESCRIPTION,
        epilog=TYPED,
    )
    add_run_arguments(parser)
    add_case_argument(parser)
    parser.add_argument(
        "--from", dest="base", metavar="NAME", help="the base; left out: the scenario's default setting"
    )
    parser.add_argument(
        "--other-kart",
        metavar="SCENARIO",
        help="another kart, a file or a built-in one: its default setting, or those named and typed, against "
        "this kart's base; a number that both files have alike and say the same of is taken to be off "
        "alike on both karts, any other on each by itself",
    )
    output = parser.add_argument_group("output")
    output.add_argument(
        "--rods",
        choices=("reset", "alone", "spacers"),
        default="reset",
        help="how the kart is left in tables of figures and the plot: toe re-set, tie rods left alone, or "
        "spacers moved and toe re-set; left out: reset",
    )
    add_answer_arguments(output)
    add_output_arguments(
        output,
        "every figure and column three ways",
        "one row a setting, way and lock",
        "curves and differences",
    )
    parser.set_defaults(run=run)


def run(arguments: argparse.Namespace) -> int:
    """Compare settings of one kart, or of two."""
    return run_one(arguments) if arguments.other_kart is None else run_two(arguments)


def run_two(arguments: argparse.Namespace) -> int:
    """The first answer of one kart against another; what tells of one kart alone is refused."""
    for option in OF_ONE_KART:
        if option in vars(arguments).get("_given", ()) or getattr(arguments, option) is True:
            raise Refusal(f"--{option} is of one kart: with --other-kart only the first answer is told")
    question, base = replace(run_question(arguments), cases=()), arguments.base
    one = ask(replace(question, settings=(base,) if base else ()))
    other = ask(replace(question, source=arguments.other_kart))
    from scenarios.ask.answer import FEW
    from scenarios.ask.facing import Side, facing

    names = other.settings if question.settings else (other.scenario.default_setting,)
    sides = Side(one.scenario, (base or one.scenario.default_setting,)), Side(other.scenario, names)
    for side in sides:
        check_at(side.scenario, arguments.at)
    told, sure = facing(*sides, tuple(dict.fromkeys(arguments.case))), arguments.sure != "none"
    warnings = [
        f"{side.scenario.source}: {one}" for side in sides for one in concerning(side.scenario, side.names)
    ]
    at_deg = None if arguments.at is None else abs(arguments.at)
    answered = worked_out(lambda pulse: told.answer(at_deg, FEW if sure else 1, pulse))
    deliver(outputs_of(arguments), {}, lambda: first_answer(answered, sure), [*warnings, *told.warnings])
    return 0


def run_one(arguments: argparse.Namespace) -> int:
    """Check where output may go, compute, prepare every output, then write and print."""
    outputs, question = outputs_of(arguments), run_question(arguments)
    base, way, at_deg = arguments.base, str(arguments.rods), arguments.at
    named = (*([base] if base else []), *question.settings)
    asked = ask(replace(question, settings=named))
    base = base or asked.scenario.default_setting
    names = _against(asked, base, question.settings)
    at_deg = asked.at_deg if at_deg is None else abs(at_deg)
    check_at(asked.scenario, at_deg)
    from scenarios.ask.run import check_compared

    check_compared(asked.scenario, base, names, asked.cases)

    @cache
    def compared() -> Compared:
        from scenarios.ask.compare import compare  # a first answer does without

        with progress_bar("settings") as progress:
            return compare(asked.scenario, base, names, asked.cases, at_deg, progress)

    tables, sure = bool(arguments.tables), arguments.sure != "none"
    answered = cache(partial(_answered, asked, (base, *names), at_deg, sure))
    if tables:
        compared()
    contents: dict[str, Content] = {
        "--json": lambda: _json(compared(), as_data(answered, sure, changes=True)),
        "--csv": lambda: _csv(compared()),
        "--plot": lambda: _figure(compared(), way, answered() if sure else None, outputs.dark),
    }
    warnings = concerning(asked.scenario, [base, *names])

    def printed() -> Iterator[str]:
        yield from first_answer(answered(), sure, tables)
        yield from ["", *_tables(compared(), way)] if tables else HINT

    deliver(outputs, contents, printed, warnings)
    return 0


def _json(found: Compared, first_answer: dict[str, Any] | None) -> Iterator[bytes]:
    from scenarios.documents.chunks import json_chunks
    from scenarios.documents.compare import document

    yield from json_chunks({**document(found), "first_answer": first_answer})


def _csv(found: Compared) -> Iterable[bytes]:
    from scenarios.documents.compare import csv_pieces

    return csv_pieces(found)


def _tables(found: Compared, way: str) -> list[str]:
    from viz.tables.compare import report

    return list(report(found, way))


def _answered(asked: Asked, names: Sequence[str], at_deg: float | None, sure: bool) -> FirstAnswer:
    from scenarios.ask.answer import FEW, answer

    few = FEW if sure else 1
    return worked_out(
        lambda pulse: answer(asked.scenario, names, asked.cases, at_deg, few, "reset", pulse=pulse)
    )


def first_answer(told: FirstAnswer, sure: bool, tables: bool = False) -> Iterator[str]:
    """What is said first of each setting against the first of them; with tables, the table of its bands."""
    from viz.tables.bands import bands_table
    from viz.tables.change import compare_answer

    _, *names = told.found.lineup.names
    for name in names:
        yield from ["", *compare_answer(told, name, sure)][name == names[0] :]
        if tables and sure:
            yield from ["", *bands_table(told, name, changes=True)]


def _against(asked: Asked, base: str, given: Sequence[str | Typed]) -> list[str]:
    """The settings to set against the base: those named or typed, or every other one of the scenario."""
    names = asked.settings if given else asked.scenario.settings
    others = [name for name in names if name != base]
    if not others:
        raise Refusal(f"{asked.scenario.source}: there is no other setting to compare with '{base}'")
    return others


def _figure(compared: Compared, way: str, told: FirstAnswer | None, dark: bool) -> Figure:
    from viz.plots.compare import columns_drawn, compare_figure

    if told is None or way != told.found.lineup.way:
        return compare_figure(compared, way, dark)
    scenario = compared.scenario
    [case] = scenario.cases(compared.cases[:1]) if compared.cases else [None]
    names = columns_drawn(case is not None)
    others = [one.name for one in compared.settings]
    bands = shades(others, lambda name: told.found.columns(name, case, names, less_base=True))
    return compare_figure(compared, way, dark, bands)
