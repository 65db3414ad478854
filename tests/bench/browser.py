"""How fast the page is in software Chromium: until it is ready, a lock step, a bush change. Run as a script.

A lock step is measured in the page from the slider's event to the last pixel drawn (the graphics pipe is
emptied by reading one back); a bush change from the event to the picture of the new sweep.
"""

from __future__ import annotations

import sys
from pathlib import Path
from statistics import median
from time import perf_counter
from typing import Any

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from tests.helpers.browsing import launched, opened, served

DRAINED = """
  const drained = () => { for (const c of document.querySelectorAll("canvas")) {
    const gl = c.getContext("webgl2");
    gl.readPixels(0, 0, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, new Uint8Array(4)); } };
"""
LOCK = f"""async (steps) => {{ {DRAINED}
  const slider = document.querySelector("input[type=range]"), times = [];
  for (let i = 0; i < steps; i++) {{
    await new Promise(requestAnimationFrame); drained();
    const start = performance.now();
    slider.value = 5 + i; slider.dispatchEvent(new Event("input"));
    await window.Vue.nextTick(); drained();
    times.push(performance.now() - start);
  }}
  return times; }}"""
BUSH = f"""async (sizes) => {{ {DRAINED}
  const root = document.documentElement, input = document.querySelector(".dial input"), times = [];
  for (const size of sizes) {{
    await new Promise((done) => setTimeout(done, 1200)); drained();  // until the still picture is done
    const before = root.dataset.answers, start = performance.now();
    input.value = size; input.dispatchEvent(new Event("change"));
    while (root.dataset.answers === before) await new Promise((done) => setTimeout(done, 1));
    await window.Vue.nextTick(); await new Promise((done) => setTimeout(done, 6)); drained();
    times.push(performance.now() - start);
  }}
  return times; }}"""


def measure(page: Any, what: str) -> None:
    """Print the medians of a page as it stands."""
    lock, bush = page.evaluate(LOCK, 40), page.evaluate(BUSH, [1, 2, 3, 1.5, 2.5, 0.5, 1, 2, 3])
    print(
        f"{what}: lock step {median(lock):.0f} ms (bar 60), bush change {median(bush[1:]):.0f} ms (bar 200)"
    )


def main() -> None:
    """Measure A and B overlaid and side by side, at 1440 x 900, on all wheels and with one in the air."""
    with served() as address, launched() as browser:
        for case in ("standing", "slow corner"):
            context = browser.new_context(viewport={"width": 1440, "height": 900})
            began = perf_counter()
            page = opened(context, f"{address}?case={case}")
            print(f"{case}: ready after {perf_counter() - began:.1f} s (bar 3.0)")
            measure(page, f"{case}, A and B overlaid")
            page.get_by_role("button", name="side by side").click()
            page.wait_for_timeout(800)
            measure(page, f"{case}, A and B side by side")
            context.close()


if __name__ == "__main__":
    main()
