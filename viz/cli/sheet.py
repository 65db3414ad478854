"""`lockarc sheet`: the bench sheet for going from one setting to another, as a page or a PDF."""

from __future__ import annotations

import argparse
from dataclasses import replace
from typing import Any

from scenarios.ask.asked import Question, concerning
from scenarios.errors import Refusal
from viz.cli.options.asked import TYPED, add_scenario_argument, add_typed_arguments, ask, typed_of
from viz.files import Destination, check_suffix, check_targets
from viz.words.cautions import BRIEF
from viz.words.terminal import say, warn

DESCRIPTION = f"""\
Writes the sheet for the bench: each bush from above with its hole, from what to what, the parts,
the order of work, turns and targets, and the readings to expect. The new setting is named, or
typed over the one it starts from.
{BRIEF}"""
SUFFIXES = ("html", "pdf")


def add_to(commands: Any) -> None:
    """Add the command to the parser."""
    parser = commands.add_parser("sheet", description=DESCRIPTION, epilog=TYPED)
    add_scenario_argument(parser)
    change = parser.add_argument_group("change")
    change.add_argument(
        "--from", dest="present", metavar="NAME", help="what is fitted now; left out: the default setting"
    )
    change.add_argument("--to", metavar="NAME", help="the setting to fit")
    add_typed_arguments(change, "to fit, over --to or else --from:")
    output = parser.add_argument_group("output")
    output.add_argument("--out", metavar="FILE", required=True, help="the sheet, as .html or .pdf")
    output.add_argument(
        "--paper", choices=("a4", "letter"), default="a4", help="paper of a PDF; left out: a4"
    )
    parser.set_defaults(run=run)


def run(arguments: argparse.Namespace) -> int:
    """Work out the change and write its sheet."""
    target, paper = Destination("--out", arguments.out), str(arguments.paper)
    source, present, to, typed = arguments.scenario, arguments.present, arguments.to, typed_of(arguments)
    check_suffix(target, SUFFIXES)
    check_targets([target], [source] if source else [])
    if not typed and to is None:
        raise Refusal("sheet needs the setting to fit: --to NAME, or --both, --left or --right")
    asked = ask(Question(source, [name for name in (present, to) if name]))
    present = present or asked.scenario.default_setting
    if typed:
        asked = ask(Question(source, [present, replace(typed, based_on=to or present)]))
    scenario, new = asked.scenario, asked.settings[-1] if typed else to
    from viz.sheet import write

    sheet = write(target.path, scenario, present, new, paper=paper, option=target.option)
    warn(concerning(scenario, [present, new]))
    say(f"{target.path}: {sheet.title}, from {present} to {new}")
    return 0
