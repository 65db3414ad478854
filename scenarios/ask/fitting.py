"""From one setting to another: what is done to each bush, the parts it takes, how it is typed or kept."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from re import fullmatch
from typing import Any

from kinematics.choose.box import row_of
from kinematics.corner.bush import SAME_OFFSET
from kinematics.parts import CornerSetting, Setting
from scenarios import Scenario
from scenarios.ask.typed import table_text
from scenarios.kit import PLACES, SIDES, Bush, brief, bush_keys, bushes, clean_deg, clock_text, work
from scenarios.quoting import toml_string
from scenarios.schema.changes import AT_A_CORNER, CHANGES

TOE_WITHIN_DEG = 1e-6
MOVED = tuple(change.key for change in AT_A_CORNER)
"""Of a corner, what a candidate keeps as it is."""
Table = dict[str, Any]


def work_steps(scenario: Scenario, before: Setting, after: Setting) -> list[str]:
    """What is done, a step for each place, left and right together where they are the same."""
    was, now = bushes(scenario.kit, before), bushes(scenario.kit, after)
    steps = []
    for place in PLACES:
        each = {side: _step(was[side, place], now[side, place], place) for side in SIDES}
        if each["left"] == each["right"]:
            steps += [each["left"].format("left and right")]
        else:
            steps += [step.format(side) for side, step in each.items()]
    return [step for step in steps if step]


def _step(was: Bush, now: Bush, place: str) -> str:
    """What is done to one bush, with a gap for where; '' when it is left alone."""
    doing = work(was, now)
    ends = (was, now) if doing == "swap" else (clock_text(was.clock_deg), clock_text(now.clock_deg))
    return "" if doing == "leave" else f"{doing} {place} bush {{}}: {ends[0]} -> {ends[1]}"


def counted(fitted: Iterable[Bush]) -> Counter[str]:
    """How many bushes of each size, by its word."""
    return Counter(str(bush.size) for bush in fitted)


def parts(scenario: Scenario, before: Setting, after: Setting) -> dict[str, int]:
    """How many bushes of each size must be taken from the box, those coming off the kart used again."""
    was, now = (counted(bushes(scenario.kit, setting).values()) for setting in (before, after))
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
    table = {key: base[key] for key in MOVED if key in base}
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


def fitted_table(scenario: Scenario, setting: Setting, side: str) -> Table:
    """The bushes of a corner as keys of its table, in their owner's words; read back they are the same."""
    found, span = bushes(scenario.kit, setting), getattr(scenario.kart, side).yoke.span
    keys = [bush_keys(found[side, place], span, place) for place in PLACES]
    return {**keys[0], **keys[1]}


def typed_corner(
    scenario: Scenario, present: str, setting: Setting, side: str, with_toe: bool = False
) -> str:
    """A corner of a setting as it is typed after --left or --right, over the present setting.

    A toe to which the rod is re-set is typed where asked for, or where it replaces the length of a rod.
    """
    table, toe = fitted_table(scenario, setting, side), getattr(setting, side).rod_toe
    base = scenario.resolved["setting"][present][side]
    if toe is not None and (with_toe or "tie_rod_length_mm" in base):
        table["tie_rod_toe_deg"] = brief(clean_deg(toe), TOE_WITHIN_DEG)
    return table_text(table)


def typed_corners(scenario: Scenario, present: str, setting: Setting) -> dict[str, str]:
    """Both corners of a setting as they are typed over the present one, by option."""
    return alike({side: typed_corner(scenario, present, setting, side) for side in SIDES})


def alike(corners: Mapping[str, str]) -> dict[str, str]:
    """Corners as typed, by option: once after --both where left and right are the same; none is left out."""
    left, right = (corners[side] for side in SIDES)
    return {side: text for side, text in ({"both": left} if left == right else corners).items() if text}


def snippet(scenario: Scenario, present: str, setting: Setting, name: str) -> list[str]:
    """Lines of TOML that keep a candidate in the scenario file, its bushes in their owner's words."""
    table = setting_table(scenario, present, setting)
    key = name if fullmatch(r"[A-Za-z0-9_-]+", name) else toml_string(name)
    lines = [f"[setting.{key}]", f"note = {toml_string(table['note'])}"]
    lines += [f"{change.key} = {table[change.key]!r}" for change in CHANGES if table.get(change.key)]
    for one in table.get("ballast", []):
        lines += [f"[[setting.{key}.ballast]]", f"mass_kg = {one['mass_kg']!r}", f"at_mm = {one['at_mm']!r}"]
    for side in SIDES:
        fitted = fitted_table(scenario, setting, side)
        lines += [f"[setting.{key}.{side}]", *_snippet_lines(fitted, table[side])]
    return lines


def _snippet_lines(fitted: Table, table: Table) -> Iterator[str]:
    for key, value in fitted.items():
        yield f"{key} = {value!r}"
    for key, value in table.items():
        if not key.startswith(PLACES) and (value or key.startswith("tie_rod")):
            yield f"{key} = {round(value, 6)!r}"
