"""The plug that lets targets, search and change ask for the four-wheel figures of load cases."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from kinematics.choose.targets import FourWheels
from kinematics.figures.columns import Column
from kinematics.figures.four_wheels import FOUR_WHEEL_FIGURES, four_wheel_columns
from kinematics.lock import Sweep
from kinematics.parts import LoadCase
from kinematics.stance.standing import stance


def four_wheels(cases: Sequence[LoadCase]) -> FourWheels:
    """The plug that solves the stance for the figures of these load cases."""
    by_name = {case.name: case for case in cases}

    def of(case: str, sweep: Sweep) -> Mapping[str, Column]:
        return four_wheel_columns(sweep, stance(sweep, by_name[case]))

    return FourWheels(tuple(by_name), tuple(name for name, *_ in FOUR_WHEEL_FIGURES), of, tuple(cases))
