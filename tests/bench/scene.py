"""How long the viewer takes, step by step. Run: python -m tests.bench.scene

Prints medians of wall and of processor time: on a shared machine the wall also waits for others. The bars:
2 ms for moving a whole scene to a new lock position before the render, 30 ms with the render at 1280x720,
5 s for an MP4 and 4 s for a GIF of 61 frames.
"""

from __future__ import annotations

import sys
import tempfile
import time
from pathlib import Path

import numpy as np

import scenarios
from kinematics.lock import sweep
from kinematics.parts import CornerSetting, Setting
from kinematics.standing.stand import stand
from viz.canvas import draw, gl, movie
from viz.scene import scene
from viz.scene import standing as stance_scene

LOCK = np.radians(np.linspace(-60.0, 60.0, 61))


def spent(call, values):
    """Median wall and processor time of a call, s."""
    wall, processor = [], []
    for value in values:
        start = time.perf_counter(), time.process_time()
        call(value)
        wall.append(time.perf_counter() - start[0])
        processor.append(time.process_time() - start[1])
    return float(np.median(wall)), float(np.median(processor))


def show(title, times, unit="ms", bar=""):
    by = 1e3 if unit == "ms" else 1.0
    print(f"{title:44s} wall {by * times[0]:9.3f} {unit:2s}  processor {by * times[1]:9.3f} {unit:2s}  {bar}")


def drawn(data):
    import pyvista as pv

    plotter = pv.Plotter(off_screen=True, window_size=[1280, 720])
    plotter.render_window.SetMultiSamples(0)
    handle = draw.add_to(plotter, data)
    plotter.show(auto_close=False)
    return plotter, handle


def bench_steps(title, data, others):
    """Moving one scene, rendered and not, and giving it other bushes."""
    plotter, handle = drawn(data)
    show(
        f"{title}: {len(data.bodies)} bodies, set_position",
        spent(handle.set_position, order(data) * 20),
        bar="bar 2 ms",
    )

    def step(index):
        handle.set_position(index)
        plotter.render()

    show(f"{title}: set_position and render", spent(step, order(data) * 2), bar="bar 30 ms")
    if others:
        show(f"{title}: set_data, other bushes", spent(handle.set_data, others))
    plotter.close()


def order(data):
    return list(range(data.count))


def bench_files(title, data):
    with tempfile.TemporaryDirectory() as folder:
        for suffix, bar in (("gif", "bar 4 s"), ("mp4", "bar 5 s"), ("webp", "")):
            path = Path(folder) / f"lock.{suffix}"
            times = spent(lambda to: movie.write(to, data, frames=range(61)), [path])
            show(f"{title}: {suffix}, 61 frames, {path.stat().st_size / 1e6:.2f} MB", times, "s", bar)


def main():
    gl.require()
    book = scenarios.load()
    kart, case = book.kart, next(c for c in book.load_cases if c.name == "slow corner")
    fits = [CornerSetting(top_offset=o, top_clock=2.0) for o in np.linspace(1.0, 5.0, 12)]
    sweeps = [sweep(kart, Setting(fit, fit), LOCK) for fit in fits]

    def standing(solved):
        return scene.build(solved, stance=stand(solved, case), exaggeration=5.0)

    show("front end: build, first time", spent(scene.build, sweeps[:1]))
    show("front end: build, other bushes", spent(scene.build, sweeps))
    show("standing kart: build, first time", spent(standing, sweeps[:1]))
    show("standing kart: build, other bushes", spent(standing, sweeps))
    front, whole = [scene.build(s) for s in sweeps], [standing(s) for s in sweeps]
    both = stance_scene.against(whole[0], whole[-1])
    bench_steps("front end", front[0], front)
    bench_steps("standing kart", whole[0], whole)
    bench_steps("standing, A and B", both, [])
    if "--no-files" not in sys.argv:
        bench_files("front end", front[0])
        bench_files("standing kart", whole[0])


if __name__ == "__main__":
    main()
