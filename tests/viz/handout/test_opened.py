"""The hand-out opened in Chromium from a file: it moves, says the solver's numbers, asks nobody."""

import io
import json
import re

import numpy as np
import pytest
from PIL import Image

import scenarios
from tests.helpers.accessibility import serious
from tests.helpers.browsing import launched, opening
from viz import handout
from viz.scene.moment import STOPS as DEFAULT_STOPS

NAMES = ("as-delivered", "more-caster")
LIMIT = 4_000_000
STOPS = 5  # fewer than by default, to be drawn quickly: one every 30 degrees of handwheel
CELLS = """[...document.querySelectorAll('#live tbody tr')]
  .map(r => [...r.cells].slice(1).map(c => c.textContent))"""
CURSORS = """[...document.querySelectorAll('.cursor')]
  .map(c => [c.getAttribute('x1'), c.dataset.from, c.dataset.to].map(Number))"""
FETCH = """async () => {
  try { await fetch('http://127.0.0.1:9/'); return 'went'; } catch { return 'blocked'; }
}"""
WIDTHS = (390, 820, 1440)


@pytest.fixture(scope="module")
def file(tmp_path_factory):
    """A hand-out with pictures as large as by default."""
    path = tmp_path_factory.mktemp("handout") / "handout.html"
    handout.write(path, scenarios.load(), NAMES, stops=STOPS)
    return path


@pytest.fixture(scope="module")
def chrome():
    with launched() as browser:
        yield browser


@pytest.fixture
def opened(chrome, file):
    with opening(chrome, file) as open_at:
        yield open_at


def stored(file):
    return json.loads(re.search(r'id="data">(.*?)</script>', file.read_text())[1])


def cells(page):
    return page.evaluate(CELLS)


def at_stop(data, stop):
    return [[row[stop] for row in line] for line in data["numbers"]]


def pixels(page, which="#viewA"):
    page.wait_for_timeout(60)
    return np.asarray(Image.open(io.BytesIO(page.locator(which).screenshot())).convert("RGB"), float)


def test_it_is_small_enough_to_pass_on(file):
    pictures = sum(len(p) for theme in stored(file)["pictures"].values() for s in theme.values() for p in s)
    words = file.stat().st_size - pictures
    assert words + pictures * DEFAULT_STOPS / STOPS <= LIMIT


def test_the_slider_changes_picture_and_numbers(opened, file):
    page, data = opened(), stored(file)
    assert cells(page) == at_stop(data, data["start"])
    before = pixels(page)
    page.locator("#lock").focus()
    for _ in range(2):
        page.keyboard.press("ArrowLeft")
    stop = data["start"] - 2
    assert cells(page) == at_stop(data, stop)
    assert page.locator("#said").inner_text() == data["says"][stop] != data["says"][data["start"]]
    assert page.locator("#lock").get_attribute("aria-valuetext") == data["says"][stop]
    assert page.locator("#viewA").get_attribute("src") == data["pictures"]["light"]["A"][stop]
    assert np.abs(pixels(page) - before).max() > 60.0
    assert np.abs(pixels(page, "#viewA") - pixels(page, "#viewB")).max() > 20.0
    assert page.log == []


def test_home_and_end_reach_the_stops_and_the_cursors_follow(opened, file):
    page, data = opened(), stored(file)
    page.locator("#lock").focus()
    for key, stop in (("Home", 0), ("End", len(data["at"]) - 1)):
        page.keyboard.press(key)
        assert cells(page) == at_stop(data, stop)
        for x, start, end in page.evaluate(CURSORS):
            assert x == pytest.approx(start if stop == 0 else end)


def test_buttons_step_and_play_runs_until_it_is_stopped(opened, file):
    page, data = opened(), stored(file)
    page.locator("#less").click()
    page.locator("#less").click()
    assert page.locator("#said").inner_text() == data["says"][data["start"] - 2]
    page.locator("#more").click()
    assert page.locator("#said").inner_text() == data["says"][data["start"] - 1]
    page.locator("#play").click()
    said = page.locator("#said").inner_text()
    page.wait_for_function("(s) => document.getElementById('said').textContent !== s", arg=said)
    assert page.locator("#play").get_attribute("aria-pressed") == "true"
    page.locator("#play").click()
    assert page.locator("#play").get_attribute("aria-pressed") == "false"


def test_a_touch_on_a_chart_turns_the_wheel(opened, file):
    page, data = opened(390), stored(file)
    chart = page.locator("svg.chart").first
    chart.scroll_into_view_if_needed()
    box = chart.bounding_box()
    page.mouse.click(box["x"] + box["width"] * 350.0 / 420.0, box["y"] + 0.5 * box["height"])
    assert page.locator("#said").inner_text() == data["says"][-1]


def test_it_asks_the_network_for_nothing(opened, file):
    page = opened()
    page.locator("#play").click()
    page.wait_for_timeout(300)
    assert {u for u in page.asked if not u.startswith("data:")} == {file.as_uri()}
    assert page.evaluate(FETCH) == "blocked"
    assert any("Content Security Policy" in line for line in page.log)


def test_it_follows_dark_and_light_and_its_own_button(opened, file):
    page, data = opened(scheme="dark"), stored(file)
    start = data["start"]
    assert page.locator("#viewA").get_attribute("src") == data["pictures"]["dark"]["A"][start]
    dark = page.evaluate("getComputedStyle(document.documentElement).backgroundColor")
    page.locator("#theme").click()
    assert page.locator("#viewA").get_attribute("src") == data["pictures"]["light"]["A"][start]
    assert page.evaluate("getComputedStyle(document.documentElement).backgroundColor") != dark


def test_it_fits_the_screen_and_a_thumb(opened):
    page = opened()
    for width in WIDTHS:
        page.set_viewport_size({"width": width, "height": 844})
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        for control in page.locator("button:visible, input:visible").all():
            box = control.bounding_box()
            assert box["width"] >= 44.0
            assert box["height"] >= 44.0


@pytest.mark.parametrize(("scheme", "widths"), [("light", (390, 1440)), ("dark", (390,))])
def test_axe_finds_nothing_serious(opened, scheme, widths):
    """Both widths in one scheme: a colour is the same at either."""
    page = opened(scheme=scheme)
    page.locator("#less").click()
    for width in widths:
        page.set_viewport_size({"width": width, "height": 844})
        assert serious(page) == []


def test_axe_would_find_something(opened):
    page = opened(390)
    page.evaluate("document.getElementById('viewA').removeAttribute('alt')")
    assert [found[0] for found in serious(page)] == ["image-alt"]


def test_every_control_is_reached_by_tab(opened):
    page = opened()
    reached = []
    for _ in range(12):
        page.keyboard.press("Tab")
        reached.append(page.evaluate("document.activeElement.id"))
    assert [i for i in reached if i][:5] == ["theme", "lock", "less", "more", "play"]


def test_without_scripts_the_page_still_says_everything(opened, file):
    page, data = opened(java_script_enabled=False), stored(file)
    html = page.content()
    assert "Scripts are switched off" in html
    assert page.locator("#said").inner_text() == data["says"][data["start"]]
    first = page.locator("#live tbody tr").first.locator("td").all_inner_texts()
    assert first == at_stop(data, data["start"])[0]
