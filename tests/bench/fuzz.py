"""How many inputs that nobody means are answered or refused as they should be: a run of many, and its counts.

python -m tests.bench.fuzz --inputs 100000 [--first N] [--seconds S] [--batch 5000]

Each batch is a process of its own, so that memory is seen and a crash costs one batch; of every 250
inputs one runs as a command of its own as well. Each distinct fault is told with the number of an input that
has it: `--only N` runs that one alone.
"""

from __future__ import annotations

import argparse
import contextlib
import json
import os
import resource
import subprocess
import sys
import tempfile
import time
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path

from tests.helpers.hostile.inputs import made
from tests.helpers.hostile.watched import MOST_MEMORY, judged, watched, written_for

ROOT = Path(__file__).parents[2]
COLD_EVERY, COLD_SECONDS, BATCH_SECONDS = 250, 120, 3600
ADDRESS_SPACE = 6 << 30
"""Bytes a batch may ask for; more is a fault and not the end of the machine."""


@dataclass
class Counts:
    """What came of all inputs so far."""

    inputs: int = 0
    cold: int = 0
    kinds: Counter[str] = field(default_factory=Counter)
    codes: Counter[str] = field(default_factory=Counter)
    faults: Counter[str] = field(default_factory=Counter)
    first: dict[str, int] = field(default_factory=dict)
    seconds: float = 0.0
    """Longest of one input."""
    wait: float = 0.0
    memory: int = 0
    cold_memory: int = 0

    def fault(self, what: str, number: int) -> None:
        self.faults[what] += 1
        self.first.setdefault(what, number)


def told(number: int) -> dict[str, object]:
    """What came of one input."""
    one = made(number)
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    done = watched(one)
    faults = list(done.faults)
    if done.memory > MOST_MEMORY >= before:
        faults.append("over 1 GiB")
    more = {"seconds": done.seconds, "wait": done.longest_wait, "memory": done.memory}
    return {"number": number, "kind": one.kind, "code": str(done.code), "faults": faults, **more}


def batch(first: int, count: int) -> None:
    """Run inputs in this process, a line on stdout before and after each."""
    resource.setrlimit(resource.RLIMIT_AS, (ADDRESS_SPACE, ADDRESS_SPACE))
    for number in range(first, first + count):
        sys.stdout.write(f"{number}\n")
        sys.stdout.flush()
        line = json.dumps(told(number))
        sys.stdout.write(f"{line}\n")
    sys.stdout.flush()


def count_batch(counts: Counts, first: int, count: int, folder: str) -> None:
    """Run a batch in a process of its own and count what came of it."""
    command = [sys.executable, "-m", "tests.bench.fuzz", "--batch-from", str(first), "--batch", str(count)]
    env = {**os.environ, "PYTHONPATH": str(ROOT), "OMP_NUM_THREADS": "1", "OPENBLAS_NUM_THREADS": "1"}
    try:
        done = subprocess.run(
            command, cwd=folder, env=env, capture_output=True, timeout=BATCH_SECONDS, check=False
        )
        out, ended = done.stdout, f"ended with {done.returncode}: {done.stderr[-120:]!r}"
    except subprocess.TimeoutExpired as late:
        out, ended = late.stdout or b"", "took too long"
    last, answered = first, 0
    for line in out.decode().splitlines():
        if not line.startswith("{"):
            last = int(line)
            continue
        answered += 1
        _add(counts, json.loads(line))
    if answered < count:
        counts.inputs += 1
        counts.fault(f"the process {ended}", last)
        if last + 1 < first + count:
            count_batch(counts, last + 1, first + count - last - 1, folder)


def _add(counts: Counts, one: dict[str, object]) -> None:
    counts.inputs += 1
    counts.kinds[one["kind"]] += 1
    counts.codes[one["code"]] += 1
    for fault in one["faults"]:
        counts.fault(fault, one["number"])
    counts.seconds, counts.wait = max(counts.seconds, one["seconds"]), max(counts.wait, one["wait"])
    counts.memory = max(counts.memory, one["memory"])


def count_cold(counts: Counts, number: int, folder: str) -> None:
    """Run an input as a command of its own."""
    one = made(number)
    os.chdir(folder)
    written_for(one)
    if "view" in one.argv:
        return
    env = {**os.environ, "PYTHONPATH": str(ROOT)}
    command = [sys.executable, "-m", "viz", *one.argv]
    try:
        done = subprocess.run(command, env=env, capture_output=True, timeout=COLD_SECONDS, check=False)
    except subprocess.TimeoutExpired:
        counts.fault(f"a command that took over {COLD_SECONDS} s", number)
        return
    counts.cold += 1
    out, err = (text.decode("utf-8", "replace") for text in (done.stdout, done.stderr))
    for fault in judged(one, done.returncode, out, err):
        counts.fault(f"as a command: {fault}", number)
    counts.cold_memory = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss


def report(counts: Counts, seconds: float) -> str:
    """What was counted, in lines."""
    lines = [f"{counts.inputs} inputs in {seconds:.0f} s, {counts.cold} of them as commands of their own too"]
    lines += [f"kinds: {dict(counts.kinds)}", f"exit codes: {dict(counts.codes)}"]
    lines += [f"longest: {counts.seconds:.1f} s of work; {counts.wait:.1f} s without a word"]
    lines += [
        f"most memory: {counts.memory // 1024} MiB in a batch, {counts.cold_memory // 1024} in any child"
    ]
    lines += [f"faults: {sum(counts.faults.values())}"]
    lines += [
        f"  {n} times, input {counts.first[fault]} first: {fault}" for fault, n in counts.faults.most_common()
    ]
    return "\n".join(lines)


def run(inputs: int, first: int, seconds: float, size: int) -> Counts:
    """Run so many inputs, or as many as so many seconds take."""
    counts, began, home = Counts(), time.monotonic(), os.getcwd()
    with tempfile.TemporaryDirectory() as folder:
        for start in range(first, first + inputs, size):
            if time.monotonic() - began > seconds:
                break
            count_batch(counts, start, min(size, first + inputs - start), folder)
            for number in range(start, min(start + size, first + inputs), COLD_EVERY):
                count_cold(counts, number, folder)
            print(report(counts, time.monotonic() - began), flush=True)
        os.chdir(home)
    return counts


def main() -> int:
    """Read the command line of this script."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--inputs", type=int, default=100_000)
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--seconds", type=float, default=float("inf"))
    parser.add_argument("--batch", type=int, default=5000)
    parser.add_argument("--batch-from", type=int, help=argparse.SUPPRESS)
    parser.add_argument("--only", type=int, metavar="N")
    given = parser.parse_args()
    if given.only is not None:
        with tempfile.TemporaryDirectory() as folder, contextlib.chdir(folder):
            print(made(given.only).argv, told(given.only))
        return 0
    if given.batch_from is not None:
        batch(given.batch_from, given.batch)
        return 0
    return 1 if run(given.inputs, given.first, given.seconds, given.batch).faults else 0


if __name__ == "__main__":
    sys.exit(main())
