"""The scene as data: rigid matrices, solver points on the bodies, nothing cut through."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

import scenarios
from kinematics.figures.wheel import CAMBER, STEER
from kinematics.frames import mirror
from kinematics.lock import sweep
from kinematics.parts import Column, Corner, CornerSetting, Setting, Stub, Yoke
from tests.helpers.colour import contrast
from tests.helpers.drawn.solids import cuts, moved
from viz.look.palette import THEMES
from viz.look.rule import label_colours
from viz.scene import scene
from viz.words.numbers import told

LOCK = np.radians(np.linspace(-60.0, 60.0, 13))
NAMES = ("training-kart", "bent-right-stub", "published-kart")


def swept(name="training-kart", setting=None, lock=LOCK, kart=None):
    book = scenarios.load(name)
    return sweep(kart or book.kart, setting or book.settings[list(book.settings)[-1]], lock)


@pytest.fixture(params=NAMES)
def case(request):
    solved = swept(request.param)
    return solved, scene.build(solved, "test", whole=True)


def test_every_matrix_is_rigid(case):
    _, data = case
    for body in data.bodies:
        turn = body.matrices[:, :3, :3]
        assert body.matrices.shape == (data.count, 4, 4)
        assert np.allclose(turn @ np.swapaxes(turn, -1, -2), np.eye(3), atol=1e-12), body.name
        assert np.allclose(np.linalg.det(turn), 1.0), body.name
        assert np.array_equal(body.matrices[:, 3], np.tile([0.0, 0.0, 0.0, 1.0], (data.count, 1))), body.name


def test_joints_stay_together(case):
    """The stub's ball, the rod's eyes and the spade's balls meet at the solver's joints."""
    solved, data = case
    for side, corner, place in (("left", solved.left, np.asarray), ("right", solved.right, mirror)):
        part = corner.corner
        outer = place(np.asarray(part.stub.arm_end))
        along = np.asarray(part.inner_joint) - np.asarray(part.stub.arm_end)
        inner = np.asarray(part.stub.arm_end) + corner.linkage.rod_length * along / np.linalg.norm(along)
        rod, stub, wheel = (data.body(f"{name}_{side}") for name in ("rod", "stub", "wheel"))
        assert np.allclose(moved(stub, outer), place(corner.arm_end), atol=1e-9)
        assert np.allclose(moved(rod, outer), place(corner.arm_end), atol=1e-9)
        assert np.allclose(moved(rod, place(inner)), place(corner.inner_joint), atol=1e-6)
        assert np.allclose(
            moved(data.body("column"), place(np.asarray(part.inner_joint))), place(corner.inner_joint)
        )
        assert np.allclose(
            moved(wheel, place(np.asarray(part.stub.wheel_centre))), place(corner.wheel_centre)
        )


def test_wheel_turns_about_the_solvers_spin_axis(case):
    solved, data = case
    from kinematics.corner.stub import spin_axis

    for side, corner, place in (("left", solved.left, np.asarray), ("right", solved.right, mirror)):
        turn = data.body(f"wheel_{side}").matrices[:, :3, :3]
        assert np.allclose(turn @ place(spin_axis(corner.corner.stub)), place(corner.spin), atol=1e-9)


def test_drawn_tyres_stand_on_the_drawn_road(case):
    """Lowest vertex of the drawn wheel against the solver's support point, through the whole lock."""
    solved, data = case
    radius = solved.kart.front_tyre.radius
    sagitta = radius * (1.0 - np.cos(np.pi / 96)) + 0.1
    road = data.body("road").matrices
    for side, corner, place in (("left", solved.left, np.asarray), ("right", solved.right, mirror)):
        mesh = data.body(f"wheel_{side}")
        points = moved(mesh, mesh.mesh.vertices)
        height = points @ solved.road.normal
        truth = place(corner.support_point) @ solved.road.normal
        assert np.all(height.min(axis=1) - truth >= -1e-6)
        assert np.all(height.min(axis=1) - truth <= sagitta)
        on_road = np.einsum("ni,ni->n", place(corner.support_point) - road[:, :3, 3], road[:, :3, 2])
        assert np.allclose(on_road, 0.0, atol=1e-9)


def test_the_rigid_kart_stands_on_three_wheels(case):
    """Whole and held still: one rear tyre on the drawn road, the other on it or above by the rigid lift."""
    from kinematics.corner.contact import support_point
    from kinematics.frames import Y_LEFT
    from kinematics.lock import rear_wheel_centres

    solved, data = case
    road = data.body("road").matrices
    centres = rear_wheel_centres(solved.kart, solved.setting)
    up = []
    for centre, side in zip(centres, (1.0, -1.0), strict=True):
        point = support_point(centre, side * Y_LEFT, solved.kart.rear_tyre, solved.road)
        up.append(np.einsum("ni,ni->n", point - road[:, :3, 3], road[:, :3, 2]))
    assert np.allclose(np.min(up, axis=0), 0.0, atol=1e-9)
    lift, left = solved.rigid_inside_rear_lift, solved.handwheel >= 0.0
    inside = np.where(left, *up)
    assert np.allclose(inside[lift > 0.0], lift[lift > 0.0], atol=1e-9)
    assert lift.max() > 10.0


