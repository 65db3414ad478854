"""The page's own parts without a browser: choices, charts, packing, and the scene as the page is told it."""

from __future__ import annotations

import itertools
import re
from dataclasses import replace
from functools import lru_cache
from typing import Any

import numpy as np
import pytest

import scenarios
from kinematics.equilibrium import Stance
from kinematics.parts import LoadCase
from kinematics.stance import stance
from kinematics.sweep import Sweep, sweep
from scenarios import Scenario
from viz import scene, stance_scene, stance_scene_words
from viz.browser import bundling, charts, choices, packing, replies, solving
from viz.browser.choices import ChoiceError
from viz.scene_data import SceneData


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


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({}, "change: None is not one of"),
        (bush(slot="C"), "slot: 'C' is not one of A, B"),
        (bush(sides=[]), "give left, right or both"),
        (bush(sides=["front"]), "side: 'front'"),
        (bush(size_deg=float("nan")), "bush size: nan is not a number in deg"),
        (bush(size_deg="2"), "bush size: '2' is not a number"),
        (bush(size_deg=-1), "top_rated_deg = -1 deg: must be at least 0"),
        ({"kind": "setting", "slot": "A", "name": ["x"]}, "setting: "),
        ({"kind": "case", "name": "flying"}, "load case: 'flying' is not one of standing"),
        ({"kind": "twist", "times": 3}, "twist drawn: 3 is not one of 1, 5, 10"),
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


def test_ticks_are_round_and_hold_the_range() -> None:
    assert charts.ticks(-3.4, 5.9) == [-4.0, -2.0, 0.0, 2.0, 4.0, 6.0]
    assert charts.ticks(0.0, 0.0)[0] <= 0.0 < charts.ticks(0.0, 0.0)[-1]
    assert charts.ticks(198.0, 203.0) == [198.0, 199.0, 200.0, 201.0, 202.0, 203.0]


def test_names_of_curves_do_not_cover_each_other() -> None:
    heights = [charts.BOTTOM, charts.BOTTOM, 100.0, 101.0, charts.TOP]
    placed = sorted(charts.spread(heights))
    assert min(np.diff(placed)) >= charts.LINE_HEIGHT - 1e-9
    assert placed[0] >= charts.TOP
    assert placed[-1] <= charts.BOTTOM


def test_a_curve_breaks_where_there_is_no_value() -> None:
    chart = charts.CHARTS[2]
    table = {"inside_rear_load_n": [1.0, None, 3.0, 2.0]}
    drawn = charts.draw(chart, [-1.0, 0.0, 1.0, 2.0], {"A": table, "B": table})
    paths = re.findall(r'<path d="([^"]+)"[^>]*class="curve plain (a|b)"', drawn)
    assert [(p.count("M"), slot) for p, slot in paths] == [(2, "a"), (2, "b")]


def stood(name: str = "more-caster", case: str = "slow corner", times: float = 1.0) -> SceneData:
    """The standing kart of a setting with its inside rear wheel off the road somewhere through lock."""
    swept = sweep(scenario().kart, scenario().settings[name], np.radians(np.linspace(-60.0, 60.0, 9)))
    standing = stance(swept, next(c for c in scenario().load_cases if c.name == case))
    return scene.build(swept, name, stance=standing, case_name=case, exaggeration=times)


def corners(body: Any, at: int) -> Any:
    """Every vertex of a body at a lock position, the scene's axes, rounded and in order."""
    moved = body.mesh.vertices @ body.matrices[at, :3, :3].T + body.matrices[at, :3, 3]
    return sorted(map(tuple, np.round(moved, 2)))


@pytest.mark.parametrize("times", [1.0, 5.0])
def test_bundles_draw_the_same_kart_as_every_other_canvas(times: float) -> None:
    data = stood(times=times)
    bundles = bundling.solid(data)
    assert len(bundles) < len(data.bodies)
    for at in (0, 4, 8):
        drawn = sorted(c for b in bundles for c in corners(b, at))
        meant = sorted(c for b in data.bodies for c in corners(b, at))
        assert np.abs(np.subtract(drawn, meant)).max() < 0.02
    assert len({b.name for b in bundles}) == len(bundles)


def test_a_bush_change_leaves_what_the_kart_alone_shapes_as_it_was() -> None:
    one, other = (bundling.solid(stood(name)) for name in ("as-delivered", "more-caster"))
    changed = {
        b.name for b, c in zip(one, other, strict=True) if packing.digest(b.mesh) != packing.digest(c.mesh)
    }
    assert "bushes_left" in changed
    assert all(name.startswith(("bushes", "axis", "rod", "foot")) for name in changed)


def test_a_wheel_in_the_air_is_drawn_in_place_of_the_usual_one() -> None:
    data = stood()
    solid = {b.name: b for b in bundling.solid(data)}
    over = {b.name: b for b in bundling.telling(data)}
    usual, aloft, post = (solid[f"{kind}_rear_left"] for kind in ("tyre", "air", "gap"))
    assert 0 < aloft.visible.sum() < len(aloft.visible), "the test needs a wheel that leaves the road"
    assert (usual.visible ^ aloft.visible).all()
    assert (post.visible == aloft.visible).all()
    assert over["tyre_rear_left"].visible.all()
    for at in range(data.count):
        shown = aloft if aloft.visible[at] else usual
        assert corners(over["tyre_rear_left"], at) == corners(shown, at)
    assert not any(name.startswith(("air", "road", "frame", "foot")) for name in over)


