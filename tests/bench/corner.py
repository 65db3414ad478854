"""What one corner pose costs: closure, wheel pose, camber, steer and contact. Run from the repo's root:

    OMP_NUM_THREADS=1 python -m tests.bench.corner

Prints nanoseconds a pose on one core for the fast path (blocks used and dropped; and kept in arrays), for
the readable chain, and for two peers in the same run: a SciPy root search per pose, and MuJoCo closing the
same linkage.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from itertools import pairwise

import numpy as np

from kinematics.corner.fast import pose_blocks, take
from kinematics.corner.pose import sweep_corner
from kinematics.frames import FLAT_ROAD
from kinematics.parts import CornerSetting
from tests.helpers.karts import COLUMN, CORNER, TYRE
from tests.helpers.poses import pose_grid
from tests.twins.mujoco_corner import CornerTwin
from tests.twins.reference import place, seat_of, spin_at, turn_at, wheel_angles

SETTINGS, REPEATS = 20_000, 7
LOCK = np.radians(np.linspace(-40.0, 40.0, 61))
ONE = CornerSetting(2.0, np.radians(200.0), 1.0, np.radians(20.0))


def random_settings() -> CornerSetting:
    rng = np.random.default_rng(7)
    size, clock = (0.0, 4.0), (0.0, 2.0 * np.pi)
    return CornerSetting(*(rng.uniform(*bounds, SETTINGS) for bounds in (size, clock, size, clock)))


def ns_a_pose(work: Callable[[], object], poses: int, repeats: int = REPEATS) -> tuple[float, float]:
    """Median and least time of repeats, in ns a pose."""
    spent = []
    for _ in range(repeats):
        start = time.perf_counter()
        work()
        spent.append((time.perf_counter() - start) / poses * 1e9)
    return float(np.median(spent)), min(spent)


def streamed(settings: CornerSetting) -> float:
    """Use every block once, as a search does, and keep one number."""
    most = -np.inf
    for _, poses in pose_blocks(CORNER, settings, COLUMN, TYRE, FLAT_ROAD, LOCK):
        most = max(most, float(poses.camber[0, 0]))
    return most


def scipy_roots() -> None:
    seat, ahead = seat_of(CORNER, ONE), int(np.argmin(np.abs(LOCK)))
    turns = {ahead: turn_at(CORNER, COLUMN, seat, float(LOCK[ahead]), -0.3)}
    for walk in (range(ahead, LOCK.size), range(ahead, -1, -1)):
        for before, at in pairwise(walk):
            turns[at] = turn_at(CORNER, COLUMN, seat, float(LOCK[at]), turns[before])
    for delta in turns.values():
        wheel_angles(spin_at(CORNER, seat, delta))
        place(seat, delta, CORNER.stub.wheel_centre)


def main() -> None:
    settings = random_settings()
    some = take(settings, SETTINGS, slice(0, 1000))
    args = (COLUMN, TYRE, FLAT_ROAD, LOCK)
    twin = CornerTwin(CORNER, ONE, COLUMN, twist=0.2)
    whole, positions = SETTINGS * LOCK.size, LOCK.size
    rows = {
        "fast path, blocks used and dropped": ns_a_pose(lambda: streamed(settings), whole),
        "fast path, every pose kept in new arrays": ns_a_pose(
            lambda: pose_grid(CORNER, settings, *args), whole
        ),
        "readable chain": ns_a_pose(lambda: sweep_corner(CORNER, some, *args), 1000 * positions),
        "MuJoCo closing the linkage": ns_a_pose(lambda: twin.sweep(LOCK), positions),
        "SciPy root search per pose": ns_a_pose(scipy_roots, positions, 3),
    }
    best = rows["fast path, blocks used and dropped"][0]
    print(f"{SETTINGS} settings x {positions} positions, one corner; bar 45 ns a pose")
    for name, (median, least) in rows.items():
        print(
            f"{name:42s} median {median:12,.1f}  least {least:12,.1f} ns  {median / best:9,.1f} x fast path"
        )


if __name__ == "__main__":
    main()
