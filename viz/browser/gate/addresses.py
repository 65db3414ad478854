"""Where the page is to be found: the address to open, on this machine and from others, and its QR code."""

from __future__ import annotations

import io
import ipaddress
import socket
from collections.abc import Iterator
from contextlib import suppress
from urllib.parse import quote, urlencode

LOOPBACK_NAMES = ("localhost", "127.0.0.1", "::1")
EVERY = {"0.0.0.0": "127.0.0.1", "::": "::1"}
"""Hosts that stand for every address of this machine, with the one to be reached from itself."""
FAR = {socket.AF_INET: "192.0.2.1", socket.AF_INET6: "2001:db8::1"}
"""Addresses kept for documentation, which nobody has: the system says which of its own leads there."""


def is_loopback(host: str) -> bool:
    """Whether a server bound to this host can be reached from this machine alone."""
    if host == "localhost":
        return True
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return False


def own(host: str) -> str:
    """The address under which others on the network reach a server bound to host; '' when there is none."""
    if host not in EVERY:
        return host
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    for found in (*_route(family), *_named(family)):
        at = ipaddress.ip_address(found)
        if not (at.is_loopback or at.is_unspecified or at.is_link_local):
            return found
    return ""


def _route(family: socket.AddressFamily) -> Iterator[str]:
    """The address of the way out, where there is one; nothing is sent."""
    with suppress(OSError), socket.socket(family, socket.SOCK_DGRAM) as way:
        way.connect((FAR[family], 9))
        yield str(way.getsockname()[0])


def _named(family: socket.AddressFamily) -> Iterator[str]:
    """The addresses that the machine's own name stands for."""
    with suppress(OSError):
        for *_, at in socket.getaddrinfo(socket.gethostname(), None, family):
            yield str(at[0]).partition("%")[0]


def address(host: str, port: int, token: str | None, case: str | None = None) -> str:
    """The address to open, with the token and the load case it asks for."""
    name = f"[{host}]" if ":" in host else host
    query = urlencode({k: v for k, v in (("token", token), ("case", case)) if v}, quote_via=quote, safe="")
    return f"http://{name}:{port}/" + (f"?{query}" if query else "")


def here(host: str) -> str:
    """The host under which this machine itself reaches the server."""
    return EVERY.get(host, host)


def greeting(host: str, port: int, token: str | None, case: str | None = None, qr: bool = False) -> list[str]:
    """What the user is told: the address, and plainly what an open host means; its QR code where wanted."""
    reached = own(host)
    url = address(reached or here(host), port, token, case)
    lines = [f"open {url} in a browser; Ctrl+C ends"]
    if is_loopback(host):
        return lines
    if not reached:
        lines.append("WARNING: this machine has no address on a network: nobody else can reach the page now.")
    elif qr:
        lines += ["or point a phone's camera here:", *qr_code(url)]
    lines.append(
        f"WARNING: on {host} everybody on this network can reach the page. The token in the address "
        "keeps others out, but nothing is encrypted: use a network you trust, and Ctrl+C when done."
    )
    return lines


def qr_code(url: str) -> list[str]:
    """The lines of an address's QR code, in half blocks, light on a dark terminal."""
    import segno

    drawn = io.StringIO()
    segno.make(url, error="l", micro=False).terminal(drawn, border=2, compact=True)
    return drawn.getvalue().splitlines()
