"""A search of the scenario's box as the command asks for it, and its candidates as they are told."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import radians
from typing import Literal

import numpy as np

from kinematics.change.rods import Rods
from kinematics.choose.box import Box, row_of
from kinematics.choose.search import Candidate, Choice, Found, Progress, search
from kinematics.choose.targets import Target
from scenarios import Scenario
from scenarios.ask.run import check_stands
from scenarios.ask.wants import targets_of, want_text
from scenarios.errors import Refusal, refusing

Sides = Literal["both", "each", "left", "right"]
CHOICE: dict[str, Choice] = {"both": "alike", "each": "each", "left": "left", "right": "right"}
RODS: dict[str, Rods] = {"reset": "reset", "alone": "kept"}


@dataclass(frozen=True)
class Told:
    """A search with its candidates numbered from 1 in the order in which they are first told."""

    scenario: Scenario
    present: str
    sides: str
    rods: str
    found: Found
    candidates: Sequence[Candidate]
    best: Sequence[int]
    """Numbers of the best by fit."""
    by_work: Sequence[int]
    """Numbers of those that fit better than all with as little work or less."""
    between: Sequence[int]
    """Numbers of those on the front between the targets."""

    def __getitem__(self, number: int) -> Candidate:
        return self.candidates[number - 1]


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
    """Number the candidates; the best and, evenly spread, the front are cut to the limit."""
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
    best, by_work, between = (
        [number(candidate) for candidate in some] for some in (found.best[:limit], found.by_work, spread)
    )
    return Told(scenario, present, sides, rods, found, candidates, best, by_work, between)
