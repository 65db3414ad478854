"""The page in the browser as `lockarc view` offers it: its options, and serving it until interrupted."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from dataclasses import dataclass

from scenarios.ask.asked import Asked, Question
from scenarios.errors import Refusal
from viz.cli.options.asked import ask
from viz.cli.options.parser import whole
from viz.cli.viewing.picture import OVERVIEW, Picture
from viz.cli.viewing.standing import Subject
from viz.words.terminal import say, warn


def add_browser_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the page in the browser needs to know."""
    group = parser.add_argument_group("page in the browser")
    group.add_argument(
        "--browser", action="store_true", help="serve the page; also done where there is no display"
    )
    group.add_argument("--host", default="127.0.0.1", metavar="ADDRESS", help="left out: this machine only")
    group.add_argument("--port", default=0, type=whole(0, 65535), metavar="N", help="left out: a free one")
    group.add_argument("--token", metavar="WORD", help="keeps others out; needed with another --host")
    group.add_argument(
        "--visitors", default=12, type=whole(1, 60), metavar="N", help="at most so many at once; left out: 12"
    )
    group.add_argument("--stay", action="store_true", help="do not open the browser, print the address only")


@dataclass(frozen=True)
class Page:
    """How the page is served."""

    host: str
    port: int
    token: str | None
    visitors: int
    stay: bool


def page_of(arguments: argparse.Namespace) -> Page:
    """What the options of add_browser_arguments ask."""
    return Page(arguments.host, arguments.port, arguments.token, arguments.visitors, arguments.stay)


def check_page(subject: Subject, picture: Picture) -> None:
    """Refuse, in one line, what the page has its own controls for, so that nothing asked for is dropped."""
    own = {
        "--from-view": picture.view != OVERVIEW,
        "--exaggerate": subject.exaggeration is not None,
        "--front-only": subject.front_only,
        "--whole": subject.whole,
        "--dark": picture.dark,
        "--at": picture.at_deg is not None,
    }
    for option in (name for name, given in own.items() if given):
        raise Refusal(
            f"{option} is for a window or a file; the page in the browser has its own control for it"
        )


def serve_page(question: Question, asked: Asked, settings: Sequence[str], page: Page) -> None:
    """Serve the page with these settings in A and B; each visitor gets the scenario as it then is."""
    from scenarios import Scenario, ScenarioError
    from viz.browser import BrowserError, serve

    def reload() -> Scenario:
        try:
            return ask(question).scenario
        except Refusal as error:  # the file changed and no longer has what was asked for
            raise ScenarioError(str(error)) from error

    try:
        serve(
            asked.scenario,
            settings,
            host=page.host,
            port=page.port,
            token=page.token,
            open_browser=not page.stay,
            reload=reload,
            most=page.visitors,
            case=question.cases[0] if question.cases else None,
            say=_say,
            qr=_shows_blocks(),
        )
    except BrowserError as error:
        raise Refusal(error) from error


def _shows_blocks() -> bool:
    """Whether somebody looks at the lines that are printed, on a terminal that has the signs of a QR code."""
    try:
        "▀▄█".encode(sys.stdout.encoding or "ascii")
    except UnicodeEncodeError:
        return False
    return sys.stdout.isatty()


def _say(line: str) -> None:
    """The address to stdout, where a script can read it; a warning to stderr."""
    mark = "WARNING: "
    if line.startswith(mark):
        warn([line.removeprefix(mark)], unbroken=True)
    else:
        say(line)
