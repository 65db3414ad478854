"""The views of the page: what each says, where its words stand, and which is seen first."""

from __future__ import annotations

from functools import lru_cache

import numpy as np
import pytest
from playwright.sync_api import Browser, Page

import scenarios
from kinematics.lock import sweep
from kinematics.parts import Setting
from scenarios import Scenario, corner_setting
from tests.helpers.browsing import SETTLE, labels, opened, set_lock, typed
from viz.look.palette import LIGHT, rgb
from viz.scene.loads import stated
from viz.scene.moment import seen_best

LEFT_20 = 40  # lock position of the built-in scenario at +20 deg
CROSSING = """() => {
  const edge = document.querySelector(".words").getBoundingClientRect();
  const words = [...document.querySelectorAll(".stage .words span:not([hidden])")];
  const at = words.map((word) => [word.textContent, word.getBoundingClientRect()]);
  const past = (a, b) => Math.max(b.left - a.left, a.right - b.right, b.top - a.top, a.bottom - b.bottom) > 1;
  const meet = (a, b) => Math.min(a.right - b.left, b.right - a.left, a.bottom - b.top, b.bottom - a.top) > 1;
  const crossed = (a, i) => at.slice(i + 1).filter(([, b]) => meet(a, b)).map(([said]) => said);
  return at.flatMap(([said, a], i) => [...(past(a, edge) ? [said] : []), ...crossed(a, i)]); }"""
"""Labels over the first picture that lie on each other or beyond its edge."""
LOOK, WHY = "[aria-label='Look from'] button", "[aria-label='See why'] button"
PRESSED = """(name) => [...document.querySelectorAll(".stage button[aria-pressed=true]")]
  .some((button) => button.textContent === name)"""
INKED = """() => [...document.querySelectorAll(".stage .words span:not([hidden])")]
  .map((word) => [word.textContent, getComputedStyle(word).color])"""


@lru_cache
def scenario() -> Scenario:
    return scenarios.load()


@pytest.mark.parametrize("width", [390, pytest.param(1440, marks=pytest.mark.long)])
def test_no_label_lies_on_another_or_runs_over_the_edge_in_any_view(
    browser: Browser, address: str, width: int
) -> None:
    context = browser.new_context(viewport={"width": width, "height": 844})
    page = opened(context, address)
    for at, view in enumerate(page.locator(f"{LOOK}, {WHY}").all()):
        view.click()
        page.wait_for_function(PRESSED, arg=view.text_content())
        set_lock(page, (60, 10, 30)[at % 3])
        assert page.evaluate(CROSSING) == [], view.text_content()
    context.close()


def test_words_have_the_colours_of_what_they_name_and_a_line_to_it_where_they_had_to_move(
    still: Page,
) -> None:
    still.set_viewport_size({"width": 1440, "height": 900})
    still.get_by_role("button", name="rock", exact=True).click()
    set_lock(still, 50)
    words = dict(still.evaluate(INKED))
    said = {text.split("  ")[0]: ink for text, ink in words.items()}
    assert said["1"] == css(LIGHT.roles["pushed"])
    assert said["2"] == css(LIGHT.roles["contact"])
    still.get_by_role("button", name="overview", exact=True).click()
    still.evaluate(SETTLE)
    assert still.evaluate("document.querySelectorAll('.stage .leads line[visibility=visible]').length") >= 2
    still.set_viewport_size({"width": 1280, "height": 720})


def css(colour: str) -> str:
    """A colour #rrggbb as a browser tells it."""
    return f"rgb({', '.join(str(part) for part in rgb(colour))})"


def test_what_is_told_of_a_corner_is_the_solvers_for_a_and_b_and_follows_a_bush(still: Page) -> None:
    def told(view: str) -> dict[str, str]:
        still.get_by_role("button", name=view, exact=True).click()
        still.wait_for_function(PRESSED, arg=view)
        still.evaluate(SETTLE)
        return labels(still)

    def on_the_floor(setting: Setting) -> tuple[str, str]:
        left = sweep(scenario().kart, setting, np.radians([20.0])).left
        return f"trail {left.trail[0]:.0f} mm", f"scrub {left.scrub[0]:.0f} mm"

    set_lock(still, LEFT_20)
    a, b = (scenario().settings[name] for name in ("as-delivered", "more-caster"))
    corner = corner_setting(scenario().kart.left.yoke, top_deg=3.0)
    topped = Setting(corner, corner)
    assert {*on_the_floor(a), *(f"B: {said}" for said in on_the_floor(b))} == set(told("floor"))
    lean = np.degrees(float(sweep(scenario().kart, b, 0.0).left.caster))
    assert f"B: kingpin axis leans back {lean:.1f}°" in told("clock")
    assert "held still" in (still.locator("[data-twist]").text_content() or "")
    typed(still, "Top bush, both sides, rated size in degrees", "3")
    assert set(on_the_floor(topped)) <= set(told("floor"))
    still.get_by_role("button", name="side by side").click()
    assert set(on_the_floor(topped)) == set(told("floor"))
    assert not told("overview").keys() & {"A", "C"}
    assert "rear left" in labels(still)


def test_a_new_page_opens_where_a_and_b_are_told_apart_best(browser: Browser, address: str) -> None:
    context = browser.new_context()
    page, best = opened(context, address), seen_best(scenario(), ["as-delivered", "more-caster"])
    assert page.locator("[data-case]").input_value() == scenario().load_cases[best.case].name
    assert page.locator("[data-twist]").text_content() == stated(best.times)
    assert abs(float((page.locator(".slide output").text_content() or "").split("°")[0]) - 35.0) <= 1.0
    assert len({page.locator(f"[data-stands={name}]").text_content() for name in "AB"}) == len("AB")
    context.close()
