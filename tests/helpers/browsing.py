"""The page in a real headless Chromium: start the server in a process of its own, open pages, read them."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from playwright.sync_api import Browser, BrowserContext, Page, sync_playwright

ROOT = Path(__file__).resolve().parents[2]
FLAGS = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
SERVE = """
import json, sys
import scenarios
from viz.browser import serve
ask = json.loads(sys.argv[1])
source = ask.pop("source", None)
scenario = scenarios.load(source)
reload = (lambda: scenarios.load(source)) if source else None
serve(scenario, open_browser=False, reload=reload, say=lambda line: print(line, flush=True), **ask)
"""
FIRST = {
    "[data-slot=A]": "as-delivered",
    "[data-slot=B]": "more-caster",
    "[data-case]": "standing",
    "label:has-text('Twist and air drawn') select": "1",
}
"""What a page of the built-in kart at rest has chosen, by its control."""
PATIENCE = 120_000
"""ms: a page that many tests share opens on a busy machine too."""
SETTLE = """async () => { const frame = () => new Promise(requestAnimationFrame);
  await new Promise((done) => setTimeout(done, 30)); await frame(); await frame(); }"""


def chromium() -> str:
    """Where Chromium is; its absence fails the tests, it does not skip them."""
    for name in ("chromium", "chromium-browser", "google-chrome"):
        path = shutil.which(name)
        if path:
            return path
    raise FileNotFoundError("no Chromium on this machine; on Debian install it with: apt install chromium")


@contextmanager
def served(**ask: Any) -> Iterator[str]:
    """The address of a server in a process of its own; ask is what viz.browser.serve takes, or source."""
    import json

    env = {**os.environ, "OMP_NUM_THREADS": "1", "PYTHONPATH": str(ROOT)}
    command = [sys.executable, "-W", "error::ResourceWarning", "-c", SERVE, json.dumps(ask)]
    process = subprocess.Popen(command, cwd=ROOT, env=env, stdout=subprocess.PIPE, text=True)
    try:
        assert process.stdout is not None
        line = process.stdout.readline()
        assert line.startswith("open http://"), f"the server did not start: {line!r}"
        yield line.split()[1]
    finally:
        process.terminate()
        process.wait(10)
        if process.stdout is not None:
            process.stdout.close()


@contextmanager
def launched() -> Iterator[Browser]:
    """A headless Chromium."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium(), args=FLAGS)
        try:
            yield browser
        finally:
            browser.close()


def opened(context: BrowserContext, address: str) -> Page:
    """A page that is ready; what it says on the console, and every address it asks for, is kept on it."""
    page = context.new_page()
    log: list[str] = []
    requests: list[str] = []
    page.on(
        "console", lambda m: log.append(f"{m.type}: {m.text}") if m.type in ("error", "warning") else None
    )
    page.on("pageerror", lambda e: log.append(f"pageerror: {e}"))
    page.on("request", lambda r: requests.append(r.url))
    page.on("websocket", lambda w: requests.append(w.url))
    page.log, page.requests = log, requests  # type: ignore[attr-defined]
    page.goto(address, timeout=PATIENCE)
    page.wait_for_selector("html[data-ready]", state="attached", timeout=PATIENCE)
    page.evaluate(SETTLE)
    return page


def answers(page: Page) -> int:
    """How many answers of the program the page has taken in."""
    return int(page.evaluate("Number(document.documentElement.dataset.answers || 0)"))


def after_answer(page: Page, act: Any) -> None:
    """Do something that asks the program, and wait until its answer is drawn."""
    before = answers(page)
    act()
    page.wait_for_function(
        "(n) => Number(document.documentElement.dataset.answers) > n", arg=before, timeout=PATIENCE
    )
    page.evaluate(SETTLE)


def typed(page: Page, label: str, text: str) -> None:
    """Type into the box of a label, and wait for the answer."""
    box = page.get_by_label(label)
    box.fill(text)
    after_answer(page, lambda: box.press("Enter"))


