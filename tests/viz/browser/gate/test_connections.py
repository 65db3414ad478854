"""Open connections: bounded in number, and none that asks nothing for long."""

from __future__ import annotations

import asyncio
from typing import Any

from aiohttp import web

from tests.helpers.visiting import hostile
from tests.helpers.visiting.visitor import Visitor, hosted
from viz.browser.gate.connections import Connections, listener


async def serving(every: Connections, handler: Any) -> tuple[Any, int]:
    """A server of these connections, and its port."""
    server = web.Server(handler)
    listening = await asyncio.get_running_loop().create_server(listener(every, server), "127.0.0.1", 0)
    return listening, listening.sockets[0].getsockname()[1]


async def plain(request: web.BaseRequest) -> web.StreamResponse:
    if request.path == "/broken":
        raise RuntimeError("a path: /home/me/secret.py")
    return web.Response(text="here")


def test_a_half_sent_request_is_dropped_when_its_time_is_over() -> None:
    async def story() -> None:
        every = Connections(most=10, asking=0.2)
        listening, port = await serving(every, plain)
        waiting = await hostile.half_sent(port)
        assert await hostile.ended(waiting, 2.0)
        hostile.abandon([waiting])
        assert len(every) == 0
        listening.close()

    asyncio.run(story())


def test_one_too_many_ends_the_oldest_that_was_not_let_in() -> None:
    async def story() -> None:
        every, known = Connections(most=4), []

        async def handler(request: web.BaseRequest) -> web.StreamResponse:
            every.let_in(request.protocol)  # type: ignore[arg-type]
            return await plain(request)

        listening, port = await serving(every, handler)
        for _ in range(2):
            reader, writer = await asyncio.open_connection("127.0.0.1", port)
            writer.write(b"GET / HTTP/1.1\r\nHost: x\r\n\r\n")
            assert (await reader.read(1000)).endswith(b"here")
            known.append((reader, writer))
        half = [await hostile.half_sent(port) for _ in range(20)]
        assert all([await hostile.ended(one, 1.0) for one in half[:-2]])
        assert len(every) == 4
        assert not any([await hostile.ended(one, 0.1) for one in [*half[-2:], *known]])
        hostile.abandon([*half, *known])
        await asyncio.sleep(0.1)
        assert len(every) == 0
        listening.close()

    asyncio.run(story())


def test_a_fault_is_told_to_the_host_and_not_to_the_visitor(caplog: Any) -> None:
    async def story() -> bytes:
        listening, port = await serving(Connections(most=4), plain)
        got = await hostile.raw(port, b"GET /broken HTTP/1.1\r\nHost: x\r\n\r\n")
        listening.close()
        return got

    got = asyncio.run(story())
    assert got.startswith(b"HTTP/1.1 500 ")
    assert b"nothing was changed" in got
    assert b"secret.py" not in got
    [record] = caplog.records
    assert "RuntimeError" in record.getMessage()
    assert record.exc_info is None


def test_the_page_stays_open_to_others_beside_very_many_half_sent_requests() -> None:
    async def story(address: str, port: int) -> None:
        async with Visitor(address) as visitor:
            half = [await hostile.half_sent(port) for _ in range(300)]
            assert await visitor.get("/static/lockarc/app.js") == 200
            assert (await visitor.turn(2.0))["refused"] == ""
            async with Visitor(address):
                pass
            ended = [await hostile.ended(one, 0.2) for one in half[:100]]
            assert all(ended)
            hostile.abandon(half)

    with hosted() as host:
        asyncio.run(story(host.address, host.port))
        assert host.said() == []
