"""A run: settings swept through lock and stood on the road in load cases, columns and figures by name."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from kinematics.drive.rear_axle import AxleGrip
from kinematics.figures.cases import case_columns
from kinematics.figures.columns import Column, Figure, columns, headline
from kinematics.figures.turn import case_figures, jacking_figures, turning
from kinematics.lock import Sweep, sweep
from scenarios import Scenario
from scenarios.errors import Refusal


@dataclass(frozen=True)
class CaseRun:
    """One setting in one load case."""

    name: str
    columns: Mapping[str, Column]
    headline: Mapping[str, Figure]


@dataclass(frozen=True)
class Run:
    """One setting swept through lock, with its columns and headline figures by name, and its load cases."""

    name: str
    sweep: Sweep
    columns: Mapping[str, Column]
    headline: Mapping[str, Figure]
    cases: Sequence[CaseRun] = ()


def run_setting(
    scenario: Scenario, name: str, cases: Sequence[str] | None = None, at_deg: float | None = None
) -> Run:
    """Sweep one setting of a scenario through the scenario's lock, and stand it on the road in load cases.

    cases are names of the scenario's load cases, all of them when left out; at_deg is the handwheel angle
    (deg, either way) of the figures at lock, the larger end of the lock range when left out.
    """
    degrees = np.linspace(*scenario.handwheel_deg)
    kart, setting, diameter = scenario.kart, scenario.settings[name], scenario.toe_diameter_mm
    swept, ahead = sweep(kart, setting, np.radians(degrees)), sweep(kart, setting, 0.0)
    named = columns(swept, diameter)
    named["handwheel_deg"] = replace(named["handwheel_deg"], values=degrees)  # as asked for, unrounded
    figures = {**headline(swept, ahead, diameter), **jacking_figures(kart, setting)}
    turned = turning(kart, setting, float(np.radians(lock_read_at(scenario, at_deg))))
    by_name = {case.name: case for case in scenario.load_cases}
    wanted = [by_name[case] for case in (by_name if cases is None else cases)]
    axle, trail = scenario.rear_axle, scenario.pneumatic_trail_mm
    grip = AxleGrip(axle.friction_ratio, axle.longitudinal_stiffness_n_per_n)
    stood = [
        CaseRun(case.name, case_columns(swept, case, trail, grip), case_figures(turned, case))
        for case in wanted
    ]
    return Run(name, swept, named, figures, stood)


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
