"""Every command that writes treats links, pipes, devices and a full disk alike."""

from __future__ import annotations

import os
import signal
import stat
import subprocess
import sys
import time
from contextlib import contextmanager
from importlib import import_module

import pytest

from tests.helpers.files.writers import WRITERS, is_whole, typed
from viz.cli import main as cli

pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="devices and limits as Linux has them")
DRAWN = ("view", "handout", "map")
PLOTTED = (".png", ".svg", ".pdf")
SOLVED = (
    "scenarios.ask.compare.compare",
    "scenarios.ask.choose.run_search",
    "scenarios.ask.reach.map_box",
    "viz.sheet.content.figures",
    "scenarios.gauged.told.told_of",
)
PLOTS = ("viz.plots.lock.lock_figure", "viz.plots.compare.compare_figure", "viz.plots.reach.map_figure")
EVERY = [
    pytest.param(name, marks=pytest.mark.slow if name.startswith(DRAWN) or name.endswith(PLOTTED) else ())
    for name in WRITERS
]


@pytest.fixture(scope="module")
def made():
    return {}


@pytest.fixture(autouse=True)
def drawn_once(monkeypatch, made):
    """What is written is worked out and drawn once, and small: its writing is asked for each time anew."""
    from matplotlib.figure import Figure

    from viz.canvas import movie
    from viz.handout import writing
    from viz.plots import lock

    def once(key, draw):
        if key not in made:
            made[key] = draw()
        return made[key]

    def small(figure, suffix, draw=lock.figure_bytes):
        return once(suffix, lambda: draw(figure, suffix))

    def page(*asked, draw=writing.page, **options):
        return once("page", lambda: draw(*asked, **{**options, "size": (160, 96)}))

    @contextmanager
    def canvas(data, *how, draw=movie.canvas, **options):
        def every():
            with draw(data, *how, **options) as picture:
                return [picture(index) for index in range(data.count)]

        yield once(data.count, every).__getitem__

    def solved_once(place):
        room, _, name = place.rpartition(".")
        solve = getattr(import_module(room), name)
        monkeypatch.setattr(place, lambda *asked, **how: once(place, lambda: solve(*asked, **how)))

    for place in (*SOLVED, *PLOTS):
        import_module(place.rpartition(".")[0])  # before any of it is replaced: they take from each other
    for place in SOLVED:
        solved_once(place)
    for place in PLOTS:
        monkeypatch.setattr(place, lambda *asked, **how: Figure((1.0, 1.0)))
    monkeypatch.setattr(lock, "figure_bytes", small)
    monkeypatch.setattr(writing, "page", page)
    monkeypatch.setattr(movie, "canvas", canvas)


def gone(folder):
    """What a folder holds beside the kart."""
    return sorted(path.name for path in folder.iterdir() if path.name != "coarse.toml")


@pytest.mark.parametrize("name", EVERY)
def test_a_link_is_followed_and_a_full_disk_leaves_what_it_points_to(tmp_path, coarse, capsys, name):
    import resource

    there, link = tmp_path / f"there-{name}", tmp_path / name
    link.symlink_to(there)
    assert cli.main(typed(name, coarse, link)) == 0
    assert link.is_symlink()
    assert is_whole(there)
    assert gone(tmp_path) == sorted([name, there.name])
    first = there.read_bytes()
    capsys.readouterr()

    limits = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (len(first) // 2, limits[1]))
    try:
        code = cli.main(typed(name, coarse, link))
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, limits)
    out, err = capsys.readouterr()
    assert (code, out, err.count("\n")) == (2, "", 1)
    assert name in err
    assert there.read_bytes() == first
    assert gone(tmp_path) == sorted([name, there.name])


@pytest.mark.parametrize("name", EVERY)
def test_a_pipe_and_a_device_are_written_into(tmp_path, coarse, capsys, name):
    pipe, full, read = tmp_path / name, tmp_path / f"full-{name}", tmp_path / f"read-{name}"
    os.mkfifo(pipe)
    full.symlink_to("/dev/full")
    with open(read, "wb") as kept, subprocess.Popen(["cat", str(pipe)], stdout=kept) as reader:
        try:
            assert cli.main(typed(name, coarse, pipe)) == 0
            assert stat.S_ISFIFO(pipe.stat().st_mode)  # before a device of the machine is at stake
            reader.wait(60)
        finally:
            reader.kill()
    assert is_whole(read)
    capsys.readouterr()
    assert cli.main(typed(name, coarse, full)) == 2
    out, err = capsys.readouterr()
    assert (out, err.count("\n")) == ("", 1)
    assert "No space left" in err
    assert stat.S_ISCHR(os.stat("/dev/full").st_mode)
    assert gone(tmp_path) == sorted([name, full.name, read.name])


@pytest.mark.slow
@pytest.mark.parametrize(
    "number",
    [signal.SIGTERM, *(pytest.param(n, marks=pytest.mark.long) for n in (signal.SIGINT, signal.SIGHUP))],
)
def test_a_film_that_is_stopped_leaves_the_older_one_alone(tmp_path, number):
    film = tmp_path / "kart.mp4"
    film.write_bytes(b"older")
    command = [sys.executable, "-m", "viz", "view", "--out", str(film)]
    before = signal.signal(number, signal.SIG_DFL)  # else it may be ignored, as a shell's background jobs do
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as process:
        signal.signal(number, before)
        while len(os.listdir(tmp_path)) == 1 and process.poll() is None:
            time.sleep(0.005)
        process.send_signal(number)
        said = process.communicate(timeout=60)
    assert (process.returncode, *said) == (-number, b"", b"")
    assert os.listdir(tmp_path) == [film.name]
    assert film.read_bytes() == b"older"
