"""The plug for every figure of a load case: loads and attitude, standing angles, efforts, rear axle."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from kinematics.choose.cases import four_wheels
from kinematics.choose.targets import Figure, FourWheels
from kinematics.drive.rear_axle import AxleGrip
from kinematics.figures.cases import PLAUSIBLE_GRIP, case_columns
from kinematics.figures.columns import Column
from kinematics.figures.four_wheels import FOUR_WHEEL_FIGURES
from kinematics.lock import Sweep, sweep
from kinematics.parts import REFERENCE, Kart, LoadCase


def standing_wheels(
    kart: Kart,
    cases: Sequence[LoadCase],
    figures: Iterable[Figure] | None = None,
    pneumatic_trail: float = 0.0,
    grip: AxleGrip = PLAUSIBLE_GRIP,
) -> FourWheels:
    """The plug for all columns of these load cases; the rest as in `case_columns`.

    figures says what will be asked for: while loads, clearances and attitude are enough, nothing else is
    worked out. None works out everything.
    """
    by_name = {case.name: case for case in cases}
    ahead = sweep(kart, REFERENCE, 0.0)
    names = tuple(case_columns(ahead, LoadCase("still"), pneumatic_trail, grip))
    cheap = {name for name, *_ in FOUR_WHEEL_FIGURES}
    if figures is not None and {f.name for f in figures if f.case is not None and not f.of_turn} <= cheap:
        return FourWheels(tuple(by_name), names, four_wheels(cases).of, tuple(cases))

    def of(case: str, sweep: Sweep) -> Mapping[str, Column]:
        return case_columns(sweep, by_name[case], pneumatic_trail, grip)

    return FourWheels(tuple(by_name), names, of, tuple(cases))
