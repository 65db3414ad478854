"""The page in the browser as `lockarc view` offers it: its options, and serving it until interrupted."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Sequence

from scenarios.errors import Refusal
from viz.cli.asked import Choice
from viz.cli.parser import whole
from viz.words.terminal import warn


def add_browser_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the page in the browser needs to know."""
    group = parser.add_argument_group("page in the browser")
    group.add_argument(
        "--browser", action="store_true", help="serve the page; also done where there is no display"
    )
    group.add_argument("--host", default="127.0.0.1", metavar="ADDRESS", help="left out: this machine only")
    group.add_argument("--port", default=0, type=whole(0, 65535), metavar="N", help="left out: a free one")
    group.add_argument("--token", metavar="WORD", help="keeps others out; needed with another --host")
    group.add_argument("--stay", action="store_true", help="do not open the browser, print the address only")


def check_page(arguments: argparse.Namespace) -> None:
    """Refuse, in one line, what the page has its own controls for, so that nothing asked for is dropped."""
    own = {
        "--exaggerate": arguments.exaggerate is not None,
        "--front-only": arguments.front_only,
        "--whole": arguments.whole,
        "--dark": arguments.dark,
        "--at": arguments.at is not None,
        "--from-view": arguments.from_view != "overview",
    }
    for option in (name for name, given in own.items() if given):
        raise Refusal(
            f"{option} is for a window or a file; the page in the browser has its own control for it"
        )


def serve_page(
    choice: Choice, settings: Sequence[str], arguments: argparse.Namespace, again: Callable[[], Choice]
) -> None:
    """Serve the page with these settings in A and B; again reads the scenario anew for a visitor."""
    from scenarios import Scenario, ScenarioError
    from viz.browser import BrowserError, serve

    def reload() -> Scenario:
        try:
            return again().scenario
        except Refusal as error:  # the file changed and no longer has what was asked for
            raise ScenarioError(str(error)) from error

    try:
        serve(
            choice.scenario,
            settings,
            host=arguments.host,
            port=arguments.port,
            token=arguments.token,
            open_browser=not arguments.stay,
            reload=reload,
            case=arguments.case[0] if arguments.case else None,
            say=_say,
        )
    except BrowserError as error:
        raise Refusal(error) from error


def _say(line: str) -> None:
    """The address to stdout, where a script can read it; a warning to stderr."""
    mark = "WARNING: "
    if line.startswith(mark):
        warn([line.removeprefix(mark)])
    else:
        print(line, flush=True)
