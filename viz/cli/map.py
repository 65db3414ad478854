"""`lockarc map`: everything the box can reach, caster against camber, coloured by a figure."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from scenarios.ask.wants import HELP, check_known, figure_of, figure_parts, targets_of
from scenarios.errors import Refusal, suggestion
from viz.cli.asked import concerning
from viz.cli.choose import add_want_arguments
from viz.cli.outputs import PLOT_SUFFIXES, output_targets
from viz.cli.parser import whole
from viz.cli.present import add_present_arguments, present
from viz.files import Output, Target, check_suffix, write_all
from viz.words.progress import progress_bar
from viz.words.terminal import warn

if TYPE_CHECKING:
    from kinematics.choose.targets import Figure
    from scenarios import Scenario
    from scenarios.ask.reach import Mapped

DESCRIPTION = """\
Draws every bush pair and clock that the scenario's box allows as a point: caster against camber
straight ahead, coloured by a figure. The present setting, other settings and, with --want, the
best candidates are marked."""
EPILOG = f"""\
The figure is typed as NAME, NAME@LOCK, NAME@LOCK@CASE or NAME@CASE, for example
  --colour 'inside_rear_load_n@30@slow corner'    --colour wheel_drop_left_mm@40
  --colour 'lift_off_steer_left_deg@fast corner'  --colour jacking_rate_left_mm_per_deg

{HELP}"""
DEFAULT_FIGURE = "wheel_drop_left_mm@30"


def add_to(commands: Any) -> None:
    """Add the command to the parser."""
    parser = commands.add_parser(
        "map", help="a picture of all the box can reach", description=DESCRIPTION, epilog=EPILOG
    )
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
    parser.set_defaults(run=run)


def run(arguments: argparse.Namespace) -> int:
    """Check where output may go, map the box, prepare every output, then write and print."""
    targets = output_targets(arguments)
    if not targets:
        raise Refusal(
            "map needs --plot FILE, --json FILE or --csv FILE: a map is a picture or a list of points"
        )
    choice, name = present(arguments)
    scenario = choice.scenario
    figure = _figure(arguments.colour, scenario)
    marks = _marks(arguments, scenario, name)
    wanted = targets_of(arguments.want, scenario, name) if arguments.want else ()
    from scenarios.ask.reach import map_box
    from viz.tables.reach import summary

    asked = (arguments.sides, arguments.rods, arguments.limit)
    with progress_bar("bush pairs") as progress:
        mapped = map_box(scenario, name, figure, marks, wanted, *asked, progress)
    outputs = [Output(target, _content(target, mapped, arguments.dark)) for target in targets]
    warn(concerning(scenario.warnings, [name, *marks]))
    write_all(outputs)
    if not any(target.to_stdout for target in targets):
        print("\n".join(summary(mapped)))
    return 0


def _figure(text: str, scenario: Scenario) -> Figure:
    """The colouring figure; refused in one line where it is none."""
    try:
        figure = figure_of(*figure_parts(text))
    except Refusal as error:
        raise Refusal(f"--colour: {error}") from error
    check_known(figure, scenario, f"--colour '{text}'")
    return figure


def _marks(arguments: argparse.Namespace, scenario: Scenario, present: str) -> Sequence[str]:
    """Names of the settings to mark beside the present one."""
    named = arguments.mark or list(scenario.settings)
    for name in named:
        if name not in scenario.settings:
            known = suggestion(name, scenario.settings)
            raise Refusal(f"{scenario.source}: setting '{name}' is unknown{known}")
    return [name for name in dict.fromkeys(named) if name != present]


def _content(target: Target, mapped: Mapped, dark: bool) -> bytes:
    if target.option == "--plot":
        from viz.plots.lock import figure_bytes
        from viz.plots.reach import map_figure

        return figure_bytes(map_figure(mapped, dark), check_suffix(target, PLOT_SUFFIXES))
    from scenarios.documents.reach import csv_bytes, document
    from scenarios.documents.run import json_bytes

    return json_bytes(document(mapped)) if target.option == "--json" else csv_bytes(mapped)
