"""The solver's side of a bench sheet: a change of setting with everything that is to be read and done."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from kinematics.change.change import Change, Differences, changed, difference
from kinematics.change.rods import nearest_stack
from kinematics.figures.solved import Solved
from kinematics.parts import Kart, Setting
from kinematics.standing.readings import Readings, TurnPlates, on_turn_plates, readings
from scenarios import Scenario, ScenarioError

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
    places: Differences
    """Where the front wheels stand, before and after."""
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


def figures(scenario: Scenario, base: str | Setting, new: str | Setting) -> Figures:
    """Work out a change of setting; a ScenarioError, one line, where the kart cannot be built that way."""
    (base_name, before), (new_name, wanted) = named(scenario, base), named(scenario, new)
    kart = scenario.kart
    for name, setting in ((base_name, before), (new_name, wanted)):
        _check_stands(scenario, name, setting)
    solved = Solved(kart, before, np.zeros(1), given=scenario.given)
    done = changed(solved, wanted, scenario.thread_pitch_mm)
    weighing = min(WEIGHING_DEG, float(np.degrees(kart.column.stop)))
    states = [_state(kart, setting, weighing) for setting in (before, done.reset.setting)]
    kept = _plate_steers(states)
    return Figures(
        scenario,
        base_name,
        new_name,
        _with_plates(states[0], kept),
        _with_plates(states[1], kept),
        done,
        {name: difference(solved.places[name], now) for name, now in done.reset.places.items()},
        weighing,
        tuple(_stack(scenario, float(move)) for move in (done.spacers.left, done.spacers.right)),
    )


def _check_stands(scenario: Scenario, name: str, setting: Setting) -> None:
    if not bool(readings(scenario.kart, setting, 0.0).known[0]):
        raise ScenarioError(
            f"{scenario.source}: setting '{name}': the tie rods cannot be joined straight ahead, or the kart "
            "would tip: there is nothing to print"
        )


def _plate_steers(states: Sequence[State]) -> list[float]:
    """The usual road steer, and the next smaller one that all wheels reach where that one is too much."""
    reached = [
        steer for steer in PLATE_STEERS_DEG if all(state.plates[steer].known.all() for state in states)
    ]
    usual = PLATE_STEERS_DEG[0]
    if usual in reached:
        return [usual]
    return [usual, *(reached[:1] or PLATE_STEERS_DEG[-1:])]


def _state(kart: Kart, setting: Setting, weighing_deg: float) -> State:
    """A setting on the floor and at every steer of the plates."""
    angles = np.radians([0.0, weighing_deg, -weighing_deg])
    found = dict(
        zip(
            PLATE_STEERS_DEG,
            on_turn_plates(kart, setting, np.radians(PLATE_STEERS_DEG).tolist()),
            strict=True,
        )
    )
    plates, held = ({s: getattr(p, how) for s, p in found.items()} for how in ("free", "held"))
    return State(setting, readings(kart, setting, angles), plates, held)


def _with_plates(state: State, steers: Sequence[float]) -> State:
    plates, held = ({steer: of[steer] for steer in steers} for of in (state.plates, state.held))
    return replace(state, plates=plates, held=held)


def _stack(scenario: Scenario, move: float) -> tuple[float, tuple[float, ...]]:
    return nearest_stack(move, scenario.workshop.get("kingpin_spacers_mm", ()))
