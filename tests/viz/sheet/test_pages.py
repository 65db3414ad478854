"""The sheet as it is laid out: nothing overflows or overlaps, left stands left, nothing is fetched."""

from __future__ import annotations

import io
import re

import pdfplumber
import pytest

from tests.helpers.sheet.cases import CASES, ON, changed, long_sheet, made, readings_sheet
from tests.helpers.sheet.pages import Page, pdf_pages
from viz.sheet import render, sheet_of

WHOLE = {"long": long_sheet, "readings": readings_sheet}


@pytest.mark.parametrize(
    ("kind", "paper"),
    [
        ("long", "a4"),
        ("awkward", "letter"),
        ("readings", "a4"),
        pytest.param("readings", "letter", marks=pytest.mark.long),
        pytest.param("long", "letter", marks=pytest.mark.long),
        pytest.param("awkward", "a4", marks=pytest.mark.long),
    ],
)
def test_nothing_overflows_or_overlaps_in_the_pdf(kind, paper):
    sheet = WHOLE[kind]() if kind in WHOLE else made(kind)
    margin = 12.0 * 72.0 / 25.4
    for words, page in pdf_pages(render(sheet, "pdf", paper)):
        for word in words:
            assert word["x0"] > margin - 1.0, word["text"]
            assert word["x1"] < page.width - margin + 1.0, word["text"]
            assert margin - 2.0 < word["top"] < word["bottom"] < page.height - margin, word["text"]
        overlaps = [
            (a["text"], b["text"]) for i, a in enumerate(words) for b in words[:i] if _overlap(a, b) > 0.6
        ]
        assert not overlaps
        crossed = [(w["text"], e["x0"]) for w in words for e in page.vertical_edges if _crosses(w, e)]
        assert not crossed


@pytest.mark.browser
@pytest.mark.parametrize("kind", ["long", "readings"])
@pytest.mark.parametrize("width", [390, 900, 1100])
def test_nothing_overflows_in_the_browser(browser, tmp_path, width, kind):
    """No sideways scroll of the page with long names, no word outside its box, no request, no complaint."""
    path = tmp_path / "sheet.html"
    path.write_bytes(render(WHOLE[kind](), "html"))
    said: list[str] = []
    with browser.new_page(viewport={"width": width, "height": 800}) as page:
        page.on("console", lambda message: said.append(message.text))
        page.on("request", lambda request: said.append(request.url))
        page.goto(path.as_uri())
        wide = page.evaluate("document.documentElement.scrollWidth")
        styled = page.evaluate("getComputedStyle(document.querySelector('.corners, .cards')).display")
        out = page.evaluate(OUTSIDE)
    assert said == [path.as_uri()]
    assert wide == width
    assert styled == "grid"  # the policy lets the page's own style through
    assert out == []


OUTSIDE = """[...document.querySelectorAll('dd, p, h3, h4, li, td, th, svg text')].filter(e => {
  const box = (e.closest('svg') || e).getBoundingClientRect(), range = document.createRange();
  range.selectNodeContents(e);
  const text = range.getBoundingClientRect();
  return text.width && (text.left < box.left - 1 || text.right > box.right + 1);
}).map(e => e.textContent)"""


def _overlap(a, b):
    """The smaller side of the rectangle that two words share, pt."""
    wide = min(a["x1"], b["x1"]) - max(a["x0"], b["x0"])
    high = min(a["bottom"], b["bottom"]) - max(a["top"], b["top"]) - 2.0  # a line's leading is its own
    return min(wide, high)


def _crosses(word, edge):
    beside = word["top"] < edge["bottom"] - 2.0 and word["bottom"] > edge["top"] + 2.0
    return beside and word["x0"] + 0.5 < edge["x0"] < word["x1"] - 0.5


def test_left_stands_left_and_right_stands_right():
    words, page = pdf_pages(render(made("more caster"), "pdf"))[0]
    left = next(w for w in words if w["text"] == "LEFT")
    right = next(w for w in words if w["text"] == "RIGHT")
    assert left["x1"] < 0.5 * page.width < right["x0"]
    assert left["top"] == pytest.approx(right["top"], abs=1.0)


def test_html_is_strict_and_self_contained():
    html = render(long_sheet(), "html").decode()
    page = Page(html)
    assert "default-src 'none'; style-src 'sha256-" in html
    assert not re.search(r"<script|<link|<img|<iframe|url\(|@import|https?:", html)
    assert not [a for a in page.attributes if a[1] == "style" or a[1].startswith("on")]
    assert page.tags == []


def test_names_are_escaped():
    def sharp(inputs):
        inputs["title"] = "<b>&\"'</b> kart"

    sheet = sheet_of(changed(sharp), "as-delivered", "more-caster", ON)
    html = render(sheet, "html").decode()
    assert "<b>&" not in html
    assert "&lt;b&gt;&amp;" in html
    words = [w["text"] for w in pdf_pages(render(sheet, "pdf"))[0][0]]
    assert "<b>&\"'</b>" in words


def test_same_inputs_give_the_same_bytes():
    again = sheet_of(*CASES["more caster"][:3], ON)
    for suffix in ("html", "pdf"):
        assert render(made("more caster"), suffix) == render(again, suffix)


def test_the_pdf_says_its_title_and_language_and_has_its_headings_as_bookmarks():
    sheet = made("awkward")
    content = render(sheet, "pdf")
    with pdfplumber.open(io.BytesIO(content)) as opened:
        assert opened.doc.catalog["Lang"] == b"en"
        assert opened.metadata["Title"] == sheet.title
        assert b"/DisplayDocTitle true" in content
        texts = {page.page_obj.pageid: page.extract_text().splitlines() for page in opened.pages}
        marks = [(title, dest[0].objid) for _, title, dest, *_ in opened.doc.get_outlines()]
    assert [title for title, _ in marks] == [section.title for section in sheet.sections]
    assert all(title in texts[page] for title, page in marks)
