"""From the file's tables to one canonical mapping: defaults filled, overrides applied, both sides spelt out.

The canonical mapping is itself a scenario: the left corner stands in [yoke], [stub] and [tie_rod], the right
one complete in [right], every setting complete in its left and right.
"""

from __future__ import annotations

from typing import Any

from scenarios.errors import ScenarioError

Tables = dict[str, Any]
CORNER_TABLES = ("yoke", "stub", "tie_rod")
EITHER = (
    ("top_rated_deg", "top_offset_mm"),
    ("bottom_rated_deg", "bottom_offset_mm"),
    ("tie_rod_length_mm", "tie_rod_toe_deg"),
)
NOTHING_FITTED = {"spacer_shift_mm": 0.0, "hub_spacer_mm": 0.0}
STANDING = {"name": "standing", "lateral_g": 0.0, "longitudinal_g": 0.0}


def corner_tables(tables: Tables, side: str) -> Tables:
    """The three tables of one corner, its own keys laid over the common ones."""
    own = tables.get(side, {})
    return {name: {**tables[name], **own.get(name, {})} for name in CORNER_TABLES}


def fitted(setting: Tables, side: str, where: str) -> Tables:
    """What a setting fits at one corner: its side's keys laid over those for both.

    Of two ways to say the same thing the side's replaces the common one. A bush off centre without a
    clock, a clock without a bush, and both ways in one table are refused.
    """
    both, own = setting.get("both", {}), setting.get(side, {})
    for table, name in ((both, "both"), (own, side)):
        _refuse_both_ways(table, f"{where}.{name}")
    replaced = {key for pair in EITHER for key in pair if any(k in own for k in pair)}
    merged = {**NOTHING_FITTED, **{k: v for k, v in both.items() if k not in replaced}, **own}
    for bush in ("top", "bottom"):
        _refuse_without_clock(merged, bush, f"{where}.{side if own else 'both'}")
    return dict(sorted(merged.items()))


def _refuse_both_ways(table: Tables, where: str) -> None:
    for one, other in EITHER:
        if one in table and other in table:
            raise ScenarioError(f"{where}: {one} and {other} are both given: give one of them")


def _refuse_without_clock(table: Tables, bush: str, where: str) -> None:
    size = table.get(f"{bush}_rated_deg", table.get(f"{bush}_offset_mm"))
    clock = table.get(f"{bush}_clock_deg")
    if size and clock is None:
        raise ScenarioError(f"{where}.{bush}_clock_deg: missing; a bush off centre needs its clock")
    if size is None and clock is not None:
        raise ScenarioError(f"{where}: {bush}_clock_deg needs {bush}_rated_deg or {bush}_offset_mm beside it")


def resolved_setting(setting: Tables, where: str) -> Tables:
    """A setting with both corners complete and no common table."""
    kept = {key: value for key, value in setting.items() if key not in ("both", "left", "right")}
    return {**kept, **{side: fitted(setting, side, where) for side in ("left", "right")}}


def resolved_case(case: Tables) -> Tables:
    """A load case with its lateral g filled in when neither that nor a speed is given."""
    return case if "speed_km_h" in case or "lateral_g" in case else {**case, "lateral_g": 0.0}


def resolve(tables: Tables) -> Tables:
    """The canonical mapping of validated tables (defaults filled, keys without a value left out)."""
    settings = {name: resolved_setting(s, f"setting.{name}") for name, s in tables["setting"].items()}
    canonical = {k: v for k, v in tables.items() if k not in ("left", "right")}
    return {
        **canonical,
        **corner_tables(tables, "left"),
        "right": corner_tables(tables, "right"),
        "setting": settings,
        "default_setting": (
            tables.get("default_setting") or tables.get("fitted_when_measured") or next(iter(settings))
        ),
        "load_case": [resolved_case(case) for case in tables["load_case"]] or [dict(STANDING)],
    }
