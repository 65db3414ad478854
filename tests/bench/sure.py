"""How long bands take and how often they hold: a whole case, a first answer, random karts and their bands.

Run from the repository: python -m tests.bench.sure (one core: OMP_NUM_THREADS=1).
Bars: 4,096 karts x 61 locks x 2 corners with stance in one case within 3 s; the first answer of a
comparison, the program started for it, within 0.6 s; of 2,000 random karts the true
difference of two settings lies within its 95 % band 93 to 97 % of the time.
"""

import os
import subprocess
import sys
from itertools import pairwise
from statistics import median
from time import process_time

import numpy as np

from kinematics.lock import sweep
from kinematics.standing.stand import stand
from scenarios import load
from scenarios.likely.sampled import fitted, sampled
from tests.helpers.covered import ADDRESSES, covered

KARTS = 2000


def whole_case(count: int) -> tuple[float, float, float]:
    """Seconds of processor time to draw so many karts, to sweep them and to stand them in a case."""
    scenario = load()
    marks = [process_time()]
    karts = sampled(scenario, count)
    marks.append(process_time())
    setting = fitted(scenario.settings["more-caster"], scenario.kit, count).setting
    swept = sweep(karts.kart, setting, np.radians(np.linspace(-60.0, 60.0, 61)))
    marks.append(process_time())
    stand(swept, scenario.cases(["gentle corner"])[0])
    marks.append(process_time())
    drawn, swept_in, stood = (b - a for a, b in pairwise(marks))
    return drawn, swept_in, stood


def cold(*command: str, times: int = 7) -> float:
    """Seconds of processor time, the median, of the program started anew."""
    taken = []
    for _ in range(times):
        before = os.times()
        subprocess.run([sys.executable, "-m", "viz", *command], check=True, stdout=subprocess.DEVNULL)
        after = os.times()
        taken.append(sum(after[2:4]) - sum(before[2:4]))
    return median(taken)


def main() -> None:
    told_in, empty = cold("compare", "--setting", "more-caster"), cold("--version")
    print(f"first answer of a comparison, from the start: {told_in:.2f} s ({empty:.2f} s of it without one)")
    for count in (512, 4096):
        parts = whole_case(count)
        told = "drawn {:.2f}, swept {:.2f}, stood {:.2f}".format(*parts)
        print(f"{count} karts x 61 locks x 2 corners in one case: {sum(parts):.2f} s ({told})")
    for count in (256, 512, 1024):
        shares = covered(load(), count, KARTS, seed=5)
        print(f"{KARTS} karts against bands of {count} samples:")
        for address in ADDRESSES:
            print(f"  {address}: {100.0 * shares[address]:.1f} % within the band of the difference")


if __name__ == "__main__":
    main()
