"""A second published kart (tests/authorities/lot_2016.py): its roll springs in closed form, and its loads.

Its frame is a spring at each wheel, ours one in torsion about an axis on the road; in roll they are the same.
Ours is not linear: tyres roll on their treads, and the frame leans, which is what the tolerances are for.
Run this file to print the loads side by side.
"""

from dataclasses import replace

import numpy as np
import pytest

from kinematics.parts import Frame, Kart, Tyre
from kinematics.stance.equilibrium import equilibrium
from tests.authorities import lot_2016 as paper
from tests.helpers.karts import KART

STRAIGHT = replace(
    KART.left.stub,
    wheel_centre=np.array([paper.WHEELBASE, 0.5 * paper.FRONT_TRACK, paper.RADIUS]),
    camber=0.0,
    toe=0.0,
)
CORNER = replace(KART.left, stub=STRAIGHT)
AXLES = paper.WEIGHT * np.array([paper.FROM_REAR, paper.FROM_FRONT]) / paper.WHEELBASE
LOST = 0.924
"""The published states carry this share of the moment that their mass, height and lateral g have."""


def second_kart(axis_height=0.0):
    """The published kart; its torsion axis lies on the road unless it is said to be higher."""
    return Kart(
        wheelbase=paper.WHEELBASE,
        front_track=paper.FRONT_TRACK,
        rear_track=paper.REAR_TRACK,
        front_tyre=Tyre(paper.RADIUS, 0.0, stiffness=paper.FRONT_TYRE),
        rear_tyre=Tyre(paper.RADIUS, 0.0, stiffness=paper.REAR_TYRE),
        left=CORNER,
        right=CORNER,
        column=KART.column,
        frame=Frame(paper.FRAME, paper.FRONT_SHARE, axis_height),
        loads=tuple(np.repeat(0.5 * AXLES, 2).tolist()),
        cog_height=paper.COG_HEIGHT,
    )


def loads(kart, drop=0.0, lateral=0.0, forward=0.0):
    """Outside front, inside front, outside rear, inside rear in a left turn whose inside front drops, N."""
    down = np.array([0.0, 0.0, drop])
    left = STRAIGHT.wheel_centre - down
    right = STRAIGHT.wheel_centre * [1.0, -1.0, 1.0] + down
    across = np.array([0.0, 1.0, 0.0])
    stands = equilibrium(kart, left, across, right, across, 0.0, lateral, forward)
    assert not stands.tips
    return stands.loads[[1, 0, 3, 2]]


def of_state(kart, state):
    """Loads of the kart under the moments of a published state, and the drop that meets its rear."""
    published = np.array(state[2:])
    lateral = paper.moment_of(published) / (paper.WEIGHT * paper.COG_HEIGHT)
    forward = (AXLES[0] - published[:2].sum()) * paper.WHEELBASE / (paper.WEIGHT * paper.COG_HEIGHT)
    rear = 0.5 * (published[2] - published[3])
    drop = (rear - paper.transfers(paper.moment_of(published), 0.0)[1]) / paper.REAR_PER_DROP
    return loads(kart, drop, lateral, forward), drop


def test_an_antisymmetric_drop_moves_what_springs_in_series_say():
    kart = second_kart()
    moved = loads(kart, 0.5) - loads(kart, -0.5)
    front = paper.REAR_PER_DROP * paper.REAR_TRACK / paper.FRONT_TRACK
    assert moved == pytest.approx([-front, front, paper.REAR_PER_DROP, -paper.REAR_PER_DROP], rel=0.015)


def test_a_corner_moves_what_both_axles_roll_springs_say():
    moved = loads(second_kart(), lateral=0.4) - loads(second_kart())
    front, rear = paper.transfers(0.4 * paper.WEIGHT * paper.COG_HEIGHT, 0.0)
    assert (front, rear) == pytest.approx((40.116, 99.619), abs=5e-4)
    assert moved == pytest.approx([front, -front, rear, -rear], rel=0.015)
    assert loads(second_kart(), lateral=0.4)[3] == pytest.approx(399.917, rel=0.015)


def test_with_the_torsion_axis_at_the_wheel_centres_less_is_moved_at_the_rear():
    """That input is not among the published ones, and it is worth a tenth of the transfer."""
    high = second_kart(paper.RADIUS)
    assert (loads(high, lateral=0.4) - loads(high))[2] == pytest.approx(88.7, rel=0.015)


def test_the_published_states_carry_less_moment_than_their_lateral_g():
    """Alike in all four: the program that printed them takes something off that the parameters do not say."""
    for lateral, _, *published in paper.STATES:
        whole = paper.WEIGHT * lateral * paper.COG_HEIGHT
        assert paper.moment_of(published) == pytest.approx(LOST * whole, rel=0.005)


def test_its_steady_state_of_known_steer_has_the_published_loads():
    """By the moment that it carries and the drop of its own steer, no other number fitted."""
    found, drop = of_state(second_kart(), paper.STATES[0])
    assert drop == pytest.approx(paper.DROP * paper.STEER, rel=0.01)
    assert found == pytest.approx(paper.STATES[0][2:], rel=0.05)


@pytest.mark.parametrize("state", paper.STATES[1:])
def test_the_other_states_have_them_too_by_the_drop_of_a_steer_that_the_path_asks_for(state):
    """Their steer is not listed: the drop that meets one axle meets the other, and is a likely one."""
    found, drop = of_state(second_kart(), state)
    assert found == pytest.approx(state[2:], rel=0.05)
    radius = (50.0 / 3.6) ** 2 / (state[0] * paper.G) * 1e3
    assert 0.5 < (drop / paper.DROP) / (paper.WHEELBASE / radius) < 1.6


if __name__ == "__main__":
    for one in paper.STATES:
        told, fell = of_state(second_kart(), one)
        print(f"{one[0]:.3f} g, {one[1]:+.2f} g along, drop {fell:.2f} mm: {np.round(told, 1)} for {one[2:]}")
