"""A candidate in words: its bushes, what is done to each, the parts it takes, and how it is typed or kept."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import tau
from re import fullmatch
from typing import Any

import numpy as np

from kinematics.choose.box import SAME_OFFSET, row_of, same_clock
from kinematics.corner.bush import rated_size
from kinematics.frames import Array
from kinematics.parts import CornerSetting, Setting
from scenarios import Scenario

SIDES = ("left", "right")
PLACES = ("top", "bottom")
SAME_DEG = 1e-6
Table = dict[str, Any]


@dataclass(frozen=True)
class Bush:
    """One bush where it is fitted: offset in mm, clock in deg, and its size as the kit calls it."""

    offset: float
    clock_deg: float
    size: str

    def __str__(self) -> str:
        return self.size if self.offset < SAME_OFFSET else f"{self.size} @ {clock_text(self.clock_deg)}"


def clean_deg(angle: float | Array) -> float:
    """An angle of rad in deg, free of the noise of its way through rad."""
    return round(float(np.degrees(angle)), 9)


def clock_text(clock_deg: float) -> str:
    """A clock to a tenth of a degree, in 0..360."""
    return f"{round(clock_deg, 1) % 360.0:g}"


def size_text(scenario: Scenario, offset: float) -> str:
    """A size as the kit calls it: rated on the left yoke's span, or in mm when the kit has no such size."""
    if offset < SAME_OFFSET:
        return "0 deg"
    rated = float(np.degrees(rated_size(offset, scenario.kart.left.yoke.span)))
    named = next((size for size in scenario.kit.sizes_deg if abs(size - rated) < SAME_DEG), None)
    return f"{offset:.4g} mm" if named is None else f"{named:g} deg"


def bushes(scenario: Scenario, setting: Setting) -> dict[tuple[str, str], Bush]:
    """Every bush of a setting by side and place."""
    found = {}
    for side in SIDES:
        row = row_of(getattr(setting, side))
        for place, (offset, clock) in zip(PLACES, (row[:2], row[2:]), strict=True):
            size = size_text(scenario, float(offset))
            found[side, place] = Bush(float(offset), clean_deg(clock), size)
    return found


def work_steps(scenario: Scenario, before: Setting, after: Setting) -> list[str]:
    """What is done, a step for each place, left and right together where they are the same."""
    was, now = bushes(scenario, before), bushes(scenario, after)
    steps = []
    for place in PLACES:
        each = {side: _step(was[side, place], now[side, place]) for side in SIDES}
        if each["left"] == each["right"]:
            steps += [_told(place, "left and right", each["left"])]
        else:
            steps += [_told(place, side, step) for side, step in each.items()]
    return [step for step in steps if step]


def _step(was: Bush, now: Bush) -> tuple[str, str]:
    if abs(was.offset - now.offset) > SAME_OFFSET:
        return "swap", f"{was} -> {now}"
    rows = [np.array([b.offset, b.clock_deg * tau / 360.0, 0.0, 0.0]) for b in (was, now)]
    if same_clock(rows[0], rows[1])[0]:
        return "", ""
    return "turn", f"{clock_text(was.clock_deg)} -> {clock_text(now.clock_deg)}"


def _told(place: str, where: str, step: tuple[str, str]) -> str:
    verb, change = step
    return f"{verb} {place} bush {where}: {change}" if verb else ""


def parts(scenario: Scenario, before: Setting, after: Setting) -> dict[str, int]:
    """How many bushes of each size must be taken from the box, those coming off the kart used again."""
    was, now = (Counter(b.size for b in bushes(scenario, s).values()) for s in (before, after))
    return dict(sorted((now - was).items()))


def parts_text(needed: Mapping[str, int]) -> str:
    """The parts in words."""
    return ", ".join(f"{count} x {size}" for size, count in needed.items()) or "none from the box"


def setting_table(scenario: Scenario, present: str, setting: Setting) -> Table:
    """A candidate as a resolved setting of a scenario file, every number exact."""
    base = scenario.resolved["setting"][present]
    kept = {key: value for key, value in base.items() if key not in (*SIDES, "note")}
    corners = {side: _corner_table(base[side], getattr(setting, side)) for side in SIDES}
    return {**kept, "note": f"chosen from the box, from {present}", **corners}


def _corner_table(base: Mapping[str, Any], corner: CornerSetting) -> Table:
    table = {key: base[key] for key in ("spacer_shift_mm", "hub_spacer_mm")}
    row = row_of(corner)
    for place, (offset, clock) in zip(PLACES, (row[:2], row[2:]), strict=True):
        table[f"{place}_offset_mm"] = float(offset)
        if offset >= SAME_OFFSET:
            table[f"{place}_clock_deg"] = clean_deg(clock)
    if corner.rod_toe is not None:
        table["tie_rod_toe_deg"] = clean_deg(corner.rod_toe)
    elif corner.rod_length is not None:
        table["tie_rod_length_mm"] = float(corner.rod_length)
    return table


def _sized(scenario: Scenario, side: str, bush: Bush) -> tuple[str, float]:
    """A bush's size as it is typed, 'rated_deg' or 'offset_mm': a rated size belongs to its yoke's span."""
    same_span = getattr(scenario.kart, side).yoke.span == scenario.kart.left.yoke.span
    if bush.size.endswith("deg") and (same_span or bush.offset < SAME_OFFSET):
        return "rated_deg", float(bush.size.removesuffix(" deg"))
    return "offset_mm", round(bush.offset, 4)


def typed_corner(scenario: Scenario, present: str, setting: Setting, side: str) -> str:
    """A corner of a candidate as it is typed after --left or --right, over the present setting."""
    found, words = bushes(scenario, setting), []
    for place in PLACES:
        bush = found[side, place]
        unit, size = _sized(scenario, side, bush)
        at = "" if bush.offset < SAME_OFFSET else f"@{round(bush.clock_deg, 2) % 360.0:g}"
        words.append(f"{place}={size:g}{'mm' if unit == 'offset_mm' else ''}{at}")
    toe = getattr(setting, side).rod_toe
    if toe is not None and "tie_rod_length_mm" in scenario.resolved["setting"][present][side]:
        words.append(f"toe={float(np.degrees(toe)):.4g}")
    return ",".join(words)


def snippet(scenario: Scenario, present: str, setting: Setting, name: str) -> list[str]:
    """Lines of TOML that keep a candidate in the scenario file, clocks to a hundredth of a degree."""
    table = setting_table(scenario, present, setting)
    key = name if fullmatch(r"[A-Za-z0-9_-]+", name) else json.dumps(name, ensure_ascii=False)
    lines = [f"[setting.{key}]", f"note = {json.dumps(table['note'], ensure_ascii=False)}"]
    if table.get("rear_axle_shift_mm"):
        lines.append(f"rear_axle_shift_mm = {table['rear_axle_shift_mm']!r}")
    for side in SIDES:
        lines += [f"[setting.{key}.{side}]", *_snippet_corner(scenario, setting, side, table[side])]
    return lines


def _snippet_corner(scenario: Scenario, setting: Setting, side: str, table: Table) -> Iterator[str]:
    found = bushes(scenario, setting)
    for place in PLACES:
        bush = found[side, place]
        unit, size = _sized(scenario, side, bush)
        yield f"{place}_{unit} = {size!r}"
        if bush.offset >= SAME_OFFSET:
            yield f"{place}_clock_deg = {round(bush.clock_deg, 2) % 360.0!r}"
    for key, value in table.items():
        if not key.startswith(PLACES) and (value or key.startswith("tie_rod")):
            yield f"{key} = {round(value, 6)!r}"
