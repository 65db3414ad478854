"""Where everything in the window stands: boxes of pixels from its size and from what its texts measure.

A column of controls on the right; beside it from above the caption, the picture, the close-ups where the
view has them, what the picture states and means, and the lock slider. Nothing lies over anything else.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from viz.canvas.pane import Cell, Pane, Stack, across
from viz.window.lettering import broken, fitted, high, lines_in, wide

MARGIN, GAP = 8, 4
LEAST = (900, 600)
"""The smallest window in which everything has its room."""
LEGEND_FROM = 0.5
"""The picture's share of the height from which on there is room for what its marks mean."""
CLOSE_UP = (0.21, 100, 190)
"""Height of the close-ups: their share of the window's, and within what pixels."""
CHART = (90, 320)
"""Least and most pixels of the chart's height."""
LARGER = (5, 3, 1)
"""By how much words aside may be larger than those of controls, pixels."""
Row = tuple[Cell, ...]


@dataclass(frozen=True)
class WindowContent:
    """What wants room: captions (the longest ones count), what is stated, what the marks mean, close-ups."""

    captions: Sequence[str] = ()
    stated: str = ""
    legend: str = ""
    close_ups: bool = False


@dataclass(frozen=True)
class ControlColumn:
    """The column of controls: its rows, which of them are tall sliders, and the widest text of a third."""

    rows: Sequence[Row]
    tall: Sequence[str]
    widest: str
    foot: Row
    """The row under the picture."""
    rest: str = "chart"
    """What has the rest of the column: the chart, or words aside."""
    share: float = 0.0
    """Of the window's width, the least that the column takes."""


@dataclass(frozen=True)
class WindowLayout:
    """Boxes by key, those of texts already broken to fit, and the size of the letters."""

    size: tuple[int, int]
    letters: int
    boxes: dict[str, Pane]
    texts: dict[str, str] = field(default_factory=dict)

    def caption(self, text: str) -> str:
        """A caption as it fits into its box; what has no room is cut with dots."""
        box = self.boxes["caption"]
        lines = broken(text, self.letters, box.width)
        most = max(1, lines_in(box.height, self.letters))
        if len(lines) > most:
            lines = [*lines[: most - 1], " ".join(lines[most - 1 :])]
        return "\n".join(fitted(line, self.letters, box.width) for line in lines)

    def aside(self, text: str) -> tuple[str, int]:
        """Words beside the picture as they fit into their box, and by how much larger their letters are."""
        box = self.boxes["aside"]
        for larger in (*LARGER, 0):
            lines = broken(text, self.letters + larger, box.width - 2 * MARGIN)
            if high(len(lines), self.letters + larger) <= box.height:
                break
        return "\n".join(lines[: lines_in(box.height, self.letters + larger)]), larger


def letters_for(size: tuple[int, int]) -> int:
    """Size of the letters in a window of that size."""
    across_, up = size
    return max(12, min(17, round(min(across_ / 85.0, up / 50.0))))


def row_height(letters: int) -> int:
    """Of a button and of a line of text beside it."""
    return letters + 9


def laid_out(size: tuple[int, int], content: WindowContent, column: ControlColumn) -> WindowLayout:
    """The layout of a window of that size."""
    letters = letters_for(size)
    whole = Pane(0, 0, *size).shrunk(MARGIN)
    third = wide(column.widest, letters) + 12
    broad = max(3 * third + 2 * GAP, round(column.share * size[0]))
    panel = Pane(whole.right - broad, whole.low, whole.right, whole.high)
    stage = Pane(whole.left, whole.low, panel.left - MARGIN, whole.high)
    boxes, texts = _stage(stage, size, letters, content, column.foot)
    return WindowLayout(size, letters, {**boxes, **_panel(panel, letters, column)}, texts)


def _stage(
    box: Pane, size: tuple[int, int], letters: int, content: WindowContent, foot: Row
) -> tuple[dict[str, Pane], dict[str, str]]:
    stack, texts = Stack(box, GAP), {}
    boxes = across(stack.bottom(row_height(letters)), foot, GAP, letters)
    longest = sorted(content.captions, key=len)[-3:]
    lines = max((len(broken(text, letters, box.width)) for text in longest), default=0)
    boxes["caption"] = stack.top(high(lines, letters))
    texts["stated"] = "\n".join(broken(content.stated, letters, box.width))
    boxes["stated"] = stack.bottom(_lines(texts["stated"], letters))
    legend = "\n".join(broken(content.legend, letters - 1, box.width))
    share, least, most = CLOSE_UP
    strip = min(max(share * size[1], least), most) if content.close_ups else 0.0
    room = stack.left.height - _lines(legend, letters) - strip >= LEGEND_FROM * size[1]
    texts["legend"] = legend if room else ""
    boxes["legend"] = stack.bottom(_lines(texts["legend"], letters))
    if content.close_ups:
        halves = across(stack.bottom(strip), (Cell("close_up_right"), Cell("close_up_left")), GAP)
        boxes.update(halves)
    boxes["scene"] = stack.left
    return boxes, texts


def _lines(text: str, letters: int) -> int:
    return high(text.count("\n") + 1, letters) if text else 0


def _panel(box: Pane, letters: int, column: ControlColumn) -> dict[str, Pane]:
    stack, boxes = Stack(box, GAP), {}
    for row in column.rows:
        tall = any(cell.key in column.tall for cell in row)
        boxes.update(across(stack.top(row_height(letters) * (1.4 if tall else 1.0)), row, GAP, letters))
    least, most = CHART
    if column.rest == "aside":
        boxes["aside"] = stack.left
    elif stack.left.height >= least:
        boxes["chart title"] = stack.top(high(1, letters))
        rest = stack.left
        boxes["chart"] = Pane(rest.left, max(rest.low, rest.high - most), rest.right, rest.high)
    return boxes
