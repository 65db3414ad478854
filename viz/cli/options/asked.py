"""The options by which commands are asked alike: a scenario, settings, corners typed, lock and load cases."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from scenarios.ask import chassis
from scenarios.ask.asked import Asked, Question, Typed
from scenarios.ask.typed import HELP, SYNTAX, corner_text
from scenarios.errors import Refusal
from scenarios.ranges import RANGES
from viz.cli.options.parser import finite, typed, whole

POSITIONS = int(RANGES["sweep.positions"].low), int(RANGES["sweep.positions"].high)
TYPED = f"{HELP}\n\n{chassis.HELP}"
"""How a setting is typed."""
CORNERS = (("both", "both corners"), ("left", "the left corner"), ("right", "the right corner"))


def add_scenario_argument(parser: argparse.ArgumentParser) -> None:
    """Add the scenario."""
    parser.add_argument(
        "scenario",
        metavar="SCENARIO",
        nargs="?",
        help="a scenario file, the JSON of an earlier run, or a built-in name; left out: the training kart",
    )


class Listed(argparse.Action):
    """Keeps an option's name with its value, in the order in which options of the same list are given."""

    def __call__(self, parser: Any, namespace: argparse.Namespace, values: Any, option: Any = None) -> None:
        """Keep the value."""
        listed = getattr(namespace, self.dest)
        setattr(namespace, self.dest, (*listed, (str(option).lstrip("-"), values)))


def add_typed_arguments(group: argparse._ArgumentGroup, what: str, **kept: Any) -> None:
    """Add what is typed of a setting on the command line; what says before each which setting they make."""
    for side, text in CORNERS:
        said = f"{what} {text} with parts typed like {SYNTAX}"
        group.add_argument(f"--{side}", metavar="PARTS", type=typed(corner_text), help=said, **kept)
    said = f"{what} the whole kart with changes typed like {chassis.SYNTAX.replace('%', '%%')}"
    group.add_argument("--kart", metavar="CHANGES", type=typed(chassis.kart_text), help=said, **kept)


def add_run_arguments(parser: argparse.ArgumentParser) -> None:
    """Add the scenario, setting and lock arguments."""
    add_scenario_argument(parser)
    setting = parser.add_argument_group(
        "setting",
        "Named and typed settings are told in the order given. --both, --left, --right and --kart in a row "
        "type one; the same again starts the next.",
    )
    listed: dict[str, Any] = {"dest": "settings", "action": Listed, "default": ()}
    named = "a setting of the scenario; may be repeated"
    setting.add_argument("--setting", metavar="NAME", help=named, **listed)
    add_typed_arguments(setting, "fit", **listed)
    based = (
        "what is not typed stays as in this setting, not concentric and kept; once for all, or one for each"
    )
    setting.add_argument("--based-on", metavar="NAME", help=based, **listed)
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
    """What is typed, where one setting may be."""
    return Typed(arguments.both, arguments.left, arguments.right, kart=arguments.kart)


def settings_of(arguments: argparse.Namespace) -> tuple[str | Typed, ...]:
    """The settings named and typed, in order; an option given again starts the next typed setting."""
    found: list[str | dict[str, Any]] = []
    for option, value in arguments.settings:
        if option == "setting":
            found.append(value)
            continue
        last = found[-1] if found else ""
        if isinstance(last, str) or option in last:
            found.append(last := {})
        last[option] = value
    return _with_bases(found)


def _with_bases(found: Sequence[str | dict[str, Any]]) -> tuple[str | Typed, ...]:
    """Each typed setting with the one it is based on: one --based-on is for all, several are one for each."""
    groups = [one for one in found if isinstance(one, dict)]
    bases = [group.pop("based-on", None) for group in groups]
    given = [base for base in bases if base is not None]
    typed = sum(map(bool, groups))
    if given and not typed:
        raise Refusal("--based-on needs --both, --left, --right or --kart beside it")
    if len(given) > 1 and not all(group and base for group, base in zip(groups, bases, strict=True)):
        raise Refusal(
            f"--based-on stands {len(given)} times: give it once for all typed settings, or one beside each"
        )
    each = iter(given if len(given) > 1 else [given[0] if given else None] * typed)
    return tuple(
        one if isinstance(one, str) else Typed(**one, based_on=next(each)) for one in found if one != {}
    )


def run_question(arguments: argparse.Namespace) -> Question:
    """What the options of a run ask; a command without load cases asks for all."""
    return Question(
        arguments.scenario,
        settings_of(arguments),
        None if arguments.lock is None else (arguments.lock[0], arguments.lock[1]),
        arguments.positions,
        tuple(getattr(arguments, "case", ())),
    )


def present_question(arguments: argparse.Namespace) -> Question:
    """What is on the kart: the setting of --from, or what is typed over it."""
    given, named = replace(typed_of(arguments), based_on=arguments.present), arguments.present
    return Question(arguments.scenario, (given,) if given else (named,) if named else ())


def present(asked: Asked, question: Question) -> str:
    """Name of the setting that is on the kart: what was typed last, or the first that is run by default."""
    return asked.settings[-1 if question.settings else 0]


def ask(question: Question) -> Asked:
    """The scenario of a question with what is asked of it; refused, one line, where it does not have it."""
    from scenarios.ask.asked import asked
    from scenarios.documents.earlier import start

    return asked(question, start(question.source))
