"""A lesson's page: every caption is text, it needs no network and no script, and steps by button and key."""

from __future__ import annotations

import re
from html import unescape

import pytest

from scenarios.lessons.lesson import HOME, lesson_of
from tests.helpers.accessibility import serious
from tests.helpers.browsing import launched, opening
from viz.lesson import page
from viz.lesson.scenes import caption

STEPS = [
    {"title": "A <b>", "caption": "One says {caster_left_deg}°.", "setting": "as-delivered", "view": "clock"},
    {
        "title": "B",
        "caption": "Two & more.",
        "setting": "more-caster",
        "case": "slow corner",
        "view": "rock",
        "lock_deg": [0.0, 45.0],
        "exaggerate": 3.0,
    },
]
QUESTION = {"ask": "Which?", "answers": ["this", "that"], "right": 2, "because": "It is so."}
SMALL = (320, 192)


@pytest.fixture(scope="module")
def short():
    return lesson_of({"title": "A short one", "step": STEPS, "question": QUESTION}, "x", HOME)


@pytest.fixture(scope="module")
def file(short, tmp_path_factory):
    path = tmp_path_factory.mktemp("lesson") / "lesson.html"
    path.write_text(page.page(short, size=SMALL), encoding="utf-8")
    return path


@pytest.fixture(scope="module")
def chrome():
    with launched() as browser:
        yield browser


@pytest.fixture
def opened(chrome, file):
    with opening(chrome, file) as open_at:
        yield lambda scheme="light", **options: open_at(390, scheme, **options)


def test_captions_and_answers_are_text_and_nothing_points_elsewhere(short, file):
    html = file.read_text(encoding="utf-8")
    text = " ".join(unescape(re.sub(r"<[^>]+>", " ", html)).split())
    for step in short.steps:
        assert caption(step) in text
    assert "1 of 2: A <b>" in text
    assert "It is so." in text
    assert "more-caster, slow corner, handwheel 45° left; leaning and air drawn 3 times as large" in text
    assert "Work on a kart can hurt" in text
    words = re.sub(r"base64,[A-Za-z0-9+/=]+", "", html)
    assert re.findall(r"https?:|//[a-z]|@import|url\(", words) == []
    assert html.count('<img class="light"') == html.count('<img class="dark"') == 3


def test_it_steps_by_button_and_by_key(opened):
    made = opened()
    shown = lambda: [h.inner_text() for h in made.locator(".step:not([hidden]) h2").all()]  # noqa: E731
    assert shown() == ["1 of 2: A <b>"]
    made.locator("#next").click()
    assert shown() == ["2 of 2: B"]
    made.keyboard.press("ArrowRight")
    assert shown() == ["A question"]
    assert made.locator("#next").is_disabled()
    assert not made.get_by_text("It is so.").is_visible()
    made.locator("summary").click()
    assert made.get_by_text("It is so.").is_visible()
    made.keyboard.press("ArrowLeft")
    assert shown() == ["A question"]  # in the answer's own control arrows are its own
    made.locator("#back").click()
    assert shown() == ["2 of 2: B"]
    assert made.log == []


def test_without_scripts_every_step_is_there(opened):
    made = opened(java_script_enabled=False)
    assert len(made.locator(".step:visible").all()) == 3
    assert not made.locator("nav").is_visible()


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing_serious_and_a_picture_of_the_readers_ground(opened, scheme):
    made = opened(scheme)
    for _ in range(3):
        assert serious(made) == []
        made.locator("#next").click(force=True)
    made.locator("#back").click()
    assert made.locator(f".step:not([hidden]) img.{scheme}").first.is_visible()
    assert made.evaluate("document.documentElement.scrollWidth <= window.innerWidth")
