"""A steering axis from points, in the workshop's angles, and the bushes of the box that it means."""

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

import scenarios
from kinematics.corner.stub import seat_stub
from scenarios.errors import Refusal, ScenarioError
from scenarios.gauged.axis import points_of, steering_axis

TRAINING = scenarios.load("training-kart")
HEAD = "position,point,x_mm,y_mm,z_mm\n"


def marked(setting, side, spread=0.0):
    """Four points of a corner at three turns, in vehicle axes."""
    stub = seat_stub(getattr(TRAINING.kart, side), getattr(TRAINING.settings[setting], side))
    away = np.array([[0.0, 0.0, 0.0], [95.0, 10.0, 20.0], [-40.0, -20.0, 100.0]])
    marks = np.concatenate([stub.wheel_centre + away, stub.arm_end[None]])
    turned = [
        stub.foot + Rotation.from_rotvec(stub.k * a).apply(marks - stub.foot) for a in (-0.4, 0.0, 0.42)
    ]
    noise = np.random.default_rng(4).normal(0.0, spread, (3, 4, 3)) if spread else 0.0
    return (np.array(turned) + noise) * ([1.0, 1.0, 1.0] if side == "left" else [1.0, -1.0, 1.0]), stub


@pytest.mark.parametrize("side", ["left", "right"])
def test_caster_inclination_and_floor_of_an_axis(side):
    points, stub = marked("more-caster", side)
    found = steering_axis(points, 0.5, side, TRAINING)
    k, foot = stub.k, stub.foot
    assert found.caster.value == pytest.approx(np.degrees(np.arctan(-k[0] / k[2])), abs=1e-6)
    assert found.inclination.value == pytest.approx(np.degrees(np.arctan(-k[1] / k[2])), abs=1e-6)
    down = foot - k * foot[2] / k[2]
    assert (found.floor[0].value, found.floor[1].value) == pytest.approx((down[0], down[1]), abs=1e-4)


def test_the_bushes_that_are_fitted_are_among_those_it_means():
    """more-caster is 2 deg rearward over 1 deg forward, as 3 deg over a concentric one tilts alike."""
    points, _ = marked("more-caster", "left")
    found = steering_axis(points, 0.3, "left", TRAINING)
    said = [(str(top), str(bottom)) for top, bottom in found.pairs]
    assert ("3 deg @ 180", "0 deg") in said
    delivered = steering_axis(marked("as-delivered", "left")[0], 0.3, "left", TRAINING)
    assert (str(delivered.pairs[0][0]), str(delivered.pairs[0][1])) == ("0 deg", "0 deg")


def test_how_sure_it_is_grows_with_the_spread_of_the_points():
    points, _ = marked("more-caster", "left", spread=1.0)
    fine, coarse = (steering_axis(points, spread, "left", TRAINING) for spread in (2.0, 4.0))
    assert coarse.caster.sure == pytest.approx(2.0 * fine.caster.sure, rel=1e-6)
    assert abs(fine.caster.value - 15.05) < 3.0 * fine.caster.sure


def test_points_come_from_a_file_in_any_order(tmp_path):
    points, _ = marked("more-caster", "left")
    rows = [
        f"{place},{name},{x:.6f},{y:.6f},{z:.6f}"
        for place, position in enumerate(points)
        for name, (x, y, z) in zip("abcd", position, strict=True)
    ]
    path = tmp_path / "points.csv"
    path.write_text(HEAD + "\n".join(reversed(rows)))
    np.testing.assert_allclose(points_of(path)[::-1, ::-1], points, atol=1e-5)


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("x,y\n1,2\n", "must have the columns position,point,x_mm,y_mm,z_mm"),
        (HEAD + "1,a,1,2,3\n1,a,1,2,3\n", "line 2: point a"),
        (HEAD + "1,a,1,2,3\n2,b,1,2,3\n", "position 2 has not the same points"),
        (HEAD + "1,a,1,2,x\n", "line 1.z_mm = 'x' mm: must be at least -3000 and at most 3000 mm"),
        (HEAD + "1,a,1,2\n", "line 1.z_mm = None mm: must be at least -3000"),
    ],
)
def test_a_file_of_points_that_is_wrong_is_told_in_a_line(tmp_path, text, line):
    path = tmp_path / "p.csv"
    path.write_text(text)
    with pytest.raises(ScenarioError) as caught:
        points_of(path)
    assert line in str(caught.value)


def test_too_few_positions_are_refused():
    with pytest.raises(Refusal, match="an axis takes 3 of 2"):
        steering_axis(marked("more-caster", "left")[0][:2], 1.0, "left", TRAINING)
