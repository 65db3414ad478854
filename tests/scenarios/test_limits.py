"""Every number of a scenario file has limits: at the limit it is taken, past it one line refuses it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from math import inf, nan, nextafter
from typing import Any

import pytest

from scenarios import json_schema
from scenarios.errors import shown, unit_of
from scenarios.gauged.file import COLUMNS
from scenarios.ranges import RANGES
from scenarios.schema.kinds import Fault
from scenarios.schema.tables import FILE
from tests.helpers.cost import depth
from tests.helpers.scenario_edit import edited, refusal, scenario, tables

SCHEMA = json_schema()
BOTH_WAYS = {  # keys that stand in for others, laid bare so that only the limit is looked at
    "load_case.0": {"name": "case"},
    "kit.bush.0": {},
    "setting.as-delivered.both": {},
}


def _numbers(node: dict[str, Any], path: str) -> Iterator[tuple[str, dict[str, Any]]]:
    """Every number of the editors' schema with a path to one place where it may stand."""
    if "$ref" in node:
        node = SCHEMA["$defs"][node["$ref"].rpartition("/")[2]]
    for choice in node.get("anyOf", ()):
        yield from _numbers(choice, path)
    if node.get("type") in ("number", "integer"):
        yield path, node
    for key, child in node.get("properties", {}).items():
        yield from _numbers(child, f"{path}.{key}".lstrip("."))
    if isinstance(node.get("additionalProperties"), dict):
        yield from _numbers(node["additionalProperties"], f"{path}.as-delivered")
    elif "patternProperties" in node:
        yield from _numbers(next(iter(node["patternProperties"].values())), f"{path}.as-delivered")
    if entry := node.get("prefixItems", [node["items"]] if isinstance(node.get("items"), dict) else None):
        yield from _numbers(entry[0], f"{path}.0")


NUMBERS = list(_numbers(SCHEMA, ""))


def _changes(path: str, value: object) -> dict[str, Any]:
    parent = path.rpartition(".")[0]
    ballast = path.partition(".0.")[0] if ".ballast." in path else ""
    put = {ballast: [{"mass_kg": 1.0, "at_mm": [0.0, 0.0, 100.0]}]} if ballast else {}
    if parent.endswith(("mm", "clocks_deg")):  # one coordinate of a point, one thickness or clock of a list
        return {
            **put,
            parent: [value] if parent.endswith(("spacers_mm", "clocks_deg")) else [value, 0.0, 100.0],
        }
    if put:
        return {**put, path: value}
    return {**{p: t for p, t in BOTH_WAYS.items() if p == parent}, path: value}


def faults_of(mapping: dict[str, Any]) -> list[Fault]:
    faults: list[Fault] = []
    FILE.read(mapping, (), faults)
    return faults


def _key(path: str) -> str:
    """A path as messages write it: lists counted from one."""
    return "".join(f"[{int(p) + 1}]" if p.isdigit() else f".{p}" for p in path.split(".")).lstrip(".")


def test_every_number_was_found() -> None:
    assert len(NUMBERS) > 90
    assert {"kart.wheelbase_mm", "yoke.centre_mm.0", "kit.bush.0.rated_deg", "right.stub.camber_deg"} <= {
        path for path, _ in NUMBERS
    }


def test_every_range_is_that_of_a_number_and_says_why() -> None:
    spots = {re.sub(r"\.0|\.as-delivered", "", path) for path, _ in NUMBERS}
    in_readings = {f"reading.{key}" for key in COLUMNS}
    assert {place for place in RANGES if not place.startswith("--")} <= spots | in_readings
    assert [place for place, allowed in RANGES.items() if len(allowed.why) < 5] == []
    assert [place for place, allowed in RANGES.items() if not allowed.low < allowed.high] == []


@pytest.mark.parametrize(("path", "node"), NUMBERS, ids=[p for p, _ in NUMBERS])
def test_both_limits_are_there_and_hold(path: str, node: dict[str, Any]) -> None:
    low = node.get("minimum", node.get("exclusiveMinimum"))
    high = node.get("maximum", node.get("exclusiveMaximum"))
    assert low is not None
    assert high is not None
    whole = node["type"] == "integer"
    below = low if "exclusiveMinimum" in node else low - 1 if whole else nextafter(low, -inf)
    above = high if "exclusiveMaximum" in node else high + 1 if whole else nextafter(high, inf)
    for past, limit in ((below, low), (above, high)):
        line = refusal(_changes(path, past))
        assert line.startswith(f"{_key(path)} = ")
        assert shown(float(limit)) in line
        assert unit_of(_key(path)) in line
    for within in (low, high):
        if within not in (below, above):
            assert not faults_of(edited(tables(), _changes(path, int(within) if whole else within)))


NOT_FINITE: tuple[object, ...] = (nan, inf, -inf)
NO_NUMBER: tuple[object, ...] = ("12", True, [1.0], {"a": 1})


def _some(every: tuple[object, ...], path: str) -> tuple[object, ...]:
    """All of them in the long run; else one, another for the next number."""
    if depth.is_long():
        return every
    return (every[[p for p, _ in NUMBERS].index(path) % len(every)],)


@pytest.mark.deep
@pytest.mark.parametrize(("path", "node"), NUMBERS, ids=[p for p, _ in NUMBERS])
def test_nothing_but_a_finite_number_is_taken(path: str, node: dict[str, Any]) -> None:
    for bad in _some(NOT_FINITE, path):
        assert ("finite" in refusal(_changes(path, bad))) or node["type"] == "integer"
    for bad in _some(NO_NUMBER, path):
        line = refusal(_changes(path, bad))
        assert line.startswith(f"{_key(path)} = {shown(bad)}")
        assert "number" in line


def test_whole_numbers_are_taken_for_numbers_and_not_the_other_way() -> None:
    assert scenario({"kart.wheelbase_mm": 1045}).kart.wheelbase == 1045.0
    assert refusal({"sweep.positions": 61.0}).startswith(
        "sweep.positions = 61: must be a whole number, at least 2 and at most 20001"
    )
    assert refusal({"kart.wheelbase_mm": 10**400}).startswith("kart.wheelbase_mm = 1000")


def test_a_few_limits_written_by_hand() -> None:
    assert refusal({"kart.wheelbase_mm": 104.5}) == (
        "kart.wheelbase_mm = 104.5 mm: must be at least 500 and at most 2000 mm"
    )
    assert refusal({"frame.torsional_stiffness_nm_per_deg": -166}) == (
        "frame.torsional_stiffness_nm_per_deg = -166 N·m/deg: must be at least 5 and at most 1e+06 N·m/deg"
    )
    assert refusal({"load_case.1.lateral_g": 14}) == (
        "load_case[2].lateral_g = 14 g: must be at least 0 and at most 5 g"
    )
    assert refusal({"rear.stiffness_n_per_mm": nan}) == (
        "rear.stiffness_n_per_mm = nan N/mm: must be a finite number, at least 5 and at most 1e+06 N/mm"
    )
