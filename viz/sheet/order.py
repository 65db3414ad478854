"""The order of work: the steps that a change needs and no others, with the targets where they are wanted."""

from __future__ import annotations

from collections.abc import Iterator
from math import degrees

from kinematics.figures.standing import RIDE_HEIGHT
from kinematics.figures.wheel import CAMBER, TOE
from scenarios.ask.worksheet import Figures
from scenarios.kit import SIDES, bushes, work
from viz.sheet import words
from viz.sheet.blocks import Line, Piece, Steps, reading
from viz.sheet.work import turns


def order(found: Figures) -> Steps:
    """The steps for a clamped two-bush kingpin and for what else is changed."""
    targets = {"Ride height": _ride_target(found), "Camber": _camber_target(found), "Toe": _toe_target(found)}
    steps: list[Line] = []
    for step in _steps(found):
        target = targets.get(step.partition(":")[0], ())
        steps.append((step, " ", *target) if target else (step,))
    return Steps(tuple(steps))


def turns_bushes(found: Figures) -> bool:
    """Whether any bush is swapped or turned."""
    kit = found.scenario.kit
    was, now = (bushes(kit, state.setting) for state in (found.before, found.after))
    return any(work(was[seat], now[seat]) != "leave" for seat in was)


def _steps(found: Figures) -> Iterator[str]:
    yield from words.START
    turned = turns_bushes(found)
    if turned or _moved(found, "spacer_shift"):
        yield from words.KINGPIN_OFF
        yield from words.BUSHES if turned else ()
        yield from words.KINGPIN_ON
        yield from words.BUSH_SCREWS if turned else ()
        yield from words.CORNER_DONE
    elif _moved(found, "hub_spacer"):
        yield from words.HUBS
    if _moved(found, "arm_hole") or _moved(found, "spade_hole"):
        yield from words.JOINTS
    yield from _on_the_kart(found)
    yield from words.FINISH


def _moved(found: Figures, what: str) -> bool:
    """Whether a number of a corner changes at either side."""
    return any(
        float(getattr(getattr(found.before.setting, side), what))
        != float(getattr(getattr(found.after.setting, side), what))
        for side in SIDES
    )


def _on_the_kart(found: Figures) -> Iterator[str]:
    """What is done for the changes of the whole kart."""
    settings = found.scenario.resolved["setting"]
    was, now = (settings.get(name, {}) for name in (found.base_name, found.new_name))
    for key, text in words.ON_THE_KART.items():
        if (was.get(key) or 0.0) != (now.get(key) or 0.0):
            yield " ".join(text.split())


def _ride_target(found: Figures) -> Line:
    front, rear = (
        reading(f"ride_{end}_after_mm", getattr(found.after.stands, f"ride_{end}")[0], RIDE_HEIGHT)
        for end in ("front", "rear")
    )
    return ("Expected against the kart as measured: front ", front, ", rear ", rear, ".")


def _camber_target(found: Figures) -> Line:
    left, right = (
        reading(f"camber_{side}_after_deg", degrees(found.after.stands.camber[0, i]), CAMBER)
        for i, side in enumerate(SIDES)
    )
    return ("Target: left ", left, ", right ", right, ".")


def _toe_target(found: Figures) -> Line:
    said: list[Piece] = []
    for i, side in enumerate(SIDES):
        target = reading(f"toe_{side}_after_deg", degrees(float(found.after.stands.toe[0, i])), TOE)
        doing = turns(side, getattr(found.change.rods, side))[:2]
        said += ["; " if i else "", f"{side.capitalize()}: ", *doing, ", target ", target]
    return (*said, ".")
