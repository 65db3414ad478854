"""The sheet as one HTML file that needs nothing else: no script, no network, a style of its own."""

from __future__ import annotations

from collections.abc import Callable
from html import escape
from pathlib import Path

from viz.page.shell import document, styles
from viz.page.svg import drawn
from viz.sheet.blocks import (
    Block,
    BushView,
    Card,
    Cards,
    Corners,
    CornerView,
    Line,
    Number,
    Para,
    Section,
    Sheet,
    Steps,
    Table,
    Ticks,
)

MANY = 4
"""A table of more columns than this scrolls sideways on a phone."""

WWW = Path(__file__).parent / "www"
WIDTHS = "".join(f".w{n}{{width:{n}%}}" for n in range(5, 61))


def html(sheet: Sheet) -> str:
    """The whole page as text."""
    facts = "\n".join(f"<div><dt>{escape(n)}</dt><dd>{_line(v) or _pen()}</dd></div>" for n, v in sheet.facts)
    sections = "\n".join(_section(s) for s in sheet.sections)
    head = f'<header>\n<h1>{escape(sheet.title)}</h1>\n<dl class="facts">\n{facts}\n</dl>\n</header>'
    body = f"<main>\n{head}\n{sections}\n</main>\n<footer>{escape(sheet.footer)}</footer>"
    return document(sheet.tab, body, styles(WWW / "sheet.css") + WIDTHS, pictures=False)


def _line(line: Line) -> str:
    return "".join(_number(p) if isinstance(p, Number) else escape(p) for p in line)


def _number(number: Number) -> str:
    return f'<data value="{number.value!r}" data-key="{escape(number.key)}">{escape(number.text)}</data>'


def _pen() -> str:
    return '<span class="pen" role="img" aria-label="to be written in"></span>'


def _section(section: Section) -> str:
    kinds = [*(["page"] if section.new_page else []), *(["together"] if section.together else [])]
    page = f' class="{" ".join(kinds)}"' if kinds else ""
    blocks = "\n".join(_block(b) for b in section.blocks)
    return f"<section{page}>\n<h2>{escape(section.title)}</h2>\n{blocks}\n</section>"


def _block(block: Block) -> str:
    return _WRITERS[type(block)](block)


def _para(block: Para) -> str:
    role = f' class="{block.role}"' if block.role != "plain" else ""
    word = {"caution": "<b>Caution.</b> ", "warning": "<b>Warning.</b> "}.get(block.role, "")
    return f"<p{role}>{word}{_line(block.line)}</p>"


def _steps(block: Steps) -> str:
    items = "".join(f'<li><span class="tick"></span><span>{_line(s)}</span></li>' for s in block.steps)
    return f'<ol class="steps" start="{block.first}">{items}</ol>'


def _ticks(block: Ticks) -> str:
    items = "".join(f'<li><span class="tick"></span><span>{_line(s)}</span></li>' for s in block.lines)
    return f'<ul class="ticks">{items}</ul>'


def _table(block: Table) -> str:
    head = "".join(f'<th scope="col" role="columnheader">{escape(h)}</th>' for h in block.head)
    rows = "".join(f'<tr role="row">{_cells(block, row)}</tr>' for row in block.rows)
    caption = f"<caption>{escape(block.caption)}</caption>"
    shares = (100.0 * w / sum(block.widths) for w in block.widths)
    columns = "".join(f'<col class="w{round(share)}">' for share in shares)
    kinds = [*(["many"] if len(block.head) > MANY else []), *(["roomy"] if block.roomy else [])]
    kind = f' class="{" ".join(kinds)}"' if kinds else ""
    body = f'<thead role="rowgroup"><tr role="row">{head}</tr></thead><tbody role="rowgroup">{rows}</tbody>'
    table = f'<table{kind} role="table">{caption}<colgroup>{columns}</colgroup>{body}</table>'
    return (
        f'<div class="scroll" tabindex="0" role="region" aria-label="{escape(block.caption)}">{table}</div>'
    )


def _cells(block: Table, row: tuple[Line, ...]) -> str:
    """The cells of a row; each carries its column's head, which stands before it on a phone."""
    first = f'<th scope="row" role="rowheader">{_line(row[0])}</th>'
    return first + "".join(_cell(h, c) for h, c in zip(block.head[1:], row[1:], strict=True))


def _cell(head: str, line: Line) -> str:
    box, text = ("", f"<span>{_line(line)}</span>") if line else (' class="box"', _pen())
    return f'<td{box} role="cell" data-label="{escape(head)}">{text}</td>'


def _corners(block: Corners) -> str:
    return f'<div class="corners">{_corner(block.left)}{_corner(block.right)}</div>'


def _corner(corner: CornerView) -> str:
    bushes = "".join(_bush(b) for b in corner.bushes)
    return f'<article class="corner {corner.side}"><h3>{escape(corner.title)}</h3>{bushes}</article>'


def _bush(bush: BushView) -> str:
    lines = "".join(f"<p>{_line(line)}</p>" for line in bush.lines)
    said = (
        f'<div class="said"><h4>{escape(bush.name)}</h4><p class="do">{escape(bush.action)}</p>{lines}</div>'
    )
    return f'<div class="bush">{drawn(bush.drawing)}{said}</div>'


def _cards(block: Cards) -> str:
    return f'<div class="cards">{"".join(_card(card) for card in block.cards)}</div>'


def _card(card: Card) -> str:
    lines = "".join(f"<p>{_line(line)}</p>" for line in card.lines)
    return f'<div class="card">{drawn(card.drawing)}<div><h3>{escape(card.name)}</h3>{lines}</div></div>'


_WRITERS: dict[type, Callable[..., str]] = {
    Para: _para,
    Steps: _steps,
    Ticks: _ticks,
    Table: _table,
    Corners: _corners,
    Cards: _cards,
}
