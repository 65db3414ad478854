"""A run: a setting of a scenario swept through lock and stood on the road in load cases, figures by name."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from kinematics.figures.figure import Numbers
from kinematics.figures.kart import HANDWHEEL
from kinematics.figures.solved import Solved
from kinematics.lock import Sweep, sweep
from kinematics.parts import Setting
from scenarios import Scenario
from scenarios.errors import Refusal


@dataclass(frozen=True)
class CaseRun:
    """One setting in one load case."""

    name: str
    solved: Solved

    @property
    def columns(self) -> Mapping[str, Numbers]:
        """Every column through lock."""
        return self.solved.case_columns[self.name]

    @property
    def headline(self) -> Mapping[str, Numbers]:
        """Every headline figure."""
        return self.solved.case_figures[self.name]


@dataclass(frozen=True)
class Run:
    """One setting swept through lock, with its columns and headline figures by name, and its load cases."""

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


def solve(
    scenario: Scenario, setting: Setting, cases: Sequence[str] | None = None, at_deg: float | None = None
) -> Solved:
    """A setting at the scenario's lock positions, in load cases by name; the rest as in `run_setting`."""
    return Solved(
        scenario.kart,
        setting,
        np.radians(np.linspace(*scenario.handwheel_deg)),
        scenario.load_cases if cases is None else scenario.cases(cases),
        float(np.radians(lock_read_at(scenario, at_deg))),
        scenario.given,
    )


def run_setting(
    scenario: Scenario, name: str, cases: Sequence[str] | None = None, at_deg: float | None = None
) -> Run:
    """Sweep one setting of a scenario through the scenario's lock, and stand it on the road in load cases.

    cases are names of the scenario's load cases, all of them when left out; at_deg is the handwheel angle
    (deg, either way) of the figures at lock, the larger end of the lock range when left out.
    """
    solved = solve(scenario, scenario.settings[name], cases, at_deg)
    asked = np.linspace(*scenario.handwheel_deg).tolist()
    return Run(name, solved, asked, [CaseRun(case.name, solved) for case in solved.cases])


def lock_read_at(scenario: Scenario, at_deg: float | None) -> float:
    """The handwheel angle (deg, either way) at which the figures at lock are read."""
    first, last, _ = scenario.handwheel_deg
    return max(abs(first), abs(last)) if at_deg is None else abs(at_deg)


def check_stands(scenario: Scenario, name: str) -> None:
    """Refuse a setting whose tie rods cannot be joined straight ahead: it has no toe and no figures."""
    if not bool(sweep(scenario.kart, scenario.settings[name], 0.0).reach.all()):
        raise Refusal(
            f"{scenario.source}: setting '{name}': its tie rods cannot be joined straight ahead: there is "
            "nothing to compare"
        )
