"""Each way in which a scenario can be unusable, and the one line that says so."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any
from urllib.parse import urlparse
from urllib.request import url2pathname

import pytest

import scenarios
from scenarios import ScenarioError, load
from scenarios.bundled import copied_text
from tests.helpers.scenario_edit import GONE, refusal, scenario

SCALES = [f"kart.scale_{w}_kg" for w in ("front_left", "front_right", "rear_left", "rear_right")]
NO_SCALES = dict.fromkeys(SCALES, GONE)
BOTH = "setting.as-delivered.both"

REFUSED: dict[str, tuple[dict[str, Any], str]] = {
    # keys
    "misspelt key": ({"kart.wheelbas_mm": 1}, "kart.wheelbas_mm: unknown key; did you mean 'wheelbase_mm'?"),
    "misspelt table": ({"yolk": {}}, "yolk: unknown key; did you mean 'yoke'?"),
    "misspelt override": (
        {"right.stub.camber": 1},
        "right.stub.camber: unknown key; did you mean 'camber_deg'?",
    ),
    "key of another table": (
        {"front.wheelbase_mm": 1},
        "front.wheelbase_mm: unknown key; it belongs in [kart]",
    ),
    "key one table too high": (
        {"setting.as-delivered.top_rated_deg": 1},
        "setting.as-delivered.top_rated_deg: unknown key; it belongs in [setting.NAME.both]",
    ),
    "key like nothing": ({"left.xyz": 1}, "left.xyz: unknown key; known here: yoke, stub, tie_rod"),
    "key with a line break": ({"a\nb": 1}, "'a\\nb': unknown key"),
    "key without end": ({"x" * 5000: 1}, "x" * 19 + "..." + "x" * 17 + ": unknown key; known here: title, "),
    "missing key": ({"yoke.span_mm": GONE}, "yoke.span_mm: missing, needed in mm"),
    "missing table": ({"column": GONE}, "column: missing"),
    "misspelt and therefore missing": (
        {"yoke.span_mm": GONE, "yoke.spam_mm": 60},
        "yoke.spam_mm: unknown key; did you mean 'span_mm'? (and 1 more)",
    ),
    # types
    "table for a number": ({"yoke": 5}, "yoke = 5: must be a table"),
    "number for a table": ({"title": 5}, "title = 5: must be text in quotes"),
    "a decimal comma in quotes": (
        {"yoke.span_mm": "66,5"},
        "yoke.span_mm = '66,5' mm: must be a number, at least 10 and at most 400 mm; write a point: 66.5",
    ),
    "text for a number": ({"yoke.span_mm": "66"}, "yoke.span_mm = '66' mm: must be a number, at least 10"),
    "no title": ({"title": ""}, "title = '': must have at least 1 character"),
    "title of two lines": ({"title": "a\nb"}, "title = 'a\\nb': must be one line of text"),
    "note without end": ({"setting.as-delivered.note": "x" * 601}, "setting.as-delivered.note = 'xxx"),
    "number for a point": ({"yoke.centre_mm": 5}, "yoke.centre_mm = 5 mm: must be a list in [ ]"),
    "two coordinates": ({"yoke.centre_mm": [1.0, 2.0]}, "yoke.centre_mm[3]: missing, needed in mm"),
    "four coordinates": (
        {"yoke.centre_mm": [1.0, 2.0, 3.0, 4.0]},
        "yoke.centre_mm = [1, 2, 3, 4] mm: must have at most 3",
    ),
    "no setting": (
        {"setting": {}, "default_setting": GONE},
        "setting = {}: must have at least 1 entry, not 0",
    ),
    "setting with an odd name": ({"setting.a/b": {}}, "setting.a/b: a name starts with a letter or digit"),
    "case with an odd name": (
        {"load_case.0.name": "/"},
        "load_case[1].name = '/': starts with a letter or digit",
    ),
    # loads and centre of gravity
    "three scales": ({SCALES[2]: GONE}, "kart.scale_rear_left_kg: missing; give scale_front_left_kg, "),
    "scales and mass": ({"kart.mass_kg": 150}, "kart: scale_front_left_kg and mass_kg are both given"),
    "neither scales nor mass": (NO_SCALES, "kart.mass_kg: missing; give scale_front_left_kg, "),
    "mass alone": ({**NO_SCALES, "kart.mass_kg": 150}, "kart.cog_x_mm: missing"),
    "cog ahead of the front axle": (
        {**NO_SCALES, "kart.mass_kg": 150, "kart.cog_x_mm": 1045, "kart.cog_y_mm": 0},
        "kart.cog_x_mm = 1045 mm: must lie between the axles, above 0 and below 1045 mm",
    ),
    "cog outside the wheels": (
        {**NO_SCALES, "kart.mass_kg": 150, "kart.cog_x_mm": 450, "kart.cog_y_mm": -500},
        "kart.cog_y_mm = -500 mm: must lie between the wheels, within 500 mm",
    ),
    # parts against each other
    "crown": (
        {"rear.crown_radius_mm": 90},
        "rear.crown_radius_mm = 90 mm: must be at least half the tread width, 95",
    ),
    "column beside the mid-plane": (
        {"column.foot_mm": [1010, 5, 38]},
        "column.foot_mm = [1010, 5, 38] mm: its y",
    ),
    "joint on the column": (
        {"column.inclination_deg": 90, "tie_rod.inner_joint_mm": [1010, 3, 82]},
        "tie_rod.inner_joint_mm = [1010, 3, 82] mm: must be off the column's axis by at least 5 mm, not 3 mm",
    ),
    "rod square to the spade": (
        {
            "column.inclination_deg": 90,
            "tie_rod.inner_joint_mm": [1010, 60, 125],
            "stub.arm_end_mm": [1000, 330, 125],
        },
        "tie_rod.inner_joint_mm = [1010, 60, 125] mm: the column turns it square to the tie rod",
    ),
    "arm in line with the rod": (
        {"stub.arm_end_mm": [1035, 310, 125], "tie_rod.inner_joint_mm": [970, 14, 82]},
        "stub.arm_end_mm = [1035, 310, 125] mm: the tie rod points at the steering axis",
    ),
    "arm end on the axis": (
        {"right.stub.arm_end_mm": [1045, 366, 130]},
        "right.stub.arm_end_mm = [1045, 366, 130] mm: must be off the steering axis by at least 5 mm",
    ),
    "short rod": (
        {"tie_rod.inner_joint_mm": [920, 310, 120]},
        "tie_rod.inner_joint_mm = [920, 310, 120] mm: makes a tie rod of 43.85 mm",
    ),
    "yoke outside the wheel": (
        {"yoke.centre_mm": [1045, 510, 130]},
        "yoke.centre_mm = [1045, 510, 130] mm: its y",
    ),
    "track inside the yokes": (
        {"front.track_mm": 700},
        "yoke.centre_mm = [1045, 367, 130] mm: its y must be above 0",
    ),
    "yoke on the wrong side": ({"right.yoke.centre_mm": [1045, -367, 130]}, "right.yoke.centre_mm = "),
    "yoke far from the axle": (
        {"kart.wheelbase_mm": 1400},
        "yoke.centre_mm = [1045, 367, 130] mm: its x must be",
    ),
    "yoke in the floor": (
        {"yoke.centre_mm": [1045, 367, 30]},
        "yoke.centre_mm = [1045, 367, 30] mm: its z must be",
    ),
    # kit and settings
    "bush of two sizes": (
        {"kit.bush.1.offset_mm": 1},
        "kit.bush[2]: give exactly one of rated_deg and offset_mm",
    ),
    "step that leaves a rest": (
        {"kit.clock_step_deg": 50.0},
        "kit.clock_step_deg = 50 deg: must divide a full turn of 360 deg into whole steps, or be 0",
    ),
    "bush of no size": ({"kit.bush.1.rated_deg": GONE}, "kit.bush[2]: give exactly one of"),
    "bush listed twice": (
        {"kit.bush.1.rated_deg": 3},
        "kit.bush[5].rated_deg = 3 deg: given twice; use count",
    ),
    "two sizes fitted": (
        {f"{BOTH}.top_offset_mm": 1},
        f"{BOTH}: top_rated_deg and top_offset_mm are both given",
    ),
    "no clock": ({f"{BOTH}.top_rated_deg": 1}, "setting.as-delivered.both.top_clock_deg: missing"),
    "no size": ({BOTH: {"top_clock_deg": 90}}, f"{BOTH}: top_clock_deg needs top_rated_deg or top_offset_mm"),
    "rod of length and toe": (
        {f"{BOTH}.tie_rod_toe_deg": 0, f"{BOTH}.tie_rod_length_mm": 340},
        f"{BOTH}: tie_rod_length_mm and tie_rod_toe_deg are both given",
    ),
    "offset too big for the span": (
        {BOTH: {"bottom_offset_mm": 16.5, "bottom_clock_deg": 0}},
        f"{BOTH}.bottom_offset_mm = 16.5 mm: the hole's offset 16.5 mm must be at least 0 and below a",
    ),
    "rated size too big for the span": (
        {"setting.as-delivered.right": {"top_rated_deg": 14.5, "top_clock_deg": 0}},
        "setting.as-delivered.right.top_rated_deg = 14.5 deg: the hole's offset 17.07 mm must be",
    ),
    "unknown default": (
        {"default_setting": "more-castor"},
        "default_setting = 'more-castor': no such setting; did you mean 'more-caster'?; there are",
    ),
    # sweep
    "tips over the front wheels": (
        {"load_case.4.longitudinal_g": -2.4},
        "load_case[5].longitudinal_g = -2.4 g: with",
    ),
    "tips over the rear wheels": (
        {"load_case.4.longitudinal_g": 1.8},
        "load_case[5].longitudinal_g = 1.8 g: with",
    ),
    "sweep beyond the stop": (
        {"sweep.handwheel_to_deg": 76},
        "sweep.handwheel_to_deg = 76 deg: must lie within the column's stop of ±75 deg",
    ),
    "sweep beyond the other stop": (
        {"sweep.handwheel_from_deg": -75.1},
        "sweep.handwheel_from_deg = -75.1 deg: must",
    ),
    "sweep backwards": ({"sweep.handwheel_from_deg": 60}, "sweep.handwheel_to_deg = 60 deg: must be above"),
}


@pytest.mark.parametrize("kind", REFUSED)
def test_refused_in_one_line(kind: str) -> None:
    changes, line = REFUSED[kind]
    assert refusal(changes).startswith(line)


def test_what_is_nearly_refused_is_taken() -> None:
    assert scenario({"sweep.handwheel_to_deg": 75.0}).handwheel_deg[1] == 75.0
    assert scenario({BOTH: {"bottom_offset_mm": 16.4, "bottom_clock_deg": 0}}).warnings != ()


def _line(path: Path | str) -> str:
    with pytest.raises(ScenarioError) as caught:
        load(path)
    assert "\n" not in str(caught.value)
    return str(caught.value)


def test_missing_file_suggests_a_builtin_name(tmp_path: Path) -> None:
    assert (
        _line("traning-kart")
        == "traning-kart: no such file or built-in scenario; did you mean 'training-kart'?"
    )
    assert _line("published-cart.toml").endswith("did you mean 'published-kart'?")
    missing = tmp_path / "none.toml"
    there = "training-kart, bent-right-stub, published-kart"
    assert _line(missing) == f"{missing}: no such file or built-in scenario; built in are {there}"


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"[kart\n", "broken TOML: Expected ']' at the end of a table declaration (at line 1, column 6)"),
        (b"title = 'x'\nkart = = 3\n", "broken TOML: Invalid value (at line 2, column 8)"),
        (b"title = '\xff'\n", "is not UTF-8 text (byte 9)"),
        (b"title = " + b"[" * 100_000, "nested too deeply for a scenario file"),
        (b"# " + b"x" * 1_000_000, "larger than 250000 bytes, more than is read of a file"),
        (b"", "title: missing (and 9 more)"),
    ],
    ids=["table", "value", "bytes", "nested", "huge", "empty"],
)
def test_broken_files(tmp_path: Path, content: bytes, says: str) -> None:
    path = tmp_path / "broken.toml"
    path.write_bytes(content)
    assert _line(path) == f"{path}: {says}"


def test_broken_json_and_a_folder(tmp_path: Path) -> None:
    path = tmp_path / "run.json"
    path.write_text("{")
    assert "broken JSON" in _line(path)
    assert "line 1 column 2" in _line(path)
    path.write_text('{"inputs": [1]}')
    assert _line(path) == f"{path}: must be a table of keys"
    assert _line(tmp_path) == f"{tmp_path}: cannot be read (Is a directory)"


def test_copying_a_builtin(tmp_path: Path) -> None:
    target = tmp_path / "mine.toml"
    assert scenarios.copy_builtin("training-kart", target) == target
    assert target.read_text(encoding="utf-8") == copied_text("training-kart")
    target.write_text("mine")
    with pytest.raises(ScenarioError, match="is there already and is not overwritten"):
        scenarios.copy_builtin("training-kart", target)
    assert target.read_text() == "mine"
    scenarios.copy_builtin("published-kart", target, overwrite=True)
    assert target.read_text(encoding="utf-8") == copied_text("published-kart")
    assert list(tmp_path.iterdir()) == [target]


def test_copying_where_it_cannot_be_written(tmp_path: Path) -> None:
    with pytest.raises(ScenarioError, match="cannot be written"):
        scenarios.copy_builtin("training-kart", tmp_path / "none" / "mine.toml")
    with pytest.raises(ScenarioError, match="is a folder; give a file name"):
        scenarios.copy_builtin("training-kart", tmp_path)
    with pytest.raises(ScenarioError, match="no such built-in scenario; did you mean 'training-kart'"):
        scenarios.copy_builtin("training-cart", tmp_path / "mine.toml")
    assert list(tmp_path.iterdir()) == []


def test_a_file_that_appears_meanwhile_is_not_overwritten(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    target = tmp_path / "mine.toml"
    target.write_text("mine")
    monkeypatch.setattr(Path, "exists", lambda _self: False)
    with pytest.raises(ScenarioError, match="is there already"):
        scenarios.copy_builtin("training-kart", target)
    assert target.read_text() == "mine"


def test_a_copy_tells_an_editor_of_the_schema_that_is_kept_up_to_date():
    """Written by: lockarc scenario schema --out scenarios/data/scenario.schema.json."""
    first = copied_text("training-kart").splitlines()[0]
    kept = Path(url2pathname(urlparse(first.removeprefix("#:schema ")).path))
    assert json.loads(kept.read_text(encoding="utf-8")) == scenarios.json_schema()
