"""`lockarc choose`: which bushes of the box to fit, and how, for figures that are wanted."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from textwrap import wrap
from typing import TYPE_CHECKING, Any

from scenarios.ask.typed import AS_GIVEN
from scenarios.ask.wants import HELP, targets_of, values_now, want_text
from scenarios.errors import Refusal
from viz.cli.asked import concerning
from viz.cli.lines import sheet_line
from viz.cli.parser import typed, whole
from viz.cli.present import add_present_arguments, present
from viz.files import Output, Target, check_targets, write_all
from viz.words.progress import progress_bar
from viz.words.terminal import warn

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
        help="which bushes of the box meet the figures wanted",
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


def run(arguments: argparse.Namespace) -> int:
    """Check where output may go, search, prepare every output, then write and print."""
    given = {option: getattr(arguments, option) for option in ("json", "csv")}
    targets = [Target(f"--{option}", path) for option, path in given.items() if path is not None]
    check_targets(targets, [arguments.scenario] if arguments.scenario else [])
    choice, name = present(arguments)
    wanted = targets_of(arguments.want, choice.scenario, name)
    from scenarios.ask.choose import run_search

    with progress_bar("bush pairs") as progress:
        told = run_search(
            choice.scenario, name, wanted, arguments.sides, arguments.rods, arguments.limit, progress
        )
    _check_pick(told, arguments)
    now = values_now(choice.scenario, name, [target.address for target in wanted])
    outputs = [Output(target, _content(target, told, now)) for target in targets]
    lines = _lines(told, now, arguments)
    warn(concerning(choice.scenario.warnings, [name]))
    write_all(outputs)
    if not any(target.to_stdout for target in targets):
        print("\n".join(lines))
    return 0


def _check_pick(told: Told, arguments: argparse.Namespace) -> None:
    count = len(told.candidates)
    if arguments.pick > max(count, 1):
        raise Refusal(f"--pick {arguments.pick}: there are {count} candidates; --limit shows more")


def _content(target: Target, told: Told, now: Sequence[float | None]) -> bytes:
    from scenarios.documents.choose import csv_bytes, document
    from scenarios.documents.run import json_bytes

    return json_bytes(document(told, now)) if target.option == "--json" else csv_bytes(told)


def _lines(told: Told, now: Sequence[float | None], arguments: argparse.Namespace) -> list[str]:
    from viz.tables.choose import report

    lines = report(told, now)
    return [*lines, "", *_next(told, arguments)] if told.candidates else lines


def _next(told: Told, arguments: argparse.Namespace) -> list[str]:
    """What to do with the picked candidate: the bench sheet's command, and the setting to paste."""
    from scenarios.ask.fitting import snippet, typed_corner

    scenario, setting = told.scenario, told[arguments.pick].setting
    lines: list[str] = []
    if arguments.keep_as:
        _check_name(told, arguments)
        lines = [
            f"Candidate {arguments.pick}, to paste into the scenario file:",
            *snippet(scenario, told.present, setting, arguments.keep_as),
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
        *wrap(f"To print candidate {arguments.pick} as a bench sheet (work on stands, by the manual):", 100),
        f"  {sheet_line(arguments.scenario, told.present, corners)}",
    ]


def _check_name(told: Told, arguments: argparse.Namespace) -> None:
    """Refuse a name that a scenario file would not take, or one that is taken."""
    import scenarios
    from scenarios.ask.fitting import setting_table

    name, scenario = arguments.keep_as, told.scenario
    if name in scenario.settings:
        raise Refusal(f"--keep-as {name}: {scenario.source} has a setting of that name already")
    table = setting_table(scenario, told.present, told[arguments.pick].setting)
    inputs = {**scenario.resolved, "setting": {**scenario.resolved["setting"], name: table}}
    scenarios.from_mapping(inputs, scenario.source, scenario.name)
