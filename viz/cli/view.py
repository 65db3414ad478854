"""`lockarc view`: the kart moving through lock, in a window, in the browser, or written to a file."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING, Any

from scenarios.ask.typed import HELP
from scenarios.errors import Refusal
from viz.cli.asked import Choice, add_run_arguments, chosen, concerning
from viz.cli.browser import add_browser_arguments, check_page, serve_page
from viz.cli.parser import finite
from viz.cli.picture import check_out, refusing, swept_setting, theme_of, write_picture
from viz.cli.standing import add_standing_arguments, check_standing, settings_shown, window_options
from viz.words.terminal import warn

if TYPE_CHECKING:
    from kinematics.lock import Sweep
    from kinematics.parts import Setting

DESCRIPTION = """\
Shows the kart moving through lock as the solver has it, standing on the road in a load case: four
wheels with their loads, the frame as it twists, the inside rear where it leaves the road, and in
front bushes with their holes, kingpin, stub axle, tie rod, spade and column. A window where there
is a display, else a page in the browser; with --out, a file."""


def add_to(commands: Any) -> None:
    """Add the command to the parser."""
    parser = commands.add_parser(
        "view",
        help="see the parts move: a window, a page in the browser, a film or a picture",
        description=DESCRIPTION,
        epilog=HELP,
    )
    add_run_arguments(parser)
    add_standing_arguments(parser)
    output = parser.add_argument_group("picture")
    output.add_argument("--out", metavar="FILE", help="a film .gif, .mp4, .webp, a picture .png, or a .glb")
    output.add_argument(
        "--at", metavar="DEG", type=finite, help="handwheel angle of .png, .glb; else straight"
    )
    output.add_argument("--from-view", metavar="NAME", default="overview", help="where to look from")
    output.add_argument("--dark", action="store_true", help="on a dark ground")
    output.add_argument("--window", action="store_true", help="a window, and a refusal without a display")
    add_browser_arguments(parser)
    parser.set_defaults(run=run)


def run(arguments: argparse.Namespace) -> int:
    """Solve the sweep, then open the window, serve the page or write the file."""
    out: str | None = arguments.out
    _check_one_way(arguments)
    if out is not None:
        from viz.canvas.movie import SUFFIXES

        check_out(out, (*SUFFIXES, "glb"), arguments.scenario)
    choice = chosen(arguments)
    if len(choice.settings) != 1:
        names = ", ".join(choice.settings)
        raise Refusal(f"view shows one setting, not {len(choice.settings)}: {names}; put B in --against")
    check_standing(choice, arguments)
    as_page = arguments.browser or (out is None and not arguments.window and not _has_display())
    if as_page:
        check_page(arguments)
    warn(concerning(choice.scenario.warnings, settings_shown(choice, arguments)))
    with refusing():
        if as_page:
            shown = settings_shown(choice, arguments)
            serve_page(choice, shown, arguments, lambda: chosen(arguments))
        elif out is None:
            _show(choice, arguments)
        else:
            write_picture(out, choice, arguments)
    return 0


def _check_one_way(arguments: argparse.Namespace) -> None:
    ways = {"--out": arguments.out, "--window": arguments.window, "--browser": arguments.browser}
    given = [name for name, value in ways.items() if value]
    if len(given) > 1:
        raise Refusal(f"{' and '.join(given)} exclude each other")


def _has_display() -> bool:
    from viz.canvas.gl import has_display

    return has_display()


def _show(choice: Choice, arguments: argparse.Namespace) -> None:
    from kinematics.lock import sweep
    from viz.canvas import gl
    from viz.window import window

    gl.require(window=True)
    name = choice.settings[0]
    swept = swept_setting(choice, name)

    def resweep(setting: Setting) -> Sweep:
        return sweep(swept.kart, setting, swept.handwheel)

    options = window_options(choice, arguments, lambda setting: swept_setting(choice, setting))
    try:
        window.show(swept, resweep, name, theme_of(arguments), options)
    except ValueError as error:
        raise Refusal(f"{choice.scenario.source}: setting '{name}': {error}") from error
