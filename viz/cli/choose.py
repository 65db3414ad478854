"""`lockarc choose`: which bushes of the box to fit, and how, for figures that are wanted."""

from __future__ import annotations

import argparse
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from scenarios.ask.asked import concerning
from scenarios.ask.typed import AS_GIVEN
from scenarios.ask.wants import HELP, Want, targets_of, values_now, want_text
from scenarios.errors import Refusal
from viz.cli.options.asked import add_present_arguments, ask, present, present_question
from viz.cli.options.outputs import Content, add_wide_argument, deliver, outputs_of
from viz.cli.options.parser import typed, whole
from viz.words.cautions import BRIEF
from viz.words.lines import sheet_line, sweep_line, typed_lines
from viz.words.progress import progress_bar
from viz.words.width import MOST_LINES

if TYPE_CHECKING:
    from scenarios.ask.choose import Told
    from scenarios.ask.levers import Levers

DESCRIPTION = """\
Looks at every bush pair and clock that the scenario's box allows and ranks them: by how near
they come to the figures wanted, and by how much work they are from what is fitted now. Told first
is what meets all of it with the least work or, where nothing in the box does, the nearest and which
other adjustments could."""
HINT = ("", "Every candidate with its parts, trade-offs and what was looked at: --tables.")
SIDES = ("both", "each", "left", "right")


def add_to(commands: Any) -> None:
    """Add the command to the parser."""
    parser = commands.add_parser(
        "choose",
        description=DESCRIPTION,
        epilog=HELP,
    )
    add_present_arguments(parser)
    add_want_arguments(parser, required=True)
    output = parser.add_argument_group("output")
    output.add_argument(
        "--tables", action="store_true", help="every list of candidates and all notes after the answer"
    )
    output.add_argument(
        "--limit", metavar="N", type=whole(1, 40), default=8, help="candidates in each list; left out: 8"
    )
    output.add_argument(
        "--pick", metavar="N", type=whole(1, 120), default=1, help="the candidate to go on with; left out: 1"
    )
    output.add_argument("--keep-as", metavar="NAME", help="print the picked one as a setting to paste")
    output.add_argument("--json", metavar="FILE", help="targets, candidates and inputs; '-' is stdout")
    output.add_argument(
        "--csv", metavar="FILE", help="one row a candidate as CSV, in the order told; '-' is stdout"
    )
    add_wide_argument(output)
    parser.set_defaults(run=run)


def add_want_arguments(parser: argparse.ArgumentParser, required: bool) -> None:
    """Add what is wanted and how the box may be used."""
    wanted = parser.add_argument_group("wanted")
    wanted.add_argument(
        "--want",
        metavar="FIGURE",
        type=typed(want_text),
        action="append",
        default=[],
        required=required,
        help="a figure with its range, typed as below; may be repeated",
    )
    wanted.add_argument(
        "--sides",
        choices=SIDES,
        default="both",
        help="both corners alike, each its own, or one corner alone; left out: both",
    )
    wanted.add_argument(
        "--rods",
        choices=("reset", "alone"),
        default="reset",
        help="tie rods re-set to the toe of now, or left alone; left out: reset",
    )


@dataclass(frozen=True)
class Sought:
    """What is wanted and how the box may be used; limit is the most candidates of a list."""

    wants: Sequence[Want]
    sides: str
    rods: str
    limit: int


def wanted_of(arguments: argparse.Namespace) -> Sought:
    """What the options of add_want_arguments ask."""
    return Sought(tuple(arguments.want), arguments.sides, arguments.rods, arguments.limit)


@dataclass(frozen=True)
class Next:
    """What to do next: which candidate to go on with, the name to keep it under, the source as typed.

    tables is whether everything else is told too, sheet whether the command of its bench sheet is.
    """

    pick: int
    keep_as: str | None
    source: str | None
    tables: bool = False
    sheet: bool = True


