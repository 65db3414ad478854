"""Titles and notes are text on a sheet: each character drawn, a substitute drawn, or left out if unseen."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from hypothesis import given

import scenarios
from scenarios.ask.worksheet import figures
from tests.helpers.cost.depth import deep
from tests.helpers.hostile.texts import odd_lines, odd_texts
from tests.helpers.sheet.cases import ON, changed
from tests.helpers.sheet.pages import Page, pdf_pages
from viz.look.lettering import drawable
from viz.sheet import render, sheet_of

CONTROLS = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f]")


@pytest.fixture(scope="module", autouse=True)
def _worked_out_once():
    """What a kart is called changes none of its numbers."""
    found = figures(scenarios.load(), "as-delivered", "more-caster")
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("viz.sheet.content.figures", lambda scenario, *_: replace(found, scenario=scenario))
        yield


def sheet_with(title, note):
    def edit(inputs):
        inputs["title"], inputs["limits"]["source"] = title, note
        inputs["setting"]["more-caster"]["note"] = note

    return sheet_of(changed(edit), "as-delivered", "more-caster", ON)


@pytest.mark.parametrize(
    "text", ["50 $ sold_for 60 $", "漢字 🏁", "a\u200bb\ufeff\u202ec", "שלום", "<b>&amp;\\", "x\x9b31m"]
)
def test_a_title_and_a_note_stand_on_the_sheet(text):
    sheet = sheet_with(text, f"{text}\x00\x1b\ufffe")
    written = "".join(word["text"] for words, _ in pdf_pages(render(sheet, "pdf")) for word in words)
    assert written.count(drawable(text).replace(" ", "")) >= 3  # title, note, source of the limits
    html = render(sheet, "html").decode()
    assert Page(html).text.count(CONTROLS.sub("\ufffd", text)) >= 3
    assert not CONTROLS.search(html)


@given(title=odd_lines, note=odd_texts)
@deep(6, 40)
def test_any_title_and_note_make_a_sheet(title, note):
    sheet = sheet_with(title, note)
    assert render(sheet, "pdf").startswith(b"%PDF-")
    assert not CONTROLS.search(render(sheet, "html").decode())
