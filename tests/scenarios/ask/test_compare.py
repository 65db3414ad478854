"""Settings against a base, solved in batches: the same in any, and told after each."""

from __future__ import annotations

import numpy as np
import pytest

import scenarios
from scenarios.ask import compare as comparing
from scenarios.ask.compare import WAYS, Compared, compare


@pytest.fixture(scope="module")
def book():
    return scenarios.load()


def compared(book, states: int) -> tuple[Compared, list[tuple[int, int]]]:
    """Every other setting against the default one, so many states at a time; what was told of it."""
    told: list[tuple[int, int]] = []
    names = [name for name in book.settings if name != book.default_setting]
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(comparing, "AT_ONCE", states)
        found = compare(
            book, book.default_setting, names, ["slow corner"], progress=lambda *n: told.append(n)
        )
    return found, told


def test_settings_one_by_one_are_as_all_at_once(book):
    (whole, once), (apart, each) = compared(book, 10**6), compared(book, 1)
    assert once == [(3, 3)]
    assert each == [(1, 3), (2, 3), (3, 3)]
    for one, other in zip(whole.settings, apart.settings, strict=True):
        assert one.name == other.name
        assert float(one.work.rods.left.turns) == pytest.approx(float(other.work.rods.left.turns), abs=1e-9)
        for way in WAYS:
            assert same(one.ways[way].curves, other.ways[way].curves)
            assert same(one.ways[way].cases["slow corner"], other.ways[way].cases["slow corner"])


def same(some, others) -> bool:
    """Whether differences by name are alike to nine digits, and as many of them known."""
    assert [*some] == [*others]
    pairs = [(some[name], others[name]) for name in some]
    close = all(np.allclose(a.change, b.change, rtol=1e-9, atol=1e-6) for a, b in pairs)
    return close and all((a.known == b.known).all() for a, b in pairs)
