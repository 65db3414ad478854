"""Routes of the front door: the start, a visit's page, its web socket, its data, and static files."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator, Awaitable, Callable, Mapping, Sequence
from contextlib import asynccontextmanager
from dataclasses import replace
from typing import cast

from aiohttp import web

from scenarios import Scenario, ScenarioError
from scenarios.gauged.blank import as_csv
from viz.browser import page, replies
from viz.browser.chosen import queries
from viz.browser.chosen.queries import Opening
from viz.browser.gate import messages
from viz.browser.gate.connections import Connection, Connections, listener
from viz.browser.gate.guard import Guard
from viz.browser.gate.refused import AGAIN, LATE, STRANGE, Refused, answer, by_status
from viz.browser.memory import Memory
from viz.browser.visits import HEARTBEAT, Full, Visit, Visits
from viz.browser.workbench import Customer, Workbench

Handler = Callable[[web.Request], Awaitable[web.StreamResponse]]
MOST_CONNECTIONS = 128
"""Open at once, beside one for each visitor's web socket."""
LARGEST_BODY = 16_384  # bytes of a request's body


class Door:
    """Everything that answers a request."""

    def __init__(
        self,
        scenario: Scenario,
        names: Sequence[str],
        host: str,
        token: str | None,
        reload: Callable[[], Scenario],
        most: int,
    ) -> None:
        self._scenario, self._names, self._host, self._reload = scenario, names, host, reload
        self._guard, self.visits, self._folders = Guard(host, token), Visits(most), page.roots()
        self._connections = Connections(MOST_CONNECTIONS + most)
        self._bench, self._entry = Workbench(), Workbench()  # who comes in waits for nobody's solving
        self._fits = Workbench()  # a fit takes a second or two, for which nobody's changes wait

    @asynccontextmanager
    async def open(self, port: int) -> AsyncIterator[int]:
        """Listen; gives the port that was bound, and ends every visit on the way out. Raises OSError."""
        runner = web.AppRunner(self.app(), shutdown_timeout=1.0)
        await runner.setup()
        listening, warming = None, asyncio.create_task(self._bench.do(Customer(), self._warmed))
        try:
            accept = listener(self._connections, cast(web.Server, runner.server))
            listening = await asyncio.get_running_loop().create_server(accept, self._host, port)
            yield listening.sockets[0].getsockname()[1]
        finally:
            if listening is not None:
                listening.close()
            self._bench.close()
            self._entry.close()
            self._fits.close()
            warming.cancel()
            await asyncio.gather(warming, return_exceptions=True)
            await self.visits.close()
            await runner.cleanup()

    def _warmed(self) -> None:
        """What the first page needs and all others share, made before somebody asks for it."""
        replies.reply(queries.chosen(self._scenario, self._names, {}).choices, Memory())

    def app(self) -> web.Application:
        """The web application."""
        app = web.Application(middlewares=[self._guarded], client_max_size=LARGEST_BODY)
        gets = {
            "/": self._start,
            "/visit/{id}/": self._page,
            "/visit/{id}/ws": self._socket,
            "/visit/{id}/data.{kind:csv|json}": self._data,
            "/visit/{id}/readings.csv": self._readings,
            "/static/{path:.+}": self._static,
        }
        app.add_routes([web.get(path, handler, allow_head=False) for path, handler in gets.items()])
        app.add_routes([web.post("/visit/{id}/meet", self._meet)])
        return app

    @web.middleware
    async def _guarded(self, request: web.Request, handler: Handler) -> web.StreamResponse:
        """Refuse who may not come in, put headers on every answer, and tell every refusal in one way."""
        try:
            await self._guard.admit(request)
            if (request.content_length or 0) > LARGEST_BODY:
                raise Refused(413)
            self._connections.let_in(cast(Connection, request.protocol))
            response = await handler(request)
        except web.HTTPException as error:
            return answer(by_status(error.status))
        except Refused as refused:
            response = answer(refused)
            if refused.status in STRANGE:
                await asyncio.sleep(LATE)
                response.force_close()
            return response
        if not response.prepared:
            response.headers.update(page.SECURITY)
        return response

    async def _start(self, request: web.Request) -> web.StreamResponse:
        """A new visit, and the way to it. A bad query or a vanished scenario is told on the page itself."""
        if self.visits.full:
            raise Refused(503, link=AGAIN)
        response = await self._enter(await self._entry.do(Customer(), lambda: self._asked(request.query)))
        self._guard.remember(request, response)
        return response

    def _asked(self, query: Mapping[str, str]) -> Opening:
        scenario, notice = self._scenario, ""
        try:
            self._scenario = scenario = self._reload()
        except ScenarioError as error:
            notice = f"{error}. The page shows the kart as it was last read."
        known = [name for name in self._names if name in scenario.settings]
        asked = queries.chosen(scenario, known, query)
        return replace(asked, notice=notice)

    async def _enter(self, asked: Opening) -> web.StreamResponse:
        try:
            visit = await self.visits.add(lambda: Visit(asked, self._bench, self._fits))
        except Full:
            raise Refused(503, link=AGAIN) from None
        return web.Response(status=303, headers={"Location": f"/visit/{visit.id}/"})

    def _visit(self, request: web.Request) -> Visit:
        visit = self.visits.get(request.match_info["id"])
        if visit is None:
            raise Refused(410, link=AGAIN)
        return visit

    async def _page(self, request: web.Request) -> web.StreamResponse:
        """The app's page, as its address asks for it.

        A visit that is open elsewhere is copied: two pages never steer one state. One that has ended is begun
        anew where the address says what was in it.
        """
        visit = self.visits.get(request.match_info["id"])
        if visit is None and request.query:
            return web.Response(
                status=303, headers={"Location": f"{AGAIN}?{request.rel_url.raw_query_string}"}
            )
        visit = self._visit(request)
        asked = await self._asked_of(visit, request.query)
        if visit.connected:
            return await self._enter(asked)
        if request.query:
            visit.ask(asked)
        title = f"{visit.choices.scenario.title} · Lockarc"
        text = page.app_page(title, f"/visit/{visit.id}/meet", self._folders)
        return web.Response(text=text, content_type="text/html")

    async def _asked_of(self, visit: Visit, query: Mapping[str, str]) -> Opening:
        """What holds in a visit, or what the address asks for of its kart; readings stay, it has none."""
        if not query:
            return Opening(visit.choices, {})
        scenario = visit.choices.scenario
        known = [name for name in self._names if name in scenario.settings]
        asked = await self._entry.do(Customer(), lambda: queries.chosen(scenario, known, query))
        return replace(asked, choices=replace(asked.choices, readings=visit.choices.readings))

    async def _meet(self, request: web.Request) -> web.StreamResponse:
        """Tell trame's client where its web socket is."""
        await request.read()
        scheme = "wss" if request.secure else "ws"
        return web.json_response(
            {"sessionURL": f"{scheme}://{request.host}/visit/{request.match_info['id']}/ws"}
        )

    async def _socket(self, request: web.Request) -> web.StreamResponse:
        visit = self.visits.get(request.match_info["id"])
        if visit is None or visit.connected:
            raise Refused(404)
        socket = web.WebSocketResponse(max_msg_size=messages.LARGEST, heartbeat=HEARTBEAT, compress=False)
        self.visits.back(visit)
        try:
            await socket.prepare(request)
            self._connections.keep(cast(Connection, request.protocol))
            await visit.talk(socket)
        finally:
            self.visits.away(visit)
        return socket

    async def _data(self, request: web.Request) -> web.StreamResponse:
        """The visitor's A and B as a file, the same as the command line writes."""
        from viz.browser import exporting

        visit, kind = self._visit(request), request.match_info["kind"]
        content: bytes = await self._bench.do(visit.customer, lambda: exporting.FORMATS[kind](visit.choices))
        types = {"csv": "text/csv", "json": "application/json"}
        return _file(f"lockarc.{kind}", content, types[kind])

    async def _readings(self, request: web.Request) -> web.StreamResponse:
        """The visitor's readings as a file that `lockarc fit` takes."""
        now = self._visit(request).choices
        return _file("readings.csv", as_csv(now.readings, now.scenario.title).encode(), "text/csv")

    async def _static(self, request: web.Request) -> web.StreamResponse:
        file = page.static_file(request.match_info["path"], self._folders)
        if file is None:
            raise Refused(404, link=AGAIN)
        return web.FileResponse(file)


def _file(name: str, content: bytes, kind: str) -> web.Response:
    there = {"Content-Disposition": f'attachment; filename="{name}"'}
    return web.Response(body=content, content_type=kind, headers=there)


__all__: list[str] = ["Door"]
