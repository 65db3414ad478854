"""A map in words: how far the box reaches, and where the marks are."""

from __future__ import annotations

import numpy as np

from scenarios.ask.reach import Mapped
from scenarios.kit import pair
from viz.tables.headline import DECIMALS, number


def summary(mapped: Mapped) -> list[str]:
    """The map in words: how far the box reaches, and where the marks are."""
    spots, unit, scenario = mapped.spots, mapped.unit, mapped.scenario
    shown, decimals = spots.stands, DECIMALS.get(unit, 2) + 1
    count = f"{len(mapped.rows)} of {mapped.total}" if len(mapped.rows) < mapped.total else f"{mapped.total}"
    lines = [
        f"{scenario.title} ({scenario.source}): {count} bush pairs, {mapped.fitted}; {mapped.corner} front"
    ]
    for name, values in (("caster", spots.caster), ("camber", spots.camber)):
        low, high = (number(float(v), 2) for v in (values[shown].min(), values[shown].max()))
        lines.append(f"  {name} from {low} to {high} deg")
    valued = np.flatnonzero(shown & spots.known)
    if valued.size:
        ends = [valued[np.argmin(spots.value[valued])], valued[np.argmax(spots.value[valued])]]
        lines.append(f"  {mapped.address.words}, {unit}:")
        for word, at in zip(("least", "most"), ends, strict=True):
            value = number(float(spots.value[at]), decimals)
            top, bottom = pair(scenario.kit, mapped.rows[at])
            lines.append(f"    {word} {value} with top {top}, bottom {bottom}")
    for mark in mapped.marks:
        lines.append(
            f"  {mark.name}: caster {number(mark.caster, 2)} deg, camber {number(mark.camber, 2)} deg, "
            f"{number(mark.value, decimals, 'none')} {unit}"
        )
    return lines + [f"  {name}: cannot stand straight ahead and is not marked" for name in mapped.missing]
