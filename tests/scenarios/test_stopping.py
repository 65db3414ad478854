"""A signal ends the program as that signal does, after what must not stay behind has been put right."""

from __future__ import annotations

import os
import signal
import subprocess
import sys

import pytest

from scenarios import stopping

pytestmark = pytest.mark.skipif(os.name != "posix", reason="signals as POSIX has them")

NUMBERS = [getattr(signal, name) for name in stopping.NAMES if hasattr(signal, name)]


@pytest.fixture(autouse=True)
def _nothing_ignored():
    """A test run in the background, or under nohup, starts with some of the signals ignored."""
    before = [signal.signal(number, signal.SIG_DFL) for number in NUMBERS]
    yield
    for number, handler in zip(NUMBERS, before, strict=True):
        signal.signal(number, handler)


HALF = """
import os, sys
from scenarios.files import replacing
from scenarios.stopping import answered, held, undone
with answered(), replacing(sys.argv[1]) as aside, undone(lambda: print("undone", flush=True)):
    open(aside, "w").write("half")
    if os.fork() == 0:
        os.kill(os.getpid(), int(sys.argv[2]))
        os._exit(0)
    os.wait()
    assert os.path.exists(aside), "a child has nothing of its parent's to put right"
    with held():
        os.kill(os.getpid(), int(sys.argv[2]))
        print("held", flush=True)
    print("gone on", flush=True)
"""


def stopped(folder, number, *before):
    """What half a file of that folder comes to: how the program ended, what it said, what is left."""
    command = [*before, sys.executable, "-c", HALF, str(folder / "kart.gif"), str(int(number))]
    done = subprocess.run(
        command, stdin=subprocess.DEVNULL, capture_output=True, text=True, check=False, timeout=60
    )
    left = {path.name: path.read_text() for path in folder.iterdir()}
    return done.returncode, done.stdout.split(), done.stderr, left


@pytest.mark.parametrize("number", NUMBERS)
def test_a_stopped_program_ends_by_its_signal_and_leaves_the_old_file_alone(tmp_path, number):
    (tmp_path / "kart.gif").write_text("old")
    assert stopped(tmp_path, number) == (-number, ["held", "undone"], "", {"kart.gif": "old"})


def test_what_is_ignored_stays_ignored(tmp_path):
    ignoring = ("sh", "-c", "trap '' HUP; exec \"$@\"", "sh")
    code, said, _, left = stopped(tmp_path, signal.SIGHUP, *ignoring)
    assert (code, said[:1], said[-1:], left) == (0, ["held"], ["on"], {"kart.gif": "half"})


def test_what_a_signal_did_before_it_does_afterwards():
    def now():
        return [signal.getsignal(number) for number in NUMBERS]

    signal.signal(signal.SIGHUP, signal.SIG_IGN)
    before = now()
    with stopping.answered():
        assert now()[2] is signal.SIG_IGN
        within = now()
        assert set(within[:2]).isdisjoint(before)
        with stopping.raised():
            assert now()[0] is signal.default_int_handler
        assert now() == within
    assert now() == before
