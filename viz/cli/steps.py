"""`lockarc steps`: what one usual step of every adjustment is worth on this kart, and what replaces what."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from viz.cli.options.asked import add_present_arguments, ask, present, present_question
from viz.cli.options.outputs import Content, add_wide_argument, check_at, deliver, outputs_of, worked_out
from viz.cli.options.parser import finite

if TYPE_CHECKING:
    from matplotlib.figure import Figure

    from scenarios.ask.steps import Stepped

DESCRIPTION = """\
Takes one usual step of every adjustment from what is on the kart, the toe set back after it, and says
in a few lines which do most in a corner to the inside rear wheel, how sure that is, what it costs in
minutes, and what stands for a degree of bush. With --tables every step: what it does to that wheel, to
where it leaves the road, to the camber of the outside front and to the handwheel, and what is not
modelled."""
HINT = ("", "Every step with all that it does, and what is not modelled: --tables.")


def add_to(commands: Any) -> None:
    """Add the command to the parser."""
    parser = commands.add_parser("steps", description=DESCRIPTION)
    add_present_arguments(parser)
    corner = parser.add_argument_group("corner")
    corner.add_argument("--case", metavar="NAME", help="the corner to read them in; left out: the first")
    corner.add_argument("--at", metavar="DEG", type=finite, help="handwheel angle, deg, to read them at")
    output = parser.add_argument_group("output")
    output.add_argument("--json", metavar="FILE", help="every step with its bands; '-' is stdout")
    output.add_argument("--plot", metavar="FILE", help="a bar a step, as .png, .svg or .pdf")
    output.add_argument("--dark", action="store_true", help="the plot on a dark ground")
    output.add_argument("--tables", action="store_true", help="every step in a table after the answer")
    add_wide_argument(output)
    parser.set_defaults(run=run)


def run(arguments: argparse.Namespace) -> int:
    """Take the steps, then write and print."""
    outputs, question = outputs_of(arguments), present_question(arguments)
    asked = ask(question)
    check_at(asked.scenario, arguments.at)
    from scenarios.ask.asked import concerning
    from scenarios.ask.run import check_stands
    from scenarios.ask.steps import stepped
    from scenarios.documents.chunks import json_chunks
    from scenarios.documents.steps import document
    from viz.tables.steps import report, steps_answer

    base = present(asked, question)
    check_stands(asked.scenario, base)
    at_deg = None if arguments.at is None else abs(arguments.at)
    found = worked_out(lambda pulse: stepped(asked.scenario, base, arguments.case, at_deg, pulse=pulse))

    def printed() -> Iterator[str]:
        yield from steps_answer(found)
        yield from ["", *report(found)] if arguments.tables else HINT

    contents: dict[str, Content] = {
        "--json": lambda: json_chunks(document(found)),
        "--plot": lambda: _figure(found, outputs.dark),
    }
    deliver(outputs, contents, printed, concerning(asked.scenario, [base]))
    return 0


def _figure(found: Stepped, dark: bool) -> Figure:
    from viz.plots.steps import steps_figure

    return steps_figure(found, dark)