def run(arguments: argparse.Namespace) -> int:
    """Check where output may go, search, prepare every output, then write and print."""
    outputs, question, wanted = outputs_of(arguments), present_question(arguments), wanted_of(arguments)
    then = Next(arguments.pick, arguments.keep_as, question.source, bool(arguments.tables))
    asked = ask(question)
    scenario, name = asked.scenario, present(asked, question)
    targets = targets_of(wanted.wants, scenario, name)
    from scenarios.ask.choose import run_search
    from scenarios.ask.levers import levers
    from scenarios.documents.choose import csv_pieces, document
    from scenarios.documents.chunks import json_chunks

    with progress_bar("bush pairs") as progress:
        told = run_search(scenario, name, targets, wanted.sides, wanted.rods, wanted.limit, progress)
    _check_pick(told, then)
    now = values_now(scenario, name, [target.address for target in targets])
    others = levers(told)
    contents: dict[str, Content] = {
        "--json": lambda: json_chunks(document(told, now, others)),
        "--csv": lambda: csv_pieces(told),
    }
    deliver(outputs, contents, lambda: _lines(told, now, others, then), concerning(scenario, [name]))
    return 0


def _check_pick(told: Told, then: Next) -> None:
    count = len(told.candidates)
    if then.pick > max(count, 1):
        raise Refusal(f"--pick {then.pick}: there are {count} candidates; --limit shows more")


def _lines(told: Told, now: Sequence[float | None], others: Levers | None, then: Next) -> Iterator[str]:
    from viz.tables.choice import choose_answer, does_alone
    from viz.tables.choose import report

    first = replace(then, keep_as=None)
    after = list(_next(told, others, first)) if told.candidates else []
    answer = choose_answer(told, now, others, len(after))
    too_long = len(answer) + len(after) > MOST_LINES and not then.tables
    if too_long and then.pick == 1 and does_alone(told, others):
        # Nobody prints a pair that misses while another adjustment does all that is wanted.
        after = list(_next(told, others, replace(first, sheet=False)))
        answer = choose_answer(told, now, others, len(after))
    yield from answer
    yield from _next(told, others, then) if told.candidates and then.keep_as else after
    yield from ["", *report(told, now)] if then.tables else HINT


def _next(told: Told, others: Levers | None, then: Next) -> Iterator[str]:
    """What to do with the picked candidate and the first of the other adjustments: commands, a setting."""
    from scenarios.ask.fitting import snippet, typed_corners

    scenario, setting, typeable = told.scenario, told[then.pick].setting, told.present != AS_GIVEN
    if typeable:
        yield from _check_of(told, others, then)
    if then.keep_as:
        _check_name(told, then.pick, then.keep_as)
        yield f"Candidate {then.pick}, to paste into the scenario file:"
        yield from [*snippet(scenario, told.present, setting, then.keep_as), ""]
    if not typeable:
        yield "Keep the present setting in the scenario file: sheets start from one there."
    elif then.sheet and any(told[then.pick].work):
        toe = ", toe set back" if told.rods == "reset" else ""
        yield f"To print candidate {then.pick} as a bench sheet{toe}:"
        corners = typed_corners(scenario, told.present, setting)
        yield from typed_lines(sheet_line(then.source, told.present, corners))
    yield BRIEF


def _check_of(told: Told, others: Levers | None, then: Next) -> Iterator[str]:
    if others is not None and others.listed:
        from scenarios.ask.levers import typed as typed_lever

        change = typed_lever(told, others.base, others.listed[0])
        yield "To check the first of them, every figure with --tables:"
        yield from typed_lines(sweep_line(then.source, told.present, change))


def _check_name(told: Told, pick: int, name: str) -> None:
    """Refuse a name that a scenario file would not take, or one that is taken."""
    import scenarios
    from scenarios.ask.fitting import setting_table

    scenario = told.scenario
    if name in scenario.settings:
        raise Refusal(f"--keep-as {name}: {scenario.source} has a setting of that name already")
    table = setting_table(scenario, told.present, told[pick].setting)
    inputs = {**scenario.resolved, "setting": {**scenario.resolved["setting"], name: table}}
    scenarios.from_mapping(inputs, scenario.source, scenario.name)
