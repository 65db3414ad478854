"""The front door: one small web server that gives each visitor a visit of their own."""

from __future__ import annotations

import asyncio
import errno
from collections.abc import Callable, Sequence
from contextlib import suppress

from scenarios import Scenario
from viz.browser.gate.addresses import address, greeting, here, is_loopback
from viz.browser.gate.telling import telling

SHORTEST_TOKEN = 8


class BrowserError(ValueError):
    """The page cannot be served; one line."""


Say = Callable[[str], None]


def serve(
    scenario: Scenario,
    names: Sequence[str] = (),
    *,
    host: str = "127.0.0.1",
    port: int = 0,
    token: str | None = None,
    open_browser: bool = True,
    reload: Callable[[], Scenario] | None = None,
    say: Say = lambda line: None,
    most: int = 12,
    case: str | None = None,
    qr: bool = False,
) -> None:
    """Serve the page until interrupted (Ctrl+C ends it and is not raised).

    names are the settings a visitor finds in A and B. port 0 takes a free one. Any host but the loopback
    needs a token, which the address then carries. reload makes the scenario anew for each visitor, so that
    a file edited meanwhile is seen; when it raises ScenarioError the visitor gets the scenario given here
    and the message. most is how many visitors may be there at once. case is the load case that the address
    asks for. say gets each line for the user, with qr also those of a QR code of an address that a phone
    can open. Raises BrowserError.
    """
    check_access(host, port, token)
    try:
        from viz.browser import door
    except ImportError as error:
        raise BrowserError(
            f"the page needs {error.name}; install it with: pip install {error.name}"
        ) from None
    front = door.Door(scenario, names, host, token, reload or (lambda: scenario), most)

    async def run() -> None:
        with telling(say):
            await listen()

    async def listen() -> None:
        async with front.open(port) as bound:
            for line in greeting(host, bound, token, case, qr):
                say(line)
            if open_browser:
                await _show(address(here(host), bound, token, case))
            await asyncio.Event().wait()

    try:
        with suppress(KeyboardInterrupt):
            asyncio.run(run())
    except OSError as error:
        why = (
            "the port is in use; give another with --port"
            if error.errno == errno.EADDRINUSE
            else error.strerror
        )
        raise BrowserError(f"cannot listen on {host} port {port}: {why or error}") from None


def check_access(host: str, port: int, token: str | None) -> None:
    """Refuse a port that is none, and a server open to the network without a token worth the name."""
    if not 0 <= port <= 65535:
        raise BrowserError(f"--port {port}: must be between 0 and 65535; 0 takes a free one")
    if token is not None and len(token) < SHORTEST_TOKEN:
        raise BrowserError(f"--token: must have at least {SHORTEST_TOKEN} characters")
    if not is_loopback(host) and token is None:
        raise BrowserError(
            f"--host {host} opens the page to the network and needs --token, a word to keep others out"
        )


async def _show(url: str) -> None:
    import webbrowser

    await asyncio.to_thread(webbrowser.open, url)
