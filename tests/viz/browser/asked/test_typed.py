"""Readings typed into the page in headless Chromium: bars, bands, undo, saving, manners of the form."""

from __future__ import annotations

from pathlib import Path

from playwright.sync_api import Locator, Page

import scenarios
from scenarios.gauged.file import readings_of
from tests.helpers.accessibility import serious
from tests.helpers.browsing import PATIENCE, after_answer

TYPED = (
    ("scale_kg", "front_left", "34.6"),
    ("caster_deg", "left", "-12.1"),
    ("caster_deg", "right", "11.9"),
)
MISSES = "[data-bars=misses] tbody tr"
FITTED = """([s, n]) => document.querySelector('[data-fit]').ariaBusy === 'false'
  && document.querySelectorAll(s).length === n"""


def add(page: Page, what: str, where: str, value: str) -> None:
    page.get_by_role("combobox", name="Kind").select_option(what)
    page.get_by_role("combobox", name="Where", exact=True).select_option(where)
    page.locator("[data-value]").fill(value)
    after_answer(page, lambda: page.locator("[data-value]").press("Enter"))


def until_fitted(page: Page, bars: int) -> None:
    page.wait_for_function(FITTED, arg=[MISSES, bars], timeout=PATIENCE)


def across(bar: Locator) -> tuple[float, float]:
    """Where a bar begins and ends on the screen, px."""
    box = bar.bounding_box()
    assert box is not None
    return box["x"], box["x"] + box["width"]


def test_readings_are_typed_fitted_shown_undone_and_saved(page: Page, tmp_path: Path) -> None:
    page.locator(".gauged summary").click()
    for one in TYPED:
        add(page, *one)
    until_fitted(page, len(TYPED))
    assert page.locator("[data-value]").input_value() == ""  # ready for the next, the cursor in it
    assert page.evaluate("document.activeElement.matches('[data-value]')")
    _told(page)
    _mannered(page)
    file = _saved(page, tmp_path)
    _taken_back(page)
    after_answer(page, lambda: page.get_by_label("Open a file of readings, CSV").set_input_files(file))
    until_fitted(page, len(TYPED))
    page.locator(".gauged summary").click()
    page.locator("[data-fit]").wait_for(state="hidden")
    page.emulate_media(media="print")
    assert page.locator(MISSES).first.is_visible()


def _told(page: Page) -> None:
    """The wrong sign is named at a bar that goes the right way, and at its wheel; the band has shrunk."""
    off = page.locator(MISSES, has_text="caster left")
    assert "the sign turned round?" in (off.text_content() or "")
    page.wait_for_timeout(600)  # until the bars have come to rest
    assert abs(across(off.locator(".bar"))[1] - across(off.locator(".zero"))[0]) < 3
    before, now = (across(page.locator(f"[data-band={name}] .band")) for name in ("before", "now"))
    assert 0 < now[1] - now[0] < before[1] - before[0]
    assert page.locator(".words span", has_text="worst read: caster −12.1°").count() == 1


def _mannered(page: Page) -> None:
    for width in (390, 1440):
        page.set_viewport_size({"width": width, "height": 844})
        page.wait_for_timeout(100)
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        assert serious(page) == []
    page.locator("[data-value]").fill("999")
    page.locator("[data-value]").press("Enter")
    page.locator(".gauged [role=alert]", has_text="caster must be at least").wait_for()
    assert page.locator(".taken li").count() == len(TYPED)


def _saved(page: Page, folder: Path) -> Path:
    """The file that the page saves; the command reads it."""
    with page.expect_download() as saving:
        page.get_by_role("button", name="Save readings as file").click()
    file = folder / "readings.csv"
    saving.value.save_as(file)
    kept = readings_of(file, scenarios.load())
    assert [(one.what, one.where, one.value) for one in kept] == [(*o[:2], float(o[2])) for o in TYPED]
    return file


def _taken_back(page: Page) -> None:
    """One is taken out and comes back, then all are taken out."""
    after_answer(page, lambda: page.get_by_role("button", name="Take out reading 2").click())
    until_fitted(page, 2)
    assert page.locator(".words span", has_text="worst read").count() == 0
    after_answer(page, lambda: page.get_by_role("button", name="Undo: a reading taken out").click())
    until_fitted(page, 3)
    for left in (2, 1, 0):
        after_answer(page, lambda: page.get_by_role("button", name="Take out reading 1").click())
        until_fitted(page, left)
