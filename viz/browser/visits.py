"""Visitors: each has a trame server of its own inside this process, so that nobody shares another's state.

trame keeps one state for everybody who connects to a server. Here every visitor gets a private server
without a port (wslink's generic backend); the front door passes its one web socket through. Visitors are
limited in number and dropped when they have been away for a while.
"""

from __future__ import annotations

import asyncio
import os
import secrets
from collections.abc import Callable, Mapping
from contextlib import suppress
from typing import Any

from aiohttp import WSCloseCode, WSMsgType, web
from trame_server import Server

from scenarios.errors import Refusal
from viz.browser import page, replies
from viz.browser.asked import gauged, lessons, likely
from viz.browser.chosen import choices, queries
from viz.browser.chosen.choices import Choices
from viz.browser.chosen.history import WAYS, History
from viz.browser.chosen.queries import Opening
from viz.browser.gate import messages
from viz.browser.gate.messages import MessageError
from viz.browser.gate.refused import LATE
from viz.browser.memory import Memory
from viz.browser.workbench import Customer, Workbench
from viz.scene.scene import OF_A_CORNER

LONGEST_REASON = 100  # bytes
HEARTBEAT = 20.0  # s between pings to a page


class Full(Exception):
    """There are as many visitors as are allowed."""


class Visit:
    """One visitor's choices, and the trame server that carries them to the page and back."""

    def __init__(self, asked: Opening, bench: Workbench, fits: Workbench) -> None:
        self._bench, self._fits, self.customer = bench, fits, Customer()
        self.id = secrets.token_hex(16)  # in lower case, as trame's client writes addresses
        self._history = History(asked.choices)
        self._asked = asked
        self.connected = False
        self._memory = Memory()
        self._endpoint: Any = None
        self._task: asyncio.Task[None] | None = None

    @property
    def choices(self) -> Choices:
        """What holds now."""
        return self._history.now

    def ask(self, asked: Opening) -> None:
        """What the page's address asks for, before the page comes to be told of it."""
        self._asked = asked
        if queries.address(asked.choices) != queries.address(self.choices):
            self._history = self._history.made("the address", asked.choices)

    async def start(self) -> None:
        """Start the trame server; it listens on no port."""
        from trame_vtk.modules import common as vtk_js

        os.environ.setdefault("TRAME_ARGS", "--server")  # or it would read this program's own command line
        server = Server(f"lockarc-{self.id}")
        server.client_type = "vue3"
        for module in (_module("trame_client.module.vue3"), vtk_js, _Assets):
            server.enable_module(module)
        server.trigger("hello")(self.hello)
        server.trigger("change")(self.change)
        server.state.trame__title = f"{self.choices.scenario.title} · Lockarc"
        server.state.trame__template_main = "<lockarc-page></lockarc-page>"
        server.state.trame__template_error = "<lockarc-lost></lockarc-lost>"
        server.controller.on_server_bind.add(self._bind)
        self._server = server
        self._task = server.start(
            exec_mode="task", backend="generic", open_browser=False, show_connection_info=False, timeout=0
        )
        await server.ready

    def _bind(self, wslink_server: Any) -> None:
        """Take the web socket's own end, whose errors would tell the page a trace of this program."""
        self._endpoint = endpoint = wslink_server["ws"]
        tell = endpoint.sendWrappedError

        async def tell_plainly(call: str, code: int, words: str, *_: Any, client_id: str) -> None:
            await tell(call, code, words, client_id=client_id)

        endpoint.sendWrappedError = tell_plainly

    async def stop(self) -> None:
        """Stop the trame server and forget everything."""
        await self._server.stop()
        if self._task is not None:
            await asyncio.gather(self._task, return_exceptions=True)

    async def hello(self) -> Mapping[str, Any]:
        """The page has loaded: everything it needs."""
        return await self._bench.do(self.customer, self._greeted)

    def _greeted(self) -> Mapping[str, Any]:
        self._memory.forget()
        asked, self._asked = self._asked, Opening(self.choices, {})
        now = self._now(asked.looks.get("view"))
        there = [view for kart in now["karts"].values() for view in kart["cameras"]]
        looks, refused = queries.seen(asked, [*there, *OF_A_CORNER])
        return {
            "page": replies.page(self.choices.scenario),
            "now": now,
            "looks": looks,
            "refused": refused,
            "saved": page.saved_page(),
        }

    def _now(self, view: object) -> dict[str, Any]:
        """What holds, with what is told of a corner where that is looked at."""
        now = {**replies.reply(self.choices, self._memory), "history": self._history.told()}
        now["address"] = queries.address(self.choices)
        if view not in OF_A_CORNER:
            return now
        more = replies.corners(self.choices, self._memory)
        return {**now, **more, "meshes": {**now["meshes"], **more["meshes"]}, "fresh": now["fresh"]}

    async def change(self, change: Mapping[str, Any]) -> Mapping[str, Any]:
        """Make a change the page asks for: what now holds, or why it was refused."""
        bench = self._fits if change.get("kind") == "fit" else self._bench
        return await bench.do(self.customer, lambda: self._changed(change))

    def _changed(self, change: Mapping[str, Any]) -> Mapping[str, Any]:
        try:
            if change.get("kind") == "shades":
                return {"charts": likely.charts(self.choices), "refused": ""}
            if change.get("kind") == "fit":
                return {"fit": gauged.told(self.choices, change.get("forgiving") is True), "refused": ""}
            if change.get("kind") == "lesson":
                return {
                    "lesson": lessons.step(change.get("name"), change.get("step"), self._memory),
                    "refused": "",
                }
            if change.get("kind") == "front":
                return {**replies.corners(self.choices, self._memory), "refused": ""}
            self._history = self._after(change)
        except Refusal as error:
            return {"refused": str(error)}
        return {"now": self._now(change.get("view")), "refused": ""}

    def _after(self, change: Mapping[str, Any]) -> History:
        kind = change.get("kind")
        if isinstance(kind, str) and kind in WAYS:
            return WAYS[kind](self._history)
        new = choices.changed(self.choices, change)
        return self._history.made(choices.told(change), new)

    async def talk(self, socket: web.WebSocketResponse) -> None:
        """Carry messages between the page's web socket and the trame server until the page is gone."""
        connection = await self._endpoint.connect()

        async def out(is_binary: bool, message: Any) -> None:
            if not socket.closed:
                with suppress(ConnectionError):  # the page has gone meanwhile
                    await (socket.send_bytes(message) if is_binary else socket.send_str(message))

        connection.on_message(out)
        try:
            async for message in socket:
                if message.type == WSMsgType.TEXT:
                    raise MessageError("a message of letters")
                if message.type != WSMsgType.BINARY:
                    break  # too large, or no web socket's: aiohttp has closed it
                messages.check(message.data)
                await connection.send(True, message)
                await asyncio.sleep(0)  # others first: a page that never stops talking is not alone here
        except ValueError as error:  # the check's, or trame's own
            await asyncio.sleep(LATE)
            await socket.close(
                code=WSCloseCode.POLICY_VIOLATION, message=str(error).encode()[:LONGEST_REASON]
            )
        finally:
            await connection.close()


