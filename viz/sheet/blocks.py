"""What a bench sheet is made of, before anything is drawn: one layout that HTML and PDF both print.

Every number of the solver stands here once, already as text, so that the two cannot disagree.
"""

from __future__ import annotations

from dataclasses import dataclass

from kinematics.figures.figure import Figure
from viz.page.drawing import Drawing
from viz.words import numbers


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
NONE: Line = ("not reached",)


def number(key: str, value: float, decimals: int, unit: str = "", signed: bool = False) -> Number:
    """A number with fixed decimals and its unit; with signed, a plus where it is above zero."""
    write = numbers.signed if signed else numbers.number
    return Number(key, float(value), f"{write(float(value), decimals, hand=numbers.PAGE)} {unit}".rstrip())


def reading(key: str, value: float, figure: Figure, signed: bool = True) -> Number:
    """A figure's number, with its decimals and its unit."""
    return number(key, value, figure.digits, figure.unit.text, signed)


def size(key: str, value: float, unit: str = "") -> Number:
    """A size as it is marked on a part, a limit or a setting: no trailing zeros."""
    return Number(key, float(value), f"{numbers.short(float(value), hand=numbers.PAGE)} {unit}".rstrip())


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
    """A table; a BLANK cell is a box to write in. widths are shares of the page; roomy rows are high enough
    for a pen in a cold hand."""

    caption: str
    head: tuple[str, ...]
    rows: tuple[tuple[Line, ...], ...]
    widths: tuple[float, ...]
    roomy: bool = False


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


@dataclass(frozen=True)
class Card:
    """Something drawn, with its name and lines beside it."""

    name: str
    lines: tuple[Line, ...]
    drawing: Drawing


@dataclass(frozen=True)
class Cards:
    """Cards beside each other, two in a row on paper."""

    cards: tuple[Card, ...]


Block = Para | Steps | Ticks | Table | Corners | Cards


@dataclass(frozen=True)
class Section:
    """A headed part of the sheet; a new page starts where it says so or where less than least_mm is left
    of one, and together it is cut by no page that has room for it."""

    title: str
    blocks: tuple[Block, ...]
    new_page: bool = False
    together: bool = False
    least_mm: float = 40.0


@dataclass(frozen=True)
class Sheet:
    """A whole sheet; tab is its title beside those of other pages."""

    title: str
    tab: str
    facts: tuple[tuple[str, Line], ...]
    sections: tuple[Section, ...]
    footer: str
