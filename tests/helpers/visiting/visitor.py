"""The page served by the command itself, and a visitor of it without a browser."""

from __future__ import annotations

import asyncio
import os
import struct
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from urllib.parse import urljoin, urlsplit

import aiohttp
import msgpack

ROOT = Path(__file__).resolve().parents[3]
CHANGE = {"kind": "bush", "slot": "A", "sides": ["left", "right"], "seat": "top", "clock_deg": 180}


@dataclass(frozen=True)
class Host:
    """A running command that serves the page."""

    address: str
    pid: int
    terminal: Path

    @property
    def port(self) -> int:
        """Where it listens."""
        return urlsplit(self.address).port or 80

    def said(self) -> list[str]:
        """Every line that its terminal has had so far, after the address."""
        return self.terminal.read_text(encoding="utf-8").splitlines()[1:]

    def memory_mb(self) -> float:
        """What it and its children take of the machine's memory."""
        total, waiting = 0, [self.pid]
        while waiting:
            folder = Path("/proc") / str(waiting.pop())
            try:
                total += int(folder.joinpath("statm").read_text().split()[1])
                kin = [task.joinpath("children") for task in folder.joinpath("task").iterdir()]
                waiting += [int(pid) for file in kin for pid in file.read_text().split()]
            except OSError:  # it has ended meanwhile
                continue
        return total * os.sysconf("SC_PAGE_SIZE") / 1e6


@contextmanager
def hosted(*options: str) -> Iterator[Host]:
    """`lockarc view --browser` with options, until it is no longer wanted."""
    env = {**os.environ, "OMP_NUM_THREADS": "1", "PYTHONPATH": str(ROOT)}
    command = [sys.executable, "-m", "viz", "view", "--browser", "--stay", *options]
    with tempfile.TemporaryDirectory() as folder:
        terminal = Path(folder) / "terminal.txt"
        with terminal.open("wb") as out:
            process = subprocess.Popen(command, cwd=ROOT, env=env, stdout=out, stderr=subprocess.STDOUT)
        try:
            yield Host(_address(process, terminal), process.pid, terminal)
        finally:
            process.terminate()
            process.wait(10)


def _address(process: subprocess.Popen[bytes], terminal: Path) -> str:
    until = time.monotonic() + 30.0
    while time.monotonic() < until and process.poll() is None:
        line, ended, _ = terminal.read_text(encoding="utf-8").partition("\n")
        if ended:
            assert line.startswith("open http://"), line
            return line.split()[1]
        time.sleep(0.05)  # until it has told its address
    raise AssertionError(f"the server did not start: {terminal.read_text(encoding='utf-8')!r}")


class Visitor:
    """Somebody with a page open, who fits a bush now and then; to be entered by `async with`."""

    def __init__(self, address: str) -> None:
        self.address = address
        self._session = aiohttp.ClientSession(cookie_jar=aiohttp.CookieJar(unsafe=True))
        self._calls = 0
        self.page = ""
        self.socket: Any = None

    async def __aenter__(self) -> Visitor:
        """Come in by the address, and let the page connect as a browser does."""
        try:
            async with self._session.get(self.address) as answer:
                assert answer.status == 200, await answer.text()
                self.page = str(answer.url)
            await self.connect()
        except BaseException:
            await self._session.close()
            raise
        return self

    async def __aexit__(self, *_: object) -> None:
        """Close the page."""
        await self.socket.close()
        await self._session.close()

    async def connect(self, greet: bool = True) -> None:
        """Open the page's web socket, where it was open before anew, and say who is there."""
        if self.socket is not None:
            await self.socket.close()
        async with self._session.post(self.page + "meet") as answer:
            where = (await answer.json())["sessionURL"]
        for left in range(50, -1, -1):  # the host may not have seen yet that the last one was closed
            try:
                self.socket = await self._session.ws_connect(where, max_msg_size=0)
                break
            except aiohttp.WSServerHandshakeError:
                if not left:
                    raise
                await asyncio.sleep(0.1)
        if greet:
            await self.call("wslink.hello", [{"secret": "wslink-secret"}], "system:c0:0")

    async def get(self, path: str) -> int:
        """The status of an address on the same host, read to its end."""
        async with self._session.get(urljoin(self.page, path)) as got:
            await got.read()
            return got.status

    async def load(self) -> Any:
        """What a page asks first: everything."""
        return await self.call("trame.trigger", ["hello", [], {}])

    async def turn(self, size: float) -> Any:
        """Fit another bush: what the program says to it."""
        return await self.call("trame.trigger", ["change", [{**CHANGE, "size_deg": size}], {}])

    async def call(self, method: str, args: list[Any], name: str = "") -> Any:
        """The result of a call; an error is raised as AssertionError."""
        self._calls += 1
        name = name or f"rpc:c:{self._calls}"
        await self.socket.send_bytes(framed({"wslink": "1.0", "id": name, "method": method, "args": args}))
        while True:
            answer = await self._answer()
            if answer.get("id") == name:
                assert "result" in answer, answer["error"]
                return answer["result"]

    async def _answer(self) -> Any:
        got, size = b"", 1
        while len(got) < size:
            message = await self.socket.receive()
            assert message.type == aiohttp.WSMsgType.BINARY, (message.type, message.extra)
            (size,) = struct.unpack_from("<I", message.data, 8)
            got += message.data[12:]
        return msgpack.unpackb(got)


def framed(call: Any) -> bytes:
    """A call as a page sends it."""
    packed = msgpack.packb(call)
    return struct.pack("<III", 1, 0, len(packed)) + packed
