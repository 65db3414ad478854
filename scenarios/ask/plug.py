"""Figures of load cases for what changes a setting: every column that a sweep's load case shows."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from kinematics.choose.cases import four_wheels
from kinematics.choose.targets import Figure, FourWheels
from kinematics.drive.rear_axle import AxleGrip
from kinematics.figures.cases import case_columns
from kinematics.figures.columns import Column
from kinematics.lock import Sweep, sweep
from kinematics.parts import REFERENCE
from scenarios import Scenario


def every_column(scenario: Scenario, cases: Sequence[str] | None = None) -> FourWheels:
    """The plug that gives every column of load cases, of all when cases are left out."""
    by_name = {case.name: case for case in scenario.load_cases}
    axle = scenario.rear_axle
    grip = AxleGrip(axle.friction_ratio, axle.longitudinal_stiffness_n_per_n)

    def of(case: str, swept: Sweep) -> Mapping[str, Column]:
        return case_columns(swept, by_name[case], scenario.pneumatic_trail_mm, grip)

    first = of(next(iter(by_name)), sweep(scenario.kart, REFERENCE, 0.0))
    return FourWheels(tuple(by_name if cases is None else cases), tuple(first), of, scenario.load_cases)


def plug(scenario: Scenario, figures: Sequence[Figure]) -> FourWheels:
    """The plug that knows every column of load cases, and works out no more than these figures need."""
    every, stood = every_column(scenario), four_wheels(scenario.load_cases)
    asked = {figure.name for figure in figures if figure.case is not None and not figure.of_turn}
    return replace(stood if asked <= set(stood.names) else every, cases=every.cases, names=every.names)
