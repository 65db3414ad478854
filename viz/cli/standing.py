"""What `lockarc view` draws: the kart standing in a load case, or without one a front end held still."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from typing import TYPE_CHECKING

from scenarios.errors import Refusal, suggestion
from viz.cli.asked import Choice
from viz.cli.parser import finite

if TYPE_CHECKING:
    from kinematics.lock import Sweep
    from kinematics.parts import LoadCase
    from viz.scene.data import SceneData
    from viz.window.window import Options

Swept = Callable[[str], "Sweep"]
"""Solves a setting of the scenario by name."""


def add_standing_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what a standing kart needs to know."""
    group = parser.add_argument_group("kart")
    group.add_argument(
        "--case",
        metavar="NAME",
        action="append",
        default=[],
        help="load case in which the kart stands; left out: the first",
    )
    group.add_argument(
        "--exaggerate",
        metavar="X",
        type=finite,
        help="draw twist, roll, ride height and lift X times as large, 1 to 20, and say so; left out: 5",
    )
    group.add_argument("--against", metavar="NAME", help="a second setting, B, see-through over the first")
    group.add_argument("--front-only", action="store_true", help="the front end alone, its frame held still")
    group.add_argument(
        "--whole", action="store_true", help="rigid, with its rear axle, its frame held still: no load case"
    )


def check_standing(choice: Choice, arguments: argparse.Namespace) -> None:
    """Refuse, in one line, what does not go together or is not in the scenario."""
    if arguments.front_only and arguments.whole:
        raise Refusal("--front-only and --whole exclude each other")
    if len(arguments.case) > 1:
        raise Refusal(f"view shows one load case, not {len(arguments.case)}: {', '.join(arguments.case)}")
    times = arguments.exaggerate
    if times is not None and not 1.0 <= times <= 20.0:
        raise Refusal(f"--exaggerate {times:g} is out of its limits of 1 to 20")
    against, settings = arguments.against, choice.scenario.settings
    if against is not None and against not in settings:
        raise Refusal(
            f"{choice.scenario.source}: setting '{against}' is unknown{suggestion(against, settings)}"
        )
    if arguments.front_only or arguments.whole:
        still = "--front-only" if arguments.front_only else "--whole"
        given = {"--case": bool(arguments.case), "--exaggerate": times is not None, "--against": against}
        for option in (o for o, value in given.items() if value):
            raise Refusal(f"{option} is for a kart that stands in a load case: leave {still} out")


def settings_shown(choice: Choice, arguments: argparse.Namespace) -> list[str]:
    """Names of the settings drawn: A, and B where there is one."""
    return [*choice.settings, *([arguments.against] if arguments.against else [])]


def build(choice: Choice, arguments: argparse.Namespace, swept: Swept) -> SceneData:
    """The scene asked for; ValueError where it cannot be drawn."""
    from viz.scene import scene
    from viz.scene import standing as stance_scene

    first = choice.settings[0]
    if arguments.front_only or arguments.whole:
        return scene.build(swept(first), first, arguments.whole)
    data = _standing(choice, arguments, swept(first), first)
    if arguments.against is None:
        return data
    second = _standing(choice, arguments, swept(arguments.against), arguments.against)
    return stance_scene.against(data, second)


def _standing(choice: Choice, arguments: argparse.Namespace, swept: Sweep, name: str) -> SceneData:
    from kinematics.stance.standing import stance
    from viz.scene import scene

    case = _case(choice)
    return scene.build(
        swept, name, stance=stance(swept, case), case_name=case.name, exaggeration=_times(arguments)
    )


def _case(choice: Choice) -> LoadCase:
    return next(case for case in choice.scenario.load_cases if case.name == choice.cases[0])


def _times(arguments: argparse.Namespace) -> float:
    from viz.window.state import USUAL

    return USUAL if arguments.exaggerate is None else float(arguments.exaggerate)


def window_options(choice: Choice, arguments: argparse.Namespace, swept: Swept) -> Options:
    """With what the window starts."""
    from viz.window.state import Shown
    from viz.window.window import Options

    cases, against = choice.scenario.load_cases, arguments.against
    return Options(
        cases=cases,
        case=cases.index(_case(choice)),
        second=None if against is None else Shown(swept(against), against),
        exaggeration=_times(arguments),
        front_only=arguments.front_only,
    )
