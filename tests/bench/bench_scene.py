"""How long the viewer takes, step by step. Run: python tests/bench/bench_scene.py

Prints medians; the bar for moving the whole scene to a new lock position is 2 ms before the render.
"""

from __future__ import annotations

import tempfile
import time
from pathlib import Path

import numpy as np

import scenarios
from kinematics.parts import CornerSetting, Setting
from kinematics.sweep import sweep
from viz import gl, movie, scene

LOCK = np.radians(np.linspace(-60.0, 60.0, 61))


def median_ms(call, values):
    spent = []
    for value in values:
        start = time.perf_counter()
        call(value)
        spent.append(time.perf_counter() - start)
    return 1e3 * float(np.median(spent))


def show(title, value, unit, bar=""):
    print(f"{title:52s} {value:10.3f} {unit}  {bar}")


def main():
    import pyvista as pv

    gl.require()
    kart = scenarios.load().kart
    fits = [CornerSetting(top_offset=o, top_clock=2.0) for o in np.linspace(1.0, 5.0, 12)]
    sweeps = [sweep(kart, Setting(fit, fit), LOCK) for fit in fits]
    start = time.perf_counter()
    data = scene.build(sweeps[0])
    show("build, first time (meshes made)", 1e3 * (time.perf_counter() - start), "ms")
    show("build, other bushes", median_ms(scene.build, sweeps), "ms")
    plotter = pv.Plotter(off_screen=True, window_size=[1280, 720])
    plotter.render_window.SetMultiSamples(0)
    handle = scene.add_to(plotter, data)
    plotter.show(auto_close=False)
    order = list(range(data.count)) * 20
    show("set_position, whole scene", median_ms(handle.set_position, order), "ms", "bar 2 ms")

    def step(index):
        handle.set_position(index)
        plotter.render()

    show("set_position and render, 1280x720", median_ms(step, range(data.count)), "ms", "bar 30 ms")
    show("set_data, other bushes", median_ms(handle.set_data, [scene.build(s) for s in sweeps]), "ms")
    plotter.close()
    with tempfile.TemporaryDirectory() as folder:
        for suffix, bar in (("gif", "bar 4 s"), ("mp4", "bar 5 s"), ("webp", ""), ("png", "")):
            path = Path(folder) / f"lock.{suffix}"
            start = time.perf_counter()
            movie.write(path, data, frames=range(61))
            show(f"{suffix}, 61 frames 1280x720", time.perf_counter() - start, "s ", bar)
            show(f"{suffix}, size", path.stat().st_size / 1e6, "MB")


if __name__ == "__main__":
    main()
