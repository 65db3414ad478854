"""What is shown of a kart first: the load case and lock in which its settings differ most to the eye."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import degrees

import numpy as np

from kinematics.figures.standing import INSIDE_REAR_CLEARANCE, INSIDE_REAR_LOAD
from kinematics.frames import Array, Mask
from scenarios import Scenario
from scenarios.ask.run import Run, run

SEEN = 1.0
"""mm; less air, or difference of it, is seen by nobody: then the load of the inside rear decides."""
PLAIN = 4.0
"""mm of air from which a kart drawn to scale shows it."""
LARGER = 3.0
"""How much larger the rest is drawn where it does not."""


@dataclass(frozen=True)
class Moment:
    """A load case of the pictures, a stop of the slider, and how much larger the leaning is drawn."""

    case: int
    stop: int
    times: float


STOPS = 25
"""Lock positions from one end to the other among which one is looked for: every five degrees of 120."""


def seen_best(
    scenario: Scenario, settings: Sequence[str], case: str | None = None, times: float | None = None
) -> Moment:
    """The moment of one of its settings, or of two, through its own lock; a case or scale given stays."""
    stops = dict(zip("AB", at_stops(scenario, settings, STOPS), strict=False))
    return moment(stops, driven(scenario), None if case is None else _place(scenario, case), times)


def at_stops(scenario: Scenario, settings: Sequence[str], stops: int) -> list[Run]:
    """Each setting run at so many positions of the scenario's lock."""
    first, last, _ = scenario.handwheel_deg
    coarse = replace(scenario, handwheel_deg=(first, last, stops))
    return [run(coarse, name) for name in settings]


def driven(scenario: Scenario) -> list[float | None]:
    """The handwheel angle, deg, at which each load case is driven, None where it says none."""
    return [None if one.handwheel is None else degrees(one.handwheel) for one in scenario.load_cases]


def _place(scenario: Scenario, case: str) -> int:
    return [one.name for one in scenario.load_cases].index(case)


def moment(
    stops: Mapping[str, Run],
    driven: Sequence[float | None],
    case: int | None = None,
    times: float | None = None,
) -> Moment:
    """The moment of one setting, or of two, at the stops of the slider; a case or scale that is given stays.

    Two settings differ from each other, one from itself straight ahead. Of both ways the turn to the left,
    where there is one, up to the stop next to the handwheel angle, deg, at which a load case is driven, where
    it says one.
    """
    clear, load = (_through(stops, figure.name()) for figure in (INSIDE_REAR_CLEARANCE, INSIDE_REAR_LOAD))
    lock = np.array(next(iter(stops.values())).handwheel_deg)
    where = _within(lock if lock.max() > 0.0 else -lock, driven)
    if case is not None:
        where[np.arange(len(where)) != case] = False
    seen, weighed = (np.where(where, _apart(one, lock), -1.0) for one in (clear, load))
    chosen, stop = np.unravel_index(np.argmax(seen if seen.max() >= SEEN else weighed), seen.shape)
    air = max(float(np.nan_to_num(one[chosen, stop])) for one in clear)
    return Moment(int(chosen), int(stop), times or (1.0 if air >= PLAIN else LARGER))


def _within(turned: Array, driven: Sequence[float | None]) -> Mask:
    """Which stops, turned so far (N,), lie within what each load case is driven at (C, N); one at least."""
    ahead = turned[turned > 0.0]
    if not ahead.size:  # straight ahead alone
        return np.ones((len(driven), turned.size), bool)
    furthest = [turned.max() if at is None else turned[np.argmin(np.abs(turned - at))] for at in driven]
    found: Mask = (turned > 0.0) & (turned <= np.maximum(furthest, ahead.min())[:, None])
    return found


def _through(stops: Mapping[str, Run], name: str) -> list[Array]:
    """A column of every setting in each load case (C, N), NaN where there is none."""
    found = []
    for one_run in stops.values():
        columns = [case.columns[name] for case in one_run.cases]
        found.append(np.stack([np.where(one.known, one.values, np.nan) for one in columns]))
    return found


def _apart(columns: Sequence[Array], lock: Array) -> Array:
    """How far two settings, or one from straight ahead, lie apart (C, N); -1 where either has no number."""
    last = columns[-1]
    base = columns[0] if len(columns) > 1 else last[:, np.argmin(np.abs(lock)), None]
    apart: Array = np.nan_to_num(np.abs(last - base), nan=-1.0)
    return apart