def put_back(page: Page, lock: int) -> None:
    """The page as it was opened, by its own controls; one is touched only where it is not so already."""
    dismiss = page.get_by_role("button", name="Dismiss")
    if dismiss.count():
        dismiss.click()
    page.locator("[data-lesson]").select_option("")
    for name in ("auto", "overlaid", "overview", "change A"):
        button = page.get_by_role("button", name=name, exact=True)
        if button.get_attribute("aria-pressed") != "true":
            button.click()
    page.get_by_label("left and right alike").check()
    page.evaluate("document.querySelectorAll('details').forEach((e) => { e.open = false; })")
    for chosen, first in FIRST.items():
        box = page.locator(chosen)
        edited = "Edited here" in (box.locator("xpath=..").text_content() or "")
        if edited or box.input_value() != first:
            after_answer(page, lambda box=box, first=first: box.select_option(first))
    set_lock(page, lock)


def set_lock(page: Page, index: int) -> None:
    """Turn the handwheel to a lock position."""
    page.locator("input[type=range]").evaluate(
        "(e, i) => { e.value = i; e.dispatchEvent(new Event('input')); }", index
    )
    page.evaluate(SETTLE)


def numbers(page: Page, table: str) -> dict[str, tuple[str, str, str]]:
    """A, B and difference of each row of a table, as printed."""
    script = """(t) => Object.fromEntries(
      [...document.querySelectorAll(`[data-table=${t}] tbody tr`)].map((row) => [row.dataset.name,
        ["A", "B", "difference"].map((of) => row.querySelector(`[data-of=${of}]`).textContent)]))"""
    return {name: tuple(cells) for name, cells in page.evaluate(script, table).items()}


def labels(page: Page) -> dict[str, str]:
    """What the labels in the picture that are to be seen say, by their first line."""
    said = page.locator(".words").first.locator("span:not([hidden])").all_text_contents()
    return {first: rest for first, _, rest in (text.partition("\n") for text in said)}


def pixels(page: Page, which: int = 0) -> Any:
    """A 3D view as numbers (height, width, 3) once it is still, without the words that lie over it."""
    import io

    import numpy as np
    from PIL import Image

    page.add_style_tag(content=".words { visibility: hidden; }")
    return np.asarray(Image.open(io.BytesIO(still_picture(page, which))).convert("RGB"))


def picture(page: Page, which: int = 0) -> bytes:
    """The pixels of a 3D view, as PNG."""
    return page.locator(".canvas").nth(which).screenshot()


def still_picture(page: Page, which: int = 0) -> bytes:
    """A 3D view once two pictures of it in a row are the same; a view that never rests fails."""
    before = picture(page, which)
    for _ in range(40):
        page.wait_for_timeout(150)
        now = picture(page, which)
        if now == before:
            return now
        before = now
    raise AssertionError("the picture does not come to rest")


def picture_other_than(page: Page, before: bytes, which: int = 0) -> bytes:
    """A 3D view once it differs from a picture taken before; one that stays the same fails."""
    for _ in range(40):
        now = picture(page, which)
        if now != before:
            return now
        page.wait_for_timeout(150)
    raise AssertionError("the picture stays as it was")


@contextmanager
def opening(browser, file):
    """A function that opens a page of a file; `log` is what that complains of, `asked` what it asks for."""
    pages = []

    def opened(width=1440, scheme="light", **options):
        page = browser.new_page(viewport={"width": width, "height": 844}, color_scheme=scheme, **options)
        page.log, page.asked = [], []
        page.on("console", lambda m: page.log.append(m.text))
        page.on("pageerror", lambda e: page.log.append(str(e)))
        page.on("request", lambda r: page.asked.append(r.url))
        page.goto(file.as_uri())
        if options.get("java_script_enabled", True):
            page.wait_for_selector("html[data-ready]", state="attached")
        pages.append(page)
        return page

    try:
        yield opened
    finally:
        for page in pages:
            page.close()
