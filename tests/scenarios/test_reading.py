"""Files are bounded before they are read, and whatever they hold is a scenario or one short line."""

from __future__ import annotations

import json
import os
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

import scenarios
from scenarios import Refusal, ScenarioError
from scenarios.documents import earlier
from scenarios.errors import LONGEST, complaint, shown
from scenarios.reading import LARGEST_JSON, LARGEST_TOML, parsed
from tests.helpers.scenario_edit import edited, tables

KEYS = ("kart", "setting", "kit.bush", "load_case", "yoke.centre_mm", "title", "kart.wheelbase_mm")


def _line(path: Path | str) -> str:
    with pytest.raises(Refusal) as caught:
        earlier.start(str(path))
    line = str(caught.value)
    assert "\n" not in line
    assert len(line) <= LONGEST
    return line


@pytest.mark.parametrize("suffix", [".toml", ".json"])
def test_what_has_no_end_is_not_read(tmp_path: Path, suffix: str) -> None:
    endless, pipe = tmp_path / f"zero{suffix}", tmp_path / f"pipe{suffix}"
    endless.symlink_to("/dev/zero")
    os.mkfifo(pipe)
    for path in (endless, pipe, Path("/dev/zero")):
        assert _line(path) == f"{path}: is a device or a pipe, and no file"
    assert _line(tmp_path) == f"{tmp_path}: cannot be read (Is a directory)"


@pytest.mark.parametrize(("suffix", "most"), [(".toml", LARGEST_TOML), (".json", LARGEST_JSON)])
def test_files_are_bounded_in_bytes(tmp_path: Path, suffix: str, most: int) -> None:
    path = tmp_path / f"large{suffix}"
    path.write_bytes(b"{" + b" " * most)
    assert _line(path) == f"{path}: larger than {most} bytes, more than is read of a file"
    path.write_bytes(b"{" + b" " * (most - 1))
    assert "broken" in _line(path)


@pytest.mark.parametrize("part", ["a", "a-1 ", "'a'", '"a b"', " a"])
@pytest.mark.parametrize("around", ["{} = 1", "[{}]", "x = {{ {} = 1 }}"])
def test_a_key_of_many_parts_is_refused_before_it_takes_minutes(part: str, around: str) -> None:
    with pytest.raises(ScenarioError, match="f: nested too deeply for a scenario file"):
        parsed(around.format(".".join([part] * 50_000)), "f")
    assert parsed(around.format(".".join([part] * 10)), "f")


def test_a_text_with_many_dots_is_no_key_of_many_parts() -> None:
    assert parsed(f"note = '{'...' * 60} {'and so on. ' * 40}{'1.5, ' * 40}'", "f")
    assert all(parsed(scenarios.builtin_text(name), name) for name in scenarios.builtin_names())


@pytest.mark.parametrize(("text", "as_json"), [("a = {}", False), ('{{"a": {}}}', True)])
def test_whole_numbers_of_thousands_of_digits(text: str, as_json: bool) -> None:
    with pytest.raises(ScenarioError, match="a whole number of thousands of digits"):
        parsed(text.format("1" * 4301), "f", as_json)


@pytest.mark.parametrize("inputs", [[1, 2], [], None, 7, "kart", {}])
def test_a_run_read_back_whose_inputs_are_no_table(tmp_path: Path, inputs: Any) -> None:
    path = tmp_path / "run.json"
    run = {"inputs": inputs, "scenario": {"name": "k"}, "settings": [{"name": "a", "cases": []}]}
    for at in (30.0, 1e300, 10**400, "far", None):
        path.write_text(json.dumps({**run, "figures_at_lock_deg": at}))
        assert _line(path).startswith(f"{path}: ")


