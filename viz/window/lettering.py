"""How large a text is in the window, and how it is broken and cut to fit: measured, never guessed."""

from __future__ import annotations

from functools import lru_cache
from typing import Any

DPI = 72
LEADING = 1.3
"""Height of a line in sizes of its letters."""
EDGE = 4
"""Pixels above and below lines together."""
CUT = "..."


@lru_cache(maxsize=4096)
def wide(text: str, letters: int, bold: bool = False) -> int:
    """Pixels across a line of text in letters of that size."""
    if not text:
        return 0
    box = [0] * 4
    _renderer().GetBoundingBox(_property(letters, bold), text, box, DPI)
    return int(box[1] - box[0] + 1)


def high(lines: int, letters: int) -> int:
    """Pixels that so many lines take."""
    return lines * round(LEADING * letters) + EDGE if lines else 0


def lines_in(height: float, letters: int) -> int:
    """How many lines so many pixels have room for."""
    return int((height - EDGE) / round(LEADING * letters))


def broken(text: str, letters: int, room: float) -> list[str]:
    """The text in lines no wider than the room; gaps of several spaces are the first to break."""
    lines: list[str] = []
    for line in text.split("\n"):
        parts, now = [part.strip() for part in line.split("   ")], ""
        for part in parts:
            joined = f"{now}   {part}" if now else part
            if wide(joined, letters) <= room:
                now = joined
                continue
            *full, now = [*([now] if now else []), *_words(part, letters, room)]
            lines += full
        lines.append(now)
    return lines


def _words(text: str, letters: int, room: float) -> list[str]:
    lines, now = [], ""
    for word in text.split():
        joined = f"{now} {word}".strip()
        if now and wide(joined, letters) > room:
            lines.append(now)
            joined = word
        now = joined
    return [*lines, now]


def fitted(text: str, letters: int, room: float) -> str:
    """One line, cut with dots where it is wider than the room."""
    if wide(text, letters) <= room:
        return text
    kept = text
    while kept and wide(kept + CUT, letters) > room:
        kept = kept[:-1]
    return kept.rstrip() + CUT if kept else ""


@lru_cache(maxsize=1)
def _renderer() -> Any:
    import vtkmodules.vtkRenderingFreeType  # noqa: F401  (it is what measures)
    from vtkmodules.vtkRenderingCore import vtkTextRenderer

    return vtkTextRenderer.GetInstance()


@lru_cache(maxsize=64)
def _property(letters: int, bold: bool) -> Any:
    from vtkmodules.vtkRenderingCore import vtkTextProperty

    made = vtkTextProperty()
    made.SetFontFamilyToArial()
    made.SetFontSize(letters)
    made.SetBold(bold)
    return made
