"""`lockarc choose`: which bushes of the box to fit, and how, for figures that are wanted."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from scenarios.ask.asked import concerning
from scenarios.ask.typed import AS_GIVEN
from scenarios.ask.wants import HELP, Want, targets_of, values_now, want_text
from scenarios.errors import Refusal
from viz.cli.asked import add_present_arguments, ask, present, present_question
from viz.cli.outputs import Content, deliver, outputs_of
from viz.cli.parser import typed, whole
from viz.words.cautions import BRIEF
from viz.words.lines import sheet_line
from viz.words.progress import progress_bar

if TYPE_CHECKING:
    from scenarios.ask.choose import Told

DESCRIPTION = """\
Looks at every bush pair and clock that the scenario's box allows and ranks them: by how near
they come to the figures wanted, and by how much work they are from what is fitted now."""
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
        "--limit", metavar="N", type=whole(1, 40), default=8, help="candidates in each list; left out: 8"
    )
    output.add_argument(
        "--pick", metavar="N", type=whole(1, 120), default=1, help="the candidate to go on with; left out: 1"
    )
    output.add_argument("--keep-as", metavar="NAME", help="print the picked one as a setting to paste")
    output.add_argument("--json", metavar="FILE", help="targets, candidates and inputs; '-' is stdout")
    output.add_argument("--csv", metavar="FILE", help="one row a candidate as CSV; '-' is stdout")
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
    """What to do next: which candidate to go on with, the name to keep it under, the source as typed."""

    pick: int
    keep_as: str | None
    source: str | None


def run(arguments: argparse.Namespace) -> int:
    """Check where output may go, search, prepare every output, then write and print."""
    outputs, question, wanted = outputs_of(arguments), present_question(arguments), wanted_of(arguments)
    then = Next(arguments.pick, arguments.keep_as, question.source)
    asked = ask(question)
    scenario, name = asked.scenario, present(asked, question)
    targets = targets_of(wanted.wants, scenario, name)
    from scenarios.ask.choose import run_search
    from scenarios.documents.choose import csv_pieces, document
    from scenarios.documents.chunks import json_chunks

    with progress_bar("bush pairs") as progress:
        told = run_search(scenario, name, targets, wanted.sides, wanted.rods, wanted.limit, progress)
    _check_pick(told, then)
    now = values_now(scenario, name, [target.address for target in targets])
    contents: dict[str, Content] = {
        "--json": lambda: json_chunks(document(told, now)),
        "--csv": lambda: csv_pieces(told),
    }
    deliver(outputs, contents, lambda: _lines(told, now, then), concerning(scenario, [name]))
    return 0


def _check_pick(told: Told, then: Next) -> None:
    count = len(told.candidates)
    if then.pick > max(count, 1):
        raise Refusal(f"--pick {then.pick}: there are {count} candidates; --limit shows more")


def _lines(told: Told, now: Sequence[float | None], then: Next) -> list[str]:
    from viz.tables.choose import report

    lines = report(told, now)
    return [*lines, "", *_next(told, then)] if told.candidates else lines


def _next(told: Told, then: Next) -> list[str]:
    """What to do with the picked candidate: the bench sheet's command, and the setting to paste."""
    from scenarios.ask.fitting import snippet, typed_corner

    scenario, setting = told.scenario, told[then.pick].setting
    lines: list[str] = []
    if then.keep_as:
        _check_name(told, then.pick, then.keep_as)
        lines = [
            f"Candidate {then.pick}, to paste into the scenario file:",
            *snippet(scenario, told.present, setting, then.keep_as),
            "",
        ]
    if told.present == AS_GIVEN:
        return [
            *lines,
            "Keep both settings in the scenario file, then print the change with 'lockarc sheet'.",
        ]
    corners = {side: typed_corner(scenario, told.present, setting, side) for side in ("left", "right")}
    return [
        *lines,
        f"To print candidate {then.pick} as a bench sheet:",
        f"  {sheet_line(then.source, told.present, corners)}",
        BRIEF,
    ]


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
