"""Help of a command, set for a terminal of any width."""

from __future__ import annotations

import argparse
import re
import shutil
from collections.abc import Iterator
from typing import Any

NARROWEST, WIDEST = 30, 100
_ENTRY = re.compile(r"( *)(\S+(?: \S+)*)( {2,})(\S.*)")
"""A word and, after two spaces or more, what it means."""
_KEPT = re.compile(r"\[[^\[\]]*\]|--[\w-]+ [A-Z]+")
"""A part of a usage line that stays in one piece: what may be left out, or an option with its value."""
_HERE = ",\x1f "
"""A comma behind which a word that is too long may be broken."""


class Layout(argparse.HelpFormatter):
    """Wraps usage, descriptions and options to the width there is, COLUMNS or the terminal's.

    In a description a paragraph is filled anew; 'word   meaning' hangs under its meaning; another indented
    line is an example, which is broken only where it is too long.
    """

    def __init__(self, prog: str, **others: Any) -> None:
        room = min(shutil.get_terminal_size().columns, WIDEST) - 2
        super().__init__(prog, **{"width": max(room, NARROWEST), **others})

    def _format_usage(self, *args: Any) -> str:
        """The usage as argparse words it, in lines of our own: argparse's may be wider than asked for."""
        width, self._width = self._width, 10**6
        try:
            usage = " ".join(super()._format_usage(*args).split())
        finally:
            self._width = width
        kept = _KEPT.sub(lambda part: part[0].replace(" ", "\xa0"), usage)
        lines = _wrapped(kept, width, "", " " * min(len(f"usage: {self._prog} "), width // 3))
        return "\n".join(lines).replace("\xa0", " ") + "\n\n"

    def _split_lines(self, text: str, width: int) -> list[str]:
        return _wrapped(" ".join(text.split()), width)

    def _fill_text(self, text: str, width: int, indent: str) -> str:
        return "\n".join(line for block in _blocks(text) for line in _set(block, width))


def _blocks(text: str) -> Iterator[str]:
    """Paragraphs and entries, each joined to one line, and examples as they are."""
    block, hang = "", 0
    for line in text.splitlines():
        entry, indent = _ENTRY.fullmatch(line), len(line) - len(line.lstrip())
        if block and line and (indent == hang and not entry):
            block += f" {line.strip()}"
            continue
        if block:
            yield block
        block, hang = line, 0 if entry is None else entry.start(4)
        if not line or (entry is None and indent):
            yield line
            block = ""
    if block:
        yield block


def _set(block: str, width: int) -> list[str]:
    """The lines of a paragraph, an entry or an example."""
    entry = _ENTRY.fullmatch(block)
    if entry is not None and not entry[2].startswith("-"):
        return _wrapped(block[entry.start(4) :], width, block[: entry.start(4)], " " * entry.start(4))
    indent = block[: len(block) - len(block.lstrip())]
    return _wrapped(block.strip(), width, indent, indent and f"{indent}    ") or [""]


def _wrapped(text: str, width: int, first: str = "", rest: str = "") -> list[str]:
    """Lines of a text; a word that is longer than a line is broken behind a comma where it has one."""
    from textwrap import wrap

    room = width - max(len(first), len(rest))
    breakable = re.sub(rf"[^ ]{{{room + 1},}}", lambda word: word[0].replace(",", _HERE), text)
    lines = wrap(breakable, width, initial_indent=first, subsequent_indent=rest, break_on_hyphens=False)
    return [line.replace(_HERE, ",").replace("\x1f", "") for line in lines]
