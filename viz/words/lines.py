"""Command lines that are printed to be typed again, whatever stands in a name."""

from __future__ import annotations

import shlex
from collections.abc import Mapping, Sequence

from viz.words.terminal import PROGRAM
from viz.words.width import width

GOES_ON = " \\"
"""Ends a line of a command that goes on in the next."""


def command(name: str, scenario: str | None, *more: str, **options: str | Sequence[str]) -> str:
    """`lockarc NAME SCENARIO MORE --OPTION VALUE ...`, quoted for a shell; 'from_' is the option --from, one
    of several values is said again for each."""
    file = f"./{scenario}" if scenario and scenario.startswith("-") else scenario  # else it is an option
    words = [PROGRAM, name, *([file] if file else []), *more]
    for option, value in options.items():
        for one in [value] if isinstance(value, str) else value:
            words += [f"--{option.strip('_').replace('_', '-')}", one]
    return shlex.join(words)


def typed_lines(line: str, indent: str = "  ") -> list[str]:
    """A command line as it is printed: too long a one goes on behind a backslash, as a shell reads it."""
    room = width() - len(indent)
    if len(line) <= room:
        return [f"{indent}{line}"]
    parts = [""]
    for word in shlex.split(line):
        if word.startswith("--"):  # its value stays beside it
            parts.append("")
        parts[-1] = f"{parts[-1]} {shlex.quote(word)}".lstrip()
    lines = [parts[0]]
    for part in parts[1:]:
        if len(f"{lines[-1]} {part}{GOES_ON}") > room:
            lines.append(f"  {part}")
        else:
            lines[-1] += f" {part}"
    return [f"{indent}{one}{GOES_ON}" for one in lines[:-1]] + [f"{indent}{lines[-1]}"]


def sheet_line(scenario: str | None, present: str, corners: Mapping[str, str]) -> str:
    """The bench sheet from a setting of the scenario to corners as typed, by side."""
    return command("sheet", scenario, from_=present, **corners, out="sheet.pdf")


def sweep_line(scenario: str | None, present: str, corners: Mapping[str, str]) -> str:
    """Lock with corners as typed, by side, over a setting of the scenario."""
    return command("sweep", scenario, **corners, based_on=present)
