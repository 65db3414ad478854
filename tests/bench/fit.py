"""How long a fit and a plan take, and how often a fit's intervals hold.

Run from the repository: python -m tests.bench.fit [KARTS] (one core: OMP_NUM_THREADS=1).
Bars: 12 numbers fitted to 40 readings, the program started for it, within 2 s; a plan over 60 readings within
3 s; of 200 random karts read by the slow twin 93 to 97 % of the true numbers lie in their 95 % intervals.
The peer of the fit is SciPy's least_squares left to find its own slopes, on the same residuals.
"""

import subprocess
import sys
import tempfile
from pathlib import Path
from time import perf_counter, process_time

import numpy as np
from scipy.optimize import least_squares

from scenarios import load
from scenarios.gauged.blank import as_csv
from scenarios.gauged.fit import COVERED, fit
from scenarios.gauged.plan import asked_of, planned
from scenarios.gauged.slopes import sigmas
from tests.twins.read_karts import Truth, session

NUMBERS = (
    *("kart.cog_height_mm", "frame.torsional_stiffness_nm_per_deg", "frame.front_compliance_share"),
    *("kart.scale_front_left_kg", "kart.scale_front_right_kg", "kart.scale_rear_left_kg"),
    *("kart.scale_rear_right_kg", "front.stiffness_n_per_mm", "rear.stiffness_n_per_mm"),
    *("yoke.caster_deg", "stub.camber_deg", "stub.toe_deg"),
)
READINGS = 40


def cold(*command: str) -> float:
    """Seconds from the start of the program to its end, the least of five."""
    taken = []
    for _ in range(5):
        before = perf_counter()
        subprocess.run([sys.executable, "-m", "viz", *command], check=True, stdout=subprocess.DEVNULL)
        taken.append(perf_counter() - before)
    return min(taken)


def beside_scipy(readings: list) -> tuple[float, float, float]:
    """Seconds of processor time of our fit and of SciPy's with its own slopes, and how far they are apart."""
    scenario = load()
    before = process_time()
    found = fit(scenario, readings, NUMBERS, others=False)
    ours = process_time() - before
    values, sigma = np.array([one.value for one in readings]), sigmas(found.foreteller)

    def residuals(scores: np.ndarray) -> np.ndarray:
        seen, known = found.foreteller.foretold(*found.space.at(scores[None]))
        return np.concatenate([np.where(known[0], (seen[0] - values) / sigma, 1e3), scores])

    before = process_time()
    peer = least_squares(residuals, np.zeros(len(NUMBERS)), x_scale="jac")
    theirs = process_time() - before
    return ours, theirs, float(np.max(np.abs(peer.x - found.found.values)))


def covered(karts: int) -> tuple[float, float]:
    """Shares of the true numbers within their intervals: of all, and of those that the readings tell."""
    scenario, held, told = load(), [], []
    for seed in range(karts):
        truth = Truth(scenario, session(), seed)
        numbers = fit(scenario, truth.readings).numbers
        held.append([abs(one.value - truth[one.name]) < COVERED * one.sure for one in numbers])
        told.append([one.kept < 0.8 for one in numbers])
    return float(np.mean(held)), float(np.mean(np.array(held)[np.array(told)]))


def main() -> None:
    scenario = load()
    readings = Truth(scenario, session(), 3).readings[:READINGS]
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "readings.csv"
        path.write_text(as_csv(readings, scenario.title))
        chosen = [word for name in NUMBERS for word in ("--number", name)]
        alone = cold("fit", "training-kart", str(path), *chosen, "--others-exact")
        counted = cold("fit", "training-kart", str(path), *chosen)
    what = f"{len(NUMBERS)} numbers from {READINGS} readings"
    print(f"{what}, cold: {alone:.2f} s, {counted:.2f} s where the others count as unsure")
    ours, theirs, apart = beside_scipy(readings)
    times = f"{theirs / ours:.1f} times"
    print(
        f"the fit alone {ours:.2f} s; SciPy with its own slopes {theirs:.2f} s ({times}), {apart:.0e} apart"
    )
    before = process_time()
    plan = planned(scenario, scenario.default_setting, asked_of([], scenario), 60.0)
    many = sum(len(one.readings) for one, *_ in plan.alone)
    warm, whole = process_time() - before, cold("measure")
    print(f"a plan over {len(plan.alone)} sessions of {many} readings: {warm:.2f} s; cold {whole:.2f} s")
    karts = int(sys.argv[1]) if len(sys.argv) > 1 else 200
    share, of_told = covered(karts)
    print(f"{karts} karts: {100 * share:.1f} % of true numbers held, {100 * of_told:.1f} % of those told")


if __name__ == "__main__":
    main()
