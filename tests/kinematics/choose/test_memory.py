"""What a search of very many settings takes of the machine's memory."""

from __future__ import annotations

import subprocess
import sys

import pytest

_MILLION = """
import resource, numpy as np
from tests.helpers.karts import KART
from tests.helpers.searching import BASE, SIZES, LOCKS
from kinematics.choose.search import search
from kinematics.choose.box import Box
from tests.helpers.reading import named
from kinematics.choose.targets import Target
targets = [Target(named("camber_left_deg", float(lock)), 1.0, 1.0) for lock in LOCKS]
found = search(KART, BASE, Box(SIZES, clock_step=np.radians(2.0)), targets)
assert found.total > 1_000_000 and found.seen == found.total and found.best
print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss)
"""


@pytest.mark.slow
def test_a_million_settings_are_searched_under_one_gibibyte():
    done = subprocess.run([sys.executable, "-c", _MILLION], capture_output=True, text=True, check=True)
    assert int(done.stdout) < 1024 * 1024  # KiB
