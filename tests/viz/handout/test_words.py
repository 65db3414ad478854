"""What a hand-out says of its view: the lesson's words, and what arrows are only where there are any."""

import re
from html import unescape

import pytest

import scenarios
from scenarios.lessons.lesson import said_of
from viz.handout.content import solve
from viz.handout.document import html

STOPS = 3


@pytest.fixture(scope="module")
def content():
    return solve(scenarios.load(), ["as-delivered"], STOPS)


@pytest.mark.parametrize(("view", "arrows"), [("rock", False), ("rear", True), ("overview", True)])
def test_the_page_says_what_the_lesson_says_of_its_view_and_arrows_only_where_they_are_drawn(
    content, view, arrows
):
    page = html(content, {"light": {"A": ["data:,"] * STOPS}}, {"light": {"A": ["data:,"]}}, view=view)
    text = unescape(re.sub(r"<[^>]+>", "", page))
    assert ("arrows at the wheels are as long as the loads, 250 N to a square of the road" in text) == arrows
    said = said_of(view)
    assert (said is None) == (view == "overview")
    if said is not None:
        assert ". ".join(said) in text
        assert "{" not in said[1]
