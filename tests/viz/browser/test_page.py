"""The page in headless Chromium: what it shows is what the solver says, for each visitor alone."""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from playwright.sync_api import Browser, Page

import scenarios
from kinematics.lock import sweep
from kinematics.parts import Setting
from kinematics.standing.stand import inside_rear_load, stand, standing_corners
from scenarios import Scenario, corner_setting
from tests.helpers.browsing import (
    after_answer,
    answers,
    labels,
    numbers,
    opened,
    picture,
    picture_other_than,
    pixels,
    set_lock,
    still_picture,
    typed,
)
from tests.helpers.reading import headline
from viz.scene.loads import stated

LEFT_20 = 40  # lock position of the built-in scenario at +20 deg
CHANGED = "rear-track=30,ballast=5@416/-200/200"
SAID = "document.querySelector('.slide output').textContent"


@lru_cache
def scenario() -> Scenario:
    return scenarios.load()


def printed(value: float, decimals: int) -> str:
    text = f"{value:.{decimals}f}"
    return (text.lstrip("-") if float(text) == 0.0 else text).replace("-", "−")


def solved(setting: Setting, case: int, lock: int) -> dict[str, str]:
    """Some of the table at a lock position, straight from the solver."""
    kart, cases = scenario().kart, scenario().load_cases
    swept = sweep(kart, setting, np.radians(np.linspace(*scenario().handwheel_deg)))
    standing = stand(swept, cases[case])
    left, right = standing_corners(swept, standing)
    return {
        "standing_camber_left_deg": printed(np.degrees(left.camber[lock]), 2),
        "standing_camber_right_deg": printed(np.degrees(right.camber[lock]), 2),
        "wheel_drop_left_mm": printed(swept.left.wheel_drop[lock], 2),
        "caster_trail_right_mm": printed(swept.right.trail[lock], 1),
        "load_rear_left_n": printed(standing.loads[lock, 2], 0),
        "inside_rear_load_n": printed(inside_rear_load(swept, standing)[lock], 0),
        "twist_deg": printed(np.degrees(standing.twist[lock]), 2),
    }


def assert_shows(page: Page, slot: int, expected: dict[str, str]) -> None:
    table = numbers(page, "lock")
    assert {name: table[name][slot] for name in expected} == expected


def bushes(top: float, clock: float) -> Setting:
    corner = corner_setting(scenario().kart.left.yoke, top_deg=top, top_clock_deg=clock)
    return Setting(corner, corner)


def test_page_is_ready_without_errors_and_asks_nobody_else(still: Page, address: str) -> None:
    assert not [
        line for line in still.log if "GPU stall" not in line
    ]  # a driver's remark on the software renderer
    assert still.requests
    here = address.rstrip("/")
    assert not [
        u for u in still.requests if not u.startswith((here, here.replace("http", "ws"), "data:", "blob:"))
    ]


def test_numbers_are_the_solvers_and_lock_moves_both_picture_and_numbers(still: Page) -> None:
    before = pixels(still)
    set_lock(still, LEFT_20)
    assert (pixels(still) != before).any()
    assert still.locator(".slide output").text_content() == "20° left"
    for slot, name in enumerate(("as-delivered", "more-caster")):
        assert_shows(still, slot, solved(scenario().settings[name], 0, LEFT_20))


def test_headline_and_difference_are_the_solvers(still: Page) -> None:
    caster = []
    for name in ("as-delivered", "more-caster"):
        setting = scenario().settings[name]
        figures = headline(sweep(scenario().kart, setting, 0.0), scenario().toe_diameter_mm)
        caster.append(float(figures["caster_left_deg"].values))
    a, b, difference = numbers(still, "headline")["caster_left_deg"]
    assert (a, b) == (printed(caster[0], 2), printed(caster[1], 2))
    assert difference == "+" + printed(caster[1] - caster[0], 2)


def test_bush_size_and_clock_change_picture_and_numbers(still: Page) -> None:
    still.get_by_role("button", name="bushes left").click()
    set_lock(still, LEFT_20)
    first = picture(still)
    typed(still, "Top bush, both sides, rated size in degrees", "2")
    second = picture(still)
    assert second != first
    assert_shows(still, 0, solved(bushes(2.0, 0.0), 0, LEFT_20))
    typed(still, "Top bush, both sides, clock in degrees", "135")
    assert picture(still) != second
    assert_shows(still, 0, solved(bushes(2.0, 135.0), 0, LEFT_20))
    after_answer(still, lambda: still.get_by_role("button", name="set toe back to −0.10° each side").click())
    assert numbers(still, "headline")["toe_left_deg"][0] == "−0.10"
    assert still.locator("[data-toe]").count() == 0


