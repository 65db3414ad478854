"""Kill every command that writes at random moments, and run it on disks too small: what is then left?

    python -m tests.bench.kills [kills [full disks [seed]]]

A kill leaves the old file or the whole new one, and after SIGINT, SIGTERM and SIGHUP nothing else. SIGKILL
may leave a part, which the next write of the same file clears. A disk too small leaves the old file, one line
and exit 2. Most runs are forked from a parent that has imported all, some are processes of their own. A full
disk is a small file system in memory where mounting is allowed, else a limit on the size of a file.
"""

from __future__ import annotations

import os
import random
import resource
import signal
import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import partial
from importlib import import_module
from pathlib import Path

from scenarios.files import put
from tests.helpers.files.writers import WRITERS, is_whole, typed
from tests.helpers.scenario_edit import stepped
from viz.cli import main as cli

SIGNALS = (signal.SIGINT, signal.SIGTERM, signal.SIGHUP, signal.SIGKILL)
HEAVY = ("pyvista", "trimesh", "imageio_ffmpeg", "PIL.Image", "viz.plots.compare", "viz.plots.reach")
COLD, FIRST = 0.15, 0.1
"""Share of runs in a process of their own, and the seconds in which half of those are killed."""
OURS = "viz/cli"
"""Is in the traceback of an interrupt that came after the first line of ours."""
WRITING = 0.5
"""Share of kills that wait until something is being written."""


@dataclass
class Place:
    """A folder with the kart, one file to be written, and what a command said."""

    folder: Path
    kart: Path
    name: str
    old: bytes = b""

    @property
    def target(self) -> Path:
        """The file."""
        return self.folder / self.name

    @property
    def said(self) -> Path:
        """What was said on stderr, kept elsewhere."""
        return self.kart.with_name("said")

    def others(self) -> list[Path]:
        """What is there beside the file."""
        return [path for path in self.folder.iterdir() if path != self.target]


@dataclass
class Known:
    """Of each kind of file a whole one, and how long it takes to write, s."""

    content: dict[str, bytes] = field(default_factory=dict)
    takes: dict[str, float] = field(default_factory=dict)


def forked(place: Place, before: Callable[[], object] = lambda: None) -> int:
    """Start the command in a child of this process; returns its number."""
    child = os.fork()
    if child:
        return child
    code = 70
    try:
        quiet, said = os.open(os.devnull, os.O_RDWR), os.open(place.said, os.O_CREAT | os.O_TRUNC | os.O_RDWR)
        for old, new in ((quiet, 0), (quiet, 1), (said, 2)):
            os.dup2(old, new)
        before()
        code = cli.main(typed(place.name, str(place.kart), place.target))
    finally:
        os._exit(code)


def cold(place: Place) -> int:
    """Start the command in a process of its own."""
    command = [sys.executable, "-m", "viz", *typed(place.name, str(place.kart), place.target)]
    with open(place.said, "wb") as said:
        return subprocess.Popen(command, stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, stderr=said).pid


def ended(child: int) -> int:
    """Wait for a child: its exit code, or its signal as a negative number."""
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])


def alive(child: int) -> bool:
    """Whether a child has not ended; it is not taken away."""
    return os.waitid(os.P_PID, child, os.WEXITED | os.WNOHANG | os.WNOWAIT) is None


def reference(folder: Path, kart: Path) -> Known:
    """Write every file once, warmed."""
    known = Known()
    for name in WRITERS:
        place = Place(folder, kart, name)
        start = time.perf_counter()
        code = ended(forked(place))
        known.takes[name] = time.perf_counter() - start
        assert code == 0, (name, place.said.read_text())
        assert is_whole(place.target), name
        known.content[name] = place.target.read_bytes()
        place.target.unlink()
    return known


def when(rng: random.Random, place: Place, child: int, takes: float, is_cold: bool) -> None:
    """Wait for the moment of the kill."""
    if is_cold:
        time.sleep(
            rng.uniform(0.0, FIRST if rng.random() < 0.5 else takes + 2.0)
        )  # a random moment of its life
    elif rng.random() < WRITING:
        while alive(child) and not place.others():
            time.sleep(0.0002)  # until something is being written
        time.sleep(
            rng.uniform(0.0, takes / 3 if place.name.endswith("mp4") else 0.003)
        )  # and some way into it
    else:
        time.sleep(rng.uniform(0.0, takes))  # a random moment of its work


def killed(rng: random.Random, place: Place, takes: float, number: signal.Signals) -> list[str]:
    """Kill one run; returns what there is to count."""
    place.target.write_bytes(place.old)
    is_cold = rng.random() < COLD
    child = cold(place) if is_cold else forked(place)
    when(rng, place, child, takes, is_cold)
    os.kill(child, number)
    code = ended(child)
    found = ["cold"] if is_cold else []
    said = place.said.read_text()
    if said and is_cold and number == signal.SIGINT and OURS not in said:
        found.append("told by Python's own start")
    elif said or code not in (-number, 0):
        found.append(f"BAD exit {code}: {said.strip()[-120:]}")
    return [*found, *left(place, "in time" if code else "too late", number)]


