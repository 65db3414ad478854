"""What a hand-out and a GLB cost: seconds and bytes, beside the drawing of the same pictures alone.

Run from the top folder: python -m tests.bench.handout
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path
from time import perf_counter

sys.path.insert(0, str(Path(__file__).parents[2]))

import numpy as np

import scenarios
from kinematics.lock import sweep
from viz import handout
from viz.canvas import glb as export_glb
from viz.handout.content import solve
from viz.handout.pictures import pictures
from viz.scene import scene

LIMIT = 4_000_000


def main() -> None:
    """Print the figures of every built-in kart."""
    for name in scenarios.builtin_names():
        scenario = scenarios.load(name)
        settings = list(scenario.settings)[:2]
        with tempfile.TemporaryDirectory() as folder:
            start = perf_counter()
            size = handout.write(Path(folder) / "handout.html", scenario, settings)
            whole = perf_counter() - start
            content = solve(scenario, settings)
            start = perf_counter()
            pictures(content)
            drawing = perf_counter() - start
            data = scene.build(
                sweep(scenario.kart, scenario.settings[settings[0]], np.radians(np.linspace(-60, 60, 61)))
            )
            start = perf_counter()
            glb = export_glb.write(Path(folder) / "front.glb", data)
            took = perf_counter() - start
        print(
            f"{name}: hand-out of {len(settings)} in {whole:.1f} s, of which drawing {drawing / whole:.0%}; "
            f"{size / 1e6:.2f} MB, {size / LIMIT:.0%} of the limit; GLB in {took:.2f} s, {glb / 1e6:.2f} MB"
        )


if __name__ == "__main__":
    main()