def test_load_case_changes_picture_and_numbers(still: Page) -> None:
    set_lock(still, LEFT_20)
    before = picture(still)
    after_answer(still, lambda: still.locator("[data-case]").select_option("slow corner"))
    names = [case.name for case in scenario().load_cases]
    assert_shows(still, 1, solved(scenario().settings["more-caster"], names.index("slow corner"), LEFT_20))
    assert picture(still) != before


def test_a_change_of_the_whole_kart_and_of_a_corner_is_typed_and_solved(still: Page) -> None:
    set_lock(still, LEFT_20)
    made = scenarios.typed(scenario(), "new", both="hub=5,toe=-0.1", kart=CHANGED).settings["new"]
    for summary in still.locator("details.more summary").all():
        summary.click()
    typed(still, "wheel moved outward, + out, mm", "5")
    typed(still, "rear wheels further apart, + wider, mm", "30")
    typed(still, "ballast put on, - taken off, kg", "5")
    typed(still, "ballast to the left, mm", "-200")
    after_answer(still, lambda: still.locator(".rods select").select_option("toe"))
    assert_shows(still, 0, solved(made, 0, LEFT_20))


def test_a_named_setting_comes_into_its_slot(still: Page) -> None:
    set_lock(still, LEFT_20)
    after_answer(still, lambda: still.locator("[data-slot=B]").select_option("less-caster"))
    assert_shows(still, 1, solved(scenario().settings["less-caster"], 0, LEFT_20))


def test_dial_by_keyboard_and_by_pointer(still: Page) -> None:
    dial = still.get_by_role("slider", name="Top bush")
    dial.focus()
    for key in ("ArrowUp", "ArrowUp", "ArrowRight"):
        after_answer(still, lambda pressed=key: dial.press(pressed))
    assert dial.get_attribute("aria-valuetext") == "1.5 degrees, hole forward, clock 15"
    box = dial.bounding_box()
    assert box is not None
    rearward = {"x": box["width"] / 2, "y": box["height"] * (70 + 34 * 2 / 3) / 140}
    after_answer(still, lambda: dial.click(position=rearward))
    assert dial.get_attribute("aria-valuetext") == "2 degrees, hole rearward, clock 180"


def test_one_side_alone(still: Page) -> None:
    still.get_by_label("left and right alike").uncheck()
    typed(still, "Top bush, right, rated size in degrees", "3")
    table, bushed = numbers(still, "headline"), Setting(right=bushes(3.0, 0.0).right)
    ahead = sweep(scenario().kart, bushed, 0.0)
    caster = ahead.right.caster
    assert table["caster_left_deg"][0] == f"{np.degrees(ahead.left.caster):.2f}"
    assert table["caster_right_deg"][0] == printed(float(np.degrees(caster)), 2)


def test_visitors_do_not_share_state(browser: Browser, still: Page, address: str) -> None:
    context = browser.new_context()
    one, other = still, opened(context, address)
    before = numbers(other, "lock")
    typed(one, "Top bush, both sides, rated size in degrees", "3")
    set_lock(one, LEFT_20)
    other.wait_for_timeout(300)
    assert numbers(other, "lock") == before
    assert answers(other) == 1
    typed(
        other, "Bottom bush, both sides, rated size in degrees", "1"
    )  # on its own state, not on the other's
    assert other.get_by_label("Top bush, both sides, rated size in degrees").input_value() == "0"
    context.close()


def test_a_change_that_cannot_be_is_refused_with_its_reason(still: Page) -> None:
    before = numbers(still, "headline")
    box = still.get_by_label("Top bush, both sides, rated size in degrees")
    box.fill("99")
    box.press("Enter")
    still.get_by_role("alert").wait_for()
    told = still.get_by_role("alert").text_content() or ""
    assert told.startswith("A, left top bush, size 99°: must be at least 0 and at most 15°")
    assert numbers(still, "headline") == before


def test_twist_drawn_larger_is_always_stated(still: Page) -> None:
    set_lock(still, LEFT_20)
    assert "drawn to scale" in (still.locator("[data-twist]").text_content() or "")
    before = picture(still)
    after_answer(still, lambda: still.get_by_label("Twist and air drawn").select_option("10"))
    assert still.locator("[data-twist]").text_content() == stated(10)
    assert picture(still) != before


