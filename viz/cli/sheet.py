"""`lockarc sheet`: the bench sheet for going from one setting to another, as a page or a PDF."""

from __future__ import annotations

import argparse
from typing import Any

from scenarios.ask.typed import AS_GIVEN, HELP
from scenarios.errors import Refusal
from viz.cli.asked import concerning
from viz.cli.present import add_scenario_argument, add_typed_arguments, ask
from viz.files import Target, check_suffix, check_targets
from viz.words.terminal import warn

DESCRIPTION = """\
Writes the sheet for the bench: each bush from above with its hole, from what to what, the parts,
the order of work, turns and targets, and the readings to expect. The new setting is named, or
typed over the one it starts from. The maker's manual and the event's rules come first."""
SUFFIXES = ("html", "pdf")


def add_to(commands: Any) -> None:
    """Add the command to the parser."""
    parser = commands.add_parser(
        "sheet", help="the bench sheet for a change of bushes", description=DESCRIPTION, epilog=HELP
    )
    add_scenario_argument(parser)
    change = parser.add_argument_group("change")
    change.add_argument(
        "--from", dest="present", metavar="NAME", help="what is fitted now; left out: the default setting"
    )
    change.add_argument("--to", metavar="NAME", help="the setting to fit")
    add_typed_arguments(change, "to fit, over --to or else --from")
    output = parser.add_argument_group("output")
    output.add_argument("--out", metavar="FILE", required=True, help="the sheet, as .html or .pdf")
    output.add_argument(
        "--paper", choices=("a4", "letter"), default="a4", help="paper of a PDF; left out: a4"
    )
    parser.set_defaults(run=run)


def run(arguments: argparse.Namespace) -> int:
    """Work out the change and write its sheet."""
    target = Target("--out", arguments.out)
    check_suffix(target, SUFFIXES)
    check_targets([target], [arguments.scenario] if arguments.scenario else [])
    typed = any(getattr(arguments, side) is not None for side in ("both", "left", "right"))
    if not typed and arguments.to is None:
        raise Refusal("sheet needs the setting to fit: --to NAME, or --both, --left or --right")
    named = [name for name in (arguments.present, arguments.to) if name]
    plain = argparse.Namespace(scenario=arguments.scenario)
    scenario = ask(plain, named).scenario
    present = arguments.present or scenario.default_setting
    choice = ask(arguments, [present], arguments.to or present)
    new = AS_GIVEN if typed else arguments.to
    from viz.sheet import write

    sheet = write(arguments.out, choice.scenario, present, new, paper=arguments.paper, option="--out")
    warn(concerning(choice.scenario.warnings, [present, new]))
    print(f"{arguments.out}: {sheet.title}, from {present} to {new}")
    return 0
