"""The box of bushes, what can be built from it at a corner, and how much work it is.

A bush pair is a row of four numbers: top offset (mm), top clock (rad), bottom offset, bottom clock. A
concentric bush has no clock, so it is one choice and not one per clock step.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import inf, isclose, pi, tau

import numpy as np
import numpy.typing as npt

from kinematics.corner.bush import SAME_CLOCK, SAME_OFFSET, same_clock, same_size
from kinematics.frames import Array, Mask
from kinematics.parts import CornerSetting

Ints = npt.NDArray[np.int64]

FREE_STEP = pi / 12.0  # the grid where clocks turn freely: 24 positions, refined afterwards
COARSEST = round(tau / FREE_STEP)
"""So many positions round the dial are looked at in any box, or all where there are fewer."""
MOST_PAIRS, MOST_TURNS = 300_000, 20_000
"""Up to about so many pairs every one is looked at, so many where each takes a whole turn; beyond, clocks are
first looked at in coarser steps."""
WORK = (
    "leave",
    "turn one bush",
    "swap one bush",
    "turn two bushes",
    "turn one bush and swap one",
    "swap two bushes",
)
"""Work at one corner, lightest first; its level is the place in this list."""
_LEVEL = np.array([[0, 1, 3], [2, 4, 4], [5, 5, 5]])  # by number swapped and number turned


@dataclass(frozen=True)
class Box:
    """Every bush on hand, those on the kart included."""

    offsets: tuple[float, ...]
    """Hole offsets in mm; 0 is a concentric bush."""
    counts: tuple[int | None, ...] = ()
    """How many of each; None is enough, and leaving counts out means enough of all."""
    clock_step: float = 0.0
    """Clock step they allow, rad; 0 is any clock."""
    clocks: tuple[tuple[float, ...] | None, ...] = ()
    """The clocks, rad, at which each can be fitted where its screws say so; None is every step."""

    def __post_init__(self) -> None:
        for name in ("counts", "clocks"):
            if not getattr(self, name):
                object.__setattr__(self, name, (None,) * len(self.offsets))
            if len(getattr(self, name)) != len(self.offsets):
                raise ValueError(f"{len(self.offsets)} bush sizes but {len(getattr(self, name))} {name}")
        if not all(0.0 <= offset < inf for offset in self.offsets):
            raise ValueError(f"every hole offset must be at least 0 mm, not {self.offsets}")
        if any(count is not None and count < 0 for count in self.counts):
            raise ValueError(f"no count may be below 0, not {self.counts}")
        turns = tau / self.clock_step if self.clock_step else 1.0
        if self.clock_step < 0.0 or not isclose(turns, round(turns), abs_tol=1e-6):
            step = np.degrees(self.clock_step)
            raise ValueError(f"a clock step must divide a full turn, {step:g} deg does not")


@dataclass(frozen=True)
class OnHand:
    """The sizes that can be used (mm, ascending) and how many of each (inf: enough)."""

    sizes: Array
    counts: Array
    clocks: tuple[tuple[float, ...] | None, ...]
    """The clocks, rad, at which each can be fitted; None is every step."""

    def held(self, offsets: Array) -> Mask:
        """Which of these offsets (...) in mm, each of a size on hand, stand at clocks of their own alone."""
        own = np.array([clocks is not None for clocks in self.clocks])
        return np.asarray(own[size_of(self.sizes, offsets)])


def row_of(corner: CornerSetting) -> Array:
    """The bush pair of one corner as a row (4,); a concentric bush has clock 0."""
    numbers = (corner.top_offset, corner.top_clock, corner.bottom_offset, corner.bottom_clock)
    if any(np.ndim(number) for number in numbers):
        raise ValueError("the base of a search is one setting, not a batch of them")
    return tidy(np.array([float(number) for number in numbers]))


def tidy(rows: Array) -> Array:
    """Rows (..., 4) with clocks in 0..2 pi, and 0 where the bush is concentric."""
    offsets, clocks = rows[..., ::2], np.mod(rows[..., 1::2], tau)
    clocks = np.where((offsets < SAME_OFFSET) | (clocks > tau - SAME_CLOCK), 0.0, clocks)
    return np.stack([offsets[..., 0], clocks[..., 0], offsets[..., 1], clocks[..., 1]], axis=-1)


def with_row(corner: CornerSetting, rows: Array) -> CornerSetting:
    """The corner's setting with the bush pairs (..., 4) fitted."""
    top_offset, top_clock, bottom_offset, bottom_clock = np.moveaxis(rows, -1, 0)
    return replace(
        corner,
        top_offset=top_offset,
        top_clock=top_clock,
        bottom_offset=bottom_offset,
        bottom_clock=bottom_clock,
    )


def size_of(sizes: Array, offsets: Array) -> Ints:
    """Which of the sizes (ascending, mm) each offset is."""
    return np.asarray(np.searchsorted(sizes, offsets - SAME_OFFSET), dtype=np.int64)


