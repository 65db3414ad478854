"""`lockarc columns`: every column and headline figure with unit and meaning."""

from __future__ import annotations

import argparse
from collections.abc import Iterable
from typing import Any

from viz.cli.options.outputs import add_wide_argument, outputs_of
from viz.files import Output, write_all
from viz.words.terminal import say

DESCRIPTION = """\
Lists every column of the sweep and every headline figure, with unit and meaning: the names used
in tables, JSON and CSV. A name reads quantity_corner_unit; left and right are the kart's."""
TITLES = (
    "Through lock",
    "Headline figures",
    "Through lock, in a load case",
    "Headline figures of a load case",
    "How the kart stands at a lock position, in a load case: 'stands'",
)


def add_to(commands: Any) -> None:
    """Add the command to the parser."""
    parser = commands.add_parser("columns", description=DESCRIPTION)
    parser.add_argument("--json", metavar="FILE", help="write the list as JSON; '-' is stdout")
    add_wide_argument(parser)
    parser.set_defaults(run=run)


def run(arguments: argparse.Namespace) -> int:
    """Print the list, or write it as JSON."""
    outputs = outputs_of(arguments)
    import scenarios
    from scenarios.documents.chunks import json_chunks
    from scenarios.documents.glossary import glossary

    lists = glossary(scenarios.load().given)
    if outputs.targets:
        write_all([Output(target, json_chunks(lists)) for target in outputs.targets])
    else:
        say(*_lines(lists.values()))
    return 0


def _lines(lists: Iterable[list[dict[str, str]]]) -> list[str]:
    from viz.tables.grid import listing
    from viz.words.width import width

    lines: list[str] = []
    for title, rows in zip(TITLES, lists, strict=True):
        told = listing(((row["name"], row["unit"], row["meaning"]) for row in rows), width() - 2)
        lines += [title, *(f"  {line}" for line in told), ""]
    return lines
