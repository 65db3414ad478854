"""A steering axis that was measured, in words."""

from __future__ import annotations

from collections.abc import Iterator
from math import degrees

from scenarios.gauged.axis import Measured, MeasuredAxis, degrees_turned
from scenarios.gauged.fit import COVERED
from scenarios.records import Scenario
from viz.words.numbers import PAGE, number
from viz.words.sure import decimals
from viz.words.width import laid

TOO_MUCH = 1.6
"""Times the spread that was stated, from which points miss their circles by too much."""


def report(found: MeasuredAxis, scenario: Scenario, spread: float) -> list[str]:
    """The axis with how sure it is, the bushes it means, and whether the points hold together."""
    return laid(_lines(found, scenario, spread))


def _lines(found: MeasuredAxis, scenario: Scenario, spread: float) -> Iterator[str]:
    turned = degrees_turned(found.axis)
    yield f"{scenario.title}, {found.side} axis of steer, from points turned by {number(turned, 0)}°:"
    yield f"  Caster {_sure(found.caster)}°, kingpin inclination {_sure(found.inclination)}°."
    ahead, out = found.floor
    yield f"  It meets the floor {_sure(ahead)} mm ahead of the rear axle, {_sure(out)} mm outboard."
    yoke = getattr(scenario.kart, found.side).yoke
    was = f"{number(degrees(yoke.caster), 1)}° and {number(degrees(yoke.kingpin_inclination), 1)}°"
    forward, outward = (_sure(one) for one in found.tilt)
    stands = f"{forward} mm ahead and {outward} mm outboard of the bottom one"
    yield f"  Against concentric bushes ({was}) the top hole stands {stands}."
    if found.pairs:
        said = "; ".join(f"top {top}, bottom {bottom}" for top, bottom in found.pairs)
        yield f"  Bushes of the box that do so: {said}."
    else:
        yield "  No two bushes of the box do so: another size is fitted, or a part is bent."
    if found.axis.freedom and found.axis.scatter > TOO_MUCH:
        times = number(found.axis.scatter, 1)
        off = f"{times} times {spread:g} mm"
        yield f"  The points miss their circles by {off}: one is wrong, or the frame moved."


def _sure(one: Measured) -> str:
    half = COVERED * one.sure
    places = decimals(half, 2)
    return f"{number(one.value, places, hand=PAGE)} ± {number(half, places)}"
