"""How wide what is printed may be: 80 columns, or with `--wide` what a wide terminal has."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from contextvars import ContextVar
from textwrap import wrap

WIDTH, WIDE, WIDEST = 80, 100, 120
HANG = 4
"""How far what goes on of a line is set in below it."""
MOST_LINES = 12
"""Of a first answer, its title among them."""
_NOW = ContextVar("columns", default=WIDTH)


def width() -> int:
    """Columns of what is printed now."""
    return _NOW.get()


def wide() -> int:
    """Columns where a wide print is asked for: the terminal's, 100 to 120."""
    return min(max(shutil.get_terminal_size((WIDE, 0)).columns, WIDE), WIDEST)


@contextmanager
def printed_at(columns: int) -> Iterator[None]:
    """Everything within is laid out for so many columns."""
    before = _NOW.set(columns)
    try:
        yield
    finally:
        _NOW.reset(before)


def filled(text: str, hang: str = "") -> list[str]:
    """A paragraph as lines of the width there is; hang stands before all lines but the first.

    No line ends within a name: 'as-delivered' stays whole, and a path that can be copied.
    """
    return wrap(text, width(), subsequent_indent=hang, break_on_hyphens=False)


def headed(title: str, source: str, of: str) -> str:
    """What is told of which kart; its file is left out where the line would be too long for it."""
    whole = f"{title} ({source}){of}"
    return whole if len(whole) <= width() else f"{title}{of}"


def laid(lines: Iterable[str]) -> list[str]:
    """Lines broken to the width there is, what goes on of each set in beneath it."""
    return [part for line in lines for part in filled(line, " " * (len(line) - len(line.lstrip()) + HANG))]


def shortest(versions: Iterable[Callable[[], Sequence[str]]], room: int = MOST_LINES) -> list[str]:
    """The first version of an answer that has no more lines than there is room for, else the last.

    Sides count as if their names were of one length, so that a mirrored kart is told of as fully.
    """
    lines: Sequence[str] = []
    for version in versions:
        lines = version()
        if len(laid(one.replace("left", "right") for one in lines)) <= room:
            break
    return laid(lines)