def on_hand(box: Box, fitted: Sequence[Array]) -> OnHand:
    """What can be used: the box, and never less than is fitted now, rows (4,) of the corners.

    A box with nothing in it is refused.
    """
    entries = [(o, inf if n is None else float(n)) for o, n in zip(box.offsets, box.counts, strict=True)]
    if not sum(count for _, count in entries):
        raise ValueError("the box is empty: no bush to choose from")
    on_kart = np.concatenate([row[::2] for row in fitted])
    sizes: list[float] = []
    for offset in sorted([*(o for o, n in entries if n > 0.0), *on_kart.tolist()]):
        if not sizes or offset - sizes[-1] > SAME_OFFSET:
            sizes.append(offset)
    counts = [sum(n for o, n in entries if same_size(o, size)) for size in sizes]
    used = usage(np.array(sizes), on_kart[None, :])[0]
    clocks = tuple(_clocks_of(box, size) for size in sizes)
    return OnHand(np.array(sizes), np.maximum(np.array(counts, dtype=float), used), clocks)


def _clocks_of(box: Box, size: float) -> tuple[float, ...] | None:
    """The clocks of a size; of entries of one size all that either has."""
    each = [own for offset, own in zip(box.offsets, box.clocks, strict=True) if same_size(offset, size)]
    return tuple(sorted({c for own in each for c in own or ()})) if each and None not in each else None


def usage(sizes: Array, offsets: Array) -> Array:
    """How many bushes of each size the offsets (n, bushes) in mm take: (n, sizes)."""
    used: Array = (size_of(sizes, offsets)[..., None] == np.arange(sizes.size)).sum(axis=-2).astype(float)
    return used


@dataclass(frozen=True)
class PairGrid:
    """Every bush pair that can be built: choices (offset, clock) of top and bottom, and pairs of them."""

    top: Array
    """(top choices, 2)."""
    bottom: Array
    pairs: Ints
    """Top choice times the number of bottom choices, plus bottom choice."""

    def rows(self, which: slice | Ints) -> Array:
        """Rows (n, 4) of some of the pairs."""
        top, bottom = np.divmod(self.pairs[which], len(self.bottom))
        return np.concatenate([self.top[top], self.bottom[bottom]], axis=-1)


@dataclass(frozen=True)
class Dial:
    """The clocks at which a bush may stand, and how many of them a search looks at."""

    step: float
    """Clock step they allow, rad."""
    looked: int
    """How many positions round the dial are looked at; fewer than there are: spread evenly."""

    @property
    def count(self) -> int:
        """How many positions there are."""
        return round(tau / self.step)

    @property
    def whole(self) -> bool:
        """Whether every position is looked at."""
        return self.looked >= self.count

    @property
    def clocks(self) -> Array:
        """The positions looked at, rad, ascending from 0."""
        places = np.arange(self.count) if self.whole else np.arange(self.looked) * self.count / self.looked
        return np.asarray(np.round(places) * self.step)

    @property
    def between(self) -> float:
        """About how far the positions looked at lie apart, rad."""
        return self.step if self.whole else tau / self.looked


def whole_dial(step: float) -> Dial:
    """Every position in steps of so many rad."""
    return Dial(step, round(tau / step))


def dial_of(stock: OnHand, step: float, turns: int = 0) -> Dial:
    """Every position in steps (rad), or so many times COARSEST that not too many pairs are looked at.

    turns is how many whole turns each pair takes.
    """
    pairs = MOST_TURNS / turns if turns else MOST_PAIRS
    every, most = whole_dial(step), pairs**0.5 / max(int((stock.sizes > SAME_OFFSET).sum()), 1)
    return every if every.count <= most else Dial(step, COARSEST * max(int(most) // COARSEST, 1))


def _choices(stock: OnHand, clocks: Array, fitted: Sequence[Array]) -> Array:
    chosen = [
        (size, clock)
        for size, own in zip(stock.sizes, stock.clocks, strict=True)
        for clock in ((clocks if own is None else own) if size > SAME_OFFSET else [0.0])
    ]
    for offset, clock in fitted:
        known = np.array(chosen)
        if not (same_size(known[:, 0], offset) & same_clock(known[:, 1], clock)).any():
            chosen.append((float(offset), float(clock)))
    return np.array(chosen)


def pair_grid(stock: OnHand, dial: Dial, corners: int, fitted: Sequence[Array]) -> PairGrid:
    """Every pair the stock allows when as many corners are to be fitted alike, at the clocks looked at.

    The places in which the bushes are fitted now, rows (4,), are choices too, on the step or not.
    """
    top, bottom = (_choices(stock, dial.clocks, [row[at : at + 2] for row in fitted]) for at in (0, 2))
    size_top, size_bottom = size_of(stock.sizes, top[:, 0]), size_of(stock.sizes, bottom[:, 0])
    need = corners * (1.0 + np.eye(stock.sizes.size))
    enough = (need <= stock.counts[:, None]) & (need <= stock.counts[None, :])
    pairs = np.flatnonzero(enough[size_top[:, None], size_bottom[None, :]].ravel())
    return PairGrid(top, bottom, pairs.astype(np.int64))


def left_alone(rows: Array, base: Array) -> Mask:
    """Where the bushes of rows (..., 4), top and bottom, stay as they are in the base (4,): (..., 2)."""
    same_place = same_clock(rows[..., 1::2], base[1::2]) | (rows[..., ::2] < SAME_OFFSET)
    return same_size(rows[..., ::2], base[::2]) & same_place


def work_level(rows: Array, base: Array) -> Ints:
    """Work (...) to get from the base pair (4,) to the pairs (..., 4): a place in WORK."""
    swapped = ~same_size(rows[..., ::2], base[::2])
    turned = ~swapped & ~left_alone(rows, base)
    return np.asarray(_LEVEL[swapped.sum(axis=-1), turned.sum(axis=-1)], dtype=np.int64)