def test_the_page_is_told_loads_notes_and_exaggeration_at_every_lock_position() -> None:
    chosen = choices.changed(choices.start(scenario()), {"kind": "case", "name": "slow corner"})
    answer = replies.reply(choices.changed(chosen, {"kind": "twist", "times": 5}), replies.Memory())
    assert answer["stated"] == stance_scene_words.stated(5)
    kart, rear = answer["karts"]["B"], answer["through"]["B"]["load_rear_left_n"]
    told = next(label for label in kart["labels"] if label["texts"][0].startswith("rear left"))
    assert [text.split("\n")[1].split(" N")[0] for text in told["texts"]] == [f"{n:.0f}" for n in rear]
    air = [label["texts"] for label in kart["labels"] if label["role"] == "air"]
    clear = answer["through"]["B"]["inside_rear_clearance_mm"]
    assert [any(texts) for texts in zip(*air, strict=True)] == [c > 0.0 for c in clear]
    assert [("IN THE AIR" in note) for note in kart["notes"]] == [c > 0.0 for c in clear]


def test_an_exaggeration_that_draws_a_tyre_flat_gives_way_and_is_said(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    chosen = choices.changed(choices.start(scenario()), {"kind": "twist", "times": 10})
    monkeypatch.setattr(stance_scene, "MOST", 7.0)
    answer = replies.reply(chosen, replies.Memory())
    assert answer["twist"] == 5
    assert "Drawn ×10 a tyre would lie flat: drawn ×5 instead." in answer["notices"]
    monkeypatch.setattr(stance_scene, "MOST", 0.0)
    answer = replies.reply(chosen, replies.Memory())
    assert answer["karts"]["A"]["solid"] == []
    assert set(answer["karts"]["A"]["at"]) == {-1}
    assert any(
        line.startswith("A: in this load case a tyre would be squeezed flat") for line in answer["notices"]
    )


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


def test_an_outline_stays_near_the_edges_it_stands_for() -> None:
    for body in (b for b in stood().bodies if bundling.TELLING.match(b.name)):
        sharp = packing.edges(body.mesh)
        packed = packing.outline(body.mesh)
        points = np.frombuffer(packed["points"], "<f4").reshape(-1, 3)
        drawn = np.concatenate([line_points(points[line]) for line in polylines(packed["lines"])])
        gaps = [np.linalg.norm(drawn - point, axis=1).min() for point in sharp.points]
        assert max(gaps) < 2.0, body.name  # mm
        assert len(points) < len(sharp.points) or body.name.startswith("axis")


def polylines(packed: bytes) -> list[Any]:
    """Indices of the points of each line."""
    numbers, made = np.frombuffer(packed, "<u4"), []
    while len(numbers):
        made.append(numbers[1 : 1 + numbers[0]])
        numbers = numbers[1 + numbers[0] :]
    return made


def line_points(corners: Any) -> Any:
    """Twenty points along each leg of a line."""
    share = np.linspace(0.0, 1.0, 20)[:, None]
    return np.concatenate([a + share * (b - a) for a, b in itertools.pairwise(corners)])


def test_a_mesh_is_sent_once_and_a_reloaded_page_gets_all_again() -> None:
    memory, chosen = replies.Memory(), choices.start(scenario())
    first = replies.reply(chosen, memory)
    assert replies.reply(chosen, memory)["meshes"] == {}
    second = replies.reply(choices.changed(chosen, bush()), memory)["meshes"]
    assert 0 < len(second) <= 4  # bushes and kingpins, the lines of two axes; a tie rod keeps its length
    memory.forget()
    assert set(replies.reply(chosen, memory)["meshes"]) == set(first["meshes"])


def test_memory_stays_bounded(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(replies, "MOST_SENT", 40)
    memory, chosen = replies.Memory(), choices.start(scenario())
    replies.reply(chosen, memory)
    answer = replies.reply(chosen, memory)
    assert answer["fresh"]
    wanted = {b["mesh"] for kart in answer["karts"].values() for b in (*kart["solid"], *kart["outline"])}
    assert wanted == set(answer["meshes"])


def test_a_kart_that_falls_over_is_drawn_lying_and_said_to(monkeypatch: pytest.MonkeyPatch) -> None:
    def tipping(swept: Sweep, case: LoadCase) -> Stance:
        standing = stance(swept, case)
        return replace(standing, tips=np.arange(standing.tips.size) > 50)

    monkeypatch.setattr(solving, "stance", tipping)
    answer = replies.reply(choices.start(scenario()), replies.Memory())
    assert any("falls over" in line for line in answer["notices"])
    kart = answer["karts"]["A"]
    assert kart["at"][49:53] == [49, 50, 51, 52]
    assert kart["notes"][50] != kart["notes"][51] == stance_scene_words.TIPS
    assert kart["tips"][50:52] == [False, True]
    said = [[label["texts"][at] for label in kart["labels"]] for at in (50, 51)]
    assert ["TIPS OVER" in texts for texts in said] == [False, True]
    assert not any(" N" in text for text in said[1])
    assert answer["through"]["A"]["inside_rear_load_n"][51] is None


def test_a_setting_that_reaches_no_lock_is_told_without_a_kart() -> None:
    chosen = choices.start(scenario())
    table = {
        **chosen.a.table,
        **{side: {**chosen.a.table[side], "tie_rod_length_mm": 200.0} for side in choices.SIDES},
    }
    answer = replies.reply(replace(chosen, a=replace(chosen.a, table=table)), replies.Memory())
    assert answer["karts"]["A"]["solid"] == []
    assert answer["karts"]["B"]["solid"] != []
    assert any("tie rods bind" in line for line in answer["notices"])
