"""Who may use the page: the token, and the two tricks by which a strange web page could reach a local one.

A page elsewhere may open web sockets to this machine (so the Origin must be ours), or point a name of its
own at this machine (so on the loopback only the loopback's own names are answered).
"""

from __future__ import annotations

import hmac
import ipaddress
from urllib.parse import urlsplit

from aiohttp import web

SHORTEST_TOKEN = 8
LOOPBACK_NAMES = ("localhost", "127.0.0.1", "::1")


def is_loopback(host: str) -> bool:
    """Whether a server bound to this host can be reached from this machine alone."""
    if host == "localhost":
        return True
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return False


class Guard:
    """Lets a request in, or says why not."""

    def __init__(self, host: str, token: str | None) -> None:
        self._local, self._token = is_loopback(host), token
        self._host = host

    def refusal(self, request: web.Request) -> str:
        """Why this request is not answered, '' when it is. A token is taken from the query or the cookie."""
        name = urlsplit(f"//{request.host}").hostname or ""
        if self._local and name not in (*LOOPBACK_NAMES, self._host):
            return (
                "This page answers on this machine alone. Open the address that was printed when it started."
            )
        origin = request.headers.get("Origin")
        if origin is not None and urlsplit(origin).netloc != request.host:
            return "Another web page asked for this one; that is not allowed."
        if self._token is None or self._matches(
            request.query.get("token") or request.cookies.get(self.cookie(request))
        ):
            return ""
        return "This page needs its token. Open the address that was printed when it started, token and all."

    def _matches(self, given: str | None) -> bool:
        expected = (self._token or "").encode()
        return given is not None and hmac.compare_digest(given.encode("utf-8", "replace"), expected)

    def cookie(self, request: web.Request) -> str:
        """Name of the cookie that keeps the token; one for each port, which cookies do not tell apart."""
        return f"lockarc_{urlsplit(f'//{request.host}').port or 80}"

    def remember(self, request: web.Request, response: web.StreamResponse) -> None:
        """Keep a token given in the query as a cookie that no script and no other site can use."""
        if self._token is not None and "token" in request.query:
            response.set_cookie(self.cookie(request), self._token, httponly=True, samesite="Strict", path="/")
