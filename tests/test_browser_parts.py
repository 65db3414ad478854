"""The page's own parts without a browser: choices, charts, packing, and where bodies stand on the road."""

from __future__ import annotations

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
from viz import scene
from viz.browser import charts, choices, packing, placing, replies, solving
from viz.browser.choices import ChoiceError


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


def test_wheels_stand_on_the_road_where_the_stance_says() -> None:
    setting = scenario().settings["more-caster"]
    swept = sweep(scenario().kart, setting, np.radians(np.linspace(-60.0, 60.0, 9)))
    case = next(c for c in scenario().load_cases if c.name == "slow corner")
    standing = stance(swept, case)
    bodies, _ = placing.placed(scene.build(swept, whole=True), standing, 1)
    by_name = {body.name: body for body in bodies}
    stiffness = scenario().kart.front_tyre.stiffness, scenario().kart.rear_tyre.stiffness
    lifted = standing.clearance - standing.loads / np.repeat(
        stiffness, 2
    )  # a loaded tyre is drawn unflattened
    reference = np.array(scenario().kart.loads) / np.repeat(stiffness, 2)  # its radius is the loaded one
    for i, name in enumerate(("wheel_left", "wheel_right")):
        body = by_name[name]
        lowest = (body.matrices @ np.c_[body.mesh.vertices, np.ones(len(body.mesh.vertices))].T)[:, 2].min(
            axis=1
        )
        assert lowest == pytest.approx(lifted[:, i] + reference[i], abs=0.15)  # facets of the drawn tyre
    rear = by_name["rear"]
    for i, left in ((2, True), (3, False)):
        half = rear.mesh.vertices[(rear.mesh.vertices[:, 1] > 0.0) == left]
        lowest = (rear.matrices @ np.c_[half, np.ones(len(half))].T)[:, 2].min(axis=1)
        assert lowest == pytest.approx(lifted[:, i] + reference[i], abs=0.15)
    assert standing.clearance.max() > 1.0  # a wheel is off the road in this case, or the test says little


def test_frame_slices_join_up_and_twist_from_rear_to_front() -> None:
    swept = sweep(scenario().kart, scenario().settings["more-caster"], np.radians([0.0, 40.0]))
    standing = stance(swept, scenario().load_cases[0])
    data = scene.build(swept, whole=True)
    bodies, _ = placing.placed(data, standing, 1)
    slices = [body for body in bodies if body.name.startswith("frame_")]
    whole = data.body("frame").mesh
    assert len(slices) == placing.SLICES
    area = sum(_area(body.mesh.vertices, body.mesh.faces) for body in slices)
    assert area == pytest.approx(_area(whole.vertices, whole.faces), rel=1e-6)
    turned = [np.arctan2(body.matrices[1, 2, 1], body.matrices[1, 2, 2]) for body in slices]
    steps = np.diff(turned)
    assert np.sign(steps).tolist() == [np.sign(standing.twist[1])] * (placing.SLICES - 1) or steps[-1] == 0.0


def _area(vertices: Any, faces: Any) -> float:
    a, b, c = (vertices[faces[:, i]] for i in range(3))
    return float(0.5 * np.linalg.norm(np.cross(b - a, c - a), axis=-1).sum())


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
    lines = np.frombuffer(packing.outline(mesh)["lines"], "<u4").reshape(-1, 3)
    assert 0 < len(lines) < 1.5 * len(mesh.faces)


def test_a_mesh_is_sent_once_and_a_reloaded_page_gets_all_again() -> None:
    memory, chosen = replies.Memory(), choices.start(scenario())
    first = replies.reply(chosen, memory)
    assert replies.reply(chosen, memory)["meshes"] == {}
    second = replies.reply(choices.changed(chosen, bush()), memory)["meshes"]
    assert 0 < len(second) <= 6  # bushes and kingpin of two sides; a tie rod keeps its length
    memory.forget()
    assert set(replies.reply(chosen, memory)["meshes"]) == set(first["meshes"])


def test_memory_stays_bounded(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(replies, "MOST_SENT", 40)
    memory, chosen = replies.Memory(), choices.start(scenario())
    replies.reply(chosen, memory)
    answer = replies.reply(chosen, memory)
    assert answer["fresh"]
    wanted = {
        b[k] for kart in answer["karts"].values() for b in kart["bodies"] for k in ("mesh", "edges") if k in b
    }
    assert wanted == set(answer["meshes"])


def test_a_kart_that_falls_over_is_said_and_not_shown(monkeypatch: pytest.MonkeyPatch) -> None:
    def tipping(swept: Sweep, case: LoadCase) -> Stance:
        standing = stance(swept, case)
        return replace(standing, tips=np.arange(standing.tips.size) > 50)

    monkeypatch.setattr(solving, "stance", tipping)
    answer = replies.reply(choices.start(scenario()), replies.Memory())
    assert any("falls over" in line for line in answer["notices"])
    assert answer["karts"]["A"]["at"][49:53] == [49, 50, -1, -1]
    assert answer["through"]["A"]["inside_rear_load_n"][51] is None
