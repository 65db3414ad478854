"""What the commands about a change ask for alike: the present setting, and parts typed over it."""

from __future__ import annotations

import argparse
from argparse import Namespace
from typing import TYPE_CHECKING

from scenarios.ask.typed import SYNTAX, corner_text
from viz.cli.asked import Choice, chosen
from viz.cli.parser import typed

if TYPE_CHECKING:
    pass

SCENARIO_HELP = "a scenario file, the JSON of an earlier run, or a built-in name; left out: the training kart"
SIDES = ("left", "right")


def add_scenario_argument(parser: argparse.ArgumentParser) -> None:
    """Add the scenario."""
    parser.add_argument("scenario", metavar="SCENARIO", nargs="?", help=SCENARIO_HELP)


def add_typed_arguments(group: argparse._ArgumentGroup, what: str) -> None:
    """Add the corners typed on the command line; what says which setting they make."""
    for side, text in (("both", "both corners"), ("left", "the left corner"), ("right", "the right corner")):
        group.add_argument(
            f"--{side}",
            metavar="PARTS",
            type=typed(corner_text),
            help=f"{what}: {text} with parts typed like {SYNTAX}",
        )


def add_present_arguments(parser: argparse.ArgumentParser) -> None:
    """Add the scenario and the setting that is on the kart now."""
    add_scenario_argument(parser)
    group = parser.add_argument_group("present setting")
    group.add_argument(
        "--from", dest="present", metavar="NAME", help="what is fitted now; left out: the default setting"
    )
    add_typed_arguments(group, "fitted now, over --from")


def ask(arguments: Namespace, settings: list[str], based_on: str | None = None) -> Choice:
    """The scenario with these settings chosen, and what is typed laid over the setting based_on."""
    typed = any(getattr(arguments, side, None) is not None for side in ("both", *SIDES))
    wanted = Namespace(
        scenario=arguments.scenario,
        setting=settings,
        both=getattr(arguments, "both", None),
        left=getattr(arguments, "left", None),
        right=getattr(arguments, "right", None),
        based_on=based_on if typed else None,
        lock=getattr(arguments, "lock", None),
        positions=getattr(arguments, "positions", None),
        case=getattr(arguments, "case", []),
    )
    return chosen(wanted)


def present(arguments: Namespace) -> tuple[Choice, str]:
    """The scenario, and the name of the setting that is on the kart: --from, or what is typed over it."""
    named = [arguments.present] if arguments.present else []
    choice = ask(arguments, named, arguments.present)
    return choice, choice.settings[-1] if named else choice.settings[0]
