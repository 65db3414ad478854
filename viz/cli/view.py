"""`lockarc view`: the kart moving through lock, in a window, in the browser, or written to a file."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING, Any

from scenarios.ask.asked import Asked, concerning
from scenarios.errors import Refusal
from scenarios.stopping import raised
from viz.cli.options.asked import TYPED, add_run_arguments, ask, run_question
from viz.cli.options.outputs import check_shown
from viz.cli.viewing.browser import add_browser_arguments, check_page, page_of, serve_page
from viz.cli.viewing.picture import (
    Picture,
    add_picture_arguments,
    picture_of,
    refusing,
    swept_setting,
    write_picture,
)
from viz.cli.viewing.standing import (
    Subject,
    add_standing_arguments,
    seen_best,
    settings_shown,
    subject_of,
    window_options,
)
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
        description=DESCRIPTION,
        epilog=TYPED,
    )
    add_run_arguments(parser)
    add_standing_arguments(parser)
    group = add_picture_arguments(parser)
    group.add_argument("--window", action="store_true", help="a window, and a refusal without a display")
    add_browser_arguments(parser)
    parser.set_defaults(run=run)


def run(arguments: argparse.Namespace) -> int:
    """Solve the sweep, then open the window, serve the page or write the file."""
    way = _one_way(arguments)
    question, subject, page = run_question(arguments), subject_of(arguments), page_of(arguments)
    picture = picture_of(arguments)
    asked = ask(question)
    if len(asked.settings) != 1:
        names = ", ".join(asked.settings)
        raise Refusal(f"view shows one setting, not {len(asked.settings)}: {names}; put B in --against")
    shown = settings_shown(asked, subject)
    way = way or ("--window" if _has_display() else "--browser")
    if way == "--browser":
        check_page(subject, picture)
    warnings = concerning(asked.scenario, shown)
    with refusing():
        if picture.out is not None:
            write_picture(picture.out, asked, subject, picture)
            warn(warnings)
        elif way == "--browser":
            warn(warnings)
            with raised():
                serve_page(question, asked, shown, page)
        else:
            warn(warnings)
            _show(asked, seen_best(asked, subject), picture)
    return 0


def _one_way(arguments: argparse.Namespace) -> str:
    """The option that says how the kart is to be seen, '' where none does; refused where two do."""
    ways = {"--out": arguments.out, "--window": arguments.window, "--browser": arguments.browser}
    given = [name for name, value in ways.items() if value]
    if len(given) > 1:
        raise Refusal(f"{' and '.join(given)} exclude each other")
    return "".join(given)


def _has_display() -> bool:
    from viz.canvas.gl import has_display

    return has_display()


def _show(asked: Asked, subject: Subject, picture: Picture) -> None:
    from kinematics.lock import sweep
    from viz.canvas import gl
    from viz.window import window

    gl.require(window=True)
    name = asked.settings[0]
    swept = swept_setting(asked, name)

    def resweep(setting: Setting) -> Sweep:
        return sweep(swept.kart, setting, swept.handwheel)

    check_shown(asked.scenario, picture.at_deg)
    options = window_options(
        asked,
        subject,
        lambda setting: swept_setting(asked, setting),
        picture.view,
        picture.at_deg or 0.0,
    )
    try:
        window.show(swept, resweep, name, picture.theme, options)
    except Refusal:
        raise
    except ValueError as error:
        raise Refusal(f"{asked.scenario.source}: setting '{name}': {error}") from error
