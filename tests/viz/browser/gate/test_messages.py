"""What a page may say over its web socket, and what becomes of a visitor who says anything else."""

from __future__ import annotations

import asyncio
from collections.abc import Iterator

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.helpers.visiting import hostile
from tests.helpers.visiting.visitor import CHANGE, Host, Visitor, framed, hosted
from viz.browser.gate import messages
from viz.browser.gate.messages import MessageError

SHUT = 1008


@pytest.fixture(scope="module")
def host() -> Iterator[Host]:
    with hosted() as running:
        yield running


@pytest.mark.quick
@pytest.mark.parametrize("frame", hostile.FRAMES, ids=range(len(hostile.FRAMES)))
def test_what_no_page_sends_is_refused_in_one_line(frame: bytes) -> None:
    with pytest.raises(MessageError) as refused:
        messages.check(frame)
    assert "\n" not in str(refused.value)


@pytest.mark.quick
@given(st.binary(max_size=64))
def test_noise_is_refused_or_let_by(noise: bytes) -> None:
    for frame in (noise, hostile.CLAIM[:8] + len(noise).to_bytes(4, "little") + noise):
        with pytest.raises(MessageError):
            messages.check(frame)


@pytest.mark.quick
def test_what_the_page_sends_is_let_by() -> None:
    messages.check(hostile.call("wslink.hello", [{"secret": "wslink-secret"}], kwargs={}))
    messages.check(hostile.call("trame.state.get", [], kwargs={}))
    messages.check(hostile.call("trame.lifecycle.update", ["client_connected"]))
    messages.check(hostile.call("trame.trigger", ["hello", [], {}]))
    ballast = {"kind": "ballast", "slot": "A", "mass_kg": 5, "at_mm": [416, -200, 200.5]}
    plain = {"kind": "twist", "times": 10}, {"kind": "rod", "slot": "A", "toe_deg": None}
    for change in (CHANGE, *plain, ballast):
        messages.check(hostile.call("trame.trigger", ["change", [change], {}]))
    messages.check(framed({"id": "rpc:c:5", "method": "trame.error.client", "args": ["error: no"]}))


def test_a_claimed_size_takes_no_memory_and_the_visitor_may_come_again(host: Host) -> None:
    async def story() -> None:
        async with Visitor(host.address) as visitor:
            before = host.memory_mb()
            assert await hostile.shut(visitor, hostile.CLAIM) == SHUT
            assert host.memory_mb() < before + 100
            await visitor.connect()
            assert (await visitor.turn(2.0))["refused"] == ""

    asyncio.run(story())


def test_other_messages_shut_the_door_and_nothing_is_told_of_the_program(host: Host) -> None:
    async def story() -> None:
        async with Visitor(host.address) as visitor:
            for frame in hostile.FRAMES[1:]:
                assert await hostile.shut(visitor, frame) in (SHUT, 1009)
                await visitor.connect()
            await visitor.socket.send_str(hostile.ESCAPES)
            assert await hostile.shut(visitor, b"x") == SHUT

    asyncio.run(story())
    assert host.said() == []


def test_nonsense_in_the_right_form_is_refused_and_told_clean(host: Host) -> None:
    async def story() -> None:
        async with Visitor(host.address) as visitor:
            for frame in hostile.ODD:
                await visitor.socket.send_bytes(frame)
                answer = await visitor.socket.receive(timeout=5)
                assert b"Traceback" not in answer.data
                assert b".py" not in answer.data

    asyncio.run(story())
    assert host.said()  # what a page's own script reports
    for line in host.said():
        assert line.startswith("lockarc: warning: JS Error => ")
        assert line.isprintable()
        assert len(line) < 300


def test_a_greeting_that_is_refused_lets_nothing_larger_by(host: Host) -> None:
    async def story() -> None:
        async with Visitor(host.address) as visitor:
            await visitor.connect(greet=False)
            await visitor.socket.send_bytes(
                hostile.call("wslink.hello", [{"secret": "wrong"}], id="system:c0:0")
            )
            assert b"Authentication failed" in (await visitor.socket.receive(timeout=5)).data
            assert await hostile.shut(visitor, hostile.call("trame.error.client", ["x" * 5000])) == SHUT

    asyncio.run(story())


def test_a_fault_of_the_program_tells_the_visitor_no_trace(monkeypatch: pytest.MonkeyPatch) -> None:
    import scenarios
    from viz.browser import replies, serving
    from viz.browser.door import Door

    def broken(*_: object) -> None:
        raise RuntimeError("a path: /home/me/secret.py")

    async def story() -> bytes:
        door = Door(scenarios.load(), (), "127.0.0.1", None, scenarios.load, 2)
        async with door.open(0) as port, Visitor(serving.address("127.0.0.1", port, None)) as visitor:
            monkeypatch.setattr(replies, "reply", broken)
            await visitor.socket.send_bytes(
                hostile.call("trame.trigger", ["change", [{**CHANGE, "size_deg": 2}], {}])
            )
            answer = await visitor.socket.receive(timeout=10)
        return bytes(answer.data)

    got = asyncio.run(story())
    assert b"Exception raised" in got
    assert b"secret.py" not in got
    assert b"Traceback" not in got
