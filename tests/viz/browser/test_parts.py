"""The page's own parts without a browser: choices, charts, packing, and what is sent when."""

from __future__ import annotations

from functools import lru_cache
from typing import Any

import numpy as np
import pytest

import scenarios
from kinematics.figures import wheel
from kinematics.lock import sweep
from scenarios import Scenario
from scenarios.schema.changes import AT_A_CORNER, CHANGES
from tests.helpers import scenario_edit
from viz.browser import memory as kept
from viz.browser import packing, replies
from viz.browser.chosen import choices
from viz.browser.chosen.choices import ChoiceError
from viz.browser.memory import Memory
from viz.scene import scene


@lru_cache
def scenario() -> Scenario:
    return scenarios.load()


def bush(**over: Any) -> dict[str, Any]:
    change = {
        "kind": "bush",
        "slot": "A",
        "sides": ["left", "right"],
        "seat": "top",
        "size_deg": 2,
        "clock_deg": 180,
    }
    return {**change, **over}


def kart(key: str, value: object) -> dict[str, Any]:
    return {"kind": "kart", "slot": "A", "key": key, "value": value}


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({}, "change: None is not one of"),
        (bush(slot="C"), "slot: 'C' is not one of A, B"),
        (bush(sides=[]), "give left, right or both"),
        (bush(sides=["front"]), "side: 'front'"),
        (bush(size_deg=float("nan")), "bush size: nan is not a number in deg"),
        (bush(size_deg="2"), "bush size: '2' is not a number"),
        (bush(size_deg=-1), "A, left top bush, size -1°: must be at least 0"),
        ({"kind": "setting", "slot": "A", "name": ["x"]}, "setting: "),
        ({"kind": "case", "name": "flying"}, "load case: 'flying' is not one of standing"),
        ({"kind": "twist", "times": 4}, "twist drawn: 4 is not one of 1, 3, 5, 10"),
        (kart("wings_mm", 3.0), "change of the kart: 'wings_mm' is not one of rear_axle_shift_mm, "),
        (kart("seat_up_mm", None), "seat_up_mm: None is not a number in mm"),
        (kart("rear_track_change_mm", 5000.0), "A, rear wheels further apart 5000 mm: must"),
        ({"kind": "ballast", "slot": "A", "mass_kg": 5.0, "at_mm": [1.0]}, "ballast: give its place"),
        (
            {"kind": "corner", "slot": "A", "sides": ["left"], "key": "note", "value": 1.0},
            "change of a corner",
        ),
    ],
)
def test_a_change_that_cannot_be_is_refused_in_one_line(change: dict[str, Any], message: str) -> None:
    with pytest.raises(ChoiceError) as refused:
        choices.changed(choices.start(scenario()), change)
    assert message in str(refused.value)
    assert "\n" not in str(refused.value)


def test_changes_make_new_choices_and_leave_the_old_alone() -> None:
    first = choices.start(scenario(), ["less-caster"])
    assert (first.a.title, first.b.title) == ("less-caster", "as-delivered")
    second = choices.changed(first, bush(sides=["right"], clock_deg=-90))
    assert not first.a.edited
    assert second.a.title == "less-caster, edited"
    assert second.a.table["right"]["top_clock_deg"] == 270.0
    assert second.a.table["left"] == first.a.table["left"]
    third = choices.changed(second, {"kind": "copy", "slot": "B"})
    assert third.b == second.a


def test_every_change_of_the_catalogue_is_made_shown_and_solved() -> None:
    first = choices.start(scenario(), ["as-delivered"])
    plain = replies.reply(first, Memory())["through"]["A"]
    for change in CHANGES:
        made = choices.changed(first, kart(change.key, 8.0))
        said = replies.reply(made, Memory())
        assert said["slots"]["A"]["kart"] == {**dict.fromkeys((c.key for c in CHANGES), 0.0), change.key: 8.0}
        assert said["slots"]["A"]["edited"]
        assert said["through"]["A"] != plain, change.key
        assert said["through"]["B"] == replies.reply(first, Memory())["through"]["B"]
    for change in AT_A_CORNER:
        wanted = {"kind": "corner", "slot": "A", "sides": ["right"], "key": change.key, "value": 6.0}
        made = choices.changed(first, wanted)
        assert made.a.table["right"][change.key] == 6.0
        assert made.a.table["left"] == first.a.table["left"]
        assert replies.reply(made, Memory())["through"]["A"] != plain


def test_ballast_is_put_on_in_one_piece_moved_and_taken_off() -> None:
    first = choices.start(scenario(), ["as-delivered"])
    assert replies.reply(first, Memory())["slots"]["A"]["ballast"]["mass_kg"] == 0.0
    ballast = {"kind": "ballast", "slot": "A", "mass_kg": 5.0, "at_mm": [600.0, -200.0, 150.0]}
    on = choices.changed(first, ballast)
    shown = replies.reply(on, Memory())
    assert shown["slots"]["A"]["ballast"] == {"mass_kg": 5.0, "at_mm": [600.0, -200.0, 150.0]}
    loads = [f"load_{wheel}_n" for wheel in ("front_left", "front_right", "rear_left", "rear_right")]
    before = replies.reply(first, Memory())["through"]["A"]
    gained = sum(shown["through"]["A"][name][30] - before[name][30] for name in loads)
    assert gained == pytest.approx(5.0 * 9.80665, abs=0.01)
    off = choices.changed(on, {**ballast, "mass_kg": 0.0})
    assert off.a.table["ballast"] == []


