"""The options by which commands are asked alike: a scenario, settings, corners typed, lock and load cases."""

from __future__ import annotations

import argparse

from scenarios.ask.asked import Asked, Question, Typed
from scenarios.ask.typed import SYNTAX, corner_text
from scenarios.errors import Refusal
from scenarios.ranges import RANGES
from viz.cli.parser import finite, typed, whole

POSITIONS = int(RANGES["sweep.positions"].low), int(RANGES["sweep.positions"].high)
CORNERS = (("both", "both corners"), ("left", "the left corner"), ("right", "the right corner"))


def add_scenario_argument(parser: argparse.ArgumentParser) -> None:
    """Add the scenario."""
    parser.add_argument(
        "scenario",
        metavar="SCENARIO",
        nargs="?",
        help="a scenario file, the JSON of an earlier run, or a built-in name; left out: the training kart",
    )


def add_typed_arguments(group: argparse._ArgumentGroup, what: str) -> None:
    """Add the corners typed on the command line; what says before each which setting they make."""
    for side, text in CORNERS:
        said = f"{what} {text} with parts typed like {SYNTAX}"
        group.add_argument(f"--{side}", metavar="PARTS", type=typed(corner_text), help=said)


def add_run_arguments(parser: argparse.ArgumentParser) -> None:
    """Add the scenario, setting and lock arguments."""
    add_scenario_argument(parser)
    setting = parser.add_argument_group("setting")
    setting.add_argument(
        "--setting",
        metavar="NAME",
        action="append",
        default=[],
        help="a setting of the scenario; may be repeated",
    )
    add_typed_arguments(setting, "fit")
    setting.add_argument(
        "--based-on",
        metavar="NAME",
        help="what is not typed stays as in this setting, not concentric and kept",
    )
    lock = parser.add_argument_group("lock")
    lock.add_argument(
        "--lock", metavar=("FROM", "TO"), nargs=2, type=finite, help="handwheel angles, deg, + turns left"
    )
    lock.add_argument(
        "--positions", metavar="N", type=whole(*POSITIONS), help="lock positions, ends included"
    )


def add_case_argument(parser: argparse.ArgumentParser) -> None:
    """Add the choice of load cases."""
    parser.add_argument(
        "--case",
        metavar="NAME",
        action="append",
        default=[],
        help="a load case to compute and show; may be repeated; left out: all, the first one shown",
    )


def add_present_arguments(parser: argparse.ArgumentParser) -> None:
    """Add the scenario and the setting that is on the kart now."""
    add_scenario_argument(parser)
    group = parser.add_argument_group("present setting")
    group.add_argument(
        "--from", dest="present", metavar="NAME", help="what is fitted now; left out: the default setting"
    )
    add_typed_arguments(group, "fitted now, over --from:")


def typed_of(arguments: argparse.Namespace) -> Typed:
    """The corners typed."""
    return Typed(arguments.both, arguments.left, arguments.right)


def run_question(arguments: argparse.Namespace) -> Question:
    """What the options of a run ask; a command without load cases asks for all."""
    given = typed_of(arguments)
    if arguments.based_on and not given:
        raise Refusal("--based-on needs --both, --left or --right beside it")
    return Question(
        arguments.scenario,
        tuple(arguments.setting),
        given,
        arguments.based_on,
        None if arguments.lock is None else (arguments.lock[0], arguments.lock[1]),
        arguments.positions,
        tuple(getattr(arguments, "case", ())),
    )


def present_question(arguments: argparse.Namespace) -> Question:
    """What is on the kart: the setting of --from, or what is typed over it."""
    given, named = typed_of(arguments), arguments.present
    return Question(arguments.scenario, (named,) if named else (), given, named if given else None)


def present(asked: Asked, question: Question) -> str:
    """Name of the setting that is on the kart: what was typed last, or the first that is run by default."""
    return asked.settings[-1 if question.settings else 0]


def ask(question: Question) -> Asked:
    """The scenario of a question with what is asked of it; refused, one line, where it does not have it."""
    from scenarios.ask.asked import asked
    from scenarios.documents.earlier import start

    return asked(question, start(question.source))
