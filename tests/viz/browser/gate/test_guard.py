"""Who gets in: other web pages, odd hosts, wrong tokens."""

from __future__ import annotations

import asyncio
from collections.abc import Iterator

import pytest

from tests.helpers.visiting import hostile
from tests.helpers.visiting.visitor import Host, Visitor, hosted

TOKEN = "paddock-9-cones"


@pytest.fixture(scope="module")
def host() -> Iterator[Host]:
    with hosted("--visitors", "2") as running:
        yield running


@pytest.mark.parametrize("site", ["cross-site", "same-site"])
def test_a_picture_tag_elsewhere_takes_no_place(host: Host, site: str) -> None:
    async def story() -> None:
        for _ in range(6):
            got = await hostile.picture_tag(host.port, site=site)
            assert got.startswith(b"HTTP/1.1 403 ")
            assert b"Another web page asked" in got
        async with Visitor(host.address):
            pass

    asyncio.run(story())


def test_the_places_are_as_many_as_were_asked_for() -> None:
    async def story(address: str) -> None:
        async with Visitor(address) as first, Visitor(address):
            assert [await first.get("/") for _ in range(3)] == [503] * 3

    with hosted("--visitors", "2") as running:
        asyncio.run(story(running.address))


def test_a_link_followed_from_elsewhere_offers_the_way_on(host: Host) -> None:
    async def asked(path: str) -> bytes:
        return await hostile.picture_tag(host.port, path, dest="document")

    assert b'href="/?case=slow%20corner&amp;a=x"' in asyncio.run(asked("/?case=slow%20corner&a=x"))
    assert b'href="/visit/0/?a=x"' in asyncio.run(asked("/visit/0/?a=x"))
    assert b"href=" not in asyncio.run(asked("/visit/0/data.csv")).partition(b"<body")[2]


@pytest.mark.parametrize(("request_", "status"), hostile.REQUESTS.items(), ids=range(len(hostile.REQUESTS)))
def test_a_request_that_is_none_is_told_in_plain_words(host: Host, request_: bytes, status: int) -> None:
    got = asyncio.run(hostile.raw(host.port, request_))
    head, _, body = got.partition(b"\r\n\r\n")
    assert head.split()[1] == str(status).encode(), head
    if not request_.startswith(b"HEAD"):
        assert b"<h1>" in body
    assert b"Traceback" not in got
    assert b".py" not in got
    assert b"\x1b" not in got
    assert b"Content-Security-Policy" in head
    assert host.said() == []


def test_a_wrong_token_is_answered_late_and_a_right_one_from_there_at_once() -> None:
    async def story(port: int) -> None:
        wrong = [asyncio.create_task(hostile.wrong_token(port, f"wrong-token-{n}")) for n in range(4)]
        await asyncio.sleep(0.2)
        assert (await hostile.wrong_token(port, TOKEN)).startswith(b"HTTP/1.1 303")
        assert not wrong[3].done()  # the fourth waits for seconds, and stands in no line with the right one
        first = await wrong[0]
        assert first.startswith(b"HTTP/1.1 403")
        assert b"needs its token" in first
        for task in wrong:
            task.cancel()
        await asyncio.gather(*wrong, return_exceptions=True)
        await asyncio.sleep(0)  # until they are closed

    with hosted("--token", TOKEN) as running:
        asyncio.run(story(running.port))
