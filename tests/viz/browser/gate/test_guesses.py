"""How long a wrong token waits for its answer."""

from __future__ import annotations

from viz.browser.gate.guesses import FIRST, FORGOTTEN, REMEMBERED, SLOWEST, Guesses


class Clock:
    now = 0.0

    def __call__(self) -> float:
        return self.now


def test_the_pause_doubles_up_to_a_bound_and_is_forgotten() -> None:
    clock = Clock()
    guesses = Guesses(clock)
    assert [guesses.pause("192.0.2.7") for _ in range(4)] == [FIRST, 2 * FIRST, 4 * FIRST, 8 * FIRST]
    assert [guesses.pause("192.0.2.7") for _ in range(100)][-1] == SLOWEST
    assert guesses.pause("192.0.2.8") == FIRST
    clock.now = FORGOTTEN + 1
    assert guesses.pause("192.0.2.7") == FIRST


def test_a_network_of_ipv6_is_one_guesser() -> None:
    guesses = Guesses(Clock())
    guesses.pause("2001:db8::1")
    assert guesses.pause("2001:db8::ffff") == 2 * FIRST
    assert guesses.pause("2001:db8:0:1::1") == FIRST
    assert guesses.pause("fe80::1%eth0") == FIRST
    assert guesses.pause(None) == FIRST


def test_only_so_many_addresses_are_remembered() -> None:
    guesses = Guesses(Clock())
    for number in range(3 * REMEMBERED):
        guesses.pause(f"10.0.{number // 256}.{number % 256}")
    assert len(guesses) == REMEMBERED
    assert guesses.pause("10.0.0.0") == FIRST
