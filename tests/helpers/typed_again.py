"""Command lines that a command has printed, read back as a shell and the program would."""

from __future__ import annotations

import contextlib
import io
import shlex
from dataclasses import dataclass, replace
from functools import cache

from kinematics.corner.bush import same_clock, same_size
from kinematics.parts import Setting
from scenarios import Scenario
from scenarios.ask.asked import Question
from scenarios.ask.typed import AS_GIVEN
from viz.cli.main import main, parser
from viz.cli.options.asked import ask, run_question, typed_of
from viz.words.lines import GOES_ON


def said(*arguments: str) -> tuple[str, str]:
    """What a command that is not refused prints, and what it warns of."""
    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        assert main(arguments) == 0, err.getvalue()
    return out.getvalue(), err.getvalue()


def command_lines(text: str) -> list[list[str]]:
    """Every command line in a text, as the words that a shell makes of it, without the program's name."""
    lines = (line.strip() for line in text.replace(f"{GOES_ON}\n", " ").splitlines())
    return [shlex.split(line)[1:] for line in lines if line.startswith("lockarc ")]


_parser = cache(parser)


@dataclass(frozen=True)
class Meant:
    """What a command line means: the setting that it types, and the one it starts from."""

    scenario: Scenario
    present: str
    setting: Setting


def meant(words: list[str]) -> Meant:
    """The setting that a printed `sheet` or `sweep` asks for, read by the program's own parser."""
    arguments = _parser(words[0]).parse_args(words)
    if words[0] == "sheet":
        typed = replace(typed_of(arguments), based_on=arguments.present)
        scenario = ask(Question(arguments.scenario, [arguments.present, typed])).scenario
        return Meant(scenario, arguments.present, scenario.settings[AS_GIVEN])
    assert words[0] == "sweep"
    question = run_question(arguments)
    [typed], scenario = question.settings, ask(question).scenario
    return Meant(scenario, typed.based_on, scenario.settings[AS_GIVEN])


def assert_same_bushes(one: Setting, other: Setting) -> None:
    """At both corners the same bushes at the same clocks; a concentric one has no clock."""
    for side in ("left", "right"):
        a, b = getattr(one, side), getattr(other, side)
        for place in ("top", "bottom"):
            offsets = [float(getattr(corner, f"{place}_offset")) for corner in (a, b)]
            clocks = [float(getattr(corner, f"{place}_clock")) for corner in (a, b)]
            assert same_size(*offsets), (side, place, offsets)
            assert offsets[0] < 1e-6 or same_clock(*clocks), (side, place, clocks)
