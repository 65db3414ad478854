"""Bench sheets read back: the HTML with the standard library's parser, the PDF with pdfplumber."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from html.parser import HTMLParser

import pdfplumber

from viz.sheet.blocks import Block, Line, Number, Para, Sheet, Steps, Table, Ticks

NUMBER = re.compile(r"[+−]?\d+(?:\.\d+)?")
SKIP = {"style", "title", "footer"}


class Page(HTMLParser):
    """The numbers a page marks as such, and the rest of its text."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.marked: list[tuple[str, float, str]] = []
        self.other: list[str] = []
        self.tags: list[str] = []
        self.attributes: list[tuple[str, str, str | None]] = []
        self.feed(text)

    def handle_starttag(self, tag, attrs):
        self.attributes += [(tag, name, value) for name, value in attrs]
        if tag not in ("meta", "col", "circle", "polyline", "polygon"):
            self.tags.append(tag)
        if tag == "data":
            told = dict(attrs)
            self.marked.append((told["data-key"], float(told["value"]), ""))

    def handle_endtag(self, tag):
        if self.tags and self.tags[-1] == tag:
            self.tags.pop()

    def handle_data(self, data):
        if SKIP & set(self.tags):
            return
        if self.tags and self.tags[-1] == "data":
            key, value, text = self.marked[-1]
            self.marked[-1] = (key, value, text + data)
        else:
            self.other.append(data)

    @property
    def text(self) -> str:
        """Everything a reader sees, footer left out."""
        return " ".join([*self.other, *(text for _, _, text in self.marked)])


def pdf_pages(content: bytes):
    """Every page's words (without the two of its footer line) with their places, and its size."""
    pages = []
    with pdfplumber.open(io.BytesIO(content)) as document:
        for page in document.pages:
            words = page.extract_words(x_tolerance=1.0, y_tolerance=1.0, keep_blank_chars=False)
            foot = max(word["bottom"] for word in words) - 3.0
            pages.append(([w for w in words if w["bottom"] < foot], page))
    return pages


def numbers_in(text: str) -> list[str]:
    """Every number of a text, as written."""
    return NUMBER.findall(text)


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
