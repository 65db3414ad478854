"""A table as data, and the one way in which it becomes text: measured, so that no two cells touch."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from textwrap import wrap

from viz.words.width import width as room_now

GAP, APART = 2, 4
"""Spaces between neighbouring columns; beside a group under one heading, where there is room."""
LEAST_NAME = 12
LEAST_ROOM = 20

Line = Sequence[str | None]
"""A cell for every column, None where the cell at its left runs on over this column."""


@dataclass(frozen=True)
class GridColumn:
    """heads: heading lines from the top down, None where the heading at the left runs on over this column.

    text stands at the left, a number at the right. A name is text that may be cut with an ellipsis where
    the table would not fit the paper otherwise.
    """

    heads: tuple[str | None, ...] = ()
    text: bool = False
    name: bool = False


@dataclass(frozen=True)
class Grid:
    """Columns and rows of text cells; the first `keys` columns say what a row is of."""

    columns: Sequence[GridColumn]
    rows: Sequence[Line]
    keys: int = 1

    def __post_init__(self) -> None:
        starts = {0, self.keys} if self.keys < len(self.columns) else {0}
        for line in (*heading_lines(self.columns), *self.rows):
            if len(line) != len(self.columns):
                raise ValueError(f"a row of {len(line)} cells in a table of {len(self.columns)} columns")
            if any(line[start] is None for start in starts):
                raise ValueError("no cell runs on into a table or out of its key columns")


def under(heads: Sequence[str], columns: Sequence[GridColumn]) -> list[GridColumn]:
    """The columns under heading lines that run over all of them."""
    above = [heads, *([None] * len(heads) for _ in columns[1:])]
    return [
        GridColumn((*lines, *column.heads), column.text, column.name)
        for lines, column in zip(above, columns, strict=True)
    ]


def heading_lines(columns: Sequence[GridColumn]) -> list[Line]:
    """The heading lines from the top down; a column with fewer has its own at the bottom."""
    count = max((len(column.heads) for column in columns), default=0)
    padded = [("",) * (count - len(column.heads)) + column.heads for column in columns]
    return [list(line) for line in zip(*padded, strict=True)]


def layout(grid: Grid, width: int | None = None) -> list[str]:
    """The table as lines of at most `width` columns (left out: those there are), two spaces between cells.

    A table that is too wide is broken between its groups into blocks, one below another, each with the key
    columns; only keys and a single group that are wider together pass the width. A cell that runs over
    several columns is centred over them.
    """
    width = room_now() if width is None else width
    heads = heading_lines(grid.columns)
    lines = [*heads, *grid.rows]
    groups = _groups(lines, len(grid.columns))
    widths = _fitted(grid, _widths(lines, len(grid.columns)), groups, width)
    keys = [group for group in groups if group[0] < grid.keys]
    others = groups[len(keys) :]
    blocks = min((_blocks(keys, others, widths, width, gap) for gap in (APART, GAP)), key=len)
    written: list[str] = []
    for block in blocks:
        shown = [_write(block, line, grid.columns, widths, width) for line in lines]
        titles = [line for line in shown[: len(heads)] if line]
        written += [*([""] if written else []), *titles, *shown[len(heads) :]]
    return written


Group = list[int]
Block = list[Group]


def _groups(lines: Sequence[Line], count: int) -> list[Group]:
    """Columns that no break may part: those over which one cell runs."""
    groups: list[Group] = []
    for column in range(count):
        if any(line[column] is None for line in lines):
            groups[-1].append(column)
        else:
            groups.append([column])
    return groups


def _cells(line: Line) -> list[tuple[int, int, str]]:
    """First column, column after the last, and text of every cell."""
    starts = [i for i, cell in enumerate(line) if cell is not None]
    return [(a, b, str(line[a])) for a, b in pairwise([*starts, len(line)])]


def _widths(lines: Sequence[Line], count: int) -> list[int]:
    """How wide each column must be for its own cells and its share of those that run over it."""
    cells = sorted({cell for line in lines for cell in _cells(line)}, key=lambda c: (c[1] - c[0], *c))
    widths = [0] * count
    for first, end, text in cells:
        short = len(text) - sum(widths[first:end]) - GAP * (end - first - 1)
        for place in range(max(short, 0)):
            widths[first + place % (end - first)] += 1
    return widths


def _fitted(grid: Grid, widths: list[int], groups: list[Group], width: int) -> list[int]:
    """The widths, with names cut, the longest first, as far as that spares a block or keeps one narrow."""
    cuts = [list(widths)]
    names = [i for i, column in enumerate(grid.columns) if column.name]
    while names:
        last = cuts[-1]
        longest = max(names, key=lambda i: last[i])
        if last[longest] <= LEAST_NAME:
            break
        cuts.append([one - (i == longest) for i, one in enumerate(last)])
    return min(cuts, key=lambda cut: _cost(grid, cut, groups, width))


def _cost(grid: Grid, widths: list[int], groups: list[Group], width: int) -> tuple[int, int]:
    """By how much the widest block passes the width, and in how many blocks a table comes."""
    keys = [group for group in groups if group[0] < grid.keys]
    blocks = _blocks(keys, groups[len(keys) :], widths, width, GAP)
    over = max(_across(block, widths, GAP) for block in blocks) - width
    return max(over, 0), len(blocks)


def _gap(before: Group, after: Group, apart: int) -> int:
    return apart if len(before) > 1 or len(after) > 1 else GAP


def _across(block: Block, widths: Sequence[int], apart: int) -> int:
    inside = sum(widths[i] for group in block for i in group) + sum(GAP * (len(g) - 1) for g in block)
    return inside + sum(_gap(before, after, apart) for before, after in pairwise(block))


def _blocks(keys: Block, others: Block, widths: Sequence[int], width: int, apart: int) -> list[Block]:
    blocks = [list(keys)]
    for group in others:
        if len(blocks[-1]) > len(keys) and _across([*blocks[-1], group], widths, apart) > width:
            blocks.append(list(keys))
        blocks[-1].append(group)
    return blocks


def _write(block: Block, line: Line, columns: Sequence[GridColumn], widths: Sequence[int], width: int) -> str:
    apart = APART if _across(block, widths, APART) <= width else GAP
    text = ""
    for n, group in enumerate(block):
        text += " " * _gap(block[n - 1], group, apart) if n else ""
        inside = [(a + group[0], b + group[0], cell) for a, b, cell in _cells([line[i] for i in group])]
        text += (" " * GAP).join(_cell(cell, a, b, columns, widths) for a, b, cell in inside)
    return text.rstrip()


def _cell(text: str, first: int, end: int, columns: Sequence[GridColumn], widths: Sequence[int]) -> str:
    width = sum(widths[first:end]) + GAP * (end - first - 1)
    if end - first > 1:
        return text.center(width)
    column = columns[first]
    text = shorten(text, width) if column.name else text
    return text.ljust(width) if column.text or column.name else text.rjust(width)


def shorten(text: str, width: int) -> str:
    """The text, cut with an ellipsis where it is longer than width."""
    return text if len(text) <= width else text[: width - 1] + "…"


def listing(rows: Iterable[Sequence[str]], width: int | None = None, numbered: bool = False) -> list[str]:
    """Rows of short texts and a long one at the end, which is wrapped under itself.

    numbered rows begin with a number, which stands at the right of its column.
    """
    rows, width = list(rows), room_now() if width is None else width
    short = range(len(rows[0]) - 1)
    room = width - sum(max(len(row[i]) for row in rows) + GAP for i in short)
    lines: list[Sequence[str]] = []
    for *shorts, long in rows:
        first, *rest = wrap(long, max(room, LEAST_ROOM)) or [""]
        lines += [[*shorts, first], *([*[""] * len(shorts), line] for line in rest)]
    columns = [GridColumn(text=i > 0 or not numbered) for i in (*short, len(short))]
    return layout(Grid(columns, lines, len(columns)), width)
