"""`lockarc completion`: the script by which a shell completes commands, options and files."""

from __future__ import annotations

import argparse
from collections.abc import Mapping
from typing import Any

from viz.words.terminal import PROGRAM, say

DESCRIPTION = """\
Prints the script by which a shell completes commands, options and files when Tab is pressed."""
EPILOG = """\
bash: put this line into ~/.bashrc
  eval "$(lockarc completion bash)"
zsh: write it as _lockarc to a folder of $fpath, before compinit is called
  lockarc completion zsh > ~/.zfunc/_lockarc
fish: write it to the folder of completions
  lockarc completion fish > ~/.config/fish/completions/lockarc.fish"""
SHELLS = ("bash", "zsh", "fish")
FILES = ("FILE", "SCENARIO")
"""Metavars of what is completed by the names of files."""


def add_to(commands: Any) -> None:
    """Add the command to the parser."""
    parser = commands.add_parser("completion", description=DESCRIPTION, epilog=EPILOG)
    parser.add_argument("shell", metavar="SHELL", choices=SHELLS, help=", ".join(SHELLS))
    parser.set_defaults(run=run)


def run(arguments: argparse.Namespace) -> int:
    """Print the script."""
    import shtab

    from viz.cli.main import every_command

    whole = every_command()
    _prepare(whole, shtab.FILE)
    script = shtab.complete(whole, arguments.shell, root_prefix=f"{PROGRAM}_completion")
    say(*script.splitlines())
    return 0


def _prepare(parser: argparse.ArgumentParser, files: Mapping[str, Any]) -> None:
    """Mark what takes a file, and tell commands in a line each, in a parser and in those of its commands."""
    for action in parser._actions:
        if action.metavar in FILES:
            vars(action)["complete"] = files
        if isinstance(action, argparse._SubParsersAction):
            for told in action._choices_actions:
                inner = action.choices[told.dest]
                inner.description = told.help
                _prepare(inner, files)