class _Assets:
    """The page's own scripts and styles, as a trame module."""

    serve: Mapping[str, str] = {"lockarc": str(page.WWW)}
    scripts = [(f"lockarc/{name}.js", {"serial": "lockarc"}) for name in page.SCRIPTS]  # noqa: RUF012
    styles = ["lockarc/page.css"]  # noqa: RUF012
    vue_use = ["lockarc"]  # noqa: RUF012


def _module(name: str) -> Any:
    from importlib import import_module

    return import_module(name)


class Visits:
    """All visitors: at most `most` at a time, each dropped `patience` seconds after its page has gone.

    When all places are taken, a newcomer gets that of the visit that has been without a page for longest, if
    that is over `grace` seconds: who takes a place and never comes holds it for no longer.
    """

    def __init__(self, most: int = 12, patience: float = 45.0, grace: float = 10.0) -> None:
        self._most, self._patience, self._grace = most, patience, grace
        self._here: dict[str, Visit] = {}
        self._leaving: dict[str, asyncio.TimerHandle] = {}
        self._stopping: set[asyncio.Task[None]] = set()

    def __len__(self) -> int:
        return len(self._here)

    @property
    def full(self) -> bool:
        """Whether there is no place for another."""
        return len(self._here) >= self._most and self._idle() is None

    def _idle(self) -> Visit | None:
        """The visit that has been without a page for longest, None when no one has for long."""
        for name, handle in self._leaving.items():
            since = handle.when() - self._patience
            return self._here[name] if asyncio.get_running_loop().time() - since >= self._grace else None
        return None

    def get(self, name: str) -> Visit | None:
        """The visit of that id, None when it has ended."""
        return self._here.get(name)

    async def add(self, make: Callable[[], Visit]) -> Visit:
        """A new visit, started; Full when there are too many. It must connect within the patience."""
        if self.full:
            raise Full
        idle = self._idle()
        if idle is not None and len(self._here) >= self._most:
            self._stay(idle)
            self._drop(idle)
        visit = make()
        self._here[visit.id] = visit
        await visit.start()
        self.away(visit)
        return visit

    def back(self, visit: Visit) -> None:
        """The visit's page is connected: keep it."""
        visit.connected = True
        self._stay(visit)

    def _stay(self, visit: Visit) -> None:
        handle = self._leaving.pop(visit.id, None)
        if handle is not None:
            handle.cancel()

    def away(self, visit: Visit) -> None:
        """The visit's page is not connected: drop it unless it comes back in time."""
        visit.connected = False
        self._stay(visit)
        loop = asyncio.get_running_loop()
        self._leaving[visit.id] = loop.call_later(self._patience, self._drop, visit)

    def _drop(self, visit: Visit) -> None:
        self._leaving.pop(visit.id, None)
        self._here.pop(visit.id, None)
        task = asyncio.get_running_loop().create_task(visit.stop())
        self._stopping.add(task)
        task.add_done_callback(self._stopping.discard)

    async def close(self) -> None:
        """End every visit."""
        for visit in list(self._here.values()):
            self._stay(visit)
            self._drop(visit)
        await asyncio.gather(*self._stopping, return_exceptions=True)
