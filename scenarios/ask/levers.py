"""Which other adjustments could do what no pair from the box does, and about how much of each.

The usual steps but those of bushes are taken one by one, tie rods left as in the search, and the wanted
figures read after each; what one step does is taken to go on in a straight line.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import islice
from math import ceil, copysign, inf
from typing import Any

import numpy as np

from kinematics.batches import stacked
from kinematics.choose.search import Candidate
from kinematics.choose.targets import Target, misses
from kinematics.figures.read import read
from kinematics.frames import Array, Mask
from kinematics.parts import Setting
from scenarios import ScenarioError, from_mapping
from scenarios.ask import chassis
from scenarios.ask.choose import Told
from scenarios.ask.fitting import MOVED, alike, fitted_table, setting_table
from scenarios.ask.steps import STEPS, UsualStep, ballast_place
from scenarios.ask.typed import table_text
from scenarios.kit import SIDES, brief
from scenarios.ranges import RANGES
from scenarios.schema import changes
from scenarios.schema.changes import CHANGES

MOST_STEPS = 6
"""Further than so many usual steps a straight line says nothing."""
LISTED = 3
TOE, LENGTH, BALLAST = changes.TOE.key, "tie_rod_length_mm", changes.BALLAST.key
GRAIN = {"deg": 0.05}
"""To so much an adjustment is told, by its unit; else to one."""
Tables = dict[str, Any]
TYPED_WITHIN = 5e-4
"""A rod's toe in deg or its length in mm is typed to within this of what it was."""
Span = tuple[float, float]
"""From which amount to which."""


@dataclass(frozen=True)
class Lever:
    """One adjustment by which what the box misses could be reached."""

    step: UsualStep
    amount: float
    """How much of it, in the step's unit."""
    values: Array
    """The figures wanted after it, reckoned in a straight line."""
    missed: Array
    """How far they are outside their ranges then: 0 but for those that this adjustment spoils."""


@dataclass(frozen=True)
class Levers:
    """The adjustments that could, those that spoil nothing first, then what is done soonest."""

    base: Candidate
    """From where: the present setting or, where none could from there, the nearest candidate."""
    listed: tuple[Lever, ...]


def levers(told: Told) -> Levers | None:
    """What else could reach what the box cannot; None where it can, or where nothing can be reckoned."""
    if told.easiest or not told.best:
        return None
    reckoned = None
    for base in (told.found.base, told.found.best[0]):
        found = _sorted(told, base)
        can = (one for one in found or () if _taken(told, base, one))
        if listed := tuple(islice(can, LISTED)):
            return Levers(base, listed)
        if found is not None and reckoned is None:
            reckoned = Levers(base, ())
    return reckoned


def _sorted(told: Told, base: Candidate) -> list[Lever] | None:
    """The levers from a base in the order in which they are told; None where it lacks a figure wanted."""
    targets = told.found.targets
    steps = [one for one in STEPS if one.key and not (one.key == TOE and told.rods == "alone")]
    settings = [base.setting, *(one.change(base.setting, told.scenario) for one in steps)]
    values, known = _values(told, settings)
    if not known[0].all():
        return None
    table = setting_table(told.scenario, told.present, base.setting)
    found = [
        _lever(targets, step, values[0], (after - values[0]) / step.amount, _room(step, table))
        for step, after, there in zip(steps, values[1:], known[1:], strict=True)
        if there.all()
    ]

    def order(one: Lever) -> tuple[int, int, float]:
        spoilt = int((one.missed > [target.tolerance for target in targets]).sum())
        return spoilt, one.step.minutes, abs(one.amount / one.step.amount)

    return sorted((one for one in found if one is not None), key=order)


def _values(told: Told, settings: Sequence[Setting]) -> tuple[Array, Mask]:
    """The wanted figures of settings, (n, targets), and where they are known."""
    scenario = told.scenario
    cases = {case.name: case for case in scenario.load_cases}
    addresses = [target.address for target in told.found.targets]
    found = read(scenario.kart, stacked(settings), addresses, cases, scenario.given)
    shape = (len(settings),)
    values = np.stack([np.broadcast_to(numbers, shape) for numbers, _ in found], axis=-1)
    known: Mask = np.stack([np.broadcast_to(there, shape) for _, there in found], axis=-1)
    return np.where(known, values, 0.0), known


