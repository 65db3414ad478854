"""The standing kart as data: on the road where the solver has it, in one piece, its numbers the solver's."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

import scenarios
from kinematics.frames import dot, mirror
from kinematics.lock import rear_wheel_centres, sweep
from kinematics.parts import CornerSetting, LoadCase, Setting
from kinematics.standing.stand import stand, standing_corners
from tests.helpers.drawn.solids import cuts
from tests.helpers.drawn.standing import STOOD, above_road, axes, points, solve, solver_wheels
from viz.scene import scene
from viz.scene import standing as stance_scene
from viz.scene.attitude import TIPPED, WHEELS
from viz.scene.loads import MM_PER_N

STRETCHED = ("tyre", "air", "shaft", "head", "gap", "foot")
SAGITTA = 138.0 * (1.0 - np.cos(np.pi / 96)) + 0.1
"""How far a facet of a drawn tyre may hang above its round, mm."""


def carried(body, place):
    """One point (3,) or (N, 3) of a body's neutral axes, carried (N, 3)."""
    place = np.broadcast_to(place, (len(body.matrices), 3))
    return np.einsum("nij,nj->ni", body.matrices[:, :3, :3], place) + body.matrices[:, :3, 3]


def tyre_points(data, wheel):
    """Vertices of the tyre that is to be seen (N, V, 3): the usual one or its double in the air."""
    usual = points(data.body(f"tyre_{wheel}"))
    if f"air_{wheel}" not in {b.name for b in data.bodies}:
        return usual
    seen = data.body(f"tyre_{wheel}").visible
    return np.where(seen[:, None, None], usual, points(data.body(f"air_{wheel}")))


@pytest.fixture(scope="module", params=STOOD, ids=[f"{n}-{c}" for n, c in STOOD])
def true(request):
    solved, standing = solve(*request.param)
    return solved, standing, scene.build(solved, "x", stance=standing, case_name="case")


@pytest.fixture(scope="module", params=STOOD, ids=[f"{n}-{c}" for n, c in STOOD])
def large(request):
    solved, standing = solve(*request.param)
    return solved, standing, scene.build(solved, "x", stance=standing, case_name="case", exaggeration=5.0)


def test_at_factor_one_the_drawn_wheels_stand_where_the_solver_has_them(true):
    """Lowest vertex of each drawn tyre: in height the clearance, 0 on the road; its centre the solver's."""
    solved, standing, data = true
    for i, (centre, support, road) in enumerate(solver_wheels(solved, standing)):
        name = WHEELS[i].replace(" ", "_")
        lowest = tyre_points(data, name)[..., 2].min(axis=1)
        assert np.all(lowest >= standing.clearance[:, i] - 1e-6)
        assert np.all(lowest <= standing.clearance[:, i] + SAGITTA)
        foot = data.body(f"foot_{name}").matrices[:, :3, 3]
        on = standing.loads[:, i] > 0.0
        along = np.stack([dot(d, support - [0, 0, solved.kart.frame.axis_height]) for d in axes(road)], -1)
        assert np.allclose(foot[on, :2], along[on], atol=1e-9), "arrows stand at the solver's support points"
        hub = data.body(f"wheel_{name.split('_')[1]}" if i < 2 else "rear")
        neutral = (
            np.asarray((solved.kart.left, solved.kart.right)[i].stub.wheel_centre) if i < 2 else centre[0]
        )
        neutral = mirror(neutral) if i == 1 else neutral
        assert np.allclose(carried(hub, neutral)[:, 2], above_road(standing, road, centre), atol=1e-9)


def test_at_factor_one_only_tyres_rails_and_arrows_are_not_rigid(true):
    _, _, data = true
    for body in data.bodies:
        turn = body.matrices[:, :3, :3]
        if not body.name.startswith((*STRETCHED, "contact")):
            within = 0.03 if body.name.startswith("rail") else 1e-9  # a rail bends by the twist of the frame
            assert np.allclose(turn @ np.swapaxes(turn, -1, -2), np.eye(3), atol=within), body.name


@pytest.mark.parametrize("case", [0, 2, LoadCase("tips", lateral_g=4.0)])
def test_what_is_not_to_be_seen_says_so_and_is_never_shrunk(case):
    """On the road, in the air and tipping, with a load and without: every matrix has an inverse."""
    solved, standing = solve(case=case)
    first = scene.build(solved, stance=standing, exaggeration=5.0)
    both = stance_scene.against(first, scene.build(solved, stance=standing))
    for body in both.bodies:
        size = np.linalg.svd(body.matrices[:, :3, :3], compute_uv=False)
        stretched = body.role in ("load", "air")
        assert np.all(size[~body.visible] > 0.5), body.name
        assert stretched or np.all(size > 0.5), body.name
        assert np.all(size > 0.0), body.name
    told = {b.name: b.visible for b in first.bodies}
    for i, wheel in enumerate(WHEELS):
        name, air = wheel.replace(" ", "_"), (standing.clearance[:, i] > 0.0) & ~standing.tips
        assert np.array_equal(told[f"tyre_{name}"], ~air)
        assert np.array_equal(told.get(f"gap_{name}", np.zeros_like(air)), air)
        assert np.array_equal(told.get(f"air_{name}", np.zeros_like(air)), air)


