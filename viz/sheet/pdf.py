"""The sheet as a PDF, set by reportlab from the same blocks as the HTML, with fonts of its own inside.

It says its title and language, and its headings are bookmarks; reportlab has no structure tree, so who
has a page read out takes the HTML, or the PDF that a browser prints of it.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from html import escape
from io import BytesIO
from typing import Any

from reportlab.lib.pagesizes import A4, LETTER
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.platypus import (
    BaseDocTemplate,
    CondPageBreak,
    Flowable,
    Frame,
    KeepTogether,
    PageBreak,
    PageTemplate,
    Paragraph,
    Spacer,
    TableStyle,
)
from reportlab.platypus import Table as Grid

from viz.look.lettering import drawable
from viz.page.drawing import WIDTH
from viz.sheet.blocks import (
    Block,
    Card,
    Cards,
    Corners,
    CornerView,
    Line,
    Para,
    Section,
    Sheet,
    Steps,
    Table,
    Ticks,
)
from viz.sheet.numbered import BOLD, FONT, Numbered, fonts
from viz.sheet.pdf_drawing import OnPaper, colour

PAPERS = {"a4": A4, "letter": LETTER}
MARGIN = 12.0 * mm
SIZE, SMALL = 8.8, 7.9
ROWS_KEPT = 24
"""A table of more rows than this goes on where it stands, and on the next page under its head again."""
GREY, RULE, SOFT = colour("paper"), colour("rule"), colour("soft")
BLACK, WHITE = colour("ink"), colour("plate")

PLAIN = ParagraphStyle("plain", fontName=FONT, fontSize=SIZE, leading=1.28 * SIZE, splitLongWords=1)
SAID = ParagraphStyle("said", PLAIN, spaceBefore=2.0)
NOTE = ParagraphStyle("note", PLAIN, fontSize=SMALL, leading=1.28 * SMALL, textColor=SOFT)
HEAD = ParagraphStyle("head", PLAIN, fontName=BOLD, fontSize=7.6, leading=9.4)
STRONG = ParagraphStyle("strong", PLAIN, fontName=BOLD)
TITLE = ParagraphStyle("title", PLAIN, fontName=BOLD, fontSize=16, leading=20)
HEADING = ParagraphStyle("heading", PLAIN, fontName=BOLD, fontSize=12.5, leading=15)
ACTION = ParagraphStyle("action", PLAIN, fontName=BOLD, fontSize=11.5, leading=14)
"""Looks of text; a word longer than its line is broken, never run over."""


def pdf(sheet: Sheet, paper: str) -> bytes:
    """The PDF; the same sheet gives the same bytes."""
    fonts()
    size = PAPERS[paper]
    out = BytesIO()
    document = BaseDocTemplate(
        out,
        pagesize=size,
        title=sheet.title,
        author="",
        subject=drawable(sheet.footer),
        lang="en",
        displayDocTitle=1,
        invariant=1,
        leftMargin=MARGIN,
        rightMargin=MARGIN,
        topMargin=MARGIN,
        bottomMargin=MARGIN,
    )
    width, height = size[0] - 2.0 * MARGIN, size[1] - 2.0 * MARGIN - 5.0 * mm
    frame = Frame(MARGIN, MARGIN + 5.0 * mm, width, height, 0, 0, 0, 0)
    document.addPageTemplates(PageTemplate(frames=[frame]))
    story = [*_opening(sheet, width), *(f for s in sheet.sections for f in _section(s, width))]
    document.build(story, canvasmaker=partial(Numbered, footer=drawable(sheet.footer), margin=MARGIN))
    return out.getvalue()


def _text(text: str) -> str:
    """Text for reportlab, as the face can draw it."""
    return escape(drawable(text))


def _markup(line: Line) -> str:
    """A line for reportlab; what a number is made of stays together."""
    return "".join(_text(p) if isinstance(p, str) else _text(p.text).replace(" ", "\u00a0") for p in line)


def _opening(sheet: Sheet, width: float) -> list[Flowable]:
    pairs = [(Paragraph(_text(n), NOTE), Paragraph(_markup(v), STRONG)) for n, v in sheet.facts]
    lined = [i for i, (_, line) in enumerate(sheet.facts) if not line]
    grid = Grid(pairs, colWidths=(26.0 * mm, width - 26.0 * mm), hAlign="LEFT")
    rules = [("LINEBELOW", (1, i), (1, i), 0.4, BLACK) for i in lined]
    grid.setStyle(TableStyle([("VALIGN", (0, 0), (-1, -1), "TOP"), *_padding(0.4 * mm, 0.0), *rules]))
    return [Paragraph(_text(sheet.title), TITLE), grid]


def _padding(across: float, along: float) -> list[tuple[Any, ...]]:
    whole = ((0, 0), (-1, -1))
    return [
        ("TOPPADDING", *whole, across),
        ("BOTTOMPADDING", *whole, across),
        ("LEFTPADDING", *whole, along),
        ("RIGHTPADDING", *whole, along),
    ]


def _section(section: Section, width: float) -> list[Flowable]:
    heading = Grid([[_Heading(_text(section.title), HEADING)]], colWidths=(width,))
    heading.setStyle(TableStyle([("LINEBELOW", (0, 0), (-1, -1), 1.2, BLACK), *_padding(0.8 * mm, 0.0)]))
    blocks = [f for block in section.blocks for f in _block(block, width)]
    start: Flowable = PageBreak() if section.new_page else CondPageBreak(section.least_mm * mm)
    whole = [Spacer(1, 1.5 * mm), heading, Spacer(1, 1.0 * mm), *blocks]
    return [start, *([_kept(whole)] if section.together else whole)]


def _kept(flowables: list[Flowable]) -> Flowable:
    """All on one page, where one has room; what is kept inside has no height that the outer could add up."""
    told = [f._content if isinstance(f, KeepTogether) else [f] for f in flowables]
    return KeepTogether([f for one in told for f in one])


def _block(block: Block, width: float) -> list[Flowable]:
    return [*_SETTERS[type(block)](block, width), Spacer(1, 1.6 * mm)]


def _para(block: Para, width: float) -> list[Flowable]:
    if block.role in ("plain", "note"):
        return [Paragraph(_markup(block.line), NOTE if block.role == "note" else PLAIN)]
    text = f'<font name="{BOLD}">{block.role.capitalize()}.</font> {_markup(block.line)}'
    box = Grid([[Paragraph(text, PLAIN)]], colWidths=(width,))
    look = [("BOX", (0, 0), (-1, -1), 1.2, BLACK), ("LINEBEFORE", (0, 0), (0, -1), 5.0, BLACK)]
    box.setStyle(TableStyle([*look, *_padding(1.0 * mm, 2.5 * mm)]))
    return [box]


def _steps(block: Steps, width: float) -> list[Flowable]:
    numbered = enumerate(block.steps, block.first)
    return [_ticked(Paragraph(f"{n}", STRONG), Paragraph(_markup(s), PLAIN), width) for n, s in numbered]


def _ticks(block: Ticks, width: float) -> list[Flowable]:
    return [_ticked("", Paragraph(_markup(line), PLAIN), width) for line in block.lines]


def _ticked(number: object, text: Flowable, width: float) -> Flowable:
    grid = Grid([[number, _Box(3.6 * mm), text]], colWidths=(7.0 * mm, 6.5 * mm, width - 13.5 * mm))
    grid.setStyle(TableStyle([("VALIGN", (0, 0), (-1, -1), "TOP"), *_padding(0.7 * mm, 0.0)]))
    return grid


class _Heading(Paragraph):  # type: ignore[misc]
    """A heading that is told to the canvas."""

    def draw(self) -> None:
        """Draw the text."""
        self.canv.head(self.getPlainText())
        super().draw()


class _Box(Flowable):  # type: ignore[misc]
    """A square to tick."""

    def __init__(self, side: float) -> None:
        super().__init__()
        self.width = self.height = side

    def draw(self) -> None:
        """Draw the square."""
        self.canv.setLineWidth(0.8)
        self.canv.rect(0, 0, self.width, self.height)


def _table(block: Table, width: float) -> list[Flowable]:
    share = width / sum(block.widths)
    rows = [[Paragraph(_text(h), HEAD) for h in block.head]]
    rows += [[Paragraph(_markup(cell), PLAIN) for cell in row] for row in block.rows]
    grid = Grid(rows, colWidths=[share * w for w in block.widths], repeatRows=1)
    boxes = [
        ("BOX", (j, i), (j, i), 1.0, BLACK)
        for i, row in enumerate(block.rows, 1)
        for j, cell in enumerate(row)
        if not cell
    ]
    look = [
        ("GRID", (0, 0), (-1, -1), 0.4, RULE),
        ("BACKGROUND", (0, 0), (-1, 0), GREY),
        ("VALIGN", (0, 0), (-1, -1), "MIDDLE"),
    ]
    grid.setStyle(TableStyle([*look, *boxes, *_padding((1.6 if block.roomy else 0.9) * mm, 1.2 * mm)]))
    caption = Paragraph(_text(block.caption), STRONG)
    whole = [caption, Spacer(1, 0.6 * mm), grid]
    # A roomy one may begin below its heading and go on: its section says what is kept whole.
    return whole if block.roomy or len(rows) > ROWS_KEPT else [KeepTogether(whole)]


def _corners(block: Corners, width: float) -> list[Flowable]:
    gap = 3.0 * mm
    each = 0.5 * (width - gap)
    pair = Grid([[_corner(block.left, each), "", _corner(block.right, each)]], colWidths=(each, gap, each))
    pair.setStyle(TableStyle([("VALIGN", (0, 0), (-1, -1), "TOP"), *_padding(0.0, 0.0)]))
    return [pair]


def _corner(corner: CornerView, width: float) -> Flowable:
    left = corner.side == "left"
    title = f"◀ {corner.title}" if left else f"{corner.title} ▶"
    look = ParagraphStyle(
        "corner", HEADING, fontSize=10.5, textColor=WHITE if left else BLACK, alignment=0 if left else 2
    )
    drawn = WIDTH * mm
    rows: list[list[Any]] = [[Paragraph(title, look), ""]]
    for bush in corner.bushes:
        said = [Paragraph(_text(bush.name), STRONG), Paragraph(_text(bush.action), ACTION)]
        said += [Paragraph(_markup(line), SAID) for line in bush.lines]
        drawing = OnPaper(bush.drawing, FONT, BOLD)
        rows.append([drawing, said] if left else [said, drawing])
    grid = Grid(rows, colWidths=(drawn, width - drawn) if left else (width - drawn, drawn))
    band = [("SPAN", (0, 0), (-1, 0)), ("BACKGROUND", (0, 0), (-1, 0), BLACK if left else GREY)]
    lines = [("BOX", (0, 0), (-1, -1), 1.2, BLACK), ("LINEBELOW", (0, 0), (-1, -2), 0.6, BLACK)]
    said_column = 1 if left else 0
    look_rows = [("VALIGN", (0, 0), (-1, -1), "MIDDLE"), *_padding(0.3 * mm, 0.0)]
    inset = [
        ("LEFTPADDING", (said_column, 0), (said_column, -1), 1.2 * mm),
        ("TOPPADDING", (0, 0), (-1, 0), 1.0 * mm),
    ]
    edge = [("LEFTPADDING", (0, 0), (0, 0), 2.0 * mm), ("RIGHTPADDING", (0, 0), (-1, 0), 2.0 * mm)]
    grid.setStyle(
        TableStyle([*look_rows, *band, *lines, *inset, *edge, ("BOTTOMPADDING", (0, 0), (-1, 0), 1.4 * mm)])
    )
    return grid


def _cards(block: Cards, width: float) -> list[Flowable]:
    """Two cards in a row; no row is cut by the end of a page."""
    gap = 3.0 * mm
    each = 0.5 * (width - gap) if len(block.cards) > 1 else width
    pairs = [block.cards[n : n + 2] for n in range(0, len(block.cards), 2)]
    return [_beside([_card(card, each) for card in pair], each, gap) for pair in pairs]


def _beside(cards: list[Flowable], each: float, gap: float) -> Flowable:
    widths = (each, gap, each)[: 2 * len(cards) - 1]
    row = Grid([[cards[0], *(f for card in cards[1:] for f in ("", card))]], colWidths=widths, hAlign="LEFT")
    row.setStyle(TableStyle([("VALIGN", (0, 0), (-1, -1), "TOP"), *_padding(0.0, 0.0)]))
    return row


def _card(card: Card, width: float) -> Flowable:
    drawn = card.drawing.width * mm
    said = [Paragraph(_text(card.name), STRONG), *(Paragraph(_markup(line), SAID) for line in card.lines)]
    grid = Grid([[OnPaper(card.drawing, FONT, BOLD), said]], colWidths=(drawn, width - drawn))
    grid.setStyle(
        TableStyle(
            [
                ("VALIGN", (0, 0), (-1, -1), "MIDDLE"),
                *_padding(0.5 * mm, 0.0),
                ("LEFTPADDING", (1, 0), (1, 0), 2.5 * mm),
            ]
        )
    )
    return grid


Setter = Callable[..., list[Flowable]]
_SETTERS: dict[type, Setter] = {
    Para: _para,
    Steps: _steps,
    Ticks: _ticks,
    Table: _table,
    Corners: _corners,
    Cards: _cards,
}
