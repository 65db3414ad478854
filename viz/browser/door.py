"""Routes of the front door: the start, a visit's page, its web socket, its data, and static files."""

from __future__ import annotations

from collections.abc import AsyncIterator, Awaitable, Callable, Sequence
from contextlib import asynccontextmanager
from typing import Any

from aiohttp import web

from scenarios import Scenario, ScenarioError
from viz.browser import page, queries
from viz.browser.choices import Choices
from viz.browser.guard import Guard
from viz.browser.visits import HEARTBEAT, LARGEST_MESSAGE, Full, Visit, Visits

Handler = Callable[[web.Request], Awaitable[web.StreamResponse]]
FULL = "As many people as this page can serve are using it. Try again when somebody has left."
ENDED = "This visit has ended: the page was away for too long, or the program was started again."


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

    @asynccontextmanager
    async def open(self, port: int) -> AsyncIterator[int]:
        """Listen; gives the port that was bound, and ends every visit on the way out. Raises OSError."""
        runner = web.AppRunner(self.app(), access_log=None, shutdown_timeout=1.0)
        await runner.setup()
        try:
            await web.TCPSite(runner, self._host, port).start()
            yield runner.addresses[0][1]
        finally:
            await self.visits.close()
            await runner.cleanup()

    def app(self) -> web.Application:
        """The web application."""
        app = web.Application(middlewares=[self._guarded])
        app.add_routes(
            [
                web.get("/", self._start),
                web.get("/visit/{id}/", self._page),
                web.post("/visit/{id}/meet", self._meet),
                web.get("/visit/{id}/ws", self._socket),
                web.get("/visit/{id}/data.{kind:csv|json}", self._data),
                web.get("/static/{path:.+}", self._static),
            ]
        )
        return app

    @web.middleware
    async def _guarded(self, request: web.Request, handler: Handler) -> web.StreamResponse:
        """Refuse who may not come in, put headers on every answer, and give a way back from nowhere."""
        refusal = self._guard.refusal(request)
        if refusal:
            return _message("Not open to you", refusal, 403)
        try:
            response = await handler(request)
        except web.HTTPNotFound:
            response = _message("There is nothing here", f"No page at {request.path}.", 404, "/")
        if not response.prepared:
            response.headers.update(page.SECURITY)
        return response

    async def _start(self, request: web.Request) -> web.StreamResponse:
        """A new visit, and the way to it. A bad query or a vanished scenario is told on the page itself."""
        scenario, notices = self._scenario, []
        try:
            self._scenario = scenario = self._reload()
        except ScenarioError as error:
            notices.append(f"{error}. The page shows the kart as it was last read.")
        known = [name for name in self._names if name in scenario.settings]
        chosen, refused = queries.chosen(scenario, known, request.query)
        response = await self._enter(chosen, " ".join([*notices, *refused]))
        self._guard.remember(request, response)
        return response

    async def _enter(self, chosen: Choices, notice: str = "") -> web.StreamResponse:
        try:
            visit = await self.visits.add(lambda: Visit(chosen, notice))
        except Full:
            return _message("Full house", FULL, 503, "/")
        return web.Response(status=303, headers={"Location": f"/visit/{visit.id}/"})

    async def _page(self, request: web.Request) -> web.StreamResponse:
        """The app's page. A visit that is open elsewhere is copied: two pages never steer one state."""
        visit = self.visits.get(request.match_info["id"])
        if visit is None:
            return _message("This visit has ended", ENDED, 410, "/")
        if visit.connected:
            return await self._enter(visit.choices)
        title = f"{visit.choices.scenario.title} · Lockarc"
        return _html(page.app_page(title, f"/visit/{visit.id}/meet", self._folders))

    async def _meet(self, request: web.Request) -> web.StreamResponse:
        """Tell trame's client where its web socket is."""
        scheme = "wss" if request.secure else "ws"
        return web.json_response(
            {"sessionURL": f"{scheme}://{request.host}/visit/{request.match_info['id']}/ws"}
        )

    async def _socket(self, request: web.Request) -> web.StreamResponse:
        visit = self.visits.get(request.match_info["id"])
        if visit is None or visit.connected:
            raise web.HTTPNotFound
        socket = web.WebSocketResponse(max_msg_size=LARGEST_MESSAGE, heartbeat=HEARTBEAT, compress=False)
        await socket.prepare(request)
        self.visits.back(visit)
        try:
            await visit.talk(socket)
        finally:
            self.visits.away(visit)
        return socket

    async def _data(self, request: web.Request) -> web.StreamResponse:
        """The visitor's A and B as a file, the same as the command line writes."""
        from viz.browser import exporting

        visit, kind = self.visits.get(request.match_info["id"]), request.match_info["kind"]
        if visit is None:
            return _message("This visit has ended", ENDED, 410, "/")
        content: bytes = exporting.FORMATS[kind](visit.choices)
        types = {"csv": "text/csv", "json": "application/json"}
        name = f'attachment; filename="lockarc.{kind}"'
        return web.Response(body=content, content_type=types[kind], headers={"Content-Disposition": name})

    async def _static(self, request: web.Request) -> web.StreamResponse:
        file = page.static_file(request.match_info["path"], self._folders)
        if file is None:
            raise web.HTTPNotFound
        return web.FileResponse(file)


def _html(text: str, status: int = 200) -> web.Response:
    return web.Response(text=text, status=status, content_type="text/html")


def _message(title: str, message: str, status: int, link: str = "") -> web.Response:
    return _html(page.message_page(title, message, link), status)


__all__: list[Any] = ["Door"]