def _lever(
    targets: Sequence[Target], step: UsualStep, values: Array, slopes: Array, room: Span
) -> Lever | None:
    """The least of a step that brings what is missed into its range; None where that is beyond its room.

    slopes are of the figures (targets,) in their units for one unit of the step.
    """
    missed = misses(targets, values, np.isfinite(values)) > [target.tolerance for target in targets]
    spans = [_span(*one) for one in zip(targets, values.tolist(), slopes.tolist(), missed, strict=True)]
    needed = [span for span, miss in zip(spans, missed, strict=True) if miss]
    span = _common([room, *spans]) or _common([room, *needed])
    if span is None:
        return None
    amount = _round(span, GRAIN.get(step.unit, 1.0))
    then = values + amount * slopes
    return Lever(step, amount, then, misses(targets, then, np.isfinite(then)))


def _span(target: Target, value: float, slope: float, missed: bool) -> Span:
    """Between which amounts a figure lies in its range; a value that is missed is aimed at its middle."""
    slack = target.tolerance * (0.5 if missed and target.low == target.high else 1.0)
    if slope == 0.0:
        return (inf, -inf) if missed else (-inf, inf)
    ends = ((target.low - slack - value) / slope, (target.high + slack - value) / slope)
    return min(ends), max(ends)


def _common(spans: Sequence[Span]) -> Span | None:
    """What spans have in common; None where that is nothing."""
    low, high = max(span[0] for span in spans), min(span[1] for span in spans)
    return (low, high) if low <= high else None


def _round(span: Span, grain: float) -> float:
    """The least amount of a span in whole grains; where it holds none its middle, to three digits."""
    low, high = span
    least = min(max(0.0, low), high)
    amount = round(copysign(ceil(abs(least) / grain - 1e-9) * grain, least), 9)
    return amount if low <= amount <= high else float(f"{0.5 * (low + high):.3g}")


def _room(step: UsualStep, table: Tables) -> Span:
    """Between which amounts a step is told: not too many at once, and what a setting may have."""
    most = MOST_STEPS * step.amount
    if step.key == BALLAST:
        return 0.0, most  # there is none to take off that one knows of
    allowed = RANGES.get(f"setting.{step.key}") or RANGES[f"setting.both.{step.key}"]
    tables = [table[side] for side in SIDES] if _of_corner(step) else [table]
    own = [one.get(step.key, 0.0) for one in tables]
    return max(-most, allowed.low - min(own)), min(most, allowed.high - max(own))


def _of_corner(step: UsualStep) -> bool:
    return step.key in (*MOVED, TOE)


def changed(told: Told, base: Candidate, lever: Lever) -> Tables:
    """The resolved setting with a lever moved, from a candidate."""
    table, key = setting_table(told.scenario, told.present, base.setting), lever.step.key
    if key == BALLAST:
        put = {"mass_kg": lever.amount, "at_mm": list(ballast_place(told.scenario))}
        return {**table, BALLAST: [*table.get(BALLAST, []), put]}
    if not _of_corner(lever.step):
        return {**table, key: round(table.get(key, 0.0) + lever.amount, 9)}
    corners = {side: {**table[side], key: table[side].get(key, 0.0) + lever.amount} for side in SIDES}
    return {**table, **corners}


def _taken(told: Told, base: Candidate, lever: Lever) -> bool:
    """Whether a file takes it: a joint's hole, say, may not come too near to its axis."""
    scenario = told.scenario
    settings = {**scenario.resolved["setting"], told.present: changed(told, base, lever)}
    try:
        from_mapping({**scenario.resolved, "setting": settings}, scenario.source)
    except ScenarioError:
        return False
    return True


def typed(told: Told, base: Candidate, lever: Lever) -> dict[str, str]:
    """What is typed for that, by option, over the present setting."""
    was, now = told.scenario.resolved["setting"][told.present], changed(told, base, lever)
    corners = {}
    for side in SIDES:
        fitted = {} if base is told.found.base else fitted_table(told.scenario, base.setting, side)
        corners[side] = table_text({**fitted, **_moved(was[side], now[side], lever)})
    keys = [change.key for change in CHANGES if now.get(change.key, 0.0) != was.get(change.key, 0.0)]
    whole = {key: now[key] for key in (*keys, *([BALLAST] if lever.step.key == BALLAST else []))}
    return {**alike(corners), **({"kart": chassis.table_text(whole)} if whole else {})}


def _moved(was: Tables, now: Tables, lever: Lever) -> Tables:
    """Of a corner what is typed besides its bushes: what was moved, and the rod where it is set anew."""
    moved = {key: round(now[key], 9) for key in MOVED if now.get(key, 0.0) != was.get(key, 0.0)}
    if TOE in now and (lever.step.key == TOE or TOE not in was):
        moved[TOE] = brief(now[TOE], TYPED_WITHIN)
    elif LENGTH in now and TOE in was:
        moved[LENGTH] = brief(now[LENGTH], TYPED_WITHIN)
    return moved
