"""Open connections: only so many, and none that asks nothing for long.

A page's web socket stays for as long as the visit. Any other connection has a time to ask in, and when all
places are taken the one that has waited longest goes, first of those that have not been let in.
"""

from __future__ import annotations

import asyncio
from collections import OrderedDict
from collections.abc import Callable
from typing import Any

from aiohttp import web

from viz.browser.gate.refused import answer, by_status

ASKING = 10.0  # s from the connection's start to a whole request that is let in
ANSWERING = 120.0  # s from a request that was let in to the next
IDLE = 30.0  # s that a connection without a request is kept after an answer


class Connections:
    """All open connections, each in one of three states: strange, known (let in once), kept."""

    def __init__(self, most: int, asking: float = ASKING) -> None:
        self._most, self._asking = most, asking
        self._strange: OrderedDict[Connection, asyncio.TimerHandle] = OrderedDict()
        self._known: OrderedDict[Connection, asyncio.TimerHandle] = OrderedDict()
        self._kept: set[Connection] = set()

    def __len__(self) -> int:
        return len(self._strange) + len(self._known) + len(self._kept)

    def opened(self, one: Connection) -> None:
        """A connection begins; where it is one too many another ends."""
        self._strange[one] = self._end_after(self._asking, one)
        if len(self) > self._most:
            next(iter(self._strange if len(self._strange) > 1 else self._known or self._strange)).end()

    def let_in(self, one: Connection) -> None:
        """A request on it was let in."""
        if one in self._strange or one in self._known:
            self.closed(one)
            self._known[one] = self._end_after(ANSWERING, one)

    def keep(self, one: Connection) -> None:
        """It has become a visit's web socket."""
        self.closed(one)
        self._kept.add(one)

    def closed(self, one: Connection) -> None:
        """It is no longer there."""
        self._kept.discard(one)
        for state in (self._strange, self._known):
            timer = state.pop(one, None)
            if timer is not None:
                timer.cancel()

    @staticmethod
    def _end_after(seconds: float, one: Connection) -> asyncio.TimerHandle:
        return asyncio.get_running_loop().call_later(seconds, one.end)


class Connection(web.RequestHandler):
    """One connection of aiohttp's server that is counted, and tells errors as every other refusal."""

    __slots__ = ("_all",)

    def __init__(self, every: Connections, server: web.Server, loop: asyncio.AbstractEventLoop) -> None:
        super().__init__(server, loop=loop, keepalive_timeout=IDLE, lingering_time=1.0)
        self._all = every

    def connection_made(self, transport: asyncio.BaseTransport) -> None:
        """Count it."""
        super().connection_made(transport)
        self._all.opened(self)

    def connection_lost(self, exc: BaseException | None) -> None:
        """Forget it."""
        self._all.closed(self)
        super().connection_lost(exc)

    def end(self) -> None:
        """Drop it at once, with what was not sent yet."""
        self._all.closed(self)
        if self.transport is not None:
            self.transport.abort()

    def handle_error(
        self,
        request: Any,
        status: int = 500,
        exc: BaseException | None = None,
        message: str | None = None,
    ) -> web.StreamResponse:
        """What a request that failed is answered; a fault of the program is told to the host, in one line."""
        if status == 500 and exc is not None:
            self.logger.error("a request failed: %r", exc)
        if request.writer.output_size > 0:
            raise ConnectionError("the answer had begun")
        response = answer(by_status(status))
        response.force_close()
        return response


def listener(every: Connections, server: web.Server) -> Callable[[], Connection]:
    """What makes the connections of a listening socket."""
    loop = asyncio.get_running_loop()
    return lambda: Connection(every, server, loop)
