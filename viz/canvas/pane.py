"""Panes, boxes of pixels in a window or a picture: x to the right, y upward, from its lower left."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True)
class Pane:
    """A rectangle of pixels; right and high are the first that it no longer has."""

    left: float
    low: float
    right: float
    high: float

    @property
    def width(self) -> float:
        """Pixels across, never less than none."""
        return max(0.0, self.right - self.left)

    @property
    def height(self) -> float:
        """Pixels up, never less than none."""
        return max(0.0, self.high - self.low)

    @property
    def middle(self) -> tuple[float, float]:
        """Its centre."""
        return 0.5 * (self.left + self.right), 0.5 * (self.low + self.high)

    def over(self, other: Pane, gap: float = 0.0) -> bool:
        """Whether it lies over another one, or nearer to it than a gap."""
        wide = min(self.right, other.right) - max(self.left, other.left)
        high = min(self.high, other.high) - max(self.low, other.low)
        return wide > -gap and high > -gap

    def within(self, other: Pane) -> bool:
        """Whether no part of it lies outside another one."""
        across = self.left >= other.left and self.right <= other.right
        return across and self.low >= other.low and self.high <= other.high

    def holds(self, x: float, y: float) -> bool:
        """Whether a pixel lies in it."""
        return self.left <= x < self.right and self.low <= y < self.high

    def shrunk(self, by: float) -> Pane:
        """The same with a margin taken off all round."""
        return Pane(self.left + by, self.low + by, self.right - by, self.high - by)

    def kept_in(self, room: Pane) -> Pane:
        """The same moved into a room, as far as it fits there."""
        x = max(room.left - self.left, 0.0) or min(room.right - self.right, 0.0)
        y = max(room.low - self.low, 0.0) or min(room.high - self.high, 0.0)
        return self.moved(x, y)

    def moved(self, x: float, y: float) -> Pane:
        """The same somewhere else."""
        return Pane(self.left + x, self.low + y, self.right + x, self.high + y)

    def viewport(self, size: tuple[int, int]) -> tuple[float, float, float, float]:
        """The same in shares of a window's size, as VTK takes it."""
        wide, high = size
        return self.left / wide, self.low / high, self.right / wide, self.high / high


@dataclass(frozen=True)
class Cell:
    """One of several boxes beside each other: fixed, in sizes of letters, or a share of what is left."""

    key: str
    share: float = 1.0
    fixed: float = 0.0


def across(box: Pane, cells: Sequence[Cell], gap: float, letters: int = 1) -> dict[str, Pane]:
    """The cells of a row from left to right, by their keys."""
    free = box.width - gap * (len(cells) - 1) - letters * sum(cell.fixed for cell in cells)
    shares = sum(cell.share for cell in cells if not cell.fixed) or 1.0
    found, left = {}, box.left
    for cell in cells:
        wide = letters * cell.fixed or max(0.0, free) * cell.share / shares
        found[cell.key] = Pane(round(left), box.low, round(left + wide), box.high)
        left += wide + gap
    return found


class Stack:
    """What is left of a box from which rows are taken, from above or from below."""

    def __init__(self, box: Pane, gap: float) -> None:
        self.left, self.gap = box, gap

    def top(self, height: float) -> Pane:
        """A row of that height from above."""
        b = self.left
        self.left = Pane(b.left, b.low, b.right, b.high - height - self.gap)
        return Pane(b.left, b.high - height, b.right, b.high)

    def bottom(self, height: float) -> Pane:
        """A row of that height from below."""
        b = self.left
        self.left = Pane(b.left, b.low + height + self.gap, b.right, b.high)
        return Pane(b.left, b.low, b.right, b.low + height)
