"""The page's manners: keyboard, sizes, contrast, widths, themes, saving, and what it tells when it fails."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path
from urllib.parse import parse_qs

import numpy as np
import pytest
from PIL import Image
from playwright.sync_api import Browser, Page

import scenarios
from tests.helpers.accessibility import serious
from tests.helpers.browsing import (
    after_answer,
    numbers,
    opened,
    picture,
    picture_other_than,
    served,
    set_lock,
    typed,
)

TOP = "Top bush, both sides, rated size in degrees"
PINCH = """([from, to]) => { const box = document.querySelector(".canvas"), at = box.getBoundingClientRect();
  const say = (kind, id, x, y) => box.dispatchEvent(new PointerEvent(kind, { pointerId: id, buttons: 1,
    pointerType: "touch", clientX: at.left + x, clientY: at.top + y, bubbles: true }));
  const kept = box.setPointerCapture;
  box.setPointerCapture = () => {};
  for (const [kind, [ax, ay, bx, by]] of [["pointerdown", from], ["pointermove", to], ["pointerup", to]]) {
    say(kind, 7, ax, ay); say(kind, 8, bx, by); }
  box.setPointerCapture = kept; }"""
"""Two fingers on the picture, from two places to two others, in px."""
OVER_THE_TOP = """(at) => window.lockarc.eye.turned(
  { position: at.slice(0, 3), focalPoint: at.slice(3, 6), viewUp: [0.3, 0.9, 0] }, 400, -9000)"""
"""Turned by far more than goes."""
CONTROLS = "button, select, summary, input, [role=slider][tabindex], [tabindex='0']"


def test_every_control_is_reached_by_keyboard(still: Page) -> None:
    still.get_by_label("left and right alike").uncheck()
    still.evaluate("document.querySelectorAll('details').forEach((e) => { e.open = true; })")
    mark = """(s) => { let n = 0; for (const e of document.querySelectorAll(s))
      if (e.getClientRects().length && !e.disabled) e.dataset.mark = n++; return n; }"""
    count = still.evaluate(mark, CONTROLS)
    still.evaluate("document.activeElement.blur()")
    reached = set()
    for _ in range(count + 4):
        still.keyboard.press("Tab")
        reached.add(still.evaluate("document.activeElement?.dataset?.mark"))
    assert count > 30
    assert reached - {None} == {str(n) for n in range(count)}


def test_targets_are_large_enough_and_zoom_is_not_blocked(still: Page) -> None:
    small = still.evaluate(
        """(s) => [...document.querySelectorAll(s)].filter((e) => e.getClientRects().length).map((e) => {
          const box = (e.type === "checkbox" ? e.closest("label") : e).getBoundingClientRect();
          return [e.outerHTML.slice(0, 80), box.width, box.height];
        }).filter(([, w, h]) => w < 44 || h < 44)""",
        CONTROLS,
    )
    assert small == []
    viewport = still.locator("meta[name=viewport]").get_attribute("content") or ""
    assert "maximum-scale" not in viewport
    assert "user-scalable" not in viewport


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_axe_finds_nothing_serious_and_nothing_runs_off_the_page(
    browser: Browser, address: str, theme: str
) -> None:
    context = browser.new_context(viewport={"width": 390, "height": 800}, color_scheme=theme)
    page = opened(context, f"{address}?a=nonsense")
    assert page.evaluate("document.documentElement.dataset.theme") == theme
    page.get_by_role("button", name="side by side").click()
    for width in (390, 820, 1440):
        page.set_viewport_size({"width": width, "height": 800})
        page.wait_for_timeout(100)
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        assert serious(page) == []
    page.set_viewport_size({"width": 1280, "height": 800})
    page.evaluate("window.scrollTo(0, document.body.scrollHeight)")
    for seen in (".canvas", "input[type=range]"):  # beside the last chart and the last number
        box = page.locator(seen).first.bounding_box()
        assert box is not None
        assert 0 <= box["y"] < box["y"] + box["height"] <= 800, seen
    context.close()


def test_a_chart_tells_its_values_at_lock_under_the_pointer_and_by_keyboard_and_shades_likely_karts(
    still: Page,
) -> None:
    camber = still.locator("[data-chart=camber]")
    plot, values = camber.get_by_role("slider"), camber.locator(".values")
    plot.press("End")
    plot.press("ArrowLeft")
    assert still.locator(".slide output").text_content() == "58° left"
    told = numbers(still, "lock")["standing_camber_left_deg"]
    assert f"58° left: A left {told[0]}" in (plot.get_attribute("aria-valuetext") or "")
    assert f"B left {told[1]}" in (values.text_content() or "")
    box, cursor = plot.bounding_box(), camber.locator(".cursor")
    assert box is not None
    assert float(cursor.get_attribute("x1") or 0) == pytest.approx(350 - 304 / 60, abs=0.1)
    plot.hover(position={"x": box["width"] * (46 + 304 * 50 / 60) / 420, "y": 40})
    assert (values.text_content() or "").startswith("40° left")
    assert still.locator(".slide output").text_content() == "58° left"  # to look moves nothing
    plot.click(position={"x": box["width"] * 198 / 420, "y": 40})
    assert still.locator(".slide output").text_content() == "straight ahead"
    still.get_by_text("Charts shown: 4 of 7").click()
    shade = still.get_by_role("button", name="how sure: shade 95 of 100 likely karts")
    shade.click()
    still.get_by_role("button", name="Air under the inside rear wheel").click()
    camber.locator(".shade").first.wait_for(state="attached")
    assert still.locator("[data-chart=air] .shade").count() == 2
    still.wait_for_function("location.search.endsWith('&charts=camber,drop,load,trail,air&shades=yes')")
    shade.click()
    still.get_by_role("button", name="Air under the inside rear wheel").click()
    assert still.locator(".shade").count() == 0


def test_theme_switch_changes_page_and_picture(still: Page) -> None:
    before = picture(still)
    still.get_by_role("button", name="dark", exact=True).click()
    still.wait_for_function("getComputedStyle(document.body).backgroundColor === 'rgb(20, 25, 30)'")
    picture_other_than(still, before)


def eye(page: Page) -> list[float]:
    """Where the picture is seen from, once the address says so."""
    page.wait_for_timeout(450)
    return [float(n) for n in parse_qs(page.url.partition("?")[2])["eye"][0].split(",")]


def test_picture_is_turned_by_mouse_fingers_and_keys_and_the_address_keeps_it(still: Page) -> None:
    picture_of = still.locator(".canvas").first
    box = picture_of.bounding_box()
    assert box is not None
    still.mouse.move(box["x"] + 100, box["y"] + 100)
    still.mouse.down()
    still.mouse.move(box["x"] + 150, box["y"] + 130, steps=2)
    still.mouse.up()
    first = eye(still)
    arm = np.subtract(first[:3], first[3:6])
    picture_of.press("+")
    assert np.subtract(eye(still)[:3], first[3:6]) == pytest.approx(arm / 1.15, abs=0.2)
    still.evaluate(PINCH, [[100, 100, 200, 100], [50, 110, 250, 110]])
    pinched = eye(still)
    moved = np.subtract(pinched[3:6], first[3:6])
    assert np.linalg.norm(np.subtract(pinched[:3], pinched[3:6])) == pytest.approx(
        np.linalg.norm(arm) / 2.3, abs=0.5
    )
    assert moved[2] > 1.0, "two fingers down: what was above comes into the picture"
    level = still.evaluate(OVER_THE_TOP, first)
    assert level["viewUp"] == [0, 0, 1]
    assert np.hypot(*np.subtract(level["position"], level["focalPoint"])[:2]) > 1.0, (
        "never straight up or down"
    )
    still.get_by_role("button", name="overview", exact=True).click()
    still.wait_for_function("!location.search.includes('eye=')")


def test_data_saved_is_what_is_shown(still: Page) -> None:
    set_lock(still, 40)
    with still.expect_download() as saving:
        still.get_by_role("button", name="Save data, CSV").click()
    rows = list(csv.DictReader(io.StringIO(Path(saving.value.path()).read_text(encoding="utf-8"))))
    row = next(r for r in rows if r["setting"] == "B" and float(r["handwheel_deg"]) == 20.0)
    shown = numbers(still, "lock")["standing_camber_left_deg"][1]
    assert f"{float(row['standing.standing_camber_left_deg']):.2f}".replace("-", "−") == shown
    with still.expect_download() as saving:
        still.get_by_role("button", name="Save data, JSON").click()
    document = json.loads(Path(saving.value.path()).read_text(encoding="utf-8"))
    assert [s["name"] for s in document["settings"]] == ["A", "B"]
    again = scenarios.from_mapping(document["inputs"], "saved")
    assert again.digest == document["scenario"]["inputs_sha256"]


def test_picture_and_page_saved_need_nothing_else(browser: Browser, still: Page, tmp_path: Path) -> None:
    with still.expect_download() as saving:
        still.get_by_role("button", name="Save picture").click()
    ink = still.locator(".words .left").first.evaluate(
        "(e) => getComputedStyle(e).color.match(/\\d+/g).map(Number)"
    )
    saved_picture = np.asarray(Image.open(saving.value.path()).convert("RGB")).astype(int)
    assert (np.abs(saved_picture - ink).max(axis=-1) < 8).sum() > 300, "the labels are in the picture"
    still.evaluate("window.dispatchEvent(new Event('beforeprint'))")
    still.emulate_media(media="print")
    printed = np.asarray(Image.open(io.BytesIO(still.locator(".canvas").first.screenshot())).convert("L"))
    still.emulate_media(media="screen")
    still.evaluate("window.dispatchEvent(new Event('afterprint'))")
    assert (printed < 90).mean() > 0.01, "the printed page shows the kart"
    assert still.locator(".printed").count() == 0
    with still.expect_download() as saving:
        still.get_by_role("button", name="Save page").click()
    file = tmp_path / "saved.html"
    saving.value.save_as(file)
    assert "<script" not in file.read_text(encoding="utf-8")
    context = browser.new_context(offline=True)
    saved = context.new_page()
    asked: list[str] = []
    saved.on("request", lambda r: asked.append(r.url))
    saved.goto(file.as_uri())
    assert saved.locator("table.numbers").count() == 2
    assert saved.evaluate("document.querySelector('img').naturalWidth") > 100
    assert "manual comes first" in (saved.locator(".safety").text_content() or "")
    assert [u for u in asked if not u.startswith(("file:", "data:"))] == []
    context.close()


def test_a_copied_address_opens_a_copy(browser: Browser, still: Page) -> None:
    typed(still, TOP, "3")
    still.wait_for_function("location.search.includes('top=3')")
    context = browser.new_context()
    copy = opened(context, still.url)
    assert copy.url != still.url
    assert copy.get_by_label(TOP).input_value() == "3"
    context.close()


def test_address_holds_all_that_is_seen_and_keys_undo_and_redo(
    browser: Browser, still: Page, address: str
) -> None:
    top, undo = still.get_by_label(TOP), "Control+z"
    typed(still, TOP, "2")
    after_answer(still, lambda: still.locator("[data-slot=B]").select_option("less-caster"))
    set_lock(still, 40)
    still.get_by_role("button", name="rear", exact=True).click()
    still.wait_for_function("location.search.includes('lock=20&view=rear')")
    kept = address + "visit/0/?" + still.url.partition("?")[2]  # of a visit that has ended
    after_answer(still, lambda: still.keyboard.press(undo))
    assert still.locator("[data-slot=B]").input_value() == "more-caster"
    after_answer(still, lambda: still.get_by_role("button", name="Undo: top bush of A").click())
    assert top.input_value() == "0"
    after_answer(still, lambda: still.keyboard.press("Control+Shift+Z"))
    assert top.input_value() == "2"
    still.wait_for_function("location.search.includes('top=2') && location.search.includes('b=more-caster')")
    still.reload()
    still.wait_for_selector("html[data-ready]", state="attached")
    assert top.input_value() == "2"
    context = browser.new_context()
    again = opened(context, kept)
    assert again.get_by_label(TOP).input_value() == "2"
    assert again.locator("[data-slot=B]").input_value() == "less-caster"
    assert again.locator(".slide output").text_content() == "20° left"
    assert again.get_by_role("button", name="rear", exact=True).get_attribute("aria-pressed") == "true"
    context.close()


def test_bad_query_is_told_and_the_page_lives(browser: Browser, address: str) -> None:
    context = browser.new_context()
    page = opened(context, f"{address}?a=nonsense&speed=3&case=slow corner")
    told = page.get_by_role("alert").text_content() or ""
    assert "'nonsense' is not one of as-delivered" in told
    assert "'speed' is no part of it" in told
    assert page.locator("[data-case]").input_value() == "slow corner"
    context.close()


def test_a_vanished_scenario_file_and_then_a_lost_connection_are_told(
    browser: Browser, tmp_path: Path
) -> None:
    file = tmp_path / "mine.toml"
    file.write_text(scenarios.builtin_text("training-kart"), encoding="utf-8")
    context = browser.new_context()
    with served(source=str(file)) as address:
        file.unlink()
        page = opened(context, address)
        assert "mine.toml: no such file" in (page.get_by_role("alert").text_content() or "")
        assert numbers(page, "headline")["caster_left_deg"][0] == "12.00"  # the page lives
        assert page.get_by_text("The connection is lost").count() == 0
    page.get_by_text("The connection is lost").wait_for(timeout=10_000)
    context.close()
