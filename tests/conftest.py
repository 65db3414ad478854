"""One Hypothesis profile for the house (the same examples on every run, no clock), and a page in Chromium."""

from collections.abc import Iterator

import pytest
from hypothesis import HealthCheck, settings
from playwright.sync_api import Browser, BrowserContext, Page

from tests.helpers.browsing import launched, opened, served

settings.register_profile(
    "house",
    derandomize=True,
    deadline=None,
    max_examples=40,
    database=None,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.load_profile("house")


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with launched() as chromium:
        yield chromium


@pytest.fixture(scope="module")
def address() -> Iterator[str]:
    """Where the page of the built-in kart is served."""
    with served(most=40) as url:
        yield url


@pytest.fixture(scope="module")
def context(browser: Browser) -> Iterator[BrowserContext]:
    made = browser.new_context(viewport={"width": 1280, "height": 720})
    yield made
    made.close()


@pytest.fixture
def page(context: BrowserContext, address: str) -> Iterator[Page]:
    fresh = opened(context, address)
    yield fresh
    fresh.close()
