"""The front door: one small web server that gives each visitor a visit of their own."""

from __future__ import annotations

import asyncio
import errno
from collections.abc import Callable, Sequence
from contextlib import suppress
from urllib.parse import quote, urlencode

from scenarios import Scenario
from viz.browser.guard import SHORTEST_TOKEN, is_loopback


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
) -> None:
    """Serve the page until interrupted (Ctrl+C ends it and is not raised).

    names are the settings a visitor finds in A and B. port 0 takes a free one. Any host but the loopback
    needs a token, which the address then carries. reload makes the scenario anew for each visitor, so that
    a file edited meanwhile is seen; when it raises ScenarioError the visitor gets the scenario given here
    and the message. case is the load case that the address asks for. say gets each line for the user.
    Raises BrowserError.
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
        async with front.open(port) as bound:
            for line in greeting(host, bound, token, case):
                say(line)
            if open_browser:
                here = "127.0.0.1" if host in ("0.0.0.0", "::") else host
                await _show(address(here, bound, token, case))
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


def address(host: str, port: int, token: str | None, case: str | None = None) -> str:
    """The address to open, with the token and the load case it asks for."""
    name = f"[{host}]" if ":" in host else host
    query = urlencode({k: v for k, v in (("token", token), ("case", case)) if v}, quote_via=quote, safe="")
    return f"http://{name}:{port}/" + (f"?{query}" if query else "")


def greeting(host: str, port: int, token: str | None, case: str | None = None) -> list[str]:
    """What the user is told: the address, and plainly what an open host means."""
    lines = [f"open {address(host, port, token, case)} in a browser; Ctrl+C ends"]
    if not is_loopback(host):
        lines.append(
            f"WARNING: on {host} everybody on this network can reach the page. The token in the address "
            "keeps others out, but nothing is encrypted: use a network you trust, and Ctrl+C when done."
        )
    return lines


async def _show(url: str) -> None:
    import webbrowser

    await asyncio.to_thread(webbrowser.open, url)
