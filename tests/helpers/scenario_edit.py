"""A built-in scenario as nested tables, with single keys changed: material for the scenario tests."""

from __future__ import annotations

import copy
import re
import tomllib
from typing import Any

from scenarios import Scenario, ScenarioError, builtin_text, from_mapping
from scenarios.sure.stated import inputs

GONE = object()


def tables(name: str = "training-kart") -> dict[str, Any]:
    return tomllib.loads(builtin_text(name))


def stepped(deg: float) -> str:
    """The training kart's text with the clocks of its box in steps of deg."""
    text = builtin_text("training-kart")
    [own] = re.findall(r"^clock_step_deg = .*$", text, re.MULTILINE)
    return text.replace(own, f"clock_step_deg = {deg}")


def edited(base: dict[str, Any], changes: dict[str, Any]) -> dict[str, Any]:
    """A copy with keys like 'kart.wheelbase_mm' or 'load_case.0.name' set, or taken out by GONE."""
    result = copy.deepcopy(base)
    for path, value in changes.items():
        *parents, last = path.split(".")
        table: Any = result
        for part in parents:
            table = table[int(part)] if isinstance(table, list) else table.setdefault(part, {})
        if value is GONE:
            del table[last]
        else:
            table[int(last) if isinstance(table, list) else last] = copy.deepcopy(value)
    return result


def scenario(changes: dict[str, Any] | None = None, name: str = "training-kart") -> Scenario:
    return from_mapping(edited(tables(name), changes or {}), "test.toml")


def refusal(changes: dict[str, Any]) -> str:
    """The one line with which the changed training kart is refused."""
    try:
        scenario(changes)
    except ScenarioError as error:
        line = str(error)
        assert line.startswith("test.toml: ")
        assert "\n" not in line
        return line.removeprefix("test.toml: ")
    raise AssertionError(f"{changes} was not refused")


def all_exact() -> dict[str, Any]:
    """What to say of the training kart where every number is known exactly."""
    said: dict[str, Any] = {}
    for one in inputs(scenario().resolved):
        *tables_to, last = one.name.partition(" ")[0].split(".")
        table = said
        for part in tables_to:
            table = table.setdefault(part, {})
        table[last] = 0.0
    return said
