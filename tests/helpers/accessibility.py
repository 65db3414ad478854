"""axe-core on an open page: what it calls serious or critical."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import axe_playwright_python
from playwright.sync_api import Page

AXE = (Path(axe_playwright_python.__file__).parent / "axe.min.js").read_text(encoding="utf-8")
RUN = """async () => (await axe.run(document, {resultTypes: ["violations"]})).violations
  .map((v) => [v.id, v.impact, v.nodes.map((n) => n.html.slice(0, 120))])"""


def serious(page: Page) -> list[Any]:
    """Rules broken with serious or critical impact, each with the elements that break it."""
    page.evaluate(AXE)
    return [found for found in page.evaluate(RUN) if found[1] in ("serious", "critical")]