@pytest.mark.parametrize(
    ("changes", "line"),
    [
        ({"rear_axle.friction_ratio": 5e-324}, "must be at least 0.05 and at most 5"),
        (
            {"thread_pitch_mm": 5e-324},
            "thread_pitch_mm = 4.94066e-324 mm: must be at least 0.1 and at most 5 mm",
        ),
        ({"rear_axle.longitudinal_stiffness_n_per_n": 1e308}, "= 1e+308 N/N: must be at least 0.5"),
        ({"kit.clock_step_deg": 5e-324}, "must be 0 for any clock, or at least 0.1 deg"),
        ({"kit.bush": [{"rated_deg": n * 1e-3} for n in range(10_000)]}, "at most 100 entries, not 10000"),
        ({"setting": {f"s{n}": {} for n in range(101)}}, "must have at most 100 entries, not 101"),
        ({"kart.wheelbase_mm": 10**5000}, "a whole number of over 900 digits mm: must be at least 500"),
        ({"title": "\ud800"}, "must be text that can be written"),
        ({"title": [[[[[[[[1]]]]]]]]}, "must be text in quotes"),
        ({"x" * 9000: 1, "default_setting": "y" * 9000}, "unknown key"),
    ],
)
def test_what_no_workshop_can_mean_is_refused_in_a_short_line(changes: dict[str, Any], line: str) -> None:
    with pytest.raises(ScenarioError) as caught:
        scenarios.from_mapping(edited(tables(), changes), "/" + "long-folder-name/" * 200 + "kart.toml")
    said = str(caught.value)
    assert line in said
    assert len(said) <= LONGEST


ANYTHING = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=20),
    lambda inner: st.lists(inner, max_size=5) | st.dictionaries(st.text(max_size=20), inner, max_size=5),
    max_leaves=12,
)


@given(st.sampled_from(KEYS), ANYTHING, st.text(max_size=400))
def test_anything_behind_a_key_is_a_scenario_or_one_short_line(key: str, value: Any, source: str) -> None:
    line = ""
    try:
        scenarios.from_mapping(edited(tables(), {key: value}), source)
    except ScenarioError as error:
        line = str(error)
    assert len(line) <= LONGEST


@given(ANYTHING, st.text(max_size=600), st.text(max_size=600))
def test_a_refusal_is_never_longer(value: Any, before: str, after: str) -> None:
    assert len(shown(value)) <= 120
    assert len(str(Refusal(before + complaint("key", value, after)))) <= LONGEST


def test_a_refusal_keeps_its_start_and_its_end() -> None:
    line = str(Refusal(f"{'folder/' * 100}kart.toml: key = 5 mm: {'it is so, ' * 60}at most 4 mm"))
    assert line.startswith("folder/folder/")
    assert "/kart.toml: key = 5 mm: it is so" in line
    assert line.endswith("at most 4 mm")


@pytest.mark.parametrize(
    ("text", "suffix", "said"),
    [
        (
            "a = 1\ncaster_deg = 12,5 # x\n",
            "toml",
            "line 2: caster_deg = 12,5 # x: a comma stands in a number",
        ),
        ("x = { a = -12,5 }", "toml", "line 1: x = { a = -12,5 }: a comma stands in a number"),
        ('{"a": 1,\n "b": 12,5}', "json", 'line 2: "b": 12,5}: a comma stands in a number'),
    ],
)
def test_a_decimal_comma_is_told_with_its_line_and_what_was_meant(text: str, suffix: str, said: str) -> None:
    sign = "-" if "-12" in text else ""
    with pytest.raises(ScenarioError) as refusal:
        parsed(text, "f", suffix == "json")
    assert str(refusal.value) == f"f: broken {suffix.upper()}: {said}; write a point: {sign}12.5"


@pytest.mark.parametrize("text", ["a = 12,", "a = [1,5", "a = 1,234,567", "a = 'x = 1,5'\nb =", "a = b,5"])
def test_what_is_broken_otherwise_is_told_as_it_was(text: str) -> None:
    with pytest.raises(ScenarioError) as refusal:
        parsed(text, "f")
    assert "comma stands" not in str(refusal.value)
