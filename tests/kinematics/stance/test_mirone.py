"""A published kart: what its paper does not give is fitted once, the rest is predicted.

Fitted to the torsion row and two load rows (the largest lock and the largest lateral acceleration among
the rows): scrub radius, height of the centre of gravity, and the share of the frame's compliance in front.
Only the product of scrub and road-steer ratio is told by the loads, so the ratio is fixed in the middle of
its implied range. Also fixed, since the rows do not tell them apart: the torsion axis at 60 mm, thin-disc
tyres (the tread's shape is not given), both front wheels turned alike (nor are the steering arms).
Run this file to print the table.
"""

from dataclasses import replace
from math import inf

import numpy as np
import pytest
from scipy.optimize import least_squares

from kinematics.corner.stub import seat_stub, turned
from kinematics.frames import mirror, turn
from kinematics.parts import CONCENTRIC, Column, Corner, Frame, Kart, Stub, Tyre, Yoke
from kinematics.stance.equilibrium import Stance, equilibrium
from tests.authorities import mirone_2010 as paper

RATIO, AXIS_HEIGHT = 0.35, 60.0
FITTED = (0, 3)
AS_PRINTED = [3, 2, 0, 1]  # rear outside, rear inside, front inside, front outside in a left turn
TORSION_DEG = 0.02  # weight of a torsion reading against one of load in the fit


def kart(scrub, cog_height, front_share) -> Kart:
    """The paper's kart with the numbers it does not give; wheel centres on the axis in side view."""
    caster, inclination = np.radians([paper.CASTER_DEG, paper.INCLINATION_DEG])
    x, y, radius = paper.WHEELBASE_MM, 0.5 * paper.FRONT_TRACK_MM, paper.FRONT_RADIUS_MM
    centre = (x, y - scrub - radius * np.tan(inclination), radius)
    stub = Stub((x, y, radius), 0.0, 0.0, (x - 100.0, y - scrub, radius))
    corner = Corner(Yoke(centre, caster, inclination, 70.0), stub, (x - 170.0, 25.0, 80.0))
    front, rear = 0.5 * paper.WEIGHT_N * paper.FRONT_SHARE, 0.5 * paper.WEIGHT_N * (1.0 - paper.FRONT_SHARE)
    return Kart(
        wheelbase=x,
        front_track=paper.FRONT_TRACK_MM,
        rear_track=paper.REAR_TRACK_MM,
        front_tyre=Tyre(radius, 0.0, inf, paper.FRONT_TYRE_N_PER_MM),
        rear_tyre=Tyre(paper.REAR_RADIUS_MM, 0.0, inf, paper.REAR_TYRE_N_PER_MM),
        left=corner,
        right=corner,
        column=Column((x - 150.0, 0.0, 100.0), np.radians(45.0), np.radians(90.0)),
        frame=Frame(paper.FRAME_NM_PER_DEG * 1e3 * 180.0 / np.pi, front_share, AXIS_HEIGHT),
        loads=(front, front, rear, rear),
        cog_height=cog_height,
    )


def stand(of: Kart, wheel_deg, lateral_g) -> Stance:
    """Stance (n,) at steering-wheel angles in degrees, + left."""
    seated, delta = seat_stub(of.left, CONCENTRIC), RATIO * np.radians(np.asarray(wheel_deg, float))
    left, right = (
        (turned(seated, seated.wheel_centre, d), turn(seated.spin, seated.k, d)) for d in (delta, -delta)
    )
    return equilibrium(of, *left, *(mirror(v) for v in right), 0.0, lateral_g)


def loads(of: Kart, wheel_deg, lateral_g):
    """Wheel loads (n, 4) in the paper's order."""
    return stand(of, wheel_deg, lateral_g).loads[..., AS_PRINTED]


def torsion_deg(of: Kart, wheel_deg, lateral_g=0.3):
    return np.degrees(stand(of, wheel_deg, lateral_g).twist)


LOCK, LATERAL = np.array([row[0] for row in paper.LOADS]), np.array([row[1] for row in paper.LOADS])
LOADS = np.array([row[2] for row in paper.LOADS])
TORSION_LOCK, TORSION = np.array(paper.TORSION).T


def fit() -> np.ndarray:
    """Scrub mm, height of the centre of gravity mm, front share of the compliance."""

    def misses(unknown):
        of, rows = kart(*unknown), list(FITTED)
        load = (loads(of, LOCK[rows], LATERAL[rows]) - LOADS[rows]) / paper.READING_N
        return np.concatenate([load.ravel(), (torsion_deg(of, TORSION_LOCK) - TORSION) / TORSION_DEG])

    bounds = ([50.0, 150.0, 0.0], [250.0, 450.0, 1.0])
    return least_squares(misses, [120.0, 300.0, 0.5], bounds=bounds, x_scale=[100.0, 300.0, 0.5]).x


