"""Settings against a base: every figure and column, the kart left three ways."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, fields
from typing import TypeVar

import numpy as np

from kinematics.batches import one_of, stacked
from kinematics.change.change import Change, Difference, Differences, Work, differences, put_right
from kinematics.change.rods import with_rods_kept, with_rods_reset
from kinematics.figures import standing
from kinematics.figures.figure import Numbers, each
from kinematics.figures.solved import Solved
from kinematics.parts import Setting
from scenarios import Scenario
from scenarios.ask.run import check_compared, lock_of, read, solve

WAY_WORDS = {
    "alone": "tie rods left alone",
    "reset": "toe re-set",
    "spacers": "spacers moved, toe re-set",
}
"""The ways in which a changed kart can be left, in words."""
WAYS = tuple(WAY_WORDS)
STOOD = (standing.LOAD, standing.CROSS_WEIGHT, standing.RIDE_HEIGHT)
"""What is read of the standing kart, straight ahead."""
AT_ONCE = 30_000
"""Lock positions, in no load case and in each, solved together: a second's work or so."""
T = TypeVar("T")
Progress = Callable[[int, int], object]
Triple = tuple[float | None, float | None, float | None]
"""Base, now and change."""


@dataclass(frozen=True)
class Left:
    """The changed kart left one of the three ways, against the base."""

    figures: Differences
    """Headline figures, where the front wheels stand, and corner weights straight ahead."""
    curves: Differences
    cases: Mapping[str, Differences]
    """Per load case, every column through lock."""
    case_figures: Mapping[str, Differences]


@dataclass(frozen=True)
class Against:
    """One setting against the base, with the work that puts it right."""

    name: str
    work: Work
    ways: Mapping[str, Left]
    settings: Mapping[str, Setting]
    """As fitted, each way."""


@dataclass(frozen=True)
class Compared:
    """Any number of settings against one base."""

    scenario: Scenario
    base: str
    solved: Solved
    """The base."""
    settings: Sequence[Against]
    cases: Sequence[str]
    at_deg: float | None
    """Where figures at lock were asked for, deg; None: at each case's own lock."""
    handwheel_deg: Sequence[float]

    @property
    def locks_deg(self) -> Mapping[str, float]:
        """Where the figures at lock of each case are read, deg, without sign."""
        return {case.name: lock_of(case) for case in self.solved.cases}

    def read(self, address: str, name: str | None = None, way: str = "reset") -> Triple:
        """Base, now and change of a figure by its typed address; name is a setting, left out the first."""
        [against, *_] = [one for one in self.settings if name in (None, one.name)]
        settings = self.solved.setting, against.settings[way]
        was, now = (read(self.scenario, setting, address) for setting in settings)
        return was, now, None if was is None or now is None else now - was


def compare(
    scenario: Scenario,
    base: str,
    names: Sequence[str],
    cases: Sequence[str] | None = None,
    at_deg: float | None = None,
    progress: Progress | None = None,
) -> Compared:
    """Work out every setting against the base; at_deg is where figures at lock are read, as in `run`.

    cases are names of load cases, all of them when left out. Settings are solved in batches, once for each
    way of leaving the kart; progress(done, total) is told the settings done after each.
    """
    cases = [case.name for case in scenario.load_cases] if cases is None else cases
    check_compared(scenario, base, names, cases)
    before = solve(scenario, scenario.settings[base], cases, at_deg)
    found: list[Against] = []
    step = max(1, AT_ONCE // ((1 + len(cases)) * before.positions))
    for start in range(0, len(names), step):
        found += _batch(scenario, before, names[start : start + step])
        if progress is not None:
            progress(len(found), len(names))
    return Compared(
        scenario, base, before, found, cases, at_deg, np.linspace(*scenario.handwheel_deg).tolist()
    )


def _batch(scenario: Scenario, before: Solved, names: Sequence[str]) -> Iterator[Against]:
    """Some settings against the base, solved together; of what was solved only the figures are kept."""
    settings = [scenario.settings[name] for name in names]
    kept, reset = (
        stacked([with_rods(before.ahead, setting) for setting in settings])
        for with_rods in (with_rods_kept, with_rods_reset)
    )
    done = put_right(before, kept, reset, scenario.thread_pitch_mm)
    return (_against(done, name, (place, len(names))) for place, name in enumerate(names))


def _against(done: Change, name: str, row: tuple[int, int]) -> Against:
    work = Work(*(one_of(getattr(done, part.name), row[0]) for part in fields(Work)))
    ways = dict(zip(WAYS, (done.kept, done.reset, done.right), strict=True))
    return Against(
        name,
        work,
        {way: _left(done.base, now, row) for way, now in ways.items()},
        {way: one_of(now.setting, row[0]) for way, now in ways.items()},
    )


def _left(before: Solved, now: Solved, row: tuple[int, int]) -> Left:
    return Left(
        differences(_told(before), _told(now), row),
        differences(before.columns, now.columns, row),
        {
            case: differences(before.case_columns[case], found, row)
            for case, found in now.case_columns.items()
        },
        {
            case: differences(before.case_figures[case], found, row)
            for case, found in now.case_figures.items()
        },
    )


def _told(solved: Solved) -> dict[str, Numbers]:
    """Headline figures, places and corner weights, in the order in which they are told."""
    stood = {one.name: solved.stood_ahead[one.name] for one in each(STOOD)}
    return {**solved.straight, **solved.places, **solved.near, **stood}


def one(difference: Difference) -> Triple:
    """Base, now and change of a figure as plain numbers, None where there is none."""
    if not bool(difference.known):
        return None, None, None
    return float(difference.base), float(difference.now), float(difference.change)


def base_columns(compared: Compared) -> Mapping[str, Numbers]:
    """The columns of the base through lock, those of load cases headed `case.column`."""
    of_cases = {
        f"{case}.{name}": column
        for case, columns in compared.solved.case_columns.items()
        for name, column in columns.items()
    }
    return {**compared.solved.columns, **of_cases}
