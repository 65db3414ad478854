"""A bush and the box: a size with its owner's word for it, what is the same bush, and what the box holds.

A bush is known by the offset of its hole, wherever it is fitted. Degrees are the tilt it gives over a yoke's
span: the box's are those of the left yoke. Where its word would read back as another bush, mm are said.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import degrees, radians
from typing import Any, Literal

import numpy as np

from kinematics.choose.box import row_of
from kinematics.corner.bush import SAME_CLOCK, SAME_OFFSET, bush_offset, rated_size, same_clock, same_size
from kinematics.frames import Array
from kinematics.parts import Setting
from scenarios.errors import exact

SIDES = ("left", "right")
PLACES = ("top", "bottom")
KEYS = {"deg": "rated_deg", "mm": "offset_mm"}
"""How a size's key ends in a file, by its unit."""
CLEAR = 0.1
"""A number is written to within this share of what still counts as the same bush."""

Work = Literal["leave", "turn", "swap"]


@dataclass(frozen=True)
class Size:
    """How far a bush's hole is off centre, and what its owner calls it: '1.2 mm', '2 deg'."""

    offset: float
    """mm; 0 is concentric."""
    number: float
    unit: str
    """'deg' or 'mm'."""
    mark: str = ""
    """How its owner tells it from others: 'two dots'."""
    clocks_deg: tuple[float, ...] = ()
    """The clocks at which its screws let it be fitted; none is every step of the box."""

    @property
    def centred(self) -> bool:
        """Whether the bush is concentric."""
        return abs(self.offset) < SAME_OFFSET

    def __str__(self) -> str:
        return f"{self.number:g} {self.unit}" + (f" ({self.mark})" if self.mark else "")


@dataclass(frozen=True)
class Bush:
    """One bush where it is fitted; a concentric one has clock 0."""

    size: Size
    clock_deg: float

    def __str__(self) -> str:
        return str(self.size) if self.size.centred else f"{self.size} @ {clock_text(self.clock_deg)}"


@dataclass(frozen=True)
class Kit:
    """The bushes on hand, smallest first."""

    sizes: tuple[Size, ...]
    counts: tuple[int | None, ...]
    """How many of each; None is enough."""
    clock_step_deg: float
    """The clock step they allow; 0 is any clock."""
    others: tuple[Size, ...] = ()
    """Sizes that settings name, as they call them."""

    @property
    def centred(self) -> Size:
        """A concentric bush: the box's, or one in the unit of its smallest."""
        listed = (size for size in self.sizes if size.centred)
        return next(listed, Size(0.0, 0.0, self.sizes[0].unit if self.sizes else "deg"))


def offset_mm(number: float, unit: str, span: float) -> float:
    """Offset of a bush's hole, mm: a size in deg is the tilt that it alone gives over the span (mm)."""
    return number if unit == "mm" else float(bush_offset(radians(number), span))


def size_in(table: Mapping[str, Any], span: float, prefix: str = "") -> Size:
    """The size that a file's table gives a bush; none is concentric. span (mm) is its yoke's."""
    unit = next((unit for unit, key in KEYS.items() if f"{prefix}{key}" in table), "deg")
    number = float(table.get(f"{prefix}{KEYS[unit]}", 0.0))
    return Size(offset_mm(number, unit, span), number, unit)


def holds(size: Size, span: float) -> bool:
    """Whether the word of a size means the same bush on a yoke of this span (mm)."""
    return bool(same_size(offset_mm(size.number, size.unit, span), size.offset))


def size_keys(size: Size, span: float, prefix: str = "") -> dict[str, float]:
    """A size as a file's key and number on a yoke of this span (mm), such that it reads back as the same."""
    if size.centred or holds(size, span):
        return {f"{prefix}{KEYS[size.unit]}": size.number}
    return {f"{prefix}{KEYS['mm']}": brief(size.offset, CLEAR * SAME_OFFSET)}


def bush_keys(bush: Bush, span: float, place: str) -> dict[str, float]:
    """A bush as the keys of a corner's table on a yoke of this span (mm); read back it is the same bush."""
    keys = size_keys(bush.size, span, f"{place}_")
    return keys if bush.size.centred else {**keys, f"{place}_clock_deg": brief_clock(bush.clock_deg)}


def in_deg(size: Size, span: float) -> float:
    """A size as a tilt over the left yoke's span (mm)."""
    return size.number if size.unit == "deg" else degrees(float(rated_size(size.offset, span)))


