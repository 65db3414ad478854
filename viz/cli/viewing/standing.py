"""What `lockarc view` draws: the kart standing in a load case, or without one a front end held still."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from scenarios.ask.asked import Asked, check_named
from scenarios.errors import Refusal
from scenarios.ranges import RANGES
from viz.cli.options.parser import finite

if TYPE_CHECKING:
    from kinematics.lock import Sweep
    from kinematics.parts import LoadCase
    from viz.scene.data import SceneData
    from viz.window.state import Options

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
        help="load case in which the kart stands; left out: where A shows most, or A and B differ most",
    )
    group.add_argument(
        "--exaggerate",
        metavar="X",
        type=finite,
        help="draw twist, roll, ride height and air under a wheel X times as large, 1 to 20; left out: to "
        "scale where its air is seen then, else 3",
    )
    group.add_argument("--against", metavar="NAME", help="a second setting, B, see-through over the first")
    group.add_argument("--front-only", action="store_true", help="the front end alone, its frame held still")
    group.add_argument(
        "--whole", action="store_true", help="rigid, with its rear axle, its frame held still: no load case"
    )


@dataclass(frozen=True)
class Subject:
    """Which kart is drawn, and how; what is None or empty was not asked for."""

    cases: Sequence[str] = ()
    exaggeration: float | None = None
    against: str | None = None
    front_only: bool = False
    whole: bool = False

    @property
    def held_still(self) -> bool:
        """Whether the frame is held still, so that there is no load case."""
        return self.front_only or self.whole

    def standing_options(self) -> list[str]:
        """The options given that only a kart in a load case has."""
        given = {
            "--case": self.cases,
            "--exaggerate": self.exaggeration is not None,
            "--against": self.against is not None,
        }
        return [option for option, value in given.items() if value]

    def unsaid(self) -> list[str]:
        """The options given whose picture is read wrongly without words beside it."""
        return [option for option in self.standing_options() if option != "--case"]


def subject_of(arguments: argparse.Namespace) -> Subject:
    """What the options of add_standing_arguments ask; refused where they do not go together."""
    from viz.scene.scene import OF_A_CORNER

    told = arguments.from_view in OF_A_CORNER and not arguments.whole
    subject = Subject(
        tuple(arguments.case),
        arguments.exaggerate,
        arguments.against,
        arguments.front_only or told,
        arguments.whole,
    )
    if subject.front_only and subject.whole:
        raise Refusal("--front-only and --whole exclude each other")
    if len(subject.cases) > 1:
        raise Refusal(f"view shows one load case, not {len(subject.cases)}: {', '.join(subject.cases)}")
    times = subject.exaggeration
    if times is not None:
        RANGES["--exaggerate"].checked(times, "--exaggerate")
    both = ("--against",) if told else ()  # the clocks of two settings are drawn over each other
    for option in (o for o in subject.standing_options() if subject.held_still and o not in both):
        still = (
            f"--from-view {arguments.from_view}" if told else "--whole" if subject.whole else "--front-only"
        )
        raise Refusal(f"{option} is for a kart that stands in a load case: leave {still} out")
    return subject


def settings_shown(asked: Asked, subject: Subject) -> list[str]:
    """Names of the settings drawn: A, and B where there is one; refused where the scenario has no B."""
    if subject.against is not None:
        check_named(asked.scenario, subject.against)
    return [*asked.settings, *([subject.against] if subject.against else [])]


def seen_best(asked: Asked, subject: Subject) -> Subject:
    """The subject with what was not asked for: the load case and scale in which it is seen best."""
    if subject.held_still or (subject.cases and subject.exaggeration is not None):
        return subject
    from viz.scene.moment import seen_best

    case = subject.cases[0] if subject.cases else None
    best = seen_best(asked.scenario, settings_shown(asked, subject), case, subject.exaggeration)
    return replace(subject, cases=(asked.scenario.load_cases[best.case].name,), exaggeration=best.times)


def build(asked: Asked, subject: Subject, swept: Swept) -> SceneData:
    """The scene asked for; ValueError where it cannot be drawn."""
    from viz.scene import scene
    from viz.scene import standing as stance_scene

    first = asked.settings[0]
    if subject.held_still:
        data = scene.build(swept(first), first, subject.whole)
        if subject.against is None:
            return data
        from viz.scene.stories.against import against

        return against(data, scene.build(swept(subject.against), subject.against))
    data = _standing(asked, subject, swept(first), first)
    if subject.against is None:
        return data
    return stance_scene.against(data, _standing(asked, subject, swept(subject.against), subject.against))


def _standing(asked: Asked, subject: Subject, swept: Sweep, name: str) -> SceneData:
    from kinematics.standing.stand import stand
    from viz.scene import scene

    case, times = _case(asked, subject), subject.exaggeration or 1.0
    return scene.build(swept, name, stance=stand(swept, case), case_name=case.name, exaggeration=times)


def _case(asked: Asked, subject: Subject) -> LoadCase:
    name = subject.cases[0] if subject.cases else asked.cases[0]
    return next(case for case in asked.scenario.load_cases if case.name == name)


def window_options(asked: Asked, subject: Subject, swept: Swept, view: str, at_deg: float) -> Options:
    """With what the window starts, seen from a view at a handwheel angle in degrees."""
    from viz.scene.scene import OF_A_CORNER
    from viz.window.state import USUAL, OnScreen, Options

    if subject.whole:
        raise Refusal("--whole is for a file; the window shows the whole kart in a load case")
    cases, against = asked.scenario.load_cases, subject.against
    return Options(
        cases=cases,
        case=cases.index(_case(asked, subject)),
        second=None if against is None else OnScreen(swept(against), against),
        exaggeration=subject.exaggeration or USUAL,
        front_only=subject.front_only and view not in OF_A_CORNER,
        view=view,
        at_deg=at_deg,
        settings=asked.scenario.settings,
    )
