"""Where visitors' work is done: beside the server's own loop, one thing at a time, in fair turns.

Solving takes a tenth of a second, loading the page a second; the server answers others meanwhile. Whoever had
least work done lately and has waited longest is next: who never stops asking delays others by a turn or two.
"""

from __future__ import annotations

import asyncio
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from typing import TypeVar

T = TypeVar("T")
HALVED = 10.0  # s in which half of what somebody had is forgotten
CHARGED = 0.3  # s at most for one piece of work: the first of all takes long through no fault of who asked


@dataclass(eq=False)
class Customer:
    """Somebody who has work done, and how much (s) they had lately."""

    had: float = 0.0
    at: float = field(default_factory=time.monotonic)

    def lately(self, more: float = 0.0) -> float:
        """How much they had lately, with what they had just now."""
        now = time.monotonic()
        self.had, self.at = self.had * 0.5 ** ((now - self.at) / HALVED) + more, now
        return self.had


class Workbench:
    """Does work for customers, each piece in the bench's one thread."""

    def __init__(self) -> None:
        self._thread = ThreadPoolExecutor(1, "lockarc-work")
        self._busy = False
        self._waiting: list[tuple[Customer, float, asyncio.Future[None]]] = []

    async def do(self, customer: Customer, work: Callable[[], T]) -> T:
        """What the work gives or raises, once it is the customer's turn."""
        await self._turn(customer)
        began = time.monotonic()
        try:
            return await asyncio.get_running_loop().run_in_executor(self._thread, work)
        finally:
            customer.lately(min(time.monotonic() - began, CHARGED))
            self._next()

    async def _turn(self, customer: Customer) -> None:
        if not self._busy:
            self._busy = True
            return
        turn = asyncio.get_running_loop().create_future()
        self._waiting.append((customer, time.monotonic(), turn))
        try:
            await turn
        except asyncio.CancelledError:
            if turn.done() and not turn.cancelled():  # it came, and nobody is there to take it
                self._next()
            raise

    def _next(self) -> None:
        self._waiting = [one for one in self._waiting if not one[2].done()]
        self._busy = bool(self._waiting)
        if self._waiting:
            chosen = min(self._waiting, key=lambda one: one[0].lately() + one[1])  # both in s
            self._waiting.remove(chosen)
            chosen[2].set_result(None)

    def close(self) -> None:
        """Take no more work; what has begun is not waited for."""
        self._thread.shutdown(wait=False, cancel_futures=True)
