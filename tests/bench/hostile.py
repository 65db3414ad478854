"""A hostile client for a minute: what an honest visitor waits, what memory it takes, what the terminal holds.

Run as a script, with the seconds to last if not 60. All attacks run at once, without a pause, against the
command itself with a token; the honest visitor loads files, fits bushes and comes in anew meanwhile. Its
waits when it is alone are measured first: the attackers take the processors of the same machine.
"""

from __future__ import annotations

import asyncio
import sys
import time
from collections import Counter
from collections.abc import Awaitable, Callable
from contextlib import suppress
from pathlib import Path
from statistics import median

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

import aiohttp

from tests.helpers.visiting import hostile
from tests.helpers.visiting.visitor import Host, Visitor, hosted

TOKEN = "paddock-9-cones"
ENTERED = 5.0  # s between newcomers, each of whom leaves a place taken for a while
SLOW, LARGE = 2.0, 600.0  # s and MB: the bars


class Trial:
    """A minute: what the honest visitor waited by what it asked, how often each attack ran, the peak."""

    def __init__(self, host: Host, seconds: float) -> None:
        self.host, self.seconds, self.until = host, seconds, 0.0
        self.before: dict[str, list[float]] = {}
        self.waited: dict[str, list[float]] = {}
        self.rounds: Counter[str] = Counter()
        self.peak = 0.0

    async def again(self, name: str, once: Callable[[], Awaitable[object]]) -> None:
        """Make an attack again and again; that it is cut off is what it may expect."""
        while time.monotonic() < self.until:
            with suppress(OSError, aiohttp.ClientError, AssertionError, TypeError):
                await once()
                self.rounds[name] += 1
            await asyncio.sleep(0.001)

    async def timed(self, name: str, asked: Awaitable[object]) -> None:
        """Keep how long an answer took."""
        began = time.monotonic()
        await asked
        self.waited.setdefault(name, []).append(time.monotonic() - began)

    async def watch(self) -> None:
        """Keep the most memory that was seen."""
        while time.monotonic() < self.until:
            self.peak = max(self.peak, self.host.memory_mb())
            await asyncio.sleep(0.1)

    async def honest(self) -> None:
        """A page that is used, and one that is opened now and then."""
        async with Visitor(self.host.address) as visitor:
            await visitor.load()
            turn, opened = 0, 0.0
            while time.monotonic() < self.until:
                turn += 1
                await self.timed("a file", visitor.get("/static/lockarc/app.js"))
                await self.timed("a bush", visitor.turn(1.0 + turn % 3))
                if time.monotonic() - opened > ENTERED:
                    opened = time.monotonic()
                    await self.timed("a page opened", self.opened())
                await asyncio.sleep(0.2)

    async def opened(self) -> None:
        """Somebody comes in, with a page that loads."""
        async with Visitor(self.host.address) as visitor:
            await visitor.load()

    async def half_sent(self) -> None:
        """Three hundred requests that are begun and left."""
        lines = [await hostile.half_sent(self.host.port) for _ in range(300)]
        await asyncio.sleep(2.0)
        hostile.abandon(lines)

    async def malformed(self) -> None:
        """Requests that are none."""
        for request in hostile.REQUESTS:
            await hostile.raw(self.host.port, request, 2.0)

    async def messages(self, name: str, sent: list[bytes]) -> None:
        """An admitted visitor who says what no page says, and comes again after each."""
        async with Visitor(self.host.address) as visitor:
            while time.monotonic() < self.until:
                for frame in sent:
                    await hostile.shut(visitor, frame, 1.5)
                    await visitor.connect()
                    self.rounds[f"{name}, each"] += 1

    async def greedy(self) -> None:
        """An admitted visitor who fits bushes without a pause."""
        async with Visitor(self.host.address) as visitor:
            while time.monotonic() < self.until:
                await visitor.turn(2.0)
                self.rounds["greedy bushes"] += 1

    async def guess(self) -> None:
        """A wrong token."""
        await hostile.wrong_token(self.host.port, f"wrong-{self.rounds['wrong tokens']}")

    async def calm(self) -> None:
        """The honest visitor alone, for a sixth of the time: what this machine can do just now."""
        self.until = time.monotonic() + self.seconds / 6
        await self.honest()
        self.before, self.waited = self.waited, {}

    async def run(self) -> None:
        """All of it at once."""
        attacks: list[tuple[str, Callable[[], Awaitable[object]], int]] = [
            ("300 half-sent requests", self.half_sent, 2),
            ("malformed requests, all kinds", self.malformed, 2),
            ("large claims", lambda: self.messages("large claims", [hostile.CLAIM]), 1),
            ("odd messages", lambda: self.messages("odd messages", hostile.FRAMES + hostile.ODD), 1),
            ("greedy visitors", self.greedy, 3),
            ("cross-site pictures", lambda: hostile.picture_tag(self.host.port), 4),
            ("wrong tokens", self.guess, 20),
        ]
        await self.calm()
        self.until = time.monotonic() + self.seconds
        hands = [self.again(name, once) for name, once, many in attacks for _ in range(many)]
        await asyncio.gather(self.honest(), self.watch(), *hands)

    def report(self) -> None:
        """Print the figures beside their bars."""
        for name, waited in self.waited.items():
            worst = max(waited)
            which = f"no. {waited.index(worst) + 1} of {len(waited)}"
            alone = median(self.before[name])
            print(
                f"{name}: median {median(waited):.3f} s, worst {worst:.3f} s ({which}); alone {alone:.3f} s, "
                f"ratio of the medians {median(waited) / alone:.1f}"
            )
        worst = max(max(waited) for waited in self.waited.values())
        print(f"worst {worst:.3f} s (bar {SLOW:g}), ratio {worst / SLOW:.2f}")
        print(f"most memory {self.peak:.0f} MB (bar {LARGE:g}), ratio {self.peak / LARGE:.2f}")
        print("rounds:", ", ".join(f"{name} {n}" for name, n in self.rounds.items()))
        said = self.host.said()
        print(
            f"the terminal held {len(said)} lines, the longest of {max(map(len, said), default=0)} characters"
        )
        odd = [line for line in said if not line.isprintable() or not line.startswith("lockarc: ")]
        print(f"of them {len(odd)} that are no word of the program", *said[:12], *odd[:3], sep="\n    ")


def main() -> None:
    """One trial."""
    seconds = float(sys.argv[1]) if len(sys.argv) > 1 else 60.0
    with hosted("--token", TOKEN) as host:
        trial = Trial(host, seconds)
        asyncio.run(trial.run())
        trial.report()


if __name__ == "__main__":
    main()
