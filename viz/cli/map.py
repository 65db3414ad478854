"""`lockarc map`: everything the box can reach, caster against camber, coloured by a figure."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from scenarios.ask.asked import check_named, concerning
from scenarios.ask.wants import HELP, address_text, check_known, targets_of
from scenarios.errors import Refusal
from viz.cli.choose import add_want_arguments, wanted_of
from viz.cli.options.asked import add_present_arguments, ask, present, present_question
from viz.cli.options.outputs import Content, add_wide_argument, deliver, outputs_of
from viz.cli.options.parser import whole
from viz.words.progress import progress_bar

if TYPE_CHECKING:
    from matplotlib.figure import Figure as Picture

    from kinematics.figures.figure import Address
    from scenarios import Scenario
    from scenarios.ask.reach import Mapped

DESCRIPTION = """\
Draws every bush pair and clock that the scenario's box allows as a point: caster against camber
straight ahead, coloured by a figure. The present setting, other settings and, with --want, the
best candidates are marked."""
EPILOG = f"""\
The figure is typed as NAME, NAME@LOCK, NAME@LOCK@CASE or NAME@CASE, for example
  --colour 'inside_rear_load_n@30@slow corner'
  --colour wheel_drop_left_mm@40
  --colour 'lift_off_steer_left_deg@fast corner'
  --colour jacking_rate_left_mm_per_deg

{HELP}"""
DEFAULT_FIGURE = "wheel_drop_left_mm@30"


def add_to(commands: Any) -> None:
    """Add the command to the parser."""
    parser = commands.add_parser("map", description=DESCRIPTION, epilog=EPILOG)
    add_present_arguments(parser)
    parser.add_argument(
        "--colour",
        "--color",
        metavar="FIGURE",
        default=DEFAULT_FIGURE,
        help=f"the figure that colours the points; left out: {DEFAULT_FIGURE}",
    )
    parser.add_argument(
        "--mark",
        metavar="NAME",
        action="append",
        help="a setting to mark; may be repeated; left out: every setting of the scenario",
    )
    add_want_arguments(parser, required=False)
    output = parser.add_argument_group("output")
    output.add_argument(
        "--limit", metavar="N", type=whole(1, 8), default=3, help="candidates marked with --want; left out: 3"
    )
    output.add_argument("--plot", metavar="FILE", help="the picture, as .png, .svg or .pdf")
    output.add_argument("--dark", action="store_true", help="the picture on a dark ground")
    output.add_argument("--json", metavar="FILE", help="the points and marks; '-' is stdout")
    output.add_argument("--csv", metavar="FILE", help="one row a point as CSV; '-' is stdout")
    add_wide_argument(output)
    parser.set_defaults(run=run)


def run(arguments: argparse.Namespace) -> int:
    """Check where output may go, map the box, prepare every output, then write and print."""
    outputs, question, wanted = outputs_of(arguments), present_question(arguments), wanted_of(arguments)
    colour, named = str(arguments.colour), tuple(arguments.mark or ())
    if not outputs.targets:
        raise Refusal(
            "map needs --plot FILE, --json FILE or --csv FILE: a map is a picture or a list of points"
        )
    asked = ask(question)
    scenario, name = asked.scenario, present(asked, question)
    figure, marks = _figure(colour, scenario), _marks(named, scenario, name)
    targets = targets_of(wanted.wants, scenario, name) if wanted.wants else ()
    from scenarios.ask.reach import map_box
    from scenarios.documents.chunks import json_chunks
    from scenarios.documents.reach import csv_pieces, document
    from viz.tables.reach import summary

    how = (wanted.sides, wanted.rods, wanted.limit)
    with progress_bar("bush pairs") as progress:
        mapped = map_box(scenario, name, figure, marks, targets, *how, progress)
    contents: dict[str, Content] = {
        "--json": lambda: json_chunks(document(mapped)),
        "--csv": lambda: csv_pieces(mapped),
        "--plot": lambda: _picture(mapped, outputs.dark),
    }
    deliver(outputs, contents, lambda: summary(mapped), concerning(scenario, [name, *marks]))
    return 0


def _figure(text: str, scenario: Scenario) -> Address:
    """The colouring figure; refused in one line where it is none."""
    try:
        figure = address_text(text)
    except Refusal as error:
        raise Refusal(f"--colour: {error}") from error
    check_known(figure, scenario, f"--colour '{text}'")
    return figure


def _marks(named: Sequence[str], scenario: Scenario, present: str) -> Sequence[str]:
    """Names of the settings to mark beside the present one, every one of the scenario where none is named."""
    for name in named:
        check_named(scenario, name)
    return [name for name in dict.fromkeys(named or scenario.settings) if name != present]


def _picture(mapped: Mapped, dark: bool) -> Picture:
    from viz.plots.reach import map_figure

    return map_figure(mapped, dark)