def test_kept_rods_tell_what_a_bush_did_to_toe_and_are_set_back() -> None:
    first, memory = choices.start(scenario(), ["as-delivered", "more-caster"]), Memory()
    slots = replies.reply(first, memory)["slots"]
    assert slots["A"]["toe_moved"] is None  # as measured
    assert slots["B"]["toe_moved"] is None  # its rods are re-set
    turned = choices.changed(first, bush(size_deg=2, clock_deg=90))
    shown = replies.reply(turned, memory)
    moved, toe = shown["slots"]["A"]["toe_moved"], shown["headline"]["A"][wheel.TOE.name("left")]
    assert f"toe has moved: {toe:.2f}".replace("-", "−") in moved["line"]
    assert (moved["was"], moved["left_deg"], moved["right_deg"]) == ("−0.10° each side", -0.1, -0.1)
    back = {"kind": "toe", "slot": "A", **{f"{side}_deg": moved[f"{side}_deg"] for side in ("left", "right")}}
    shown = replies.reply(choices.changed(turned, back), memory)
    assert shown["slots"]["A"]["toe_moved"] is None
    assert shown["headline"]["A"][wheel.TOE.name("left")] == pytest.approx(-0.1, abs=1e-6)


@pytest.mark.parametrize(
    ("size", "odd"), [(0, ""), (3, ""), (2.2, "not in the box"), (14, "larger than any in the box")]
)
def test_a_size_that_the_box_has_not_is_told_at_its_dial(size: float, odd: str) -> None:
    made = choices.changed(choices.start(scenario()), bush(size_deg=size))
    assert replies.reply(made, Memory())["slots"]["A"]["left"]["top"]["odd"] == odd


def test_a_kit_in_mm_is_fitted_and_turned_by_the_page_in_mm() -> None:
    kit = {"clock_step_deg": 15.0, "bush": [{"offset_mm": size, "count": 4} for size in (1.2, 2.3)]}
    made = scenario_edit.scenario({"kit": kit, "right.yoke.span_mm": 68.0})
    first = choices.start(made, ["as-delivered"])
    sizes = replies.page(made)["sizes_deg"]
    fitted = choices.changed(first, bush(size_deg=sizes[1], clock_deg=90))
    for side in ("left", "right"):
        table = fitted.a.table[side]
        assert (table["top_offset_mm"], table["top_clock_deg"]) == (2.3, 90.0)
        assert "top_rated_deg" not in table
    shown = replies.reply(fitted, Memory())
    assert not any("not in the box" in notice for notice in shown["notices"] if notice.startswith("A:"))
    dial = shown["slots"]["A"]["right"]["top"]
    assert dial == {"size_deg": sizes[1], "offset_mm": 2.3, "clock_deg": 90.0, "odd": ""}
    turned = choices.changed(fitted, bush(size_deg=dial["size_deg"], clock_deg=105))
    assert turned.a.table["right"]["top_offset_mm"] == 2.3
    typed = choices.changed(fitted, bush(size_deg=2.5)).a.table
    assert typed["left"]["top_rated_deg"] == 2.5
    assert typed["right"]["top_offset_mm"] == pytest.approx(66.0 * np.tan(np.radians(2.5)), abs=1e-6)


def test_matrices_are_sent_column_by_column() -> None:
    matrix = np.arange(16.0).reshape(1, 4, 4)
    assert np.frombuffer(packing.moves(matrix), "<f4").tolist() == matrix[0].T.ravel().tolist()


def test_packed_mesh_has_the_points_of_the_mesh() -> None:
    swept = sweep(scenario().kart, scenario().settings["as-delivered"], [0.0])
    mesh = scene.build(swept).body("wheel_left").mesh
    packed = packing.surface(mesh)
    points = np.frombuffer(packed["points"], "<f4").reshape(-1, 3)
    cells = np.frombuffer(packed["polys"], "<u4").reshape(-1, 4)
    assert (cells[:, 0] == 3).all()
    assert len(cells) == len(mesh.faces)
    assert points.min(axis=0) == pytest.approx(mesh.vertices.min(axis=0), abs=1e-3)
    assert points.max(axis=0) == pytest.approx(mesh.vertices.max(axis=0), abs=1e-3)


def test_a_mesh_is_sent_once_and_a_reloaded_page_gets_all_again() -> None:
    memory, chosen = Memory(), choices.start(scenario())
    first = replies.reply(chosen, memory)
    assert replies.reply(chosen, memory)["meshes"] == {}
    second = replies.reply(choices.changed(chosen, bush()), memory)["meshes"]
    assert 0 < len(second) <= 4  # bushes and kingpins, the lines of two axes; a tie rod keeps its length
    memory.forget()
    assert set(replies.reply(chosen, memory)["meshes"]) == set(first["meshes"])


def test_memory_stays_bounded(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(kept, "MOST_SENT", 40)
    memory, chosen = Memory(), choices.start(scenario())
    replies.reply(chosen, memory)
    answer = replies.reply(chosen, memory)
    assert answer["fresh"]
    wanted = {b["mesh"] for kart in answer["karts"].values() for b in (*kart["solid"], *kart["outline"])}
    assert wanted == set(answer["meshes"])
