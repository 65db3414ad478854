"""What a standing kart says, what it refuses, and a second setting laid over it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

import scenarios
from kinematics.lock import sweep
from kinematics.parts import GRAVITY, LoadCase
from kinematics.stance.equilibrium import RL, RR
from kinematics.standing.stand import inside_rear_load, stand
from tests.helpers.drawn.standing import LOCK, STOOD, solve
from viz.scene import scene
from viz.scene import standing as stance_scene
from viz.scene.attitude import WHEELS
from viz.scene.data import MARKS


@pytest.mark.parametrize(("name", "case"), STOOD)
def test_labels_tell_the_solvers_loads_in_newtons_and_kilograms(name, case):
    solved, standing = solve(name, case)
    data = scene.build(solved, stance=standing)
    by_name = {label.text: label for label in data.labels}
    for i, wheel in enumerate(WHEELS):
        for text, load in zip(by_name[wheel].texts, standing.loads[:, i], strict=True):
            assert text == f"{wheel}\n{load:.0f} N  {load / GRAVITY:.1f} kg"


def test_a_wheel_in_the_air_is_told_in_words_and_colour():
    solved, standing = solve(case=2)
    data = scene.build(solved, stance=standing)
    air = standing.clearance > 0.0
    assert air[:, RL].any()
    assert not air[:, :2].any()
    labels = [label for label in data.labels if label.role == "air"]
    told = {i: label.texts for label, i in zip(labels, (RL, RR), strict=True)}
    for i, texts in told.items():
        for text, off, gap in zip(texts, air[:, i], standing.clearance[:, i], strict=True):
            assert text == (f"IN THE AIR +{gap:.1f} mm" if off else "")
        assert np.array_equal(data.body(f"air_{WHEELS[i].replace(' ', '_')}").visible, air[:, i])
    red = {np.unique(b.mesh.roles).size for b in data.bodies if b.name.startswith("air_")}
    assert red == {1}
    assert "IN THE AIR" in data.captions[-1]


def test_captions_tell_case_inside_rear_and_twist():
    solved, standing = solve(case=3)
    data = scene.build(solved, "wet", stance=standing, case_name="fast corner")
    load = inside_rear_load(solved, standing)
    assert data.captions[4].startswith("wet   handwheel 0.0° (straight ahead)   load case fast corner: ")
    assert "1.40 g to the left" in data.captions[4]
    assert [("1.40 g into the turn" in text) for text in data.captions] == [n != 4 for n in range(9)]
    assert f"inside rear (left): {load[4]:.0f} N" in data.captions[4]
    assert f"frame twist {np.degrees(standing.twist[4]):+.2f}°".replace("-", "−") in data.captions[4]
    slide = stand(solved, LoadCase("", lateral_g=0.6, opposite_lock=True))
    sliding = scene.build(solved, stance=slide).captions
    assert "(left lock)" in sliding[8]
    assert (
        "0.60 g to the right, against the lock"
        in scene.build(solved, stance=slide, case_name="s").captions[8]
    )
    resting = scene.build(solved, stance=stand(solved, LoadCase("", longitudinal_g=-0.3)))
    assert "0.30 g braking" in resting.captions[0]


def test_the_factor_is_always_stated():
    solved, standing = solve()
    assert "x5" in scene.build(solved, stance=standing, exaggeration=5.0).stated
    assert "x2.5" in scene.build(solved, stance=standing, exaggeration=2.5).stated
    assert "to scale" in scene.build(solved, stance=standing).stated


def test_what_cannot_be_drawn_is_refused():
    solved, standing = solve()
    for times in (0.0, 0.5, 21.0, np.nan, np.inf):
        with pytest.raises(ValueError, match=r"exaggeration must lie in 1\.\.20"):
            scene.build(solved, stance=standing, exaggeration=times)
    with pytest.raises(ValueError, match="a stance of"):
        scene.build(solved, stance=solve(lock=LOCK[:3])[1])
    soft = replace(solved.kart, rear_tyre=replace(solved.kart.rear_tyre, stiffness=30.0))
    swept = sweep(soft, solved.setting, LOCK)
    with pytest.raises(ValueError, match="smaller exaggeration"):
        scene.build(swept, stance=stand(swept, LoadCase("", lateral_g=1.0)), exaggeration=20.0)


def test_a_second_setting_is_laid_over_the_first():
    book = scenarios.load()
    first, second = (
        scene.build(solved, name, stance=stand(solved, book.load_cases[2]))
        for name in ("less-caster", "more-caster")
        for solved in [sweep(book.kart, book.settings[name], LOCK)]
    )
    both = stance_scene.against(first, second)
    pale = [b for b in both.bodies if b.name.startswith("B ")]
    assert {b.role for b in pale} == {"second"}
    assert {b.name[2:] for b in pale} == {b.name for b in second.bodies if b.role not in (*MARKS, "road")}
    for body in pale:
        assert body.opacity < 0.5
        assert np.array_equal(body.matrices, second.body(body.name[2:]).matrices)
        assert np.array_equal(body.visible, second.body(body.name[2:]).visible)
    assert both.captions[-1] == f"{first.captions[-1]}\nB, see-through: more-caster   {second.notes[-1]}"


def test_a_second_setting_that_binds_is_told_so():
    book = scenarios.load()
    solved = sweep(book.kart, book.settings["less-caster"], LOCK)
    first = scene.build(solved, "a", stance=stand(solved, book.load_cases[0]))
    part = sweep(book.kart, book.settings["more-caster"], LOCK[2:])
    second = scene.build(part, "b", stance=stand(part, book.load_cases[0]))
    both = stance_scene.against(first, second)
    assert both.captions[0].endswith("B, see-through: b   a tie rod binds here")
    assert both.body("B frame").visible.tolist() == [False, False] + [True] * (len(LOCK) - 2)
