"""How long a lock step of the window takes, by view, one kart and two. Run: python -m tests.bench.window

The peer, measured in the same run and turn about with it, is the same kart alone on a bare plotter of the
same size. Prints the best of several medians of wall time, for on a shared machine the wall also waits for
others, processor time, and the ratio to the peer. The bar: 30 ms at 1280x720 with two karts, machine idle.
"""

from __future__ import annotations

import time

import numpy as np

import scenarios
from kinematics.lock import sweep
from kinematics.standing.stand import stand
from viz.canvas import draw, gl
from viz.scene import scene
from viz.window.state import OnScreen, Options
from viz.window.window import Viewer

LOCK = np.radians(np.linspace(-60.0, 60.0, 61))
SIZE = (1280, 720)
ROUNDS = 7
VIEWS = ("overview", "front", "rear", "rock", "clock")


def median(step, count):
    """Median wall and processor time of a lock step, ms."""
    spent = []
    for index in range(0, count, 4):
        start = time.perf_counter(), time.process_time()
        step(index)
        spent.append((time.perf_counter() - start[0], time.process_time() - start[1]))
    return 1e3 * np.median(spent, axis=0)


def peer(book, case):
    """A lock step of the kart alone."""
    import pyvista as pv

    plotter = pv.Plotter(off_screen=True, window_size=list(SIZE))
    plotter.render_window.SetMultiSamples(0)
    solved = sweep(book.kart, book.settings["more-caster"], LOCK)
    handle = draw.add_to(plotter, scene.build(solved, stance=stand(solved, case), exaggeration=5.0))
    plotter.show(auto_close=False)

    def step(index):
        handle.set_position(index)
        plotter.render()

    return step


def opened(book, second):
    other = OnScreen(sweep(book.kart, book.settings["less-caster"], LOCK), "less-caster") if second else None
    options = Options(book.load_cases, 2, other, settings=book.settings)

    def resweep(setting):
        return sweep(book.kart, setting, LOCK)

    start = resweep(book.settings["more-caster"])
    made = Viewer(start, resweep, "more-caster", size=SIZE, off_screen=True, options=options)
    made.plotter.show(auto_close=False)
    return made


def main():
    gl.require()
    book = scenarios.load()
    alone = peer(book, book.load_cases[2])
    for second in (False, True):
        viewer = opened(book, second)
        for view in VIEWS:
            viewer.look(view)
            rounds = [(*median(viewer._go, len(LOCK)), *median(alone, len(LOCK))) for _ in range(ROUNDS)]
            wall, processor, peer_wall, peer_processor = np.min(rounds, axis=0)
            print(
                f"{'two karts' if second else 'one kart':9s} {view:9s} wall {wall:6.1f} ms  processor"
                f" {processor:6.1f} ms  peer {peer_wall:6.1f} and {peer_processor:6.1f} ms"
                f"  ratio {processor / peer_processor:4.2f}"
            )
        viewer.close()


if __name__ == "__main__":
    main()