def test_side_by_side_with_linked_cameras(page: Page) -> None:
    page.get_by_role("button", name="side by side").click()
    before = still_picture(page, 1)
    box = page.locator(".canvas").first.bounding_box()
    assert box is not None
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + 80, y + 20, steps=4)
    page.mouse.up()
    picture_other_than(page, before, 1)  # the other view followed
    turned = still_picture(page, 1)
    page.get_by_role("button", name="front", exact=True).click()
    picture_other_than(page, turned, 1)
    assert not [line for line in page.log if "GPU stall" not in line]


def test_the_inside_rear_in_the_air_is_marked_in_the_picture_and_in_words(still: Page) -> None:
    after_answer(still, lambda: still.locator("[data-case]").select_option("slow corner"))
    set_lock(still, LEFT_20)
    on_road = labels(still)
    assert not any(word.startswith("IN THE AIR") for word in on_road)
    set_lock(still, 60)
    setting = scenario().settings["as-delivered"]
    swept = sweep(scenario().kart, setting, np.radians(60.0))
    standing = stand(swept, scenario().load_cases[2])
    newton, gap = float(standing.loads[0, 2]), float(standing.clearance[0, 2])
    assert gap > 0.1, "the test needs an inside rear that is off the road"
    aloft = labels(still)
    assert f"IN THE AIR +{gap:.1f} mm" in aloft
    assert aloft["rear left"] == f"{newton:.0f} N  0.0 kg"
    assert on_road["rear left"] != aloft["rear left"]
    assert f"IN THE AIR +{gap:.1f} mm" in (still.locator("[data-stands=A]").text_content() or "")


def arrow_height(page: Page) -> int:
    """Pixels from foot to tip of the leftmost load arrow, by its colour (light theme)."""
    red, green, blue = np.moveaxis(pixels(page).astype(float), -1, 0)
    rows, columns = np.nonzero((blue > 1.3 * red) & (red > 1.6 * green) & (blue > 50.0))
    rows = rows[columns < columns.min() + 24]
    return int(rows.max() - rows.min())


def test_the_arrow_drawn_is_as_long_as_the_load(still: Page) -> None:
    """Seen from ahead, without perspective, the arrow furthest to the left is the rear right wheel's."""
    before = picture(still)
    still.get_by_role("button", name="front", exact=True).click()
    picture_other_than(still, before)
    swept = sweep(scenario().kart, scenario().settings["as-delivered"], np.radians([-60.0, 60.0]))
    loads = stand(swept, scenario().load_cases[0]).loads[:, 3]
    heights = []
    for index in (0, 60):
        set_lock(still, index)
        heights.append(arrow_height(still))
    assert heights[1] > 45
    assert abs(heights[0] - heights[1] * loads[0] / loads[1]) <= 4  # of the foot's plate, and of two edges


def test_play_moves_and_stops(still: Page) -> None:
    still.get_by_role("button", name="Play").click()
    still.wait_for_function(f"{SAID} !== 'straight ahead'")
    still.get_by_role("button", name="Pause").click()
    stopped = still.locator(".slide output").text_content()
    still.wait_for_timeout(300)
    assert still.locator(".slide output").text_content() == stopped


def test_a_lesson_is_played_step_by_step_with_its_words_as_text_and_its_question(still: Page) -> None:
    still.locator("[data-lesson]").select_option("what-a-bush-does")
    told, said = still.locator(".lesson [aria-live] h2"), still.locator(".lesson .caption")
    still.get_by_role("button", name="Next").click()
    told.get_by_text("2 of ").wait_for()
    still.keyboard.press("ArrowRight")
    told.get_by_text("3 of ").wait_for()
    assert "15.1° of caster" in (said.text_content() or "")  # the kart's own figure
    assert not still.locator(".fitted").is_visible()
    still.wait_for_function("location.search.endsWith('lesson=what-a-bush-does&step=3')")
    last = int((told.text_content() or "").split()[2].rstrip(":"))
    for step in range(4, last + 1):
        still.get_by_role("button", name="Next").click()
        told.get_by_text(f"{step} of ").wait_for()
    still.get_by_role("button", name="The question").click()
    still.get_by_role("button", name="outboard").click()
    assert "Not that one: rearward." in (still.locator(".answers").text_content() or "")
    still.get_by_role("button", name="rearward").click()
    assert "Right." in (still.locator(".answers").text_content() or "")
    still.get_by_role("button", name="Leave the lesson").click()
    assert still.locator(".fitted").is_visible()