def called(kit: Kit, offset: float, own: Size | None = None) -> Size:
    """The size of a hole's offset (mm) in the box's word; else in a setting's, in its own, or in mm."""
    if abs(offset) < SAME_OFFSET:
        return kit.centred
    known = (size for size in (*kit.sizes, *kit.others) if same_size(size.offset, offset))
    return next(known, own or Size(offset, brief(offset, CLEAR * SAME_OFFSET), "mm"))


def stock(kit: Kit, size: Size) -> int | None:
    """How many bushes of this size the box holds; None is enough.

    A box that lists nothing says nothing, and a concentric bush that it does not list is taken to be on hand.
    """
    counts = [n for one, n in zip(kit.sizes, kit.counts, strict=True) if same_size(one.offset, size.offset)]
    if not counts and (size.centred or not kit.sizes):
        return None
    return None if None in counts else sum(n or 0 for n in counts)


def can_stand(kit: Kit, bush: Bush) -> bool:
    """Whether a bush can be fitted at its clock: where its screws say so, else on the step of the box."""
    step, clock_deg = kit.clock_step_deg, bush.clock_deg
    if bush.size.clocks_deg:
        return any(same_clock(radians(clock_deg), radians(own)) for own in bush.size.clocks_deg)
    return step == 0.0 or bool(same_clock(radians(clock_deg), radians(step * round(clock_deg / step))))


def pair(kit: Kit, row: Array) -> tuple[Bush, Bush]:
    """Top and bottom bush of a pair as the solver has it, (4,): offset (mm) and clock (rad) of each."""
    top, bottom = (Bush(called(kit, float(row[at])), clean_deg(row[at + 1]) % 360.0) for at in (0, 2))
    return top, bottom


def bushes(kit: Kit, setting: Setting) -> dict[tuple[str, str], Bush]:
    """Every bush of a setting by side and place."""
    pairs = {side: pair(kit, row_of(getattr(setting, side))) for side in SIDES}
    return {(side, place): bush for side in SIDES for place, bush in zip(PLACES, pairs[side], strict=True)}


def work(was: Bush, now: Bush) -> Work:
    """What is done where one bush was fitted and another is to be."""
    if not same_size(was.size.offset, now.size.offset):
        return "swap"
    stays = now.size.centred or same_clock(radians(was.clock_deg), radians(now.clock_deg))
    return "leave" if stays else "turn"


def clean_deg(angle: float | Array) -> float:
    """An angle of rad in deg, free of the noise of its way through rad."""
    return round(float(np.degrees(angle)), 9)


def clock_text(clock_deg: float) -> str:
    """A clock to read, to a tenth of a degree, in 0..360."""
    return f"{round(clock_deg, 1) % 360.0:g}"


def brief_clock(clock_deg: float) -> float:
    """A clock in 0..360 with as few decimals as read back to the same clock."""
    return brief(clock_deg, CLEAR * degrees(SAME_CLOCK)) % 360.0


def brief(value: float, within: float) -> float:
    """The number with the fewest decimals that is as near to the value as that."""
    rounded = (round(value, decimals) for decimals in range(16))
    return next((number for number in rounded if abs(number - value) <= within), value)


def kit_warnings(name: str, setting: Setting, kit: Kit) -> list[str]:
    """One line for each bush not in the box, each clock off its step, each size used more than is there.

    They are computed all the same. A concentric bush is taken to be on hand.
    """
    if not kit.sizes:
        return []
    fitted = {place: bush for place, bush in bushes(kit, setting).items() if not bush.size.centred}
    lines = [line for place, bush in fitted.items() for line in _amiss(kit, " ".join(place), bush)]
    for size, count in Counter(bush.size for bush in fitted.values()).items():
        there = stock(kit, size)
        if size in kit.sizes and there is not None and count > there:
            lines.append(f"takes {count} bushes of {size}, the kit has {there}")
    return [f"setting.{name}: {line}" for line in lines]


def _amiss(kit: Kit, where: str, bush: Bush) -> Iterator[str]:
    if bush.size not in kit.sizes:
        yield f"{where} bush of {bush.size} is not in the kit"
    if not can_stand(kit, bush):
        step = f"the kit's step of {kit.clock_step_deg:g} deg"
        if own := bush.size.clocks_deg:
            step = f"its own clocks, {', '.join(f'{clock:g}' for clock in own)} deg"
        yield f"{where} bush at clock {exact(brief_clock(bush.clock_deg))} deg is off {step}"
