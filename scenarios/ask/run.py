"""A run: a setting of a scenario swept through lock and stood on the road in load cases, figures by name."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from math import degrees

import numpy as np

from kinematics.figures import catalog
from kinematics.figures import read as figures
from kinematics.figures.figure import Numbers
from kinematics.figures.kart import HANDWHEEL
from kinematics.figures.solved import Solved
from kinematics.figures.verdict import falls, words
from kinematics.lock import Sweep, sweep
from kinematics.parts import LoadCase, Setting
from kinematics.stance.equilibrium import Stance
from scenarios import Scenario
from scenarios.ask.asked import check_named
from scenarios.errors import Refusal, refusing

MOST_STATES = 500_000
"""Settings times positions, in no load case and in each, held at once: under a GiB in a comparison."""


@dataclass(frozen=True)
class CaseRun:
    """One setting in one load case."""

    name: str
    solved: Solved

    @property
    def case(self) -> LoadCase:
        """The load case, its handwheel angle that at which figures at lock are read."""
        return next(case for case in self.solved.cases if case.name == self.name)

    @property
    def at_deg(self) -> float:
        """Where figures at lock are read, deg, without sign."""
        return lock_of(self.case)

    @property
    def columns(self) -> Mapping[str, Numbers]:
        """Every column through lock."""
        return self.solved.case_columns[self.name]

    @property
    def stands(self) -> list[str]:
        """How it stands at each lock position (N,), in a word of `kinematics.figures.verdict`."""
        return words(self.solved.sweep.reach, self._stance)

    @property
    def rests_twice_at_deg(self) -> list[float]:
        """Handwheel angles of the lock positions at which it has two resting places."""
        swept = self.solved.sweep
        return [float(angle) for angle in np.degrees(swept.handwheel[swept.reach & self._stance.rests_twice])]

    @property
    def falls_at_deg(self) -> list[float]:
        """Where, turned from straight ahead, it falls from one resting place into another."""
        return falls(self.solved.sweep.reach, self._stance)

    @property
    def _stance(self) -> Stance:
        return self.solved.standing[self.case].stance

    @property
    def headline(self) -> Mapping[str, Numbers]:
        """Every headline figure."""
        return self.solved.case_figures[self.name]


@dataclass(frozen=True)
class Run:
    """One setting swept through lock, with its columns and headline figures by name, and its load cases."""

    scenario: Scenario
    name: str
    solved: Solved
    handwheel_deg: Sequence[float]
    cases: Sequence[CaseRun] = ()

    @property
    def sweep(self) -> Sweep:
        """Through the lock asked for."""
        return self.solved.sweep

    @cached_property
    def columns(self) -> Mapping[str, Numbers]:
        """Every column through lock; the handwheel angles as asked for, unrounded."""
        asked = self.solved.columns[HANDWHEEL.name()]
        return {**self.solved.columns, asked.name: replace(asked, values=np.array(self.handwheel_deg))}

    @property
    def headline(self) -> Mapping[str, Numbers]:
        """Every headline figure straight ahead and near it."""
        return self.solved.headline

    def work_out(self, columns: bool) -> None:
        """Solve now what is told of it in its load cases: figures, and every column where those are asked."""
        for case in self.cases:
            _ = case.headline, case.columns if columns else None

    def read(self, address: str) -> float | None:
        """A figure by its typed address, in its own unit, None where it has no value; see `read`."""
        return read(self.scenario, self.solved.setting, address)


def solve(
    scenario: Scenario, setting: Setting, cases: Sequence[str] | None = None, at_deg: float | None = None
) -> Solved:
    """A setting at the scenario's lock positions, in load cases by name; the rest as in `run`."""
    some = scenario.load_cases if cases is None else scenario.cases(cases)
    return Solved(
        scenario.kart,
        setting,
        np.radians(np.linspace(*scenario.handwheel_deg)),
        tuple(read_at(scenario, case, at_deg) for case in some),
        scenario.given,
    )


def run(
    scenario: Scenario,
    name: str | None = None,
    cases: Sequence[str] | None = None,
    at_deg: float | None = None,
) -> Run:
    """One setting of a scenario through its lock, and in load cases; each thing is solved when asked for.

    name is that of a setting, the default one when left out; cases are names of load cases, all when left
    out; at_deg is the handwheel angle (deg, either way) of the figures at lock, when left out that at which
    the case's corner is driven, else the larger end of the lock range. A Refusal, one line, names what the
    scenario does not have.
    """
    name = scenario.default_setting if name is None else name
    check_named(scenario, name)
    for case in cases or ():
        check_named(scenario, case, "load case", [one.name for one in scenario.load_cases])
    solved = solve(scenario, scenario.settings[name], cases, at_deg)
    handwheel = np.linspace(*scenario.handwheel_deg).tolist()
    return Run(scenario, name, solved, handwheel, [CaseRun(case.name, solved) for case in solved.cases])


def read(scenario: Scenario, setting: Setting, address: str) -> float | None:
    """A figure of a setting by its typed address, in its own unit; None where it has no value.

    An address is NAME, NAME@LOCK, NAME@LOCK@CASE or NAME@CASE, LOCK in deg. A Refusal says what is wrong.
    """
    with refusing(scenario.source):
        asked = catalog.address(address)
        catalog.check(asked, [case.name for case in scenario.load_cases], scenario.kart.column.stop)
    by_name = {case.name: case for case in scenario.load_cases}
    [(value, known)] = figures.read(scenario.kart, setting, [asked], by_name, scenario.given)
    return float(value) if bool(known) else None


def read_at(scenario: Scenario, case: LoadCase, at_deg: float | None) -> LoadCase:
    """The case with the handwheel angle at which its figures at lock are read."""
    if at_deg is None and case.handwheel is not None:
        return case
    first, last, _ = scenario.handwheel_deg
    there = max(abs(first), abs(last)) if at_deg is None else abs(at_deg)
    return replace(case, handwheel=float(np.radians(there)))


def lock_of(case: LoadCase) -> float:
    """Where a case's figures at lock are read, deg, free of the noise of its way through rad."""
    return round(degrees(case.handwheel or 0.0), 9)


def check_amount(scenario: Scenario, settings: int, cases: int) -> None:
    """Refuse more settings, load cases and lock positions than can be held in memory at once."""
    positions, most = scenario.handwheel_deg[2], MOST_STATES // (settings * (1 + cases))
    if positions > most:
        raise Refusal(
            f"{scenario.source}: {settings} settings in {cases} load cases at {positions} lock positions are "
            f"too many at once; at most {most} positions (--positions, sweep.positions) will do"
        )


def check_stands(scenario: Scenario, name: str) -> None:
    """Refuse a setting whose tie rods cannot be joined straight ahead: it has no toe and no figures."""
    if not bool(sweep(scenario.kart, scenario.settings[name], 0.0).reach.all()):
        raise Refusal(
            f"{scenario.source}: setting '{name}': its tie rods cannot be joined straight ahead: there is "
            "nothing to compare"
        )


def check_compared(scenario: Scenario, base: str, names: Sequence[str], cases: Sequence[str]) -> None:
    """Refuse more than can be held at once, and a setting whose tie rods cannot be joined."""
    check_amount(scenario, 1 + len(names), len(cases))
    for name in (base, *names):
        if name == base or _rod_given(scenario.settings[name]):
            check_stands(scenario, name)


def _rod_given(setting: Setting) -> bool:
    return any(corner.rod_length is not None for corner in (setting.left, setting.right))
