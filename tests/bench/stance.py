"""How long a stance takes: large batches, a table-sized sweep, and the ratio to the SciPy twin.

Run from the repository: python -m tests.bench.stance (one core: OMP_NUM_THREADS=1).
Bars: 1.5 µs a state in large batches; 61 positions x 4 settings x 3 cases within 30 ms.
"""

from collections.abc import Callable
from dataclasses import replace
from math import inf
from time import process_time

import numpy as np

from kinematics.lock import sweep
from kinematics.parts import FLATTEST_CROWN, CornerSetting, Kart, LoadCase, Setting
from kinematics.stance.equilibrium import equilibrium
from kinematics.standing.stand import stand
from tests.helpers.karts import KART
from tests.helpers.random_karts import front_wheels
from tests.twins.stance import Twin

BUSHES = np.linspace(0.0, 4.0, 20)
LOCK = np.radians(np.linspace(-60.0, 60.0, 61))
LATERAL = np.linspace(-1.2, 1.2, 100)


def best_of(call: Callable[[], object], times: int) -> float:
    """Shortest of a few runs, s of processor time (a busy machine does not count)."""
    runs = []
    for _ in range(times):
        start = process_time()
        call()
        runs.append(process_time() - start)
    return min(runs)


def setting(bushes: np.ndarray) -> Setting:
    corner = CornerSetting(top_offset=bushes, top_clock=np.pi)
    return Setting(corner, corner)


def batch(kart: Kart) -> tuple[float, int, float]:
    """Seconds per state of a large batch, its size, and the share of states with a wheel in the air."""
    wheels = front_wheels(sweep(kart, setting(BUSHES), LOCK))
    lateral = LATERAL[:, None, None]
    standing = equilibrium(kart, *wheels, 0.0, lateral)
    seconds = best_of(lambda: equilibrium(kart, *wheels, 0.0, lateral), 5)
    lifted = float(np.mean(standing.clearance.max(axis=-1) > 0.0))
    return seconds / standing.tips.size, standing.tips.size, lifted


def table() -> tuple[float, float]:
    """Seconds for 61 positions x 4 settings x 3 cases: with the sweep, and the stances alone."""
    cases = [LoadCase(name, g) for name, g in (("rest", 0.0), ("slow", 0.5), ("fast", 1.0))]
    four = setting(BUSHES[::5])

    def whole() -> None:
        swept = sweep(KART, four, LOCK)
        for case in cases:
            stand(swept, case)

    swept = sweep(KART, four, LOCK)
    return best_of(whole, 9), best_of(lambda: [stand(swept, case) for case in cases], 9)


def twin() -> float:
    """Seconds per state of the SciPy twin."""
    swept = sweep(KART, setting(BUSHES[:1]), LOCK[::12])
    left, spin_left, right, spin_right = (v[0] for v in front_wheels(swept))
    places = list(zip(left, spin_left, right, spin_right, strict=True))
    start = process_time()
    for a, b, c, d in places:
        Twin(KART, [(a, b), (c, d)], 0.0, 0.6, 0.0).rest()
    return (process_time() - start) / len(places)


def main() -> None:
    slow = twin()
    flat = tuple(
        replace(t, crown_radius=FLATTEST_CROWN * t.tread_width) for t in (KART.front_tyre, KART.rear_tyre)
    )
    karts = {
        "as it is": KART,
        "flattest treads": replace(KART, front_tyre=flat[0], rear_tyre=flat[1]),
        "rigid frame": replace(KART, frame=replace(KART.frame, stiffness=inf)),
    }
    for name, kart in karts.items():
        seconds, count, lifted = batch(kart)
        print(
            f"{name:12s} {1e6 * seconds:6.2f} µs a state ({count} states, {100 * lifted:.0f} % with a wheel "
            f"up), {slow / seconds:,.0f} times the SciPy twin's pace"
        )
    whole, alone = table()
    print(f"61 positions x 4 settings x 3 cases: {1e3 * alone:.1f} ms, with the sweep {1e3 * whole:.1f} ms")


if __name__ == "__main__":
    main()
