"""Front share of lateral load transfer against springs in series (tests/authorities/sampo_2010.py).

That model holds the mass at both ends of the frame's spring, ours at a seat station between two springs.
They are equal when the share of the compliance ahead of the seat is the rear share of the mass: then
1/K_f = (rear share)/k_c and 1/K_r = (front share)/k_c, and both give T_f (1/k_f + 1/K_f) =
T_r (1/k_r + 1/K_r). The closed form is linear, so the kart is made stiff enough to stay so; the torsion
axis lies on the road, where the side forces do not twist the frame.
"""

from dataclasses import replace

import numpy as np
import pytest

from kinematics.lock import sweep
from kinematics.parts import Frame, LoadCase, Tyre
from kinematics.standing.stand import stand
from tests.authorities import sampo_2010 as paper
from tests.helpers.karts import KART, REFERENCE, leaning

TOTAL = 1e13  # N·mm/rad, both axles' roll stiffness: a million times a kart's


def share(lam, mu, front_share=1.0 - paper.FRONT_MASS_SHARE):
    """Front share of the load transfer of an even kart on thin discs."""
    corner = leaning(12.0, 10.0)
    front_track, rear_track = 2.0 * corner.stub.wheel_centre[1], KART.rear_track
    front = Tyre(130.0, 0.0, stiffness=lam * TOTAL / (0.5 * front_track**2))
    rear = Tyre(140.0, 0.0, stiffness=(1.0 - lam) * TOTAL / (0.5 * rear_track**2))
    loads = 1000.0 * np.array([0.215, 0.215, 0.285, 0.285])
    kart = replace(
        KART,
        left=corner,
        right=corner,
        front_tyre=front,
        rear_tyre=rear,
        frame=Frame(mu * TOTAL, front_share, 0.0),
        loads=tuple(loads.tolist()),
    )
    moved = stand(sweep(kart, REFERENCE, [0.0]), LoadCase("turn", lateral_g=0.2)).loads[0] - loads
    at_front, at_rear = front_track * (moved[1] - moved[0]), rear_track * (moved[3] - moved[2])
    return at_front / (at_front + at_rear)


@pytest.mark.parametrize(("lam", "mu", "published"), paper.ROWS)
def test_front_share_of_the_load_transfer(lam, mu, published):
    assert paper.front_share(lam, mu) == pytest.approx(published, abs=6e-7)
    assert share(lam, mu) == pytest.approx(published, abs=2e-6)


@pytest.mark.parametrize("lam", [0.3, 0.5, 0.7])
def test_limits_of_a_rigid_and_of_a_limp_frame(lam):
    assert share(lam, 1e6) == pytest.approx(lam, abs=1e-5)
    assert share(lam, 1e-5) == pytest.approx(paper.FRONT_MASS_SHARE, abs=1e-4)


def test_another_split_is_another_model():
    assert abs(share(0.5, 0.1, 0.43) - 0.45) > 0.02
