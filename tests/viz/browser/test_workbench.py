"""Work is done one thing at a time, and nobody waits for more than a turn of somebody who never stops."""

from __future__ import annotations

import asyncio
import threading
import time

import pytest

from viz.browser.workbench import HALVED, Customer, Workbench


def test_one_thing_at_a_time_and_the_loop_goes_on() -> None:
    running, most = [0], [0]

    def work() -> int:
        running[0] += 1
        most[0] = max(most[0], running[0])
        time.sleep(0.02)
        running[0] -= 1
        return threading.get_ident()

    async def story() -> None:
        bench, ticks = Workbench(), 0
        jobs = asyncio.gather(*(bench.do(Customer(), work) for _ in range(6)))
        while not jobs.done():
            await asyncio.sleep(0.001)
            ticks += 1
        threads = set(await jobs)
        assert len(threads) == 1
        assert threading.get_ident() not in threads
        assert ticks > 6
        assert most == [1]
        bench.close()

    asyncio.run(story())


def test_who_had_least_is_next() -> None:
    async def story() -> None:
        bench, order = Workbench(), []
        greedy, modest = Customer(), Customer()

        async def ask(who: Customer, name: str) -> None:
            await bench.do(who, lambda: (time.sleep(0.01), order.append(name)))

        await ask(greedy, "first")
        await asyncio.gather(*(ask(greedy, "greedy") for _ in range(5)), ask(modest, "modest"))
        assert order.index("modest") == 2  # what was on the bench already is finished
        bench.close()

    asyncio.run(story())


def test_who_had_much_does_not_wait_for_all_who_had_nothing() -> None:
    async def story() -> None:
        bench, order = Workbench(), []

        async def ask(who: Customer, name: str) -> None:
            await bench.do(who, lambda: (time.sleep(0.01), order.append(name)))

        async def busy(name: str) -> None:
            who = Customer()
            while "dear" not in order and len(order) < 100:
                await ask(who, name)

        dear = Customer(had=0.3)
        await asyncio.gather(busy("a"), busy("b"), ask(dear, "dear"))
        assert "dear" in order
        assert order.index("dear") < 40  # 60 where waiting did not count
        bench.close()

    asyncio.run(story())


def test_what_one_had_is_forgotten_by_halves(monkeypatch: pytest.MonkeyPatch) -> None:
    now = [0.0]
    monkeypatch.setattr(time, "monotonic", lambda: now[0])
    one = Customer(at=0.0)
    one.lately(4.0)
    now[0] = 2 * HALVED
    assert one.lately() == pytest.approx(1.0)


def test_a_fault_and_one_who_goes_away_leave_the_bench_free() -> None:
    def broken() -> None:
        raise ValueError("no")

    async def story() -> None:
        bench = Workbench()
        with pytest.raises(ValueError, match="no"):
            await bench.do(Customer(), broken)
        long = asyncio.create_task(bench.do(Customer(), lambda: time.sleep(0.05)))
        await asyncio.sleep(0)
        gone = asyncio.create_task(bench.do(Customer(), lambda: None))
        await asyncio.sleep(0)
        gone.cancel()
        assert await bench.do(Customer(), lambda: 5) == 5
        await long
        assert gone.cancelled()
        assert await bench.do(Customer(), lambda: 6) == 6
        bench.close()

    asyncio.run(story())


def test_one_who_goes_away_as_their_turn_comes_hands_it_on() -> None:
    async def story() -> None:
        bench = Workbench()

        async def first() -> None:
            await bench.do(Customer(), lambda: time.sleep(0.02))
            gone.cancel()

        begun = asyncio.create_task(first())
        await asyncio.sleep(0)
        gone = asyncio.create_task(bench.do(Customer(), lambda: None))
        await begun
        async with asyncio.timeout(5):
            assert await bench.do(Customer(), lambda: 5) == 5
        assert gone.cancelled()
        bench.close()

    asyncio.run(story())
