"""Write a hand-out: solve, draw, and put one file in place, whole or not at all."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from scenarios import Scenario
from scenarios.files import put
from viz.canvas.strips import SIZE, Progress
from viz.handout.content import solve
from viz.handout.document import html
from viz.handout.pictures import VIEW, clocks, drawable, pictures
from viz.scene.moment import STOPS

SUFFIXES = ("html",)


def page(
    scenario: Scenario,
    settings: Sequence[str],
    *,
    stops: int = STOPS,
    size: tuple[int, int] = SIZE,
    view: str = VIEW,
    case: str | None = None,
    times: float | None = None,
    progress: Progress | None = None,
) -> str:
    """The hand-out of one setting, or of two to compare (A, B), as HTML text that needs nothing else.

    settings are names of the scenario's; stops is the number of lock positions the slider leafs through;
    size is that of a picture in pixels, view one of the scene's, case the load case of the pictures and
    times how much larger its leaning is drawn (left out: where and as it is seen best); progress is called
    with pictures done and pictures in all. Raises Refusal for an unknown setting or case, ValueError for a
    bad number of settings or stops or an unknown view, gl.NoGraphics where nothing can draw.
    """
    content = solve(scenario, settings, stops, case, times)
    content = drawable(content) if times is None else content
    return html(content, pictures(content, size, view, progress), clocks(content, size), size, view)


def write(
    path: str | Path,
    scenario: Scenario,
    settings: Sequence[str],
    *,
    stops: int = STOPS,
    size: tuple[int, int] = SIZE,
    view: str = VIEW,
    case: str | None = None,
    times: float | None = None,
    progress: Progress | None = None,
) -> int:
    """Write the hand-out to path, a name ending in .html, and return its size in bytes; see page.

    Whatever ends it early, no file is left behind and an older file of that name stays as it was. Raises
    OSError where the file cannot be written.
    """
    if Path(path).suffix.lower().lstrip(".") not in SUFFIXES:
        raise ValueError("the file name must end in .html")
    looks = {"stops": stops, "size": size, "view": view, "case": case, "times": times}
    content = page(scenario, settings, **looks, progress=progress).encode()  # type: ignore[arg-type]
    put(path, content)
    return len(content)
