"""How much memory a program has held."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path


def peak() -> int:
    """Most memory this program has held so far, KiB, since it began.

    What getrusage says includes the program that started this one.
    """
    lines = Path("/proc/self/status").read_text(encoding="utf-8").splitlines()
    [most] = [line.split()[1] for line in lines if line.startswith("VmHWM")]
    return int(most)


_TOLD = """
import sys
from tests.helpers.cost.memory import peak
print(peak(), file=sys.stderr)
"""


def peak_of(code: str, *arguments: str) -> int:
    """Most memory, KiB, that a Python of its own holds with this code, which says nothing on stderr."""
    command = [sys.executable, "-c", code + _TOLD, *arguments]
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    return int(done.stderr)