def test_larger_heights_and_lift_grow_by_the_factor_and_wheels_stay_on_the_road(large):
    solved, standing, data = large
    rest = [solved.kart.left.stub.wheel_centre[2], solved.kart.right.stub.wheel_centre[2]]
    for i, (centre, _, road) in enumerate(solver_wheels(solved, standing)):
        name = WHEELS[i].replace(" ", "_")
        lowest = tyre_points(data, name)[..., 2].min(axis=1)
        lift = 5.0 * standing.clearance[:, i]
        assert np.all(lowest >= lift - 1e-6)
        assert np.all(lowest <= lift + 1.5 * SAGITTA)
        if i < 2:
            neutral = np.asarray((solved.kart.left, solved.kart.right)[i].stub.wheel_centre)
            drawn = carried(data.body(f"wheel_{name.split('_')[1]}"), mirror(neutral) if i else neutral)
            height = above_road(standing, road, centre)
            assert np.allclose(drawn[:, 2] - rest[i], 5.0 * (height - rest[i]))


def test_frame_twist_is_drawn_larger_by_the_factor(large):
    _, standing, data = large
    roll = {
        name: np.arctan2(b.matrices[:, 2, 1], b.matrices[:, 2, 2])
        for name, b in ((n, data.body(n)) for n in ("frame", "frame_seat", "frame_rear"))
    }
    assert np.allclose(roll["frame"] - roll["frame_rear"], 5.0 * standing.twist, atol=1e-6)
    assert np.allclose(roll["frame_seat"], 5.0 * standing.roll, atol=1e-6)


def test_camber_and_steer_to_the_road_are_drawn_to_scale(large):
    solved, standing, data = large
    from kinematics.corner.stub import spin_axis

    left, right = standing_corners(solved, standing)
    for side, corner, told, place in (
        ("left", solved.left, left, np.asarray),
        ("right", solved.right, right, mirror),
    ):
        spin = data.body(f"wheel_{side}").matrices[:, :3, :3] @ place(spin_axis(corner.corner.stub))
        assert np.allclose(-np.arcsin(spin[:, 2]), told.camber, atol=1e-9)
        sign = 1.0 if side == "left" else -1.0
        assert np.allclose(np.arctan2(-spin[:, 0] * sign, spin[:, 1] * sign), sign * told.steer, atol=1e-9)


def test_it_stays_in_one_piece(large):
    """Rails, arms and tie rods end where their neighbours are, however much is exaggerated."""
    solved, _, data = large
    from viz.scene.ladder import ladder
    from viz.scene.parts import holds

    held = holds(solved)
    height = float(rear_wheel_centres(solved.kart, solved.setting)[0][2])
    parts = ladder(solved.kart, tuple(tuple(p.tolist()) for p in held), height)
    for name, (_, start, end) in parts.pieces.items():
        back, ahead = ("frame_rear", "frame_seat") if "rear" in name else ("frame_seat", "frame")
        assert np.allclose(carried(data.body(name), start), carried(data.body(back), start))
        assert np.allclose(carried(data.body(name), end), carried(data.body(ahead), end))
    for side, corner, place in (("left", solved.left, np.asarray), ("right", solved.right, mirror)):
        _, start, end = parts.arms[side]
        assert np.allclose(carried(data.body(f"arm_{side}"), start), carried(data.body("frame"), start))
        assert np.allclose(carried(data.body(f"arm_{side}"), end), carried(data.body(f"yoke_{side}"), end))
        outer = np.asarray(corner.corner.stub.arm_end)
        along = np.asarray(corner.corner.inner_joint) - outer
        inner = outer + corner.linkage.rod_length * along / np.linalg.norm(along)
        rod, joint = data.body(f"rod_{side}"), place(np.asarray(corner.corner.inner_joint))
        assert np.allclose(
            carried(rod, place(outer)), carried(data.body(f"stub_{side}"), place(outer)), atol=1e-6
        )
        assert np.allclose(carried(rod, place(inner)), carried(data.body("column"), joint), atol=1e-6)


def test_arrows_are_as_long_as_the_loads(true):
    _, standing, data = true
    for i, wheel in enumerate(WHEELS):
        name = wheel.replace(" ", "_")
        head, load = data.body(f"head_{name}"), standing.loads[:, i]
        assert np.array_equal(head.visible, load > 0.0)
        tall = points(head)[head.visible][..., 2].max(axis=1)
        assert np.allclose(tall, MM_PER_N * load[head.visible], atol=0.01)


