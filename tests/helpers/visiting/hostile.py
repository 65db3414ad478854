"""What a hostile client sends: each attack as a round that can be made again and again."""

from __future__ import annotations

import asyncio
import struct
from contextlib import suppress
from typing import Any

import msgpack

from tests.helpers.visiting.visitor import Visitor, framed

ESCAPES = "\x1b]0;owned\x07\x1b[2J\u202e\x9b31m\x00"
CLAIM = struct.pack("<III", 7, 0, 1_500_000_000)
REQUESTS = {
    b"GET / HTTP/1.1\r\nHost: [::1\r\n\r\n": 400,
    b"GET / HTTP/1.1\r\nHost: localhost:99999\r\n\r\n": 400,
    b"GET / HTTP/1.1\r\nHost: localhost:port\r\n\r\n": 400,
    b"GET / HTTP/1.1\r\nHost: a@localhost\r\n\r\n": 400,
    b"GET / HTTP/1.0\r\n\r\n": 400,
    b"GET / HTTP/1.1\r\nHost: localhost\r\nOrigin: http://[::1\r\n\r\n": 403,
    b"GET / HTTP/1.1\r\nHost: elsewhere.example\r\n\r\n": 403,
    b"GET /static/%00 HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n": 404,
    b"GET /static/" + b"a" * 5000 + b" HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n": 404,
    b"GET /" + b"a" * 20_000 + b" HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n": 400,
    b"GET /%1b%5d0;owned%07 HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n": 404,
    b"GET /visit/%ff%fe/ HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n": 410,
    b"DELETE / HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n": 405,
    b"HEAD / HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n": 405,
    b"\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03 \x1b[2J\r\n\r\n": 400,
    b"GET / HTTP/1.1\r\nHost: localhost\r\nX: \x1b[2J\x00\r\n\r\n": 400,
    b"POST /visit/0/meet HTTP/1.1\r\nHost: localhost\r\nContent-Length: 99999999\r\n\r\n": 413,
    b"POST /visit/0/meet HTTP/1.1\r\nHost: localhost\r\nTransfer-Encoding: chunked\r\n\r\nzz\r\n": 400,
}
"""Requests that are none, or ask for what there is not, with the status that each is to be told."""


def call(method: Any, args: Any, **more: Any) -> bytes:
    """A call that is framed well."""
    return framed({"id": "rpc:c:1", "method": method, "args": args, **more})


def deep(levels: int) -> bytes:
    """A message of lists within lists."""
    body = b"\x91" * levels + b"\xc0"
    return struct.pack("<III", 1, 0, len(body)) + body


FRAMES = [
    CLAIM,
    CLAIM + call("trame.trigger", ["hello", [], {}])[12:],
    CLAIM[:5],
    b"",
    struct.pack("<III", 7, 0, 60_000) + b"x",
    struct.pack("<III", 7, 4_000_000_000, 1) + b"x",
    struct.pack("<III", 7, 0, 3) + b"\xc1\xc1\xc1",
    deep(400),
    deep(20_000),
    framed([1, 2]),
    framed({"id": 5, "method": "trame.state.get"}),
    call(ESCAPES, []),
    call("application.exit", []),
    call("trame.force.push", ["trame__title"]),
    call("trame.state.update", [[{"key": "k", "value": "x" * 20_000}]]),
    call("trame.lifecycle.update", ["x" * 1000]),
    call("trame.trigger", ["change", [5], {}]),
    call("trame.trigger", ["change", [{"kind": [[1]]}], {}]),
    call("trame.trigger", ["hello", [1], {}]),
    call("trame.trigger", [["hello"], [], {}]),
    call("trame.trigger", ["change", [{"kind": msgpack.ExtType(5, b"x")}], {}]),
    call("wslink.hello", [{"secret": "x" * 600}]),
    b"\x00" * 1_000_000,
]
"""Messages that no page sends, by a visitor who was let in."""
ODD = [
    call("trame.trigger", ["change", [{}], {}]),
    call("trame.trigger", ["change", [{"kind": "bush", "slot": "A", "sides": ["x"] * 16}], {}]),
    call("trame.trigger", ["change", [{"kind": "twist", "times": 1e308}], {}]),
    call("trame.error.client", [ESCAPES + "x" * 20_000]),
    call("wslink.hello", [{"secret": 5}]),
]
"""Messages of the right form that ask for nonsense."""


async def raw(port: int, data: bytes, seconds: float = 5.0) -> bytes:
    """What is answered to bytes as they are, until the other side has closed or the time is over."""
    got = b""
    try:
        reader, writer = await asyncio.open_connection("127.0.0.1", port)
    except OSError:
        return got
    try:
        async with asyncio.timeout(seconds):
            writer.write(data)
            await writer.drain()
            while more := await reader.read(65536):
                got += more
    except OSError:  # closed on us, or the time is over
        pass
    finally:
        writer.transport.abort()
    return got


Line = tuple[asyncio.StreamReader, asyncio.StreamWriter]


async def half_sent(port: int) -> Line:
    """A connection on which a request was begun; it stays open from this side."""
    line = await asyncio.open_connection("127.0.0.1", port)
    line[1].write(b"GET / HTTP/1.1\r\nHost: localhost\r\nX: ")
    return line


async def ended(line: Line, seconds: float) -> bool:
    """Whether the other side closes the connection within that time."""
    try:
        async with asyncio.timeout(seconds):
            return await line[0].read(1) == b""
    except ConnectionError:
        return True
    except TimeoutError:
        return False


def abandon(lines: list[Line]) -> None:
    """Close connections from this side."""
    for _, writer in lines:
        writer.transport.abort()


async def picture_tag(port: int, path: str = "/", site: str = "cross-site", dest: str = "image") -> bytes:
    """What a page elsewhere gets that names this address as a picture, or as what dest says."""
    headers = f"Sec-Fetch-Site: {site}\r\nSec-Fetch-Dest: {dest}\r\nConnection: close\r\n"
    return await raw(port, f"GET {path} HTTP/1.1\r\nHost: localhost:{port}\r\n{headers}\r\n".encode())


async def wrong_token(port: int, word: str, seconds: float = 10.0) -> bytes:
    """What a guess at the token is answered."""
    asked = f"GET /?token={word} HTTP/1.1\r\nHost: localhost:{port}\r\nConnection: close\r\n\r\n"
    return await raw(port, asked.encode(), seconds)


async def shut(visitor: Visitor, sent: bytes, seconds: float = 5.0) -> int | None:
    """Say this as a visitor: the code with which the web socket is closed on it, None when it stays open."""
    with suppress(asyncio.TimeoutError):
        await visitor.socket.send_bytes(sent)
        while not visitor.socket.closed:
            await visitor.socket.receive(timeout=seconds)
    code = visitor.socket.close_code
    return None if code is None else int(code)
