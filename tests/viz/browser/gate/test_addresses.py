"""The address that is printed: one that can be opened, by this machine or by others."""

from __future__ import annotations

import socket

import pytest

from viz.browser.gate import addresses
from viz.browser.gate.addresses import greeting, own, qr_code

TOKEN = "paddock-9-cones"


def test_a_host_of_its_own_is_printed_as_it_is() -> None:
    assert own("192.168.1.20") == "192.168.1.20"
    [line] = greeting("127.0.0.1", 80, None, "slow corner", qr=True)
    assert "http://127.0.0.1:80/?case=slow%20corner " in line


@pytest.mark.parametrize(("host", "found"), [("0.0.0.0", "192.168.1.20"), ("::", "2a00:db8::7")])
def test_every_address_is_told_as_the_one_that_others_reach(
    monkeypatch: pytest.MonkeyPatch, host: str, found: str
) -> None:
    monkeypatch.setattr(addresses, "_route", lambda family: iter(["127.0.0.1", found]))
    name = f"[{found}]" if ":" in found else found
    first, *rest = greeting(host, 8123, TOKEN)
    assert first == f"open http://{name}:8123/?token={TOKEN} in a browser; Ctrl+C ends"
    assert len(rest) == 1
    assert "nothing is encrypted" in rest[0]


def test_a_machine_without_a_network_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(addresses, "_route", lambda family: iter(()))
    monkeypatch.setattr(addresses, "_named", lambda family: iter(["127.0.1.1", "fe80::1"]))
    first, told, _ = greeting("0.0.0.0", 80, TOKEN, qr=True)
    assert "//127.0.0.1:80/" in first
    assert "no address on a network" in told
    assert "//[::1]:80/" in greeting("::", 80, TOKEN)[0]


def test_the_ways_to_the_own_address_raise_nothing() -> None:
    for family in (socket.AF_INET, socket.AF_INET6):
        for found in (*addresses._route(family), *addresses._named(family)):
            socket.inet_pton(family, found)


def test_a_qr_code_is_lines_of_blocks_that_hold_the_address(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(addresses, "_route", lambda family: iter(["192.168.1.20"]))
    url = f"http://192.168.1.20:8123/?token={TOKEN}"
    lines = greeting("0.0.0.0", 8123, TOKEN, qr=True)
    assert lines[2:-1] == qr_code(url)
    assert lines[-1].startswith("WARNING: ")
    rows = qr_code(url)
    assert {sign for row in rows for sign in row} == set(" ▀▄█")
    assert len({len(row) for row in rows}) == 1
    assert len(rows[0]) <= 60
    assert modules(rows) == modules_of(url)


def modules(rows: list[str]) -> list[list[bool]]:
    """Dark (True) and light squares of a drawn code, without its light border."""
    upper = {"█": (False, False), "▀": (False, True), "▄": (True, False), " ": (True, True)}
    squares = [[upper[sign][half] for sign in row] for row in rows for half in (0, 1)]
    return [row[2:-2] for row in squares[2 : len(rows[0]) - 2]]


def modules_of(url: str) -> list[list[bool]]:
    import segno

    return [[bool(square) for square in row] for row in segno.make(url, error="l", micro=False).matrix]
