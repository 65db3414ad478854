"""A search of the scenario's box as the command asks for it, and its candidates as they are told."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import radians
from typing import Literal

import numpy as np

from kinematics.change.rods import Rods
from kinematics.choose.box import Box, left_alone, row_of
from kinematics.choose.search import Candidate, Choice, Found, Progress, search
from kinematics.choose.targets import Target
from scenarios import Scenario
from scenarios.ask.run import check_stands
from scenarios.ask.wants import targets_of, want_text
from scenarios.errors import Refusal, refusing
from scenarios.kit import SIDES
from scenarios.sure.uneven import uneven

FIRST = 3
"""So many candidates are told first."""
Sides = Literal["both", "each", "left", "right"]
CHOICE: dict[str, Choice] = {"both": "alike", "each": "each", "left": "left", "right": "right"}
RODS: dict[str, Rods] = {"reset": "reset", "alone": "kept"}


@dataclass(frozen=True)
class Told:
    """A search with its candidates numbered from 1: the easiest that meet every want, then as listed here."""

    scenario: Scenario
    present: str
    sides: str
    rods: str
    found: Found
    candidates: Sequence[Candidate]
    easiest: Sequence[int]
    """Numbers of those that meet every want, least work first."""
    best: Sequence[int]
    """Numbers of the best by fit."""
    by_work: Sequence[int]
    """Numbers of those that fit better than all with as little work or less."""
    between: Sequence[int]
    """Numbers of those on the front between the targets."""

    def __getitem__(self, number: int) -> Candidate:
        return self.candidates[number - 1]

    @property
    def first(self) -> Sequence[int]:
        """Numbers of what is told first: the easiest that meet every want, else the nearest alone."""
        return self.easiest[:FIRST] or self.best[:1]


def hidden_bend(told: Told) -> str | None:
    """A sentence where the kart's corners are uneven and what is told first makes up for it by the bushes."""
    first = [told[number] for number in told.first]
    unlike = any(sum(one.work) and _unlike(one) for one in first)
    found = next(uneven(told.scenario.kart), None) if unlike else None
    if found is None:
        return None
    return f"{found.partition(' (')[0].capitalize()}. Unlike bushes would hide a bend."


def _unlike(candidate: Candidate) -> bool:
    left, right = (row_of(getattr(candidate.setting, side)) for side in SIDES)
    return not bool(left_alone(left, right).all())


def box_of(scenario: Scenario) -> Box:
    """The scenario's kit as a box; one without a bush is refused."""
    kit = scenario.kit
    if not any(count is None or count > 0 for count in kit.counts):
        raise Refusal(
            f"{scenario.source}: kit.bush: the box is empty; list the bushes there are to choose from"
        )
    offsets = tuple(size.offset for size in kit.sizes)
    with refusing(f"{scenario.source}: kit.clock_step_deg = {kit.clock_step_deg:g} deg"):
        clocks = tuple(tuple(map(radians, size.clocks_deg)) or None for size in kit.sizes)
        return Box(offsets, kit.counts, radians(kit.clock_step_deg), clocks)


def run_search(
    scenario: Scenario,
    present: str,
    targets: Sequence[Target],
    sides: str,
    rods: str,
    limit: int,
    progress: Progress | None = None,
) -> Told:
    """Search the scenario's box for the targets, starting from the present setting."""
    check_stands(scenario, present)
    box = box_of(scenario)
    found = search(
        scenario.kart,
        scenario.settings[present],
        box,
        targets,
        sides=CHOICE[sides],
        rods=RODS[rods],
        given=scenario.given,
        cases=scenario.load_cases,
        progress=progress,
    )
    return told(scenario, present, sides, rods, found, limit)


def choose(
    scenario: Scenario,
    wants: Sequence[str],
    present: str | None = None,
    sides: str = "both",
    rods: str = "reset",
    limit: int = 8,
    progress: Progress | None = None,
) -> Told:
    """Search the scenario's box for what is wanted, each typed as 'caster_left_deg=now+1'.

    present is the setting that is on the kart, the default one when left out; sides is 'both', 'each', 'left'
    or 'right', rods 'reset' or 'alone'. A Refusal, one line, says what is wrong with a want.
    """
    name = scenario.default_setting if present is None else present
    targets = targets_of([want_text(want) for want in wants], scenario, name)
    return run_search(scenario, name, targets, sides, rods, limit, progress)


def told(scenario: Scenario, present: str, sides: str, rods: str, found: Found, limit: int) -> Told:
    """Number the candidates; the easiest, the best and, evenly spread, the front are cut to the limit."""
    seen: dict[bytes, int] = {}
    candidates: list[Candidate] = []

    def number(candidate: Candidate) -> int:
        key = np.round([row_of(candidate.setting.left), row_of(candidate.setting.right)], 6).tobytes()
        if key not in seen:
            candidates.append(candidate)
            seen[key] = len(candidates)
        return seen[key]

    places = np.unique(np.linspace(0, len(found.between) - 1, min(limit, len(found.between))).astype(int))
    spread = [found.between[place] for place in places]
    lists = (found.easiest[:limit], found.best[:limit], found.by_work, spread)
    numbers = ([number(candidate) for candidate in some] for some in lists)
    return Told(scenario, present, sides, rods, found, candidates, *numbers)
