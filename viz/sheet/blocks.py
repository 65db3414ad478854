"""What a bench sheet is made of, before anything is drawn: one layout that HTML and PDF both print.

Every number of the solver stands here once, already as text, so that the two cannot disagree.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from viz.page.drawing import Drawing


@dataclass(frozen=True)
class Number:
    """A number of the sheet: what it is (key), its exact value, and how it is printed."""

    key: str
    value: float
    text: str


Piece = str | Number
Line = tuple[Piece, ...]
BLANK: Line = ()
"""A cell left empty, for a pen."""


@dataclass(frozen=True)
class Para:
    """A paragraph; role is 'plain', 'note', 'caution' or 'warning'."""

    line: Line
    role: str = "plain"


@dataclass(frozen=True)
class Steps:
    """Numbered steps, each with a box to tick; numbering goes on from first."""

    steps: tuple[Line, ...]
    first: int = 1


@dataclass(frozen=True)
class Ticks:
    """Lines with a box to tick and no number."""

    lines: tuple[Line, ...]


@dataclass(frozen=True)
class Table:
    """A table; a BLANK cell is a box to write in. widths are shares of the page."""

    caption: str
    head: tuple[str, ...]
    rows: tuple[tuple[Line, ...], ...]
    widths: tuple[float, ...]


@dataclass(frozen=True)
class BushView:
    """One bush of a corner: what to do, told in lines and drawn from above."""

    name: str
    action: str
    lines: tuple[Line, ...]
    drawing: Drawing


@dataclass(frozen=True)
class CornerView:
    """Both bushes of one corner; side is 'left' or 'right'."""

    side: str
    title: str
    bushes: tuple[BushView, ...]


@dataclass(frozen=True)
class Corners:
    """Both corners beside each other, the left one at the left as the kart is seen from above."""

    left: CornerView
    right: CornerView


Block = Para | Steps | Ticks | Table | Corners


@dataclass(frozen=True)
class Section:
    """A headed part of the sheet; a new page starts where it says so."""

    title: str
    blocks: tuple[Block, ...]
    new_page: bool = False


@dataclass(frozen=True)
class Sheet:
    """The whole bench sheet."""

    title: str
    facts: tuple[tuple[str, Line], ...]
    sections: tuple[Section, ...]
    footer: str


def lines_of(block: Block) -> Iterator[Line]:
    """Every line of text in a block, in reading order."""
    if isinstance(block, Para):
        yield block.line
    elif isinstance(block, Steps):
        yield from block.steps
    elif isinstance(block, Ticks):
        yield from block.lines
    elif isinstance(block, Table):
        yield from (cell for row in block.rows for cell in row)
    else:
        for corner in (block.left, block.right):
            for bush in corner.bushes:
                yield from bush.lines


def numbers_of(sheet: Sheet) -> dict[str, Number]:
    """Every number on the sheet by its key; a key that stands for two numbers is a fault."""
    found: dict[str, Number] = {}
    lines = [line for _, line in sheet.facts]
    lines += [line for s in sheet.sections for block in s.blocks for line in lines_of(block)]
    for piece in (piece for line in lines for piece in line):
        if isinstance(piece, Number) and found.setdefault(piece.key, piece) != piece:
            raise ValueError(f"{piece.key} stands on the sheet as {found[piece.key].text} and {piece.text}")
    return found
