"""`lockarc clocks`: which clocks of two bushes give a wanted caster at a corner."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING, Any

from scenarios.ask.asked import Question, concerning
from scenarios.ask.typed import AS_GIVEN, size_text
from viz.cli.options.asked import add_scenario_argument, ask
from viz.cli.options.outputs import add_wide_argument
from viz.cli.options.parser import finite, typed
from viz.words.cautions import TURNING
from viz.words.lines import sheet_line, sweep_line, typed_lines
from viz.words.terminal import say, warn

if TYPE_CHECKING:
    from scenarios.ask.clocks import Answer, Clocks

DESCRIPTION = """\
Which clocks of two bushes give a wanted caster at one corner: both pairs of clocks there are,
or the nearest with what the bushes reach, and the nearest on the kit's clock step; with each
the camber and what it does to toe before the tie rod is turned."""
EPILOG = """\
A size is in deg as rated (2 or 2deg) or the offset of the hole in mm (1.5mm); 0 is concentric.
  lockarc clocks --caster 13 --top 2 --bottom 2
  lockarc clocks --caster 14 --inclination 9 --top 3 --bottom 2.3mm --side right"""


def add_to(commands: Any) -> None:
    """Add the command to the parser."""
    parser = commands.add_parser("clocks", description=DESCRIPTION, epilog=EPILOG)
    add_scenario_argument(parser)
    wanted = parser.add_argument_group("wanted")
    wanted.add_argument(
        "--caster", metavar="DEG", type=finite, required=True, help="caster to the road, + top rearward"
    )
    wanted.add_argument(
        "--inclination",
        metavar="DEG",
        type=finite,
        help="kingpin inclination to the road, + top inboard; left out: as now, where it can be",
    )
    bushes = parser.add_argument_group("bushes")
    for place in ("top", "bottom"):
        bushes.add_argument(
            f"--{place}",
            metavar="SIZE",
            type=typed(size_text),
            required=True,
            help=f"size of the {place} bush",
        )
    bushes.add_argument("--side", choices=("left", "right"), default="left", help="corner; left out: left")
    bushes.add_argument(
        "--from", dest="present", metavar="NAME", help="what is fitted now; left out: the default setting"
    )
    add_wide_argument(parser)
    parser.set_defaults(run=run)


def run(arguments: argparse.Namespace) -> int:
    """Solve for the clocks and print them, with the commands that test them."""
    named = (arguments.present,) if arguments.present else ()
    scenario = ask(Question(arguments.scenario, named)).scenario
    present = arguments.present or scenario.default_setting
    from scenarios.ask.clocks import clocks
    from viz.tables.clocks import report

    sizes = (arguments.top, arguments.bottom)
    found = clocks(scenario, present, arguments.side, sizes, arguments.caster, arguments.inclination)
    warn([*concerning(scenario, [present]), *found.lacking])
    say(*report(found), "", *_commands(found, arguments.scenario), TURNING)
    return 0


def _commands(found: Clocks, scenario: str | None) -> list[str]:
    """The lines that show each pair of clocks that can be fitted through lock and on a bench sheet."""
    if found.present == AS_GIVEN:
        return ["Keep the present setting in the scenario file to go on from it."]
    lines = []
    for number, answer in found.fitting.items():
        lines += [f"{number} through lock, and on a bench sheet:", *_lines(found, answer, scenario)]
    return lines


def _lines(found: Clocks, answer: Answer, scenario: str | None) -> list[str]:
    from scenarios.ask.fitting import typed_corner

    asked = (found.scenario, found.present, answer.setting, found.side)
    swept, fitted = ({found.side: typed_corner(*asked, with_toe=toe)} for toe in (True, False))
    lines = (sweep_line(scenario, found.present, swept), sheet_line(scenario, found.present, fitted))
    return [part for line in lines for part in typed_lines(line)]
