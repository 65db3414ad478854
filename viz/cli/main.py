"""The command `lockarc`: the one place where the program speaks, and ends with a code.

Importing this module is light; what computes, draws or reads files is imported by the command that needs it.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence
from importlib import import_module
from typing import Any

from scenarios.errors import Refusal
from scenarios.stopping import answered
from viz.cli.options.parser import Parser
from viz.words.cautions import BRIEF
from viz.words.neighbours import hushed
from viz.words.terminal import (
    INTERRUPTED,
    PIPE_CLOSED,
    PROGRAM,
    REFUSED,
    abandon_stdout,
    complain,
    fill_streams,
    forgiving_streams,
    say,
)
from viz.words.width import WIDTH, printed_at, wide

DESCRIPTION = """\
What lock does to the front of a kart: sweep the handwheel through any pair of eccentric
kingpin bushes and read camber, steer, trail, scrub, wheel drop and the rest."""
EPILOG = f"""\
Left and right are the kart's; a positive handwheel angle turns left. Toe-in is positive.
{BRIEF}"""

COMMANDS = {
    "sweep": "what lock does: headline figures and a table",
    "compare": "settings against a base, and what each change upsets",
    "choose": "which bushes of the box meet the figures wanted",
    "steps": "what one step of every adjustment is worth, and what replaces what",
    "measure": "what to read next of a kart, and a blank for it",
    "fit": "the kart that readings mean, and how sure that is",
    "axis": "a steering axis from points marked on the stub axle",
    "clocks": "which clocks of two bushes give a caster",
    "map": "a picture of all the box can reach",
    "sheet": "the bench sheet for a change of bushes",
    "view": "see the parts move: a window, a page in the browser, a film or a picture",
    "handout": "one HTML file for a phone or a class: pictures through lock, charts",
    "lesson": "what a teacher shows and says, as a page that steps or a film",
    "columns": "every column with unit and meaning",
    "scenario": "list, copy or check scenario files",
    "completion": "let the shell complete commands, options and files",
}
"""What each command does, in the order in which help tells them; each is the module of its name."""


ROOMS = dict.fromkeys(("measure", "fit", "axis"), "gauged.")
"""The room of a command's module, where it is not in this one."""


def _module(command: str) -> Any:
    return import_module(f"viz.cli.{ROOMS.get(command, '')}{command}")


def parser(command: str | None = None) -> Parser:
    """The argument parser; only a command that is named knows its options, and sets `run` to what does it."""
    top, commands = _without_commands()
    if command in COMMANDS:
        _module(command).add_to(commands)
    else:
        for name, told in COMMANDS.items():
            commands.add_parser(name, help=told)
    return top


def every_command() -> Parser:
    """The argument parser in which every command knows its options, and what is told of each."""
    top, commands = _without_commands()
    for name, told in COMMANDS.items():
        _module(name).add_to(ToldCommand(commands, told))
    return top


class ToldCommand:
    """What a command adds its parser to where the line of help that tells it is to stand beside it."""

    def __init__(self, commands: Any, told: str) -> None:
        self.commands, self.told = commands, told

    def add_parser(self, name: str, **options: Any) -> Any:
        """Add the parser with its line of help."""
        return self.commands.add_parser(name, help=self.told, **options)


def _without_commands() -> tuple[Parser, Any]:
    """The argument parser, and what commands are added to."""
    top = Parser(PROGRAM, description=DESCRIPTION, epilog=EPILOG)
    top.add_argument("--version", action="store_true", help="print the version and leave")
    return top, top.add_subparsers(title="commands", metavar="COMMAND", dest="command")


def main(argv: Sequence[str] | None = None) -> int:
    """Run the command line; returns the exit code, 0 or 2 when refused. A stop signal ends it as such."""
    if not fill_streams():
        complain("cannot write the output: standard output is closed")
        return REFUSED
    forgiving_streams()
    with answered(), hushed():
        return _told(argv)


def _told(argv: Sequence[str] | None) -> int:
    """Run, and say what came of it in an exit code."""
    try:
        code = _run(argv)
        sys.stdout.flush()
        return code
    except KeyboardInterrupt:
        return INTERRUPTED
    except BrokenPipeError:
        abandon_stdout()
        return PIPE_CLOSED
    except OSError as error:  # stdout on a full disk and the like: files have their own message
        complain(f"cannot write the output: {error.strerror or error}")
        abandon_stdout()
        return REFUSED


def _run(argv: Sequence[str] | None) -> int:
    argv = sys.argv[1:] if argv is None else argv
    top = parser(next((word for word in argv if word != "--"), None))
    try:
        arguments = top.parse_args(argv)
        if arguments.version:
            return _print_version()
        if arguments.command is None:
            top.print_help()
            return 0
        command: Callable[[object], int] = arguments.run
        with printed_at(wide() if getattr(arguments, "wide", False) else WIDTH):
            return command(arguments)
    except SystemExit:  # help has been printed
        sys.stdout.flush()
        raise
    except Refusal as refusal:
        complain(refusal)
        return REFUSED


def _print_version() -> int:
    from importlib.metadata import version

    say(f"{PROGRAM} {version(PROGRAM)}")
    return 0
