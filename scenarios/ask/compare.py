"""Settings against a base as the command tells them: every figure and column, the kart left three ways."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import radians

import numpy as np

from kinematics.change.change import Change, Difference, Differences, Variant, change
from kinematics.figures.columns import Column, Figure, columns
from kinematics.figures.four_wheels import four_wheel_columns
from kinematics.figures.turn import case_figures, jacking_figures, turning
from kinematics.lock import sweep
from kinematics.parts import Setting
from kinematics.stance.readings import STANDING
from kinematics.stance.standing import stance
from scenarios import Scenario
from scenarios.ask.plug import every_column
from scenarios.ask.run import check_stands, lock_read_at

WAY_WORDS = {
    "alone": "tie rods left alone",
    "reset": "toe re-set",
    "spacers": "spacers moved, toe re-set",
}
"""The ways in which a changed kart can be left, in words."""
WAYS = tuple(WAY_WORDS)
STOOD = (
    "load_front_left_n",
    "load_front_right_n",
    "load_rear_left_n",
    "load_rear_right_n",
    "cross_weight_percent",
    "ride_height_change_front_mm",
    "ride_height_change_rear_mm",
)
"""What is read of the standing kart, straight ahead."""


@dataclass(frozen=True)
class Left:
    """The changed kart left one of the three ways, against the base."""

    setting: Setting
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
    change: Change
    ways: Mapping[str, Left]


@dataclass(frozen=True)
class Compared:
    """Any number of settings against one base."""

    scenario: Scenario
    base: str
    settings: Sequence[Against]
    cases: Sequence[str]
    at_deg: float
    handwheel_deg: Sequence[float]


def compare(
    scenario: Scenario, base: str, names: Sequence[str], cases: Sequence[str], at_deg: float | None
) -> Compared:
    """Work out every setting against the base; at_deg is the lock of the load cases' figures at lock."""
    at = lock_read_at(scenario, at_deg)
    for name in (base, *names):
        if name == base or _rod_given(scenario.settings[name]):
            check_stands(scenario, name)
    before = _figures(scenario, scenario.settings[base], cases, at)
    settings = [_against(scenario, base, name, cases, at, before) for name in names]
    return Compared(scenario, base, settings, cases, at, np.linspace(*scenario.handwheel_deg).tolist())


def _rod_given(setting: Setting) -> bool:
    return any(corner.rod_length is not None for corner in (setting.left, setting.right))


@dataclass(frozen=True)
class _Figures:
    """What a setting shows beside what `change` compares already."""

    alone: Mapping[str, Figure]
    cases: Mapping[str, Mapping[str, Figure]]


def _figures(scenario: Scenario, setting: Setting, cases: Sequence[str], at: float) -> _Figures:
    kart, ahead = scenario.kart, sweep(scenario.kart, setting, 0.0)
    stood = four_wheel_columns(ahead, stance(ahead, STANDING))
    figures = {**jacking_figures(kart, setting), **{name: _ahead(stood[name]) for name in STOOD}}
    turned = turning(kart, setting, radians(at))
    by_name = {case.name: case for case in scenario.load_cases}
    return _Figures(figures, {case: case_figures(turned, by_name[case]) for case in cases})


def _ahead(column: Column) -> Figure:
    meaning = f"{column.meaning}, standing straight ahead"
    return Figure(column.name, column.unit, meaning, column.values[..., 0], column.known[..., 0])


def _against(
    scenario: Scenario, base: str, name: str, cases: Sequence[str], at: float, before: _Figures
) -> Against:
    kart, handwheel = scenario.kart, np.radians(np.linspace(*scenario.handwheel_deg))
    done = change(
        kart,
        scenario.settings[base],
        scenario.settings[name],
        handwheel,
        scenario.toe_diameter_mm,
        scenario.thread_pitch_mm,
        every_column(scenario, cases),
    )
    variants = zip(WAYS, (done.kept, done.reset, done.right), strict=True)
    ways = {way: _left(scenario, variant, cases, at, before) for way, variant in variants}
    return Against(name, done, ways)


def _left(scenario: Scenario, variant: Variant, cases: Sequence[str], at: float, before: _Figures) -> Left:
    now = _figures(scenario, variant.setting, cases, at)
    figures = {difference.name: difference for difference in _own(variant.figures)}
    figures |= differences(before.alone, now.alone)
    of_cases = {case: differences(before.cases[case], now.cases[case]) for case in cases}
    return Left(variant.setting, figures, variant.curves, variant.cases, of_cases)


def _own(figures: Differences) -> Iterator[Difference]:
    """The figures of a change, and the front track with them."""
    yield from figures.values()
    left, right = (figures[f"half_track_{side}_mm"] for side in ("left", "right"))
    yield Difference(
        "front_track_mm",
        "mm",
        "between the front wheel centres, straight ahead",
        left.base + right.base,
        left.now + right.now,
        left.known & right.known,
    )


def differences(before: Mapping[str, Figure], now: Mapping[str, Figure]) -> Differences:
    """Figures by name, now against before."""
    return {
        name: Difference(
            name,
            figure.unit,
            figure.meaning,
            before[name].value,
            figure.value,
            before[name].known & figure.known,
        )
        for name, figure in now.items()
    }


def one(difference: Difference) -> tuple[float | None, float | None, float | None]:
    """Base, now and change of a figure as plain numbers, None where there is none."""
    if not bool(difference.known):
        return None, None, None
    return float(difference.base), float(difference.now), float(difference.change)


def base_columns(compared: Compared) -> Mapping[str, Column]:
    """The columns of the base through lock, those of load cases headed `case.column`."""
    scenario = compared.scenario
    handwheel = np.radians(compared.handwheel_deg)
    swept = sweep(scenario.kart, scenario.settings[compared.base], handwheel)
    plug = every_column(scenario, compared.cases)
    of_cases = {
        f"{case}.{name}": column for case in compared.cases for name, column in plug.of(case, swept).items()
    }
    return {**columns(swept, scenario.toe_diameter_mm), **of_cases}
