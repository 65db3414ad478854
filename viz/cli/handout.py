"""`lockarc handout`: one HTML file that opens on a phone, with the lock to scrub through and the numbers."""

from __future__ import annotations

import argparse
import os
from typing import Any

from scenarios.ask.asked import concerning
from scenarios.errors import Refusal
from scenarios.ranges import RANGES
from viz.cli.options.asked import TYPED, add_run_arguments, ask, run_question
from viz.cli.options.parser import finite, whole
from viz.cli.viewing.picture import check_out, refusing
from viz.files import writing
from viz.words.numbers import number
from viz.words.progress import progress_bar
from viz.words.terminal import say, warn

DESCRIPTION = """\
Writes a hand-out: one HTML file that needs no network, with the kart to scrub through lock, the
charts, the headline figures and the bushes to fit. One setting, or two to compare."""
MOST_SETTINGS = 2


def add_to(commands: Any) -> None:
    """Add the command to the parser."""
    parser = commands.add_parser(
        "handout",
        description=DESCRIPTION,
        epilog=TYPED,
    )
    add_run_arguments(parser)
    output = parser.add_argument_group("output")
    output.add_argument("--out", metavar="FILE", required=True, help="the file to write, .html")
    output.add_argument(
        "--stops",
        metavar="N",
        type=whole(5, 91),
        default=argparse.SUPPRESS,
        help="pictures through lock; left out: 25, one every 5° from 60° to 60°",
    )
    output.add_argument(
        "--case",
        metavar="NAME",
        action="append",
        default=[],
        help="load case of the pictures; left out: where the settings differ most",
    )
    output.add_argument(
        "--exaggerate",
        metavar="X",
        type=finite,
        help="draw twist, roll, ride height and air under a wheel X times as large, 1 to 20; left out: to "
        "scale where that can be seen, else 3",
    )
    output.add_argument("--from-view", metavar="NAME", default="rock", help="where to look from")
    parser.set_defaults(run=run)


def run(arguments: argparse.Namespace) -> int:
    """Solve, draw every stop and write the file."""
    out, view = str(arguments.out), str(arguments.from_view)
    times, cases = arguments.exaggerate, arguments.case
    if len(cases) > 1:
        raise Refusal(f"a hand-out's pictures show one load case, not {len(cases)}: {', '.join(cases)}")
    if times is not None:
        RANGES["--exaggerate"].checked(times, "--exaggerate")
    question = run_question(arguments)
    from viz import handout
    from viz.canvas import gl

    check_out(out, handout.SUFFIXES, question.source)
    asked = ask(question)
    if len(asked.settings) > MOST_SETTINGS:
        raise Refusal(f"a hand-out shows one setting or two, not {len(asked.settings)}")
    with refusing(), writing(out), progress_bar(os.path.basename(out)) as progress:
        gl.require()
        try:
            looks = {"view": view, "case": cases[0] if cases else None, "times": times}
            looks.update({key: given for key, given in vars(arguments).items() if key == "stops"})
            size = handout.write(out, asked.scenario, asked.settings, **looks, progress=progress)
        except ValueError as error:
            raise Refusal(error) from error
    warn(concerning(asked.scenario, asked.settings))
    say(f"{out}: {number(size / 1e6, 1)} MB")
    return 0
