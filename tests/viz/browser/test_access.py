"""Who gets in, and what becomes of visits: tokens, hosts, origins, limits, endings."""

from __future__ import annotations

import asyncio
import urllib.error
import urllib.request
from collections.abc import Iterator
from typing import Any

import pytest

import scenarios
from tests.helpers.browsing import served
from viz.browser import BrowserError, serve
from viz.browser.chosen import choices
from viz.browser.chosen.queries import Opening
from viz.browser.gate.addresses import greeting
from viz.browser.page import roots, static_file
from viz.browser.visits import Full, Visit, Visits
from viz.browser.workbench import Workbench

TOKEN = "paddock-9-cones"


class _Stay(urllib.request.HTTPRedirectHandler):
    def redirect_request(self, *_: Any) -> None:
        return None


def ask(url: str, **headers: str) -> tuple[int, str, dict[str, str]]:
    """Status, text and headers of an answer; redirects are not followed."""
    opener = urllib.request.build_opener(_Stay)
    request = urllib.request.Request(url, headers={k.replace("_", "-"): v for k, v in headers.items()})
    try:
        with opener.open(request, timeout=5) as answer:
            return answer.status, answer.read().decode(), dict(answer.headers)
    except urllib.error.HTTPError as error:
        with error:
            return error.code, error.read().decode(), dict(error.headers)


@pytest.fixture(scope="module")
def guarded() -> Iterator[str]:
    with served(token=TOKEN, most=2) as address:
        yield address.split("?")[0]


def test_without_the_token_nothing_is_answered(guarded: str) -> None:
    for path in ("", "static/lockarc/app.js", "visit/0/", "?token=paddock-9-conez"):
        status, text, _ = ask(guarded + path)
        assert status == 403
        assert "needs its token" in text


def test_with_the_token_a_visit_begins_and_a_cookie_carries_it(guarded: str) -> None:
    status, _, headers = ask(f"{guarded}?token={TOKEN}")
    assert status == 303
    cookie = headers["Set-Cookie"]
    assert "HttpOnly" in cookie
    assert "SameSite=Strict" in cookie
    assert TOKEN not in headers["Location"]
    status, _, headers = ask(guarded.rstrip("/") + headers["Location"], Cookie=cookie.split(";")[0])
    assert status == 200
    assert "default-src 'self'" in headers["Content-Security-Policy"]


def test_other_names_and_other_pages_are_refused() -> None:
    with served() as address:
        assert ask(address)[0] == 303
        assert ask(address, Host="kart.example")[0] == 403
        assert ask(address, Origin="http://kart.example")[0] == 403
        assert ask(address + "visit/0/")[0] == 410
        assert ask(address + "nowhere")[0] == 404
        assert ask(address + "static/../serving.py")[0] == 404
        assert ask(address + "static/lockarc/%2e%2e/serving.py")[0] == 404


def test_full_house_is_told(guarded: str) -> None:
    statuses = [ask(f"{guarded}?token={TOKEN}")[0] for _ in range(3)]
    assert statuses[-1] == 503


def test_open_host_needs_a_token_and_is_warned_of() -> None:
    with pytest.raises(BrowserError, match="needs --token"):
        serve(scenarios.load(), host="0.0.0.0", open_browser=False)
    with pytest.raises(BrowserError, match="at least 8 characters"):
        serve(scenarios.load(), token="short", open_browser=False)
    with pytest.raises(BrowserError, match="between 0 and 65535"):
        serve(scenarios.load(), port=99999, open_browser=False)
    assert len(greeting("127.0.0.1", 80, None)) == 1
    assert "nothing is encrypted" in greeting("0.0.0.0", 80, TOKEN)[1]
    [line] = greeting("127.0.0.1", 80, None, "slow corner")
    assert "http://127.0.0.1:80/?case=slow%20corner " in line


def test_a_port_in_use_is_told() -> None:
    with served() as address:
        port = int(address.rstrip("/").rpartition(":")[2])
        with pytest.raises(BrowserError, match="port is in use"):
            serve(scenarios.load(), port=port, open_browser=False)


def test_visits_end_when_left_and_are_bounded() -> None:
    async def story() -> None:
        visits = Visits(most=1, patience=0.05)
        asked, bench = Opening(choices.start(scenarios.load()), {}), Workbench()
        visit = await visits.add(lambda: Visit(asked, bench, bench))
        with pytest.raises(Full):
            await visits.add(lambda: Visit(asked, bench, bench))
        visits.back(visit)
        await asyncio.sleep(0.12)
        assert visits.get(visit.id) is visit  # connected: it stays
        visits.away(visit)
        await asyncio.sleep(0.12)
        assert visits.get(visit.id) is None
        await visits.add(lambda: Visit(asked, bench, bench))
        await visits.close()
        assert len(visits) == 0
        bench.close()

    asyncio.run(story())


def test_static_files_stay_inside_their_folders() -> None:
    folders = roots()
    assert static_file("lockarc/app.js", folders) is not None
    assert static_file("vue.global.js", folders) is not None
    assert static_file("lockarc/../visits.py", folders) is None
    assert static_file("../module/vue3.py", folders) is None
    assert static_file("lockarc/missing.js", folders) is None
