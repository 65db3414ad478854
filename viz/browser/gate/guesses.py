"""Wrong tokens: the answer to each comes later than the one before, for the address that gives them.

A right token is never kept waiting, wherever it comes from. Somebody who takes silence for a no is slowed by
the number of connections alone, so that a token still has to be a long one.
"""

from __future__ import annotations

import ipaddress
import time
from collections import OrderedDict
from collections.abc import Callable

FIRST, SLOWEST = 0.5, 8.0  # s
FORGOTTEN = 600.0  # s after the last wrong token
REMEMBERED = 1000  # addresses


class Guesses:
    """How often each address was wrong lately; of very many addresses only the latest are remembered."""

    def __init__(self, clock: Callable[[], float] = time.monotonic) -> None:
        self._clock = clock
        self._wrong: OrderedDict[str, tuple[int, float]] = OrderedDict()

    def __len__(self) -> int:
        return len(self._wrong)

    def pause(self, address: str | None) -> float:
        """Count a wrong token of this address: seconds (FIRST to SLOWEST) until it may be told so."""
        name, now = _network(address or ""), self._clock()
        times, last = self._wrong.pop(name, (0, now))
        times = 1 if now - last > FORGOTTEN else times + 1
        self._wrong[name] = (times, now)
        if len(self._wrong) > REMEMBERED:
            self._wrong.popitem(last=False)
        return min(SLOWEST, FIRST * 2.0 ** min(times - 1, 16))


def _network(address: str) -> str:
    """What one person holds: an IPv4 address, or the /64 network of an IPv6 one."""
    try:
        found = ipaddress.ip_address(address.partition("%")[0])
    except ValueError:
        return address
    return str(ipaddress.ip_network((found, 64), strict=False)) if found.version == 6 else str(found)
