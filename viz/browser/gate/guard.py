"""Who may use the page: the token, and the tricks by which a strange web page could reach a local one.

A page elsewhere may open web sockets to this machine (so the Origin must be ours), load its addresses as
pictures or frames (so a browser that says whose page asks must say ours), or point a name of its own at this
machine (so on the loopback only the loopback's own names are answered).
"""

from __future__ import annotations

import asyncio
import hmac
import re

from aiohttp import web

from viz.browser.gate.addresses import LOOPBACK_NAMES, is_loopback
from viz.browser.gate.guesses import Guesses
from viz.browser.gate.refused import AGAIN, Refused

HOST = re.compile(r"(?:\[(?P<six>[0-9A-Fa-f:.]+)\]|(?P<name>[A-Za-z0-9._-]+))(?::(?P<port>[0-9]{1,5}))?")
ELSEWHERE = "Another web page asked for this one; that is not allowed."


def asked_of(request: web.Request) -> tuple[str, int]:
    """Name and port of the Host that a request names; Refused where it names none that could be."""
    match = HOST.fullmatch(request.headers.get("Host", ""))
    port = int(match["port"] or 80) if match else 0
    if match is None or not 0 < port <= 65535:
        raise Refused(400)
    return (match["six"] or match["name"]).lower(), port


class Guard:
    """Lets a request in, or says why not."""

    def __init__(self, host: str, token: str | None) -> None:
        self._local, self._token = is_loopback(host), token
        self._host, self._guesses = host.lower(), Guesses()

    async def admit(self, request: web.Request) -> None:
        """Raise Refused unless this request may be answered; a wrong token is told so after a while."""
        name, _ = asked_of(request)
        if self._local and name not in (*LOOPBACK_NAMES, self._host):
            words = "This page answers on this machine alone. Open the address printed when it started."
            raise Refused(403, words)
        self._check_source(request)
        given = [request.query.get("token"), request.cookies.get(self.cookie(request))]
        if self._token is None or any(self._matches(one) for one in given):
            return
        if any(given):
            await asyncio.sleep(self._guesses.pause(request.remote))
        raise Refused(403)

    def _check_source(self, request: web.Request) -> None:
        """Refuse what another page asked for: a person who followed a link from there may ask again here."""
        origin = request.headers.get("Origin")
        if origin is not None and origin.partition("://")[2] != request.headers["Host"]:
            raise Refused(403, ELSEWHERE)
        if request.headers.get("Sec-Fetch-Site", "none") not in ("none", "same-origin"):
            is_page = request.path == AGAIN or (
                request.path.startswith("/visit/") and request.path.endswith("/")
            )
            followed = request.headers.get("Sec-Fetch-Dest") == "document" and is_page
            raise Refused(403, ELSEWHERE, request.path_qs if followed else "")

    def _matches(self, given: str | None) -> bool:
        expected = (self._token or "").encode()
        return given is not None and hmac.compare_digest(given.encode("utf-8", "replace"), expected)

    def cookie(self, request: web.Request) -> str:
        """Name of the cookie that keeps the token; one for each port, which cookies do not tell apart."""
        return f"lockarc_{asked_of(request)[1]}"

    def remember(self, request: web.Request, response: web.StreamResponse) -> None:
        """Keep a token given in the query as a cookie that no script and no other site can use."""
        if self._token is not None and "token" in request.query:
            response.set_cookie(self.cookie(request), self._token, httponly=True, samesite="Strict", path="/")
