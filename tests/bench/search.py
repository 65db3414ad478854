"""How long a search takes: an exhaustive one over 6 x 6 sizes and 24 x 24 clocks, then with load cases.

Run from the repository's root on one core:
OMP_NUM_THREADS=1 OPENBLAS_NUM_THREADS=1 taskset -c 0 python -m tests.bench.search
"""

from __future__ import annotations

import resource
from dataclasses import replace
from time import perf_counter

import numpy as np

from kinematics.choose import scan as search_scan
from kinematics.choose.box import Box, row_of
from kinematics.choose.plan import Plan, figures_of
from kinematics.choose.search import search
from kinematics.choose.targets import Target
from kinematics.parts import CornerSetting, LoadCase, Setting
from tests.helpers.karts import KART, kart_from, picker
from tests.helpers.reading import named

LOCKS = np.radians([-40.0, -20.0, 0.0, 20.0, 40.0])
BOX = Box(tuple(70.0 * np.tan(np.radians([1.0, 1.5, 2.0, 2.5, 3.0, 4.0]))), clock_step=np.radians(15.0))
BASE = Setting(CornerSetting(BOX.offsets[1], np.pi), CornerSetting(BOX.offsets[1], np.pi))
CASES = (LoadCase("slow corner", 0.6), LoadCase("fast corner", 1.2))
HARD = (LoadCase("hard corner", 1.5), LoadCase("harder corner", 1.8))
BARS = {"camber and drop": 1.5, "with two load cases, more": 3.0, "lift-off in two load cases, more": 3.0}


def planted(kart, figures, cases=()):
    """Targets that a pair drawn from the box meets exactly, and the pair."""
    rng = np.random.default_rng(3)
    top, bottom = rng.choice(BOX.offsets, 2)
    pair = CornerSetting(
        top, np.radians(15.0 * rng.integers(24)), bottom, np.radians(15.0 * rng.integers(24))
    )
    row = row_of(pair)[None]
    values, known = figures_of(Plan(kart, BASE, figures, cases=cases), row, row)
    assert known.all()
    return [Target(f, v, v) for f, v in zip(figures, values[0], strict=True)], row[0]


def timed(name: str, run) -> float:
    best = min(_once(run) for _ in range(3))
    print(f"{name:38s} {best:7.3f} s")
    return best


def _once(run) -> float:
    start = perf_counter()
    run()
    return perf_counter() - start


def peak() -> float:
    """Most memory held so far, MiB."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0


def main() -> None:
    names = ("camber_left_deg", "wheel_drop_left_mm", "camber_right_deg", "wheel_drop_right_mm")
    plain = tuple(named(name, lock) for name in names for lock in LOCKS)
    names = ("inside_rear_load_n", "cross_weight_percent")
    in_case = tuple(named(name, lock, case.name) for name in names for lock in LOCKS for case in CASES)
    kart = kart_from(picker(11), even=True)
    targets, _ = planted(kart, plain)
    more, _ = planted(kart, plain + in_case, CASES)
    base = replace(BASE)
    first = timed("camber and drop", lambda: search(kart, base, BOX, targets, rods="kept"))
    second = timed("with two load cases", lambda: search(kart, base, BOX, more, rods="kept", cases=CASES))
    names = ("lift_off_steer_left_deg", "least_inside_rear_load_left_n", "jacking_rate_left_n_per_deg")
    of_turn = tuple(named(name, None, case.name) for name in names for case in HARD)
    jacking = named("jacking_rate_left_mm_per_deg")
    turns, _ = planted(kart, (*plain, *of_turn, jacking), HARD)
    third = timed(
        "lift-off in two load cases", lambda: search(kart, base, BOX, turns, rods="kept", cases=HARD)
    )
    rigid, _ = planted(kart, (jacking,))
    timed("jacking of a rigid kart", lambda: search(kart, base, BOX, rigid, rods="kept"))
    search_scan.EXACT = 0
    timed("the same, best 2,000 only", lambda: search(kart, base, BOX, more, rods="kept", cases=CASES))
    free = replace(BOX, clock_step=0.0)
    timed("clocks free, refined", lambda: search(kart, base, free, targets, rods="kept"))
    timed("one corner of a bent kart", lambda: search(KART, base, BOX, targets[:10], sides="left"))
    timed("each corner apart", lambda: search(KART, base, BOX, targets, sides="each"))
    for (name, bar), took in zip(BARS.items(), (first, second - first, third - first), strict=True):
        print(f"{name:38s} {took / bar:7.2f} of the {bar:g} s allowed")
    for step in (5.0, 1.0, 0.5, 0.1, 0.001):
        fine = Box(BOX.offsets, clock_step=np.radians(step))
        took = timed(
            f"clock step {step:g} deg", lambda box=fine: search(kart, base, box, targets[:5], rods="kept")
        )
        print(f"{'':38s} {took / first:7.1f} times 15 deg, peak memory so far {peak():.0f} MiB")


if __name__ == "__main__":
    main()
