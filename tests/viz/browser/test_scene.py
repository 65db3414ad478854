"""The standing kart as the page is told it: in bundles, in outline, with its words; no browser needed."""

from __future__ import annotations

import itertools
from dataclasses import replace
from functools import lru_cache
from typing import Any

import numpy as np
import pytest
from scipy.spatial import cKDTree

import scenarios
from kinematics.lock import Sweep, sweep
from kinematics.parts import LoadCase
from kinematics.stance.equilibrium import Stance
from kinematics.standing.stand import stand
from scenarios import Scenario
from viz.browser import bundling, packing, replies
from viz.browser.chosen import choices
from viz.browser.memory import Memory
from viz.scene import loads as stance_scene_words
from viz.scene import scene
from viz.scene import standing as stance_scene
from viz.scene.data import SceneData
from viz.scene.scene import OF_A_CORNER, OF_THE_WHOLE


@lru_cache
def scenario() -> Scenario:
    return scenarios.load()


def stood(name: str = "more-caster", case: str = "slow corner", times: float = 1.0) -> SceneData:
    """The standing kart of a setting with its inside rear wheel off the road somewhere through lock."""
    swept = sweep(scenario().kart, scenario().settings[name], np.radians(np.linspace(-60.0, 60.0, 9)))
    standing = stand(swept, next(c for c in scenario().load_cases if c.name == case))
    return scene.build(swept, name, stance=standing, case_name=case, exaggeration=times)


def corners(body: Any, at: int) -> Any:
    """Every vertex of a body at a lock position, the scene's axes, rounded and in order."""
    moved = body.mesh.vertices @ body.matrices[at, :3, :3].T + body.matrices[at, :3, 3]
    return sorted(map(tuple, np.round(moved, 2)))


@pytest.mark.parametrize("times", [1.0, 5.0])
def test_bundles_draw_the_same_kart_as_every_other_canvas(times: float) -> None:
    data = stood(times=times)
    bundles = bundling.solid(data)
    told = [body for body, _ in data.told_bodies()]
    assert len(bundles) < len(told)
    assert len({body.name for body in told}) == len(told)
    for at in (0, 4, 8):
        drawn = sorted(c for b in bundles for c in corners(b, at))
        meant = sorted(c for b in told for c in corners(b, at))
        assert np.abs(np.subtract(drawn, meant)).max() < 0.02
    assert len({b.name for b in bundles}) == len(bundles)


def test_what_tells_a_story_shows_from_its_own_views_alone_and_what_hides_it_does_not() -> None:
    seen = {bundle.name: bundle.seen for bundle in bundling.solid(stood())}
    assert seen["driver"].only == seen["shaft_front_left"].never == ("rock", "rock_right")
    assert seen["rocks_over"].only == ("rear", "rock", "rock_right")
    assert seen["column"] == seen["tyre_rear_left"] == bundling.EVERYWHERE
    kart = replies.reply(choices.start(scenario()), Memory())["karts"]["A"]
    assert {"overview", "rock", "rock_right"} <= set(kart["cameras"])
    scale = next(label for label in kart["labels"] if label["role"] == "scale")
    assert scale["views"]["never"] == (*OF_THE_WHOLE, *OF_A_CORNER)


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
    answer = replies.reply(choices.changed(chosen, {"kind": "twist", "times": 5}), Memory())
    assert answer["stated"] == stance_scene_words.stated(5)
    kart, rear = answer["karts"]["B"], answer["through"]["B"]["load_rear_left_n"]
    told = next(label for label in kart["labels"] if label["texts"][0].startswith("rear left"))
    assert [text.split("\n")[1].split(" N")[0] for text in told["texts"]] == [f"{n:.0f}" for n in rear]
    plain = [label for label in kart["labels"] if not label["views"]["only"]]
    air = [label["texts"] for label in plain if label["role"] == "air"]
    clear = answer["through"]["B"]["inside_rear_clearance_mm"]
    assert [any(texts) for texts in zip(*air, strict=True)] == [c > 0.0 for c in clear]
    assert [("IN THE AIR" in note) for note in kart["notes"]] == [c > 0.0 for c in clear]


def test_an_exaggeration_that_draws_a_tyre_flat_gives_way_and_is_said(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    chosen = choices.changed(choices.start(scenario()), {"kind": "twist", "times": 10})
    monkeypatch.setattr(stance_scene, "MOST", 7.0)
    answer = replies.reply(chosen, Memory())
    assert answer["twist"] == 5
    assert "Drawn ×10 a tyre would lie flat: drawn ×5 instead." in answer["notices"]
    monkeypatch.setattr(stance_scene, "MOST", 0.0)
    answer = replies.reply(chosen, Memory())
    assert answer["karts"]["A"]["solid"] == []
    assert set(answer["karts"]["A"]["at"]) == {-1}
    assert any(
        line.startswith("A: in this load case a tyre would be squeezed flat") for line in answer["notices"]
    )


@pytest.mark.slow
def test_an_outline_stays_near_the_edges_it_stands_for() -> None:
    for body in (b for b in stood().bodies if b.role in bundling.TELLING):
        sharp = packing.edges(body.mesh)
        packed = packing.outline(body.mesh)
        points = np.frombuffer(packed["points"], "<f4").reshape(-1, 3)
        drawn = np.concatenate([line_points(points[line]) for line in polylines(packed["lines"])])
        gaps, _ = cKDTree(drawn).query(sharp.points)
        assert gaps.max() < 2.0, body.name  # mm
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


def test_a_kart_that_falls_over_is_drawn_lying_and_said_to(monkeypatch: pytest.MonkeyPatch) -> None:
    def tipping(swept: Sweep, case: LoadCase) -> Stance:
        standing = stand(swept, case)
        return replace(standing, tips=np.arange(standing.tips.size) > 50)

    monkeypatch.setattr("kinematics.figures.standing.stand", tipping)
    answer = replies.reply(choices.start(scenario()), Memory())
    assert any("falls over" in line for line in answer["notices"])
    kart = answer["karts"]["A"]
    assert kart["at"][49:53] == [49, 50, 51, 52]
    assert kart["notes"][50] != kart["notes"][51] == stance_scene_words.TIPS
    assert kart["tips"][50:52] == [False, True]
    said = [[label["texts"][at] for label in kart["labels"]] for at in (50, 51)]
    assert ["TIPS OVER" in texts for texts in said] == [False, True]
    assert not any(" N" in text for text in said[1])
    assert answer["through"]["A"]["inside_rear_load_n"][51] is None


def test_a_rest_on_two_wheels_is_told_from_a_fall() -> None:
    book = scenario()
    chosen = choices.start(replace(book, load_cases=(LoadCase("hard", lateral_g=2.15),)))
    answer = replies.reply(chosen, Memory())
    kart = answer["karts"]["A"]
    assert set(kart["notes"]) == {stance_scene_words.TIPS, stance_scene_words.ON_TWO}
    assert any("falls over" in line for line in answer["notices"])
    assert any("rests on two wheels" in line for line in answer["notices"])
    assert all(load is None for load in answer["through"]["A"]["inside_rear_load_n"])


def test_a_setting_that_reaches_no_lock_is_told_without_a_kart() -> None:
    chosen = choices.start(scenario())
    table = {
        **chosen.a.table,
        **{side: {**chosen.a.table[side], "tie_rod_length_mm": 200.0} for side in choices.SIDES},
    }
    answer = replies.reply(replace(chosen, a=replace(chosen.a, table=table)), Memory())
    assert answer["karts"]["A"]["solid"] == []
    assert answer["karts"]["B"]["solid"] != []
    assert any("tie rods bind" in line for line in answer["notices"])