@pytest.mark.parametrize("case", [LoadCase("a", lateral_g=4.0), LoadCase("b", longitudinal_g=-5.0)])
@pytest.mark.parametrize("times", [1.0, 5.0])
def test_a_kart_that_tips_is_not_drawn_standing(case, times):
    solved, standing = solve(case=case)
    assert standing.tips.all()
    data = scene.build(solved, stance=standing, exaggeration=times)
    lean = np.degrees(np.arccos(data.body("frame_seat").matrices[:, 2, 2]))
    assert np.allclose(lean, np.degrees(TIPPED), atol=0.5), "leant over, not standing"
    lowest = np.min([tyre_points(data, w.replace(" ", "_"))[..., 2].min(axis=1) for w in WHEELS], axis=0)
    assert np.all(np.abs(lowest) < 1.5 * SAGITTA), "it leans on the road, not in it"
    assert all("TIPS OVER" in text and "camber" not in text for text in data.captions)
    assert not any(b.name.startswith(("shaft", "gap", "air")) for b in data.bodies), "no load is shown"
    told = {label.text: set(label.texts) for label in data.labels if label.texts}
    assert told == {**{w: {w} for w in WHEELS}, "TIPS OVER": {"TIPS OVER"}}
    for kind in ("contact", "axis_point", "axis"):
        assert not data.body(f"{kind}_left").visible.any(), "no contact to mark"


def test_a_kart_that_rests_on_two_wheels_is_drawn_so_and_shows_no_number():
    solved, standing = solve(case=LoadCase("a", lateral_g=2.15))
    two, fallen = standing.on_two_wheels, standing.tips & ~standing.on_two_wheels
    assert two.any()
    assert fallen.any()
    data = scene.build(solved, stance=standing)
    lean = np.degrees(np.arccos(data.body("frame_seat").matrices[:, 2, 2]))
    assert np.allclose(lean[fallen], np.degrees(TIPPED), atol=0.5)
    roll = np.hypot(standing.roll, standing.pitch)
    assert np.allclose(lean[two], np.degrees(roll[two]), atol=0.05)
    for i, wheel in enumerate(WHEELS):
        lowest = tyre_points(data, wheel.replace(" ", "_"))[..., 2].min(axis=1)[two]
        assert np.all(np.abs(lowest - standing.clearance[two, i]) < 1.5 * SAGITTA)
    for text, on_two in zip(data.captions, two, strict=True):
        assert ("ON 2 WHEELS" in text) is bool(on_two)
        assert ("TIPS OVER" in text) is not bool(on_two)
    told = {label.text: label.texts for label in data.labels}
    assert [bool(text) for text in told["ON 2 WHEELS"]] == two.tolist()
    assert [bool(text) for text in told["TIPS OVER"]] == fallen.tolist()
    assert set(told["front left"]) == {"front left"}, "no load is shown"


def test_a_tipping_kart_falls_to_the_outside():
    solved, standing = solve(case=LoadCase("a", lateral_g=4.0), lock=np.radians([20.0, 60.0]))
    data = scene.build(solved, stance=standing)
    high = {w: tyre_points(data, w)[..., 2].min() for w in ("rear_left", "rear_right")}
    assert high["rear_left"] > 100.0 > high["rear_right"], "a left turn throws it to the right"


@pytest.mark.slow
@pytest.mark.parametrize("times", [1.0, 5.0])
def test_no_part_cuts_through_another(times):
    solved, standing = solve(lock=np.radians([60.0]))
    data = scene.build(solved, stance=standing, exaggeration=times)
    shown = tuple(b for b in data.bodies if b.visible[0])
    assert cuts(replace(data, bodies=shown), 0, fixed) == []


def fixed(a, b):
    """Tubes welded to each other, and a tyre on its rim, into which its bead is pressed by a few mm."""
    kinds = {name.split("_")[0] for name in (a, b)}
    return kinds <= {"arm", "rail", "frame", "yoke"} or (
        bool(kinds & {"tyre", "air"}) and bool(kinds & {"wheel", "rear"})
    )


def test_positions_out_of_reach_are_left_out():
    short = Setting(CornerSetting(rod_length=300.0), CornerSetting())
    lock = np.radians(np.linspace(-75.0, 75.0, 31))
    book = scenarios.load()
    solved = next(
        s
        for length in np.arange(200.0, 420.0, 5.0)
        for s in [sweep(book.kart, replace(short, left=CornerSetting(rod_length=length)), lock)]
        if 0 < s.reach.sum() < len(lock)
    )
    standing = stand(solved, book.load_cases[0])
    data = scene.build(solved, stance=standing)
    assert data.count == solved.reach.sum() == len(data.captions)
    labels = {label.text: label.texts for label in data.labels}
    loads = standing.loads[solved.reach][:, 0]
    tips = standing.tips[solved.reach]
    for text, load, over in zip(labels["front left"], loads, tips, strict=True):
        assert over or f"{load:.0f} N" in text
