"""A page in Chromium; the driver is imported where one is opened, so that the other tests start at once."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from playwright.sync_api import Browser, BrowserContext, Page

STRAIGHT = 30  # lock position of the built-in scenario with the wheel straight ahead
PLAIN = "?case=standing&twist=1&lock=0"
"""Asks for a page that shows the kart at rest and to scale."""


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    from tests.helpers.browsing import launched

    with launched() as chromium:
        yield chromium


@pytest.fixture(scope="module")
def address() -> Iterator[str]:
    """Where the page of the built-in kart is served."""
    from tests.helpers.browsing import served

    with served(most=40) as url:
        yield url


@pytest.fixture(scope="module")
def context(browser: Browser) -> Iterator[BrowserContext]:
    made = browser.new_context(viewport={"width": 1280, "height": 720})
    yield made
    made.close()


@pytest.fixture(scope="module")
def first(context: BrowserContext, address: str) -> Iterator[Page]:
    from tests.helpers.browsing import opened

    fresh = opened(context, address + PLAIN)
    yield fresh
    fresh.close()


@pytest.fixture
def still(first: Page) -> Iterator[Page]:
    """One page for all checks after which its own controls can put it back: opening one takes longest."""
    from tests.helpers.browsing import put_back

    yield first
    put_back(first, STRAIGHT)


@pytest.fixture
def page(context: BrowserContext, address: str) -> Iterator[Page]:
    from tests.helpers.browsing import opened

    fresh = opened(context, address + PLAIN)
    yield fresh
    fresh.close()
