"""`lockarc axis`: a steering axis from points marked on a stub axle."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Any

from scenarios.ask.asked import Question
from viz.cli.options.asked import add_scenario_argument, ask
from viz.cli.options.outputs import add_wide_argument
from viz.cli.options.parser import finite
from viz.words.terminal import say

DESCRIPTION = """\
Finds the axis about which a stub axle turns from points marked on it, measured in three positions
of the wheel or more, with how sure it is, and which bushes of the box such an axis means."""
EPILOG = """\
  lockarc axis --points left.csv
  lockarc axis my-kart.toml --points right.csv --side right --within 2
The file has the columns position,point,x_mm,y_mm,z_mm: every point in every position, x ahead of the
rear axle, y to the left of the mid-plane, z above the floor. The frame must not move meanwhile: hold
it level on stands that cannot roll. Four points, far from the kingpin and from each other, and 20 deg
of steer each way are well placed."""


def add_to(commands: Any) -> None:
    """Add the command to the parser."""
    parser = commands.add_parser("axis", description=DESCRIPTION, epilog=EPILOG)
    add_scenario_argument(parser)
    group = parser.add_argument_group("points")
    group.add_argument("--points", metavar="FILE", required=True, help="the points, as CSV")
    group.add_argument("--side", choices=("left", "right"), default="left", help="corner; left out: left")
    told = "how well a point is known, mm: two readings in three lie within; left out: 1"
    group.add_argument("--within", metavar="MM", type=finite, default=1.0, help=told)
    add_wide_argument(parser)
    parser.set_defaults(run=run)


def run(arguments: argparse.Namespace) -> int:
    """Find the axis and print it."""
    scenario = ask(Question(arguments.scenario)).scenario
    from scenarios.gauged.axis import check_spread, points_of, steering_axis
    from viz.tables.gauged.axis import report

    spread = check_spread(arguments.within)
    found = steering_axis(points_of(Path(arguments.points)), spread, arguments.side, scenario)
    say(*report(found, scenario, spread))
    return 0