def left(place: Place, how: str, number: signal.Signals) -> list[str]:
    """What the file is and what is beside it; a part is then cleared by the next write."""
    content = place.target.read_bytes() if place.target.exists() else b""
    found = [how, "old" if content == place.old else "new" if is_whole(place.target) else "BAD half"]
    if place.others():
        found.append("part left" if number == signal.SIGKILL else "BAD part left")
        time.sleep(0.5)  # an encoder without its parent comes to its end
        put(place.target, content)
        if place.others():
            found.append("BAD part not cleared")
            for path in place.others():
                path.unlink()
    return found


def kills(rng: random.Random, known: Known, kart: Path, folder: Path, count: int) -> None:
    """Kill so many runs, every kind of file and every signal in turn, and print what came of it."""
    every: dict[str, Counter[str]] = {}
    bad = 0
    for turn in range(count):
        name, number = list(WRITERS)[turn % len(WRITERS)], SIGNALS[turn // len(WRITERS) % len(SIGNALS)]
        place = Place(folder, kart, name, b"old " + rng.randbytes(20_000))
        found = killed(rng, place, known.takes[name], number)
        bad += any(one.startswith("BAD") for one in found)
        for row in (name, number.name, "all"):
            every.setdefault(row, Counter()).update(["runs", *found])
        place.target.unlink()
    table(f"kills: {count}, {bad} bad", every)


def limit(size: int) -> None:
    """Let no file grow beyond size."""
    resource.setrlimit(resource.RLIMIT_FSIZE, (size, size))


def full(rng: random.Random, place: Place, size: int, mounted: bool) -> list[str]:
    """Run on a disk that has room for the old file and some of the new one."""
    room = rng.randrange(max(size, 4096))
    if mounted:
        bytes_in_all = (len(place.old) // 4096 + 1) * 4096 + max(room // 4096, 1) * 4096
        subprocess.run(
            ["mount", "-t", "tmpfs", "-o", f"size={bytes_in_all}", "tmpfs", place.folder], check=True
        )
    try:
        place.target.write_bytes(place.old)
        code = ended(forked(place, (lambda: None) if mounted else partial(limit, room)))
        said = place.said.read_text()
        found = left(place, f"exit {code}", signal.SIGTERM)
        fine = (code, found[1]) in ((0, "new"), (2, "old"))
        told = not said if code == 0 else said.count("\n") == 1 and "cannot" in said
        return found if fine and told else [*found, f"BAD {code} {said.strip()[-200:]}"]
    finally:
        if mounted:
            subprocess.run(["umount", place.folder], check=True)


def full_disks(rng: random.Random, known: Known, kart: Path, folder: Path, count: int) -> None:
    """Run on so many disks, every kind of file in turn, and print what came of it."""
    mounted = os.geteuid() == 0 and _can_mount(folder)
    every: dict[str, Counter[str]] = {}
    bad = 0
    for turn in range(count):
        name = list(WRITERS)[turn % len(WRITERS)]
        place = Place(folder, kart, name, b"old " + known.content[name])
        found = full(rng, place, len(known.content[name]), mounted)
        bad += any(one.startswith("BAD") for one in found)
        for row in (name, "all"):
            every.setdefault(row, Counter()).update(["runs", *found])
        place.target.unlink(missing_ok=True)
    table(f"full disks ({'tmpfs' if mounted else 'RLIMIT_FSIZE'}): {count}, {bad} bad", every)


def _can_mount(folder: Path) -> bool:
    asked = ["mount", "-t", "tmpfs", "tmpfs", str(folder)]
    if subprocess.run(asked, capture_output=True, check=False).returncode:
        return False
    subprocess.run(["umount", str(folder)], check=True)
    return True


def table(title: str, every: dict[str, Counter[str]]) -> None:
    """Print counts, one row a command, signal or all."""
    print(title)
    for row, counts in every.items():
        print(f"  {row:14}", ", ".join(f"{what} {n}" for what, n in sorted(counts.items())))


def main(count: int = 1000, disks: int = 200, seed: int = 1) -> None:
    """Warm this process up, then kill and fill."""
    os.environ.update(OMP_NUM_THREADS="1", OPENBLAS_NUM_THREADS="1")
    os.environ.pop("DISPLAY", None)
    for number in SIGNALS[:3]:  # a shell's job in the background, or one of nohup, starts with some ignored
        signal.signal(number, signal.SIG_DFL)
    for module in HEAVY:
        import_module(module)
    rng = random.Random(seed)
    with tempfile.TemporaryDirectory() as top:
        folder, aside, temporary = Path(top, "out"), Path(top, "aside"), Path(top, "tmp")
        for one in (folder, aside, temporary):
            one.mkdir()
        os.environ["TMPDIR"] = tempfile.tempdir = str(temporary)
        kart = aside / "coarse.toml"
        kart.write_text(stepped(45.0))
        known = reference(folder, kart)
        kills(rng, known, kart, folder, count)
        print("left among temporary files:", sorted(os.listdir(temporary)) or "nothing")
        full_disks(rng, known, kart, folder, disks)


if __name__ == "__main__":
    main(*(int(word) for word in sys.argv[1:]))