def test_hub_spacer_moves_the_wheel_and_leaves_the_stub():
    fit = CornerSetting(hub_spacer=12.0)
    wide, plain = (scene.build(swept(setting=s)) for s in (Setting(fit, fit), Setting()))
    assert np.allclose(wide.body("stub_left").matrices, plain.body("stub_left").matrices)
    off = wide.body("wheel_left").matrices[:, :3, 3] - plain.body("wheel_left").matrices[:, :3, 3]
    assert np.allclose(np.linalg.norm(off, axis=1), 12.0)


def test_left_and_right_mirror_each_other():
    """A symmetric kart at +a shows on the left what it shows at -a on the right."""
    kart = scenarios.load("training-kart").kart
    front, rear = (0.5 * sum(kart.loads[pair]) for pair in (slice(0, 2), slice(2, 4)))
    data = scene.build(swept(kart=replace(kart, loads=(front, front, rear, rear))))
    flip = np.diag([1.0, -1.0, 1.0, 1.0])
    for name in ("stub", "wheel", "rod", "axis", "contact"):
        left, right = data.body(f"{name}_left").matrices, data.body(f"{name}_right").matrices
        assert np.allclose(flip @ left[::-1] @ flip, right, atol=1e-9), name


def test_positions_out_of_reach_are_left_out():
    """A linkage that binds within the lock: the constructed example of the linkage tests."""
    kart = scenarios.load().kart
    low, tan = (1072.62625, 430.0), np.tan(np.radians([12.0, 10.0]))
    yoke = Yoke((low[0] - 122.0 * tan[0], low[1] - 122.0 * tan[1], 122.0), *np.radians([12.0, 10.0]), 66.0)
    corner = Corner(yoke, Stub((1045.0, 560.0, 128.5), 0.0, 0.0, (960.0, 405.0, 130.0)), (855.0, 25.0, 90.0))
    column = Column((895.0, 0.0, 130.0), np.radians(45.0), np.radians(90.0))
    kart = replace(kart, left=corner, right=corner, column=column)
    solved = sweep(kart, Setting(), LOCK)
    assert list(np.flatnonzero(~solved.reach)) == [0, 12], "it binds at 58.6 degrees"
    data = scene.build(solved)
    assert data.count == solved.reach.sum() == len(data.captions)
    assert all(np.isfinite(b.matrices).all() for b in data.bodies)


def test_nothing_to_reach_is_refused():
    fit = CornerSetting(rod_length=20.0)
    with pytest.raises(ValueError, match="reach no lock position"):
        scene.build(swept(setting=Setting(fit, fit)))


def test_a_batch_of_settings_is_refused():
    fit = CornerSetting(top_offset=np.array([1.0, 2.0]))
    with pytest.raises(ValueError, match="one setting"):
        scene.build(swept(setting=Setting(fit, fit)))


def test_captions_tell_the_solvers_numbers():
    solved = swept()
    data = scene.build(solved, "wet")
    text = data.captions[-1]
    assert text.startswith("wet ")
    assert "handwheel +60.0° (left lock)" in text
    for figure, value in (
        (STEER, solved.left.steer[-1]),
        (CAMBER, solved.left.camber[-1]),
        (STEER, -solved.right.steer[-1]),
        (CAMBER, solved.right.camber[-1]),
    ):
        assert told(figure, np.degrees(value)) in text


@pytest.mark.parametrize("theme", THEMES.values(), ids=THEMES)
def test_labels_are_legible_in_every_theme(theme):
    """Contrast of at least 4.5 to 1 (WCAG 2.2, 1.4.3) between every label's colour and its ground."""
    data = scene.build(swept())
    of_the_whole = {"", "air", "load", "pushed", "diagonal"}
    for role in {label.role for label, _ in data.told_labels()} | of_the_whole:
        assert contrast(*label_colours(theme, role)) >= 4.5, role
        assert role == "air" or contrast(label_colours(theme, role)[0], theme.paper) >= 4.5, role


@pytest.mark.slow
@pytest.mark.parametrize("lock_deg", [-60.0, 45.0])
def test_no_part_cuts_through_another(lock_deg):
    data = scene.build(swept(lock=np.radians([lock_deg])))
    assert cuts(data, 0) == []


@pytest.mark.slow
def test_a_part_that_does_cut_is_found():
    data = scene.build(swept(lock=np.zeros(1)))
    aside = data.body("kingpin_left").matrices.copy()
    aside[:, 0, 3] += 3.0
    bodies = tuple(replace(b, matrices=aside) if b.name == "kingpin_left" else b for b in data.bodies)
    assert ("bushes_left", "kingpin_left") in cuts(replace(data, bodies=bodies), 0)


def test_the_hole_is_drawn_to_scale_and_off_centre():
    """The kingpin stands round the line through the solver's holes, not exaggerated."""
    fit = CornerSetting(top_offset=4.0, top_clock=np.pi)
    data, solved = scene.build(swept(setting=Setting(fit, fit))), swept(setting=Setting(fit, fit))
    pin = data.body("kingpin_left").mesh.vertices
    off = pin - solved.left.seated.top
    k = solved.left.seated.k
    from_axis = np.linalg.norm(off - (off @ k)[:, None] * k, axis=1)
    assert from_axis.max() < 10.0
    assert abs(np.mean(off - (off @ k)[:, None] * k, axis=0)).max() < 0.3