def table(of: Kart) -> str:
    """Published, computed and residual of every row."""
    lines = ["load N: rear out, rear in, front in, front out (* fitted)"]
    computed = loads(of, LOCK, LATERAL)
    for i, (lock, g, published) in enumerate(paper.LOADS):
        rows = (np.array(published), computed[i], computed[i] - published)
        cells = " | ".join(" ".join(f"{v:6.0f}" for v in row) for row in rows)
        lines.append(f"{lock:3.0f} deg {g:.2f} g {'*' if i in FITTED else ' '} {cells}")
    lines.append("frame torsion deg (* fitted)")
    for lock, published, ours in zip(TORSION_LOCK, TORSION, torsion_deg(of, TORSION_LOCK), strict=True):
        lines.append(f"{lock:3.0f} deg        * {published:6.3f} | {ours:6.3f} | {ours - published:6.3f}")
    return "\n".join(lines)


def implied_height(row: int) -> float:
    """Height of the centre of gravity (mm) that a row's own loads imply for wheels at their tracks."""
    rear_out, rear_in, front_in, front_out = LOADS[row]
    moment = 0.5 * paper.REAR_TRACK_MM * (rear_out - rear_in)
    moment += 0.5 * paper.FRONT_TRACK_MM * (front_out - front_in)
    return moment / (paper.WEIGHT_N * LATERAL[row])


@pytest.fixture(scope="module")
def unknown():
    return fit()


@pytest.fixture(scope="module")
def fitted(unknown):
    return kart(*unknown)


def test_the_fitted_numbers_are_those_the_figures_imply(unknown):
    scrub, height, share = unknown
    assert paper.SCRUB_MM[0] < scrub < paper.SCRUB_MM[1]
    assert paper.COG_HEIGHT_MM[0] - 1.0 < height < paper.COG_HEIGHT_MM[1]
    assert share > 0.6  # most of the compliance in front, as the text says


def test_front_loads_are_predicted(fitted):
    """Rows left out of the fit: within 16 N, three times the reading error."""
    rest = [1, 2, 4]
    miss = loads(fitted, LOCK[rest], LATERAL[rest])[:, 2:] - LOADS[rest][:, 2:]
    assert np.abs(miss).max() < 16.0


def test_rear_loads_are_predicted_as_far_as_the_rows_agree(fitted):
    """A weak bar, confessed: up to 60 N at 30 deg, 25 N at the smaller locks.

    No static kart can do better on all rows at once: see the next test.
    """
    miss = np.abs(loads(fitted, LOCK, LATERAL)[:, :2] - LOADS[:, :2]).max(axis=1)
    assert miss[[1, 3, 4]].max() < 25.0
    assert miss.max() < 60.0


def test_the_rows_themselves_imply_different_heights_of_the_centre_of_gravity():
    """265 mm to 358 mm: far more than 5 N of reading can explain (8 mm at 0.94 g, 25 mm at 0.3 g).

    At 30 deg more load changes sides than at 20 deg for the same lateral force. Wider front treads were
    tried in the fit and explain none of it; the rows come from a simulated transient, and its roll inertia
    is not told.
    """
    heights = np.array([implied_height(i) for i in range(5)])
    assert heights.min() == pytest.approx(265.0, abs=1.0)
    assert heights.max() == pytest.approx(358.0, abs=1.0)
    assert heights.argmax() == 2
    assert heights.argmin() == 3


def test_frame_torsion_follows_lock(fitted):
    """Within 0.02 deg to 30 deg of lock; ours goes on in proportion where the paper's curve flattens."""
    miss = np.abs(torsion_deg(fitted, TORSION_LOCK) - TORSION)
    assert miss[:3].max() < 0.025
    assert miss.max() < 0.08


def test_frame_torsion_is_the_same_at_different_lateral_acceleration(fitted):
    for lock, low, high in paper.SAME_AT_G:
        twist = torsion_deg(fitted, [lock, lock], np.array([low, high]))
        assert abs(twist[1] - twist[0]) < 0.025


def test_steering_loads_the_inside_front_and_the_outside_rear(fitted):
    straight, locked = loads(fitted, [0.0, 30.0], 0.0)
    rear_out, rear_in, front_in, front_out = locked - straight
    assert min(rear_out, front_in) > 50.0
    assert max(rear_in, front_out) < -50.0


def test_the_inside_front_leads_up_to_the_published_lateral_acceleration(fitted):
    """At 20 deg of the steering wheel, the lock of the 0.94 g row."""
    g = np.array([0.0, 0.3, paper.INSIDE_FRONT_LEADS_UP_TO_G, paper.NOT_AT_G])
    at = loads(fitted, 20.0, g)
    lead = at[:, 2] - at[:, 3]
    assert (lead[:3] > 0.0).all()
    assert lead[3] < -20.0


def test_standing_still_at_lock_a_front_wheel_tends_to_lift(fitted):
    """The outside front loses load steadily, more than half of it by 50 deg; on a rigid frame it lifts."""
    lock = np.array([0.0, 10.0, 20.0, 30.0, 40.0, 50.0])
    outside = loads(fitted, lock, 0.0)[:, 3]
    assert (np.diff(outside) < -25.0).all()
    assert outside[-1] < 0.5 * outside[0]
    rigid = replace(fitted, frame=replace(fitted.frame, stiffness=inf))
    assert loads(rigid, lock, 0.0)[-1, 3] == 0.0


if __name__ == "__main__":
    numbers = fit()
    print("scrub {:.0f} mm, centre of gravity {:.0f} mm, front share {:.2f}".format(*numbers))
    print(table(kart(*numbers)))
