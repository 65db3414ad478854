"""Readings that do not fit the others, and what may have gone wrong with each: what is tried is listed here.

What a reading should have been is asked of the others, which count less where they fit badly themselves.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import pi

import numpy as np

from kinematics.frames import Array
from kinematics.parts import GRAVITY, CornerSetting, Setting
from scenarios.gauged.fit import Fit
from scenarios.gauged.foretold import Foreteller
from scenarios.gauged.record import Reading
from scenarios.records import Scenario

DOUBTFUL = 3.0
"""Standard uncertainties by which a reading must miss what the others say to be looked at."""
EXPLAINED = 2.0
"""Within which it must come, once put right, to be explained."""
POUND, INCH = 0.45359237, 25.4
"""kg and mm, exact (international yard and pound agreement, 1959)."""


@dataclass(frozen=True)
class Suspect:
    """A reading that does not fit, and what would explain it."""

    reading: Reading
    should_be: float
    """What the others say, in its unit."""
    sure: float
    """Standard uncertainty of the difference."""
    reasons: tuple[str, ...]

    @property
    def miss(self) -> float:
        """In standard uncertainties of the difference."""
        return abs(float(self.reading.value or 0.0) - self.should_be) / self.sure


@dataclass(frozen=True)
class Upside:
    """A setting whose clocks were read from below: how much better its readings then fit."""

    setting: str
    before: float
    """Sum of its readings' squared misses, in standard uncertainties."""
    after: float


def suspects(found: Fit) -> list[Suspect]:
    """The readings that miss what the others say by more than chance allows, the worst first.

    found is best of a fit in which readings that fit badly count less.
    """
    taken_up = np.minimum(found.found.leverage[: len(found.readings)], 1.0 - 1e-6)
    told = []
    for place in np.argsort(-np.abs(_alone(found, taken_up))):
        one, sigma = found.readings[place], float(found.sigmas[place])
        weight = float(found.weights[place])
        gone = float(found.misses[place]) / (1.0 - float(taken_up[place]))
        should_be = float(one.value or 0.0) - sigma * gone
        sure = sigma * float(np.sqrt(1.0 + taken_up[place] / max(weight, 1e-6) / (1.0 - taken_up[place])))
        suspect = Suspect(one, should_be, sure, ())
        if suspect.miss > DOUBTFUL:
            told.append(replace(suspect, reasons=tuple(_reasons(found, suspect))))
    return sorted(told, key=lambda one: -one.miss)


def _alone(found: Fit, taken_up: Array) -> Array:
    """Misses (m,) of readings from what the others say."""
    gone: Array = found.misses / (1.0 - taken_up)
    return gone


def _reasons(found: Fit, suspect: Suspect) -> Iterator[str]:
    one, value = suspect.reading, float(suspect.reading.value or 0.0)

    def fits(meant: float, should_be: float = suspect.should_be) -> bool:
        return abs(meant - should_be) < EXPLAINED * suspect.sure

    if one.of_number:
        return
    toe = one.what.startswith("toe")
    if fits(-value):
        yield "toe-out counted as +" if toe else "the sign turned round"
    unit = one.kind.unit
    for factor, said in _units(unit):
        if fits(value * factor):
            yield said
    for other, said in _mistaken(one):
        should_be, known = found.foreteller_of([other]).foretold(*found.space.at(found.found.values[None]))
        if known[0, 0] and fits(value, float(should_be[0, 0])):
            yield said


def _units(unit: str) -> Sequence[tuple[float, str]]:
    if unit == "kg":
        return (
            (1.0 / GRAVITY, "N written for kg"),
            (POUND, "pounds written for kg"),
            (10.0 / GRAVITY, "daN for kg"),
        )
    if unit == "mm":
        return (
            (INCH, "inches written for mm"),
            (10.0, "cm written for mm"),
            (0.1, "mm written with a digit more"),
        )
    return ()


def _mistaken(one: Reading) -> Iterator[tuple[Reading, str]]:
    """Readings that it may be instead, with what was then mistaken."""
    if one.where in ("left", "right"):
        other = "right" if one.where == "left" else "left"
        yield replace(one, where=other), f"that of the {other} side"
    elif "_" in one.where:
        end, side = one.where.split("_")
        across = f"{end}_{'right' if side == 'left' else 'left'}"
        along = f"{'rear' if end == 'front' else 'front'}_{side}"
        yield replace(one, where=across), f"that of the {across.replace('_', ' ')}"
        yield replace(one, where=along), f"that of the {along.replace('_', ' ')}"
    if one.handwheel_deg:
        yield replace(one, handwheel_deg=-one.handwheel_deg), "the handwheel turned the other way"
        yield replace(one, handwheel_deg=0.0), "the handwheel straight ahead"
    if one.plate:
        side, angle = one.plate
        yield replace(one, plate=(side, -angle)), "the wheel turned the other way"


def upside_down(found: Fit) -> list[Upside]:
    """Settings whose readings fit much better with every clock read from below."""
    values = np.array([one.value for one in found.readings], dtype=float)
    told = []
    for name in dict.fromkeys(one.setting for one in found.readings):
        setting = found.scenario.settings[name]
        turned = _from_below(setting)
        of_it = np.array([one.setting == name and not one.of_number for one in found.readings])
        if turned == setting or not of_it.any():
            continue
        scenario = replace(found.scenario, settings={**found.scenario.settings, name: turned})
        should_be = _foretold(found, scenario)
        before = float(np.sum(found.misses[of_it] ** 2))
        after = float(np.sum(((values - should_be) / found.sigmas)[of_it] ** 2))
        if after < before - DOUBTFUL**2 and after < 0.5 * before:
            told.append(Upside(name, before, after))
    return told


def _foretold(found: Fit, scenario: Scenario) -> Array:
    """What readings should be (m,) with other settings, its bushes as they should be."""
    foreteller = Foreteller(scenario, found.foreteller.inputs, found.readings)
    values, _ = found.space.at(found.found.values[None])
    found_now, _ = foreteller.foretold(values, np.zeros((1, len(foreteller.bushes))))
    should_be: Array = found_now[0]
    return should_be


def _from_below(setting: Setting) -> Setting:
    def corner(one: CornerSetting) -> CornerSetting:
        clocks = ((2.0 * pi - np.asarray(clock)) % (2.0 * pi) for clock in (one.top_clock, one.bottom_clock))
        top, bottom = (float(clock) for clock in clocks)
        return replace(one, top_clock=top, bottom_clock=bottom)

    return replace(setting, left=corner(setting.left), right=corner(setting.right))
