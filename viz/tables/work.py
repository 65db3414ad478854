"""The work that puts a changed kart right, in words: turns of the tie rods and moves of the spacers."""

from __future__ import annotations

from kinematics.change.change import BothRods, Work
from kinematics.change.rods import RodTurns, nearest_stack
from scenarios import Scenario
from scenarios.kit import SIDES
from viz.words.numbers import number
from viz.words.width import filled

FLATS = 6


def work_lines(scenario: Scenario, work: Work) -> list[str]:
    """Tie rods with the spacers where they are; spacers that keep the height; tie rods after those."""
    pitch = f"{scenario.thread_pitch_mm:g} mm left- and right-hand thread"
    first = f"To re-set toe ({pitch}): {_rods(work.rods)}."
    lines = filled(first, "  ")
    if not bool(work.spacers.known):
        return [*lines, "No spacer move puts the height of the front back."]
    moves = (float(work.spacers.left), float(work.spacers.right))
    spacers = "; ".join(f"{side} {_move(scenario, m)}" for side, m in zip(SIDES, moves, strict=True))
    said = f"To keep the front as high as before, move the stub axle along the kingpin: {spacers}."
    after = f"Toe after those spacer moves: {_rods(work.rods_after_spacers)}."
    return [*lines, *filled(said, "  "), *filled(after, "  ")]


def _rods(rods: BothRods) -> str:
    return "; ".join(f"{side} tie rod: {rod_words(getattr(rods, side))}" for side in SIDES)


def rod_words(rod: RodTurns) -> str:
    """What is done at one tie rod."""
    if not bool(rod.known):
        return "no length gives this toe"
    direction, turns = float(rod.direction), abs(float(rod.turns))
    if direction == 0.0:
        return "leave it"
    word = "lengthen" if direction > 0.0 else "shorten"
    longer = number(abs(float(rod.lengthening)), 2)
    return f"{word} by {number(turns, 2)} turns ({number(FLATS * turns, 1)} flats, {longer} mm)"


def rod_flats(rod: RodTurns) -> str:
    """The same in flats alone."""
    direction, flats = float(rod.direction), FLATS * abs(float(rod.turns))
    return "none" if direction == 0.0 else f"{number(flats, 1)} {'longer' if direction > 0.0 else 'shorter'}"


def _move(scenario: Scenario, move: float) -> str:
    said = "leave it" if abs(move) < 0.005 else f"{number(abs(move), 2)} mm {'up' if move > 0.0 else 'down'}"
    spacers = scenario.workshop.get("kingpin_spacers_mm", ())
    if not spacers or abs(move) < 0.005:
        return said
    shift, stack = nearest_stack(move, spacers)
    if not stack:
        return f"{said} (with the spacers on hand, leaving it is nearest)"
    made = " + ".join(f"{spacer:g}" for spacer in stack)
    return f"{said} (with the spacers on hand nearest: {shift:+g} mm, made of {made} mm)"
