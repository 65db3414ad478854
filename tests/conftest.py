"""Four speeds of tests, one Hypothesis profile for the house, and how many processes run them.

A test is `quick` (`pytest -m quick` runs those), `slow` (it draws, or works long), `browser` (it serves a
page or opens one) or `long` (`.ci/run --long` runs those, as `pytest -m long`). Its own mark says which, else
its module or folder below, else it is quick. One marked `deep` tries
a few of many by default (`helpers/cost/depth`), and is long as well: there it tries all of them.
"""

from __future__ import annotations

import os
from collections import Counter
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

from tests.helpers.cost import depth

TESTS = Path(__file__).parent
SPEEDS = ("quick", "slow", "browser", "long")
COSTS = {"long": 0.0, "browser": 2.0, "slow": 1.0, "quick": 0.05}
"""Seconds that a test takes, about."""
ROOMS = {
    "kinematics/stance/test_twin.py": "slow",
    "viz/browser": "browser",
    "viz/browser/chosen": "quick",
    "viz/browser/gate": "browser",
    "viz/browser/gate/test_addresses.py": "quick",
    "viz/browser/gate/test_guesses.py": "quick",
    "viz/browser/gate/test_telling.py": "quick",
    "viz/browser/asked": "browser",
    "viz/browser/asked/test_gauged.py": "quick",
    "viz/browser/asked/test_likely.py": "quick",
    "viz/browser/asked/test_lessons.py": "quick",
    "viz/browser/test_parts.py": "quick",
    "viz/browser/test_scene.py": "quick",
    "viz/browser/test_workbench.py": "quick",
    "viz/canvas": "slow",
    "viz/handout": "slow",
    "viz/handout/test_opened.py": "browser",
    "viz/lesson": "slow",
    "viz/lesson/test_page.py": "browser",
    "viz/plots": "slow",
    "viz/sheet": "slow",
    "viz/window": "slow",
}

if "PYTEST_XDIST_WORKER" in os.environ:  # a process a core: NumPy keeps to its own
    os.environ["OMP_NUM_THREADS"] = "1"

settings.register_profile(
    "house",
    derandomize=True,
    deadline=None,
    max_examples=40,
    database=None,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.load_profile("house")


def pytest_configure(config: pytest.Config) -> None:
    """Tell the tests whether this is the long run, before any of them is read."""
    if config.option.markexpr == "long":
        depth.lengthen()


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Give a speed to each test that has none of its own; modules that work longest come first.

    A worker takes a module at a time: what is left for the last is then short.
    """
    for item in items:
        if depth.is_long() and item.get_closest_marker("deep"):
            item.add_marker("long")
        elif not any(item.get_closest_marker(speed) for speed in SPEEDS):
            module = item.path.relative_to(TESTS)
            homes = (ROOMS.get(home.as_posix()) for home in (module, module.parent))
            item.add_marker(next((speed for speed in homes if speed), "quick"))
    work: Counter[Path] = Counter()
    for item in items:
        work[item.path] += next(cost for speed, cost in COSTS.items() if item.get_closest_marker(speed))
    items.sort(key=lambda item: -work[item.path])


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_auto_num_workers(config: pytest.Config) -> int | None:
    """No second process for files named one by one: it takes longer to start than most of them to run."""
    return 0 if all(Path(named.partition("::")[0]).is_file() for named in config.args) else None
