"""The solver's side of a bench sheet: a change of setting with everything that is to be read and done."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from kinematics.change.change import Change, change
from kinematics.change.rods import nearest_stack
from kinematics.corner.bush import rated_size
from kinematics.parts import Kart, Setting, Yoke
from kinematics.stance.readings import Readings, TurnPlates, on_turn_plates, readings
from scenarios import Scenario, ScenarioError

SIDES = ("left", "right")
PLATE_STEERS_DEG = (20.0, 15.0, 10.0, 5.0)
"""Road steer on the turn plates; the first that every wheel reaches is used beside the usual first."""
WEIGHING_DEG = 30.0
"""Handwheel angle of the second and third weighing, less where the stop comes earlier."""


@dataclass(frozen=True)
class State:
    """One setting as it stands on the floor: straight ahead and at both weighing angles, and on plates."""

    setting: Setting
    stands: Readings
    """At handwheel 0, + weighing angle, - weighing angle."""
    plates: dict[float, TurnPlates]
    """By road steer in deg, the kart standing on its wheels."""
    held: dict[float, TurnPlates]
    """The same with the frame held level, so that it does not lean."""


@dataclass(frozen=True)
class Figures:
    """All that a bench sheet prints of the solver's."""

    scenario: Scenario
    base_name: str
    new_name: str
    before: State
    after: State
    """With the tie rods re-set."""
    change: Change
    weighing_deg: float
    stacks: tuple[tuple[float, tuple[float, ...]], ...]
    """Per side: the spacer move (mm, + stub up) nearest to the one that keeps the height, and its spacers."""


def named(scenario: Scenario, setting: str | Setting) -> tuple[str, Setting]:
    """A setting with its name; one that is not of the scenario's file is 'as given'."""
    if isinstance(setting, Setting):
        return "as given", setting
    if setting not in scenario.settings:
        from scenarios.errors import nearest

        raise ScenarioError(
            f"{scenario.source}: setting '{setting}' is unknown{nearest(setting, scenario.settings)}"
        )
    return setting, scenario.settings[setting]


def rated_deg(yoke: Yoke, offset: float) -> float:
    """The rated size of a bush, deg, free of the noise of its way through mm."""
    return round(float(np.degrees(rated_size(offset, yoke.span))), 9)


def figures(scenario: Scenario, base: str | Setting, new: str | Setting) -> Figures:
    """Work out a change of setting; a ScenarioError, one line, where the kart cannot be built that way."""
    (base_name, before), (new_name, wanted) = named(scenario, base), named(scenario, new)
    kart = scenario.kart
    for name, setting in ((base_name, before), (new_name, wanted)):
        _check_stands(scenario, name, setting)
    done = change(
        kart,
        before,
        wanted,
        0.0,
        scenario.toe_diameter_mm,
        scenario.thread_pitch_mm,
    )
    weighing = min(WEIGHING_DEG, float(np.degrees(kart.column.stop)))
    steers = _plate_steers(kart, before, done.reset.setting)
    return Figures(
        scenario,
        base_name,
        new_name,
        _state(kart, before, weighing, steers),
        _state(kart, done.reset.setting, weighing, steers),
        done,
        weighing,
        tuple(_stack(scenario, float(move)) for move in (done.spacers.left, done.spacers.right)),
    )


def _check_stands(scenario: Scenario, name: str, setting: Setting) -> None:
    if not bool(readings(scenario.kart, setting, 0.0).known[0]):
        raise ScenarioError(
            f"{scenario.source}: setting '{name}': the tie rods cannot be joined straight ahead, or the kart "
            "would tip: there is nothing to print"
        )


def _plate_steers(kart: Kart, *settings: Setting) -> tuple[float, ...]:
    """The usual road steer, and the next smaller one that all wheels reach where that one is too much."""
    steers: list[float] = []
    for steer in PLATE_STEERS_DEG:
        reached = all(np.all(on_turn_plates(kart, s, np.radians(steer)).known) for s in settings)
        if reached or not steers:
            steers.append(steer)
        if reached:
            break
    return tuple(steers)


def _state(kart: Kart, setting: Setting, weighing_deg: float, steers: tuple[float, ...]) -> State:
    angles = np.radians([0.0, weighing_deg, -weighing_deg])
    plates, held = (
        {steer: on_turn_plates(kart, setting, np.radians(steer), held) for steer in steers}
        for held in (False, True)
    )
    return State(setting, readings(kart, setting, angles), plates, held)


def _stack(scenario: Scenario, move: float) -> tuple[float, tuple[float, ...]]:
    return nearest_stack(move, scenario.workshop.get("kingpin_spacers_mm", ()))
