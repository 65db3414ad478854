"""Command lines that are printed to be typed again, whatever stands in a name."""

from __future__ import annotations

import shlex
from collections.abc import Mapping

from viz.words.terminal import PROGRAM


def command(name: str, scenario: str | None, **options: str) -> str:
    """`lockarc NAME SCENARIO --OPTION VALUE ...`, quoted for a shell; 'from_' is the option --from."""
    words = [PROGRAM, name, *([scenario] if scenario else [])]
    for option, value in options.items():
        words += [f"--{option.strip('_').replace('_', '-')}", value]
    return shlex.join(words)


def sheet_line(scenario: str | None, present: str, corners: Mapping[str, str]) -> str:
    """The bench sheet from a setting of the scenario to corners as typed, by side."""
    return command("sheet", scenario, from_=present, **corners, out="sheet.pdf")


def sweep_line(scenario: str | None, present: str, corners: Mapping[str, str]) -> str:
    """Lock with corners as typed, by side, over a setting of the scenario."""
    return command("sweep", scenario, **corners, based_on=present)
